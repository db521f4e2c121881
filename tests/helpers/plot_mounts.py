"""Mounts of our own invention for the pictures: all kinds, both rotations, odd shapes, states."""

import math
from dataclasses import replace
from pathlib import Path
from weakref import WeakKeyDictionary

from matplotlib.text import Text
from sizes import size

from mountcalc.equilibrium.mount import Mount
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind, Plate, Rotation
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

SHIPPED = {
    path.stem: read_scenario(path)
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
}
CIDER = SHIPPED["cider-mill"].with_(adjuster={"stiffness": "rigid"})


def snug_as_drawn(scenario):
    """The same with a belt that is just taut as drawn."""
    length = float(Mount.of(scenario).path(0.0).length)
    return replace(scenario, belt=replace(scenario.belt, length=length))


def linked(shaft, hinge, base_pin, *, power=1.0, rotation=Rotation.CCW, acts=Acts.PUSH):
    """A light plate behind a link that pushes: what it rests on depends on turns and load."""
    driven = replace(CIDER.driven, power=power * CIDER.driven.power)
    motor = replace(
        CIDER.motor,
        shaft=shaft,
        center_of_mass=shaft,
        power=4 * CIDER.motor.power,
        rotation=rotation,
    )
    return snug_as_drawn(
        replace(
            CIDER,
            title="A link that pushes",
            driven=driven,
            motor=motor,
            plate=Plate(hinge, (-0.3, 0.3), 0.0, hinge),
            adjuster=Adjuster(
                AdjusterKind.LINK,
                acts,
                None,
                1.5e-3,
                base_pin=base_pin,
                plate_pin=(shaft[0], shaft[1] + 0.02),
            ),
        )
    )


def weighed(hinge_x):
    """Weight alone, on a level plate whose hinge is left or right of the motor."""
    plate = Plate((hinge_x, -0.36), (-0.2, 0.2), 27.0, (-0.5, -0.36))
    motor = replace(CIDER.motor, shaft=(-0.56, -0.2), center_of_mass=(-0.58, -0.2))
    return snug_as_drawn(
        replace(CIDER, motor=motor, plate=plate, adjuster=Adjuster(AdjusterKind.NONE))
    )


def named_oddly():
    """Names that a drawing could stumble over."""
    first, second = CIDER.driven.bearings
    bearings = (
        replace(first, name="W" * 60, limit=0.9 * first.limit),
        replace(second, name="$x_1$ {0} of the 漢字 bearing\non the far side"),
    )
    title = "$\\frac{1}{2}$ 漢字 \t" + "a title without an end " * 20
    return replace(CIDER, title=title, driven=replace(CIDER.driven, bearings=bearings))


MOUNTS = SHIPPED | {
    "rigid turnbuckle": SHIPPED["wood-lathe"].with_(adjuster={"stiffness": "rigid"}),
    "clockwise metric": replace(
        CIDER,
        display=Display.METRIC,
        motor=replace(CIDER.motor, rotation=Rotation.CW),
    ),
    "slips everywhere": replace(
        CIDER,
        driven=replace(CIDER.driven, power=400 * CIDER.driven.power),
        motor=replace(CIDER.motor, power=400 * CIDER.motor.power),
    ),
    "rides later": linked((-0.36, -0.51), (-0.58, -0.07), (-0.76, -0.01), power=4),
    "rides when running": linked((-0.85, -0.25), (-0.05, -0.29), (-0.22, -0.59)),
    "to the stop": linked((-0.4, -0.58), (-0.39, -0.55), (-0.14, -0.72)),
    "weight alone, clockwise": replace(
        weighed(-0.4), motor=replace(weighed(-0.4).motor, rotation=Rotation.CW)
    ),
    "weight the wrong way": weighed(-0.66),
    "tall": linked((0.0, -1.5), (0.12, -1.4), (-0.1, -1.7), acts=Acts.BOTH),
    "wide": linked((-2.2, -0.1), (-2.2, -0.4), (-2.6, -0.1), acts=Acts.BOTH),
    "odd names": named_oddly(),
}

KINDS = size(
    [*MOUNTS],
    ["cider-mill", "wood-lathe", "forge-blower", "job-press", "slips everywhere", "rides later",
     "rides when running", "to the stop", "weight the wrong way", "wide", "odd names"],
)  # fmt: skip
"""Mounts whose pictures differ in kind; with ``--full`` all."""
LAYOUTS = size(
    [*MOUNTS],
    ["cider-mill", "grindstone", "wood-lathe", "forge-blower", "job-press", "rides later",
     "to the stop", "weight alone, clockwise", "weight the wrong way", "wide", "odd names"],
)  # fmt: skip
"""Mounts whose layouts differ in kind: each adjuster, both rotations and units."""


SHARED = 0.5  # pixels that two boxes may share by rounding
_SHOWN = WeakKeyDictionary()


def shown_texts(figure):
    """Every text that a figure shows, with its box [pixels]; a finished figure stays as it is."""
    if figure not in _SHOWN:
        _SHOWN[figure] = _measured(figure)
    return _SHOWN[figure]


def _measured(figure):
    figure.draw_without_rendering()
    renderer = figure.canvas.get_renderer()
    beyond = set()
    for axes in figure.axes:
        for axis, limits in ((axes.xaxis, axes.get_xlim()), (axes.yaxis, axes.get_ylim())):
            low, high = min(limits), max(limits)
            slack = 1e-9 * (high - low)
            for tick in axis.get_major_ticks():
                if not low - slack <= tick.get_loc() <= high + slack:
                    beyond |= {tick.label1, tick.label2}
    return [
        (text, text.get_window_extent(renderer))
        for text in figure.findobj(Text)
        if text.get_visible() and text.get_text().strip() and text not in beyond
    ]


def assert_readable(figure):
    """No text covers another, leaves the figure or is small."""
    texts = shown_texts(figure)
    assert len(texts) > 10
    assert min(text.get_fontsize() for text, _ in texts) >= 9
    for index, (text, box) in enumerate(texts):
        inside = box.x0 >= 0 and box.y0 >= 0
        inside &= box.x1 <= figure.bbox.width and box.y1 <= figure.bbox.height
        assert inside, text.get_text()
        for other, taken in texts[index + 1 :]:
            wide = min(box.x1, taken.x1) - max(box.x0, taken.x0)
            tall = min(box.y1, taken.y1) - max(box.y0, taken.y0)
            assert min(wide, tall) <= SHARED, (text.get_text(), other.get_text())


def by_gid(figure, gid, axes=None):
    """What of a figure (or of one of its axes) carries a mark."""
    return (axes or figure).findobj(lambda artist: artist.get_gid() == gid)


def angle_between(first, second):
    """Angle from one vector to another [rad]."""
    cross = first[0] * second[1] - first[1] * second[0]
    return math.atan2(cross, first[0] * second[0] + first[1] * second[1])
