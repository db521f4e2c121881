"""The adjuster's bolt and the feet's bolts by hand from their loads and the published tables."""

import math

import pytest
from made_mounts import by_name, loads_of, made, setup
from scipy.constants import inch, lbf, psi

from mountcalc.judgement import Verdict
from mountcalc.loads import Part
from mountcalc.scenario.reader import read_scenario
from mountcalc.strength.bolt_length import bolt_length

CORE = 0.2983 * inch  # of 3/8-16 (Shigley, Table 8-2)
KSI = 1e3 * psi
FEET = 0.0524 * inch**2  # stress area of 5/16-18


def worst(at, of, part=Part.BOLT):
    return max(of(load, when) for load, when in loads_of(at, part))


def test_stress_of_what_stands_out():
    """4 F/(pi d^2) + 32 S a/(pi d^3) of three quarters of 85 ksi (SAE J429, grade 5)."""
    at = setup(made())
    found = by_name(at)["bolt-stress"]
    stress = worst(at, lambda load, _: 4 * load.out / (math.pi * CORE**2)
                   + 32 * load.along_plate * 1.5 * inch / (math.pi * CORE**3))  # fmt: skip
    assert found.value * 1e6 == pytest.approx(stress, rel=1e-3)
    assert found.limit * 1e6 == pytest.approx(0.75 * 85 * KSI)
    assert found.verdict is Verdict.PASS


def test_an_unmarked_bolt_is_the_weakest():
    found = by_name(setup(made(adjuster={"strength": None})))["bolt-stress"]
    assert "grade 2" in found.sentence
    assert found.limit * 1e6 == pytest.approx(0.75 * 55 * KSI)
    assert "unmarked" not in found.source


def test_buckling_at_a_third_of_the_published_column():
    """3/8-16 of grade 2 pinned at both ends: 3432 lb at 4 in, 799 lb at 12 in (Shigley, 4-12)."""
    for inches, pounds in ((4, 3432), (12, 799)):
        keys = {"strength": "grade 2", "stands_out": f"{inches} in"}
        found = by_name(setup(made(adjuster=keys)))["bolt-buckling"]
        # They take E = 30 Mpsi for steel, 207 GPa rounded up.
        assert found.limit / lbf == pytest.approx(pounds / 3, rel=2e-3)
    assert "bolt-buckling" not in by_name(setup(made(adjuster={"stands_out": None})))


@pytest.mark.parametrize(
    ("holder", "limit"),
    [
        # 0.577 x 0.75 x 85 ksi on 3/4 pi D1 L, with D1 = 0.3073 in.
        ("nut", 0.75 * 85e3 / math.sqrt(3) * 0.75 * math.pi * 0.3073 * 0.75),
        # 1800 G^1.5 D^0.75 L of a lag screw in Douglas-fir, 0.90 of it for good (NDS).
        ("tapped-wood", 0.9 * 1800 * 0.48**1.5 * 0.375**0.75 * 0.75),
        ("insert", 0.9 * 1800 * 0.48**1.5 * (1.5 * 0.375) ** 0.75 * 0.75),
        # 800 psi over 1.5 under a flange 2.7 bolts wide.
        ("t-nut", 800 / 1.5 * math.pi / 4 * 0.375**2 * (2.7**2 - 1)),
    ],
)
def test_what_holds_the_thread(holder, limit):
    found = by_name(setup(made(adjuster={"holder": holder})))["bolt-thread"]
    assert found.limit / lbf == pytest.approx(limit, rel=1e-3)
    assert found.verdict is Verdict.PASS


def test_wood_that_is_not_known_holds_no_thread_that_could_be_told():
    assert "bolt-thread" not in by_name(setup(made(base={"material": None})))
    nut = by_name(setup(made(base={"material": None}, adjuster={"holder": "nut"})))
    assert "bolt-thread" in nut


def test_tip_on_a_pad_and_bare():
    """Plywood is allowed 210 psi on its face (PS 1, from memory)."""
    at = setup(made())
    force = worst(at, lambda load, _: load.out)
    padded = by_name(at)["tip-pressure"]
    assert padded.value * 1e6 == pytest.approx(force / (math.pi / 4 * inch**2))
    assert padded.limit * 1e6 == pytest.approx(210 * psi)
    bare = by_name(setup(made(adjuster={"pad": None})))["tip-pressure"]
    assert bare.value == pytest.approx(padded.value / 0.375**2)
    assert bare.verdict is Verdict.CAUTION
    assert "bare tip" in bare.sentence
    assert "tip-pressure" not in by_name(setup(made(plate={"material": "MDF"})))


