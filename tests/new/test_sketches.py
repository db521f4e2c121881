"""The mount drawn with letters: each where it is, within a letter, and told in numbers beside."""

import itertools
import re

import pytest
from tape_answers import MILL, SPACE

from mountcalc.new.answers import measured
from mountcalc.new.sketches import mount_sketch
from mountcalc.new.understanding import understood

EYE_BOLT = MILL | {"adjuster": "eye-bolt", "adjuster_does": "holds", "bolt_to_post": "6"}
HUNG = {
    **MILL,
    "plate_lies": "above",
    "hinge_height": "31 1/2",
    "hinge_wall": "8",
    "motor_height": "28",
    "hinge_to_bolt": "14",
    "adjuster_does": "holds",
    "built": "yes",
}
NAMES = {"M": "motor", "H": "hinge", "B": "bolt", "P": "post"}


@pytest.mark.parametrize(
    "answers", [MILL, EYE_BOLT, HUNG, SPACE], ids=["mill", "eye-bolt", "hung", "search"]
)
def test_letters_stand_where_the_parts_are(answers):
    mount = understood(measured(answers))
    assert mount.contradictions == ()
    picture, legend = re.split(r"\n\n(?=  S )", mount_sketch(mount))
    lines = picture.split("\n")
    assert max(map(len, lines)) <= 76
    assert len(lines) <= 18
    places = {"S": (0.0, 0.0)} | {
        letter: mount.points[name] for letter, name in NAMES.items() if name in mount.points
    }
    seen = {
        letter: (line.index(letter), row)
        for row, line in enumerate(lines)
        for letter in places
        if letter in line
    }
    assert seen.keys() == places.keys()
    # Columns to the metre, from the two that are furthest apart; a row is two columns high.
    far = max(itertools.combinations(places, 2), key=lambda pair: span(places, *pair))
    scale = span(seen, *far, tall=2) / span(places, *far)
    for one, other in itertools.combinations(places, 2):
        across, up = (b - a for a, b in zip(places[one], places[other], strict=True))
        columns, rows = (b - a for a, b in zip(seen[one], seen[other], strict=True))
        assert columns == pytest.approx(scale * across, abs=2.5)
        assert -2 * rows == pytest.approx(scale * up, abs=3.5)
    assert len(re.findall(r"^  [SMHBP]  ", legend, re.MULTILINE)) == len(places)


def span(places, one, other, tall=1):
    (x, y), (u, v) = places[one], places[other]
    return ((u - x) ** 2 + (tall * (v - y)) ** 2) ** 0.5


def test_the_legend_tells_places_as_a_tape_would():
    legend = mount_sketch(understood(measured(MILL)))
    assert "  M  motor's shaft: 20 1/2 in to the left, 4 in lower\n" in legend
    assert "  B  where the bolt bears: 24 in to the left, 1 1/2 in higher\n" in legend
    assert legend.endswith("     the floor: 32 in lower")
