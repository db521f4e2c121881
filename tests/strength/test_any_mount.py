"""Whatever the mount and whatever it is made of: judgements are whole, none is a traceback."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st
from random_mounts import mounts
from sizes import examples

from mountcalc.check import evaluate
from mountcalc.check.evaluation import setup_of
from mountcalc.errors import MountError
from mountcalc.strength.changes import NAMES
from mountcalc.strength.cures import strength_cures
from mountcalc.strength.strength import part_judgements

MADE = st.fixed_dictionaries(
    {
        "plate": st.fixed_dictionaries(
            {
                "material": st.sampled_from(["MDF", "plywood", "red oak", "OSB", "C24", "granite"]),
                "thickness": st.sampled_from([0.004, 0.018, 0.06]),
                "layers": st.integers(1, 3),
                "joined": st.sampled_from(["glued", "screwed"]),
                "grain": st.sampled_from(["from-hinge", "along-hinge"]),
            }
        ),
        "base": st.fixed_dictionaries(
            {"material": st.sampled_from(["spruce", "MDF", "chipboard"])}
        ),
        "hinge": st.fixed_dictionaries(
            {
                "screw": st.sampled_from(["#6 x 1/2 in", "4x20", "6x60"]),
                "screws_per_leaf": st.integers(1, 5),
                "pin_diameter": st.sampled_from([0.002, 0.006]),
                "leaf_thickness": st.sampled_from([0.001, 0.003]),
                "mortise_depth": st.just(0.001),
                "play": st.sampled_from([1e-4, 1e-3]),
                "into_plate": st.sampled_from(["face", "edge", "end", "through"]),
                "into_base": st.sampled_from(["face", "edge", "end", "through"]),
            }
        ),
        "wood": st.fixed_dictionaries({"room": st.sampled_from(["heated", "unheated"])}),
    }
)


@settings(max_examples=examples(25))
@given(scenario=mounts(), tables=MADE)
def test_strength_of_any_mount(scenario, tables):
    try:
        at = setup_of(evaluate(scenario.with_(**tables)).point)
    except MountError:
        return
    judged = part_judgements(at)
    names = [one.name for one in judged if one.name in NAMES]
    assert len(names) == len(set(names))
    for one in judged:
        for number in (one.value, one.limit, one.share):
            assert number is None or math.isfinite(number)
        assert one.sentence
        assert one.source
        assert "nan" not in one.sentence.split()
        assert "inf" not in one.sentence.split()
    cures = strength_cures(at, judged)
    assert cures.keys() <= NAMES
    assert all(text.endswith(".") for text in cures.values())