def test_torque_and_the_hands_force():
    """F d2/2 (l + pi f d2 sec 30)/(pi d2 - f l sec 30), and a tip that rubs on 2/3 of itself."""
    at = setup(made())
    force = worst(at, lambda load, when: load.out * when.startswith("at rest"))
    across, lead, rub = 0.3344 * inch, inch / 16, 0.12 / math.cos(math.pi / 6)
    turned = (lead + math.pi * rub * across) / (math.pi * across - rub * lead)
    torque = force * across / 2 * turned + force * 0.12 * 0.375 * inch / 3
    found = by_name(at)["bolt-turning"]
    assert found.value == pytest.approx(torque / (8 * inch), rel=1e-3)
    assert found.verdict is Verdict.PASS


def test_self_locking_and_the_order_of_the_lock_nut():
    found = by_name(setup(made()))["bolt-holding"]
    ratio = math.pi * 0.12 / math.cos(math.pi / 6) * 0.3344 * 16
    assert found.value == pytest.approx(ratio, rel=1e-3)
    assert found.verdict is Verdict.NOTE
    order = [found.sentence.index(word) for word in ("set it", "lock nut", "measure again")]
    assert order == sorted(order)
    slippery = by_name(setup(made(adjuster={"friction": 0.02})))["bolt-holding"]
    assert slippery.verdict is Verdict.FAIL
    assert "too little: the load turns it back" in slippery.sentence


def test_two_bolts_share():
    one, two = (
        by_name(setup(made(adjuster=keys)))["bolt-stress"].value
        for keys in ({}, {"bolt": [{"across": "-2 in"}, {"across": "2 in"}]})
    )
    assert two < one * (1 + 1e-9)


def test_feet_by_hand():
    at = setup(made())
    found, pulled = by_name(at), worst(at, lambda load, _: load.out, Part.FOOT)
    ring = math.pi / 4 * (0.75**2 - 0.3125**2) * inch**2
    assert found["foot-washers"].value * 1e6 == pytest.approx(pulled / ring)
    assert found["foot-bolts"].value * 1e6 == pytest.approx(pulled / FEET, rel=1e-3)
    assert found["foot-bolts"].limit * 1e6 == pytest.approx(0.75 * 85 * KSI)
    # Without a word on the feet the frame's holes say how thick their bolts are: 11/32 in of a 56.
    plain = by_name(setup(made(feet={"bolt": None, "washer": None})))
    assert "foot-bolts" not in plain
    assert f"{2.1 * 11 / 32:.3g} in" in plain["foot-washers"].sentence


def test_a_bolt_in_the_plate_bears_on_the_base():
    found = by_name(setup(made(adjuster={"kind": "jack-in-plate", "axis": "right"})))
    assert "bolt-stress" in found
    # The tip bears on the base then: 800 psi over 1.5 of Douglas-fir.
    assert found["tip-pressure"].limit * 1e6 == pytest.approx(800 * psi / 1.5, rel=1e-4)


def test_a_link_that_is_pressed_is_a_column_from_pin_to_pin():
    """Euler's, of M10 on its root diameter: 299 mm between pins at most; none of one that pulls."""
    lathe = read_scenario("scenarios/wood-lathe.toml")
    found = by_name(setup(lathe))["bolt-buckling"]
    core = 10e-3 - 1.226869 * 1.5e-3
    far = bolt_length(lathe).reach[1]
    euler = math.pi**2 * 30e6 * 6894.757 * math.pi * core**4 / 64 / far**2
    assert found.limit == pytest.approx(euler / 3, rel=1e-3)
    assert found.value == max(0.0, *(load.out for load, _ in loads_of(setup(lathe), Part.BOLT)))
    told = by_name(setup(lathe)).get("strength-left-out")
    assert told is None or "stands_out" not in told.sentence
    assert "bolt-buckling" not in by_name(setup(read_scenario("scenarios/feed-mill.toml")))
