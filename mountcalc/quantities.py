"""Every quantity that leaves the package, once: key, symbol, unit and sentence."""

from __future__ import annotations

import math
from typing import NamedTuple


class Quantity(NamedTuple):
    """A named result: the field of result types, its symbol in formulas, what it is.

    ``unit`` is that of JSON and CSV, empty for a plain number, and ``si`` the SI value of one.
    """

    name: str
    symbol: str
    unit: str
    si: float
    sentence: str

    @property
    def key(self) -> str:
        """Key in JSON and CSV: the name, and the unit where there is one."""
        unit = self.unit.replace("/", "_").replace(" ", "_")
        return f"{self.name}_{unit}" if unit else self.name

    def outside(self, value: float) -> float:
        """An SI value in the unit of the key."""
        return value / self.si


_MM = ("mm", 1e-3)
_N = ("N", 1.0)
_DEG = ("deg", math.radians(1.0))
_MPA = ("MPa", 1e6)
_UM = ("um", 1e-6)
_KW = ("kW", 1e3)
_NM = ("N m", 1.0)
_NUMBER = ("", 1.0)

_TABLE: tuple[tuple[str, str, tuple[str, float], str], ...] = (
    ("driven", "omega_D", ("rpm", 2 * math.pi / 60), "speed of the driven shaft, without creep"),
    ("belt_speed", "v", ("m/s", 1.0), "speed of the belt"),
    ("advance_per_turn", "", _MM, "what one turn changes the adjuster's extension by"),
    ("adjuster_travel", "", _MM, "way of bolt or link from install to take-up"),
    ("bolt_length", "", _MM, "length of the bolt to buy, of a link from pin to pin at most"),
    ("length", "", _MM, "length of a part to buy or to cut"),
    ("turns", "", _NUMBER, "turns of the adjuster from zero, positive tightens"),
    ("extension", "s", _MM, "extension of the adjuster from as drawn, positive when longer"),
    ("plate_angle", "phi", _DEG, "angle of the plate from as drawn, counter-clockwise positive"),
    ("center_distance", "C", _MM, "motor shaft to driven shaft"),
    ("tension", "T", _N, "tension of one strand of one belt at rest"),
    ("tension_low", "T", _N, "the same with the softest belt"),
    ("tension_high", "T", _N, "the same with the stiffest belt"),
    ("tension_per_turn", "dT/dturn", _N, "change of the tension at rest for one more turn"),
    ("tension_per_turn_rigid", "dT/dturn", _N, "the same if plate and adjuster did not give"),
    ("spring_length", "", _MM, "length at rest of the spring between bolt and plate"),
    ("grip", "k", _NUMBER, "greatest pull the belt can carry over the pull the load needs"),
    ("span", "t", _MM, "free span of a strand"),
    ("span_frequency", "f", ("Hz", 1.0), "first natural frequency of a free span at rest"),
    ("deflection", "q", _MM, "deflection at mid-span for the deflection force: span/64"),
    ("deflection_force", "P", _N, "force at mid-span of one belt that deflects it by that"),
    ("pull", "Te", _N, "pull that one belt delivers, tight less slack"),
    ("tight", "T1", _N, "tension of the tight strand of one belt, centrifugal part included"),
    ("slack", "T2", _N, "tension of the slack strand of one belt, centrifugal part included"),
    ("shaft_load", "", _N, "pull of all belts on the driven shaft, as the shaft feels it"),
    ("adjuster", "F", _N, "axial force of the adjuster, compression positive"),
    ("hinge", "", _N, "size of the hinge's reaction"),
    ("load", "", _N, "size of the load on the bearing"),
    ("direction", "", _DEG, "direction of that load, counter-clockwise from the right"),
    ("pressure", "p", ("MPa", 1e6), "load on the projected area, journal diameter x length"),
    ("share_of_limit", "", _NUMBER, "load over the limit that holds for the case"),
    ("adjuster_share_of_limit", "", _NUMBER, "adjuster's force over the limit given for it"),
    ("hinge_share_of_limit", "", _NUMBER, "hinge's reaction over the limit given for it"),
    ("turns_min", "", _NUMBER, "fewest turns with the wanted grip"),
    ("turns_max", "", _NUMBER, "most turns with everything within its limit"),
    ("tension_min", "T", _N, "tension at rest at the fewest turns"),
    ("tension_max", "T", _N, "tension at rest at the most turns"),
    ("aim_turns", "", _NUMBER, "turns to aim at, before they are rounded to what a hand sets"),
    ("set_turns", "", _NUMBER, "turns to set a belt that has bedded in"),
    ("set_tension", "T", _N, "tension at rest at that setting"),
    ("new_turns", "", _NUMBER, "turns to set a new belt"),
    ("free_turns", "", _NUMBER, "turns at which an adjuster that holds the plate back comes free"),
    ("new_tension", "T", _N, "tension at rest at that setting"),
    ("grip_wanted", "k", _NUMBER, "grip that a setting must keep running"),
    ("turn_error", "", _NUMBER, "how far a hand and a lock nut may miss a setting"),
    ("turns_range", "", _NUMBER, "most less fewest turns"),
    ("extension_range", "s", _MM, "the same as movement of the adjuster"),
    ("center_range", "C", _MM, "the same as centre distance"),
    ("tension_per_turn_low", "dT/dturn", _N, "what one more turn adds with the softest belt"),
    ("tension_per_turn_high", "dT/dturn", _N, "what one more turn adds with the stiffest belt"),
    ("radius", "", _MM, "distance from the hinge to the spot that is pulled at"),
    ("new_pull", "", _N, "pull for a new belt"),
    ("slack_pull", "", _N, "pull that holds plate and motor with the belt slack"),
    ("factor", "", _NUMBER, "size of the margin"),
    ("opening_before", "", _NUMBER, "tension at the most turns over that at the fewest, as it is"),
    ("opening_after", "", _NUMBER, "the same after the change"),
    ("turns_range_before", "", _NUMBER, "most less fewest turns, as it is"),
    ("turns_range_after", "", _NUMBER, "the same after the change"),
    ("widening", "", _NUMBER, "how many times wider the range is after the change"),
    ("wanted_tension", "T", _N, "tension at rest that the weights alone are to give"),
    ("hinge_shift", "", _MM, "how far to the right the hinge is to be moved for that"),
    ("edge_load", "", _N, "greatest load if the boxes bore at any of their ends"),
    ("edge_share_of_limit", "", _NUMBER, "that load over the limit that holds for the case"),
    ("slope", "theta", ("mrad", 1e-3), "slope of the shaft at the bearing"),
    ("bending_stress", "sigma", _MPA, "bending stress of the shaft at the bearing"),
    ("service_low", "p", _MPA, "least projected pressure in use for the named service"),
    ("service_high", "p", _MPA, "greatest projected pressure in use for the named service"),
    ("surface_speed", "V", ("m/s", 1.0), "speed of the journal's surface"),
    ("pressure_speed", "pV", ("MPa m/s", 1e6), "running pressure times surface speed"),
    ("viscosity", "mu", ("mPa s", 1e-3), "dynamic viscosity of the oil in the bearing"),
    ("sommerfeld", "S", _NUMBER, "Sommerfeld number"),
    ("eccentricity", "eps", _NUMBER, "distance of journal from bearing over radial clearance"),
    ("minimum_film", "h0", _UM, "thinnest film at the running load"),
    ("minimum_film_doubled", "h0", _UM, "thinnest film at twice the running load"),
    ("least_film", "h0", _UM, "thinnest film that Trumpler's criterion wants"),
    ("edge_rise", "theta L/2", _UM, "what the shaft's slope takes off the film at the box's end"),
    ("friction", "f", _NUMBER, "coefficient of friction of the film"),
    ("friction_torque", "", _NM, "torque of the film's friction"),
    ("power_lost", "", ("W", 1.0), "power that the film turns into heat"),
    ("power_low", "", ("W", 1.0), "least heat of a box, running"),
    ("power_high", "", ("W", 1.0), "most heat of a box, running"),
    ("rise_low", "", ("K", 1.0), "how far a box settles above the room, at least"),
    ("rise_high", "", ("K", 1.0), "how far a box settles above the room, at most"),
    ("air", "", ("K", 1.0), "temperature of the room that is taken"),
    ("temperature", "", ("K", 1.0), "temperature of the outside of a box"),
    ("clearance_usual", "", _MM, "usual clearance of a scraped box, over the shaft's diameter"),
    ("left_low", "T", _N, "least tension at rest that is left"),
    ("left_high", "T", _N, "most tension at rest that is left"),
    ("pitch_length", "L0", _MM, "length of the belt along its cords when free"),
    ("snug_plate_angle", "phi", _DEG, "plate angle at which that belt is snug"),
    ("needed", "", _MM, "change of the centre distance that is wanted"),
    ("there", "", _MM, "change of the centre distance that the travel gives"),
    ("room", "", _MM, "what the travel gives to a belt that is as short or long as it may be"),
    ("wrap_motor", "theta", _DEG, "wrap on the motor pulley at snug"),
    ("wrap_driven", "theta", _DEG, "wrap on the driven pulley at snug"),
    ("arc_factor", "K1", _NUMBER, "share of the rating that the wrap leaves"),
    ("length_factor", "K2", _NUMBER, "what the rating is multiplied by for the belt's length"),
    ("table_rating", "H", _KW, "power of one belt before the factors for arc and length"),
    ("rating", "Ha", _KW, "power of one belt with the factors for arc and length"),
    ("power", "P", _KW, "power that the machine takes"),
    ("design_power", "Hd", _KW, "that power times the service factor"),
    ("service_factor", "Ks", _NUMBER, "what the power is multiplied by for the kind of machine"),
    ("service_factor_low", "Ks", _NUMBER, "least of the published range"),
    ("service_factor_high", "Ks", _NUMBER, "greatest of the published range"),
    ("rim_speed", "", ("m/s", 1.0), "speed of the faster rim"),
    ("least_diameter", "", _MM, "least pitch diameter for the section"),
    ("least_motor_diameter", "", _MM, "least pulley for the motor's bearings"),
    ("small_diameter", "d", _MM, "pitch diameter of the smaller pulley"),
    ("motor_pulley", "", _MM, "named diameter of the motor pulley"),
    ("driven_pulley", "", _MM, "named diameter of the driven pulley"),
    ("speed_error", "", _NUMBER, "how far the speed is off, as a share"),
    ("wanted_speed", "", ("rpm", 2 * math.pi / 60), "speed wanted of the driven shaft"),
    ("shortest_path", "L", _MM, "shortest path of the belt in the travel"),
    ("longest_path", "L", _MM, "longest path of the belt in the travel"),
    ("measured", "", _MM, "length that was measured"),
    ("top_width", "", _MM, "width of the belt at its top"),
    ("height", "", _MM, "height of the belt"),
    ("inside_length", "", _MM, "length of a new belt on its inside"),
    ("outside_length", "", _MM, "length of a new belt on its outside"),
    ("difference", "", _MM, "pitch length of the belt less the one that was found"),
    ("tolerance_short", "", _MM, "how much shorter than its length a new belt may come"),
    ("tolerance_long", "", _MM, "how much longer than its length a new belt may come"),
    ("matching_limit", "", _MM, "how much the lengths of one set of belts may differ"),
    ("string_over_grooves", "", _MM, "a string drawn tight over the rims of grooved pulleys"),
    ("string_over_flat_rims", "", _MM, "a string drawn tight over flat rims"),
    ("outside_less_pitch", "", _MM, "outside diameter of a grooved pulley less its pitch diameter"),
    ("pitch_diameter", "", _MM, "pitch diameter of the pulley"),
    ("outside_diameter", "", _MM, "diameter over the rims of the pulley's groove"),
    ("groove_angle", "", _DEG, "angle between the sides of the groove"),
    ("force_low", "P", _N, "deflection force of the softest belt, creeping round the pulleys"),
    ("force_creeping", "P", _N, "deflection force where the belt creeps round the pulleys"),
    ("force_not_creeping", "P", _N, "deflection force where only the span stretches"),
    ("force_high", "P", _N, "deflection force of the stiffest belt, only the span stretching"),
    ("table_force", "P", _N, "deflection force of the force table, at span/64"),
    ("table_tension", "T", _N, "tension at rest that such a force stands for"),
    ("times_tension", "", _NUMBER, "that tension over the one of the bench card"),
    ("snug_turns", "", _NUMBER, "where zero comes, turns from as drawn, positive tightens"),
    *(
        (f"{name}_p{percent}", symbol, unit, f"what {percent} of 100 builds stay below: {sentence}")
        for name, symbol, unit, sentence in (
            ("snug_turns", "", _NUMBER, "where zero comes, turns from as drawn"),
            ("tension_per_turn", "dT/dturn", _N, "what one more turn from zero adds"),
            ("set_tension", "T", _N, "tension at rest at the drawing's set turns"),
            ("tension", "T", _N, "tension at rest at these turns from its own zero"),
        )
        for percent in (5, 50, 95)
    ),
    ("open_share", "", _NUMBER, "builds with turns that keep grip and limits, of all"),
    ("set_share", "", _NUMBER, "builds that keep them at the drawing's set turns, of all"),
    ("snug_share", "", _NUMBER, "builds that become snug in the travel, of all"),
    ("install_share", "", _NUMBER, "builds that also take a new belt, of all"),
    ("take_up_share", "", _NUMBER, "builds that also take it up as it stretches, of all"),
    ("snug_turns_share", "", _NUMBER, "share of one source in the variance of where zero comes"),
    ("tension_per_turn_share", "", _NUMBER, "the same of what one more turn adds"),
    ("set_tension_share", "", _NUMBER, "the same of the tension at the set turns"),
    ("hinge_error", "", _MM, "how far the hinge's pin is off, either way, along x and along y"),
    ("bolt_error", "", _MM, "the same of where the adjuster bears, and of a link's pins"),
    ("shaft_error", "", _MM, "the same of either shaft"),
    ("belt_length_error", "", _MM, "how far the belt is off its length, either way"),
    ("weight_error", "", _NUMBER, "share by which motor's and plate's weights are off"),
    (
        "adjuster_stiffness",
        "k",
        ("N/m", 1.0),
        "force over give of plate, adjuster and what it bears on, without a spring of its own",
    ),
    ("stiffness_factor", "", _NUMBER, "how many times the stiffness may be off, either way"),
    ("traction_factor", "", _NUMBER, "the same of traction"),
    ("give_factor", "", _NUMBER, "the same of what gives at the bolt"),
    ("spring_rate_error", "", _NUMBER, "share by which a coil spring's rate is off"),
    ("out", "", _N, "force square to a board's face, above zero where it pulls away from it"),
    ("along_plate", "", _N, "side load along that board, away from the hinge"),
    ("along_shafts", "", _N, "side load along the shafts, towards the motor's pulley"),
    ("moment", "M", _NM, "bending moment, hollow on the motor's face where positive"),
    ("twist", "", _NM, "moment about the line from the hinge along the plate"),
    ("at", "", _MM, "how far along the board from the hinge's axis"),
    ("across", "", _MM, "how far from the middle of the plate's width, to the motor's pulley"),
    ("share_as_set", "", _NUMBER, "load over the limit at rest, as the bench card sets it"),
)

QUANTITIES: dict[str, Quantity] = {
    name: Quantity(name, symbol, unit, si, sentence)
    for name, symbol, (unit, si), sentence in _TABLE
}
