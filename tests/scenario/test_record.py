"""Records are as frozen dataclasses of the standard library are, but for what they cost."""

import copy
import dataclasses
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.record import Record


class Ours(Record):
    x: float
    y: float = 2.0
    names: tuple[str, ...] = field(default_factory=tuple)
    seen: list[int] = field(default_factory=list, compare=False, repr=False)


@dataclass(frozen=True)
class Theirs:
    x: float
    y: float = 2.0
    names: tuple[str, ...] = field(default_factory=tuple)
    seen: list[int] = field(default_factory=list, compare=False, repr=False)


class Named(Record, kw_only=True):
    x: float = 1.0
    y: float


NUMBERS = st.floats(allow_nan=False)
GIVEN = [((1.0,), {}), ((1.0, 3.0), {}), ((), {"y": 4.0, "x": 0.5}), ((1.0,), {"names": ("a",)})]


@pytest.mark.parametrize(("values", "named"), GIVEN)
def test_fields_defaults_and_texts(values, named):
    ours, theirs = Ours(*values, **named), Theirs(*values, **named)
    assert dataclasses.asdict(ours) == dataclasses.asdict(theirs)
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert ours.seen is not Ours(*values, **named).seen
    assert replace(ours, y=7.0) == Ours(ours.x, 7.0, ours.names)


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), ((1.0, 2.0, (), [], 5), {}), ((1.0,), {"z": 1}), ((1.0,), {"x": 2.0})],
)
def test_what_no_dataclass_takes(values, named):
    for kind in (Ours, Theirs):
        with pytest.raises(TypeError):
            kind(*values, **named)
    with pytest.raises(TypeError):
        Named(1.0, 2.0)


@given(NUMBERS, NUMBERS, NUMBERS, NUMBERS)
def test_equality_and_hash(x, y, other_x, other_y):
    ours, theirs = Ours(x, y, seen=[1]), Theirs(x, y, seen=[1])
    assert (ours == Ours(other_x, other_y)) is (theirs == Theirs(other_x, other_y))
    assert ours == Ours(x, y)
    assert hash(ours) == hash(Ours(x, y)) == hash(theirs)
    assert ours != theirs
    assert copy.deepcopy(ours) == pickle.loads(pickle.dumps(ours)) == ours  # noqa: S301  # our own


def test_nothing_changes():
    ours = Ours(1.0)
    with pytest.raises(FrozenInstanceError):
        ours.x = 2.0
    with pytest.raises(FrozenInstanceError):
        ours.new = 2.0
    with pytest.raises(FrozenInstanceError):
        del ours.x
    assert Named(y=3.0) == Named(x=1.0, y=3.0)
