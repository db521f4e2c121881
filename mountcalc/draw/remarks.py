"""What is said beside a drawing: remarks as data, and the table that writes their numbers."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from string import Formatter
from typing import Any, NamedTuple

from mountcalc.draw.build import Build, rim_radii
from mountcalc.handbook.rows import INCH, load
from mountcalc.pages.amounts import bench_length, fine_length, rate_text
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Display
from mountcalc.units import si_factor

_LEVEL = math.radians(20.0)  # up to which a line of shafts counts as horizontal (estimate)
_LOW = 42 * INCH  # 29 CFR 1910.219(e)(1)
_BELTS = ("level belt", "low belt", "inclined belt")

UNITS = {Display.INCH: "inches", Display.METRIC: "mm"}  # the unit of lists of lengths in a sentence


class Side(NamedTuple):
    """A word for a side of the picture, and what it is in a mirrored copy."""

    here: str
    mirrored: str


LEFT, RIGHT = Side("left", "right"), Side("right", "left")


def bare(lengths: float | Iterable[float], display: Display) -> str:
    """Lengths without their unit, with commas."""
    several = lengths if isinstance(lengths, Iterable) else (lengths,)
    return ", ".join(bench_length(one, display).rpartition(" ")[0] for one in several)


_FOOT_POUND = si_factor("ft") * si_factor("lbf")
# What stands behind the colon of a place in a sentence: how its number is written.
_WRITTEN: Mapping[str, Callable[[Any, Display], str]] = {
    "bench": bench_length,  # to be marked out
    "fine": fine_length,  # may be small
    "bare": bare,
    "by": lambda lengths, display: " x ".join(bench_length(one, display) for one in lengths),
    "energy": lambda energy, display: (
        f"{energy:.2g} J" if display is Display.METRIC else f"{energy / _FOOT_POUND:.2g} ft lbf"
    ),
    "rate": rate_text,
    "deg": lambda angle, _: f"{math.degrees(angle):.2f}",
}


class _Sentence(Formatter):
    """Puts numbers into a sentence, in the units of the drawing."""

    def __init__(self, display: Display, *, mirrored: bool) -> None:
        self.display, self.mirrored = display, mirrored

    def format_field(self, value: Any, format_spec: str) -> str:  # noqa: ANN401 (as its parent)
        if isinstance(value, Side):
            return value.mirrored if self.mirrored else value.here
        if isinstance(value, Remark):
            return value.text(self.display, mirrored=self.mirrored)
        if isinstance(value, list):
            return ", ".join(self.format_field(one, format_spec) for one in value)
        if format_spec.startswith("-"):  # how much it is below zero
            return self.format_field(-value, format_spec[1:])
        if format_spec in _WRITTEN:
            return _WRITTEN[format_spec](value, self.display)
        return format(value, format_spec)


class Remark(Record):
    """One remark: the key of its sentence in ``data/remarks.toml``, and its numbers [SI].

    What a user wrote stands among the ``numbers`` only: it is never taken for a sentence.
    """

    key: str
    numbers: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_caution(self) -> bool:
        """Whether it warns."""
        about, _, name = self.key.partition(".")
        return name in load("remarks")["cautions"].get(about, ())

    def text(self, display: Display, *, mirrored: bool = False) -> str:
        """The sentence in the units of a drawing."""
        about, _, name = self.key.partition(".")
        words: str = load("remarks")[about][name]
        return _Sentence(display, mirrored=mirrored).vformat(words, (), self.numbers)


@dataclass(slots=True)
class Remarks:
    """All remarks of a drawing in their order, and the numbers that it states [SI]."""

    display: Display
    all: list[Remark] = field(default_factory=list)
    facts: dict[str, float] = field(default_factory=dict)

    def say(self, key: str, **numbers: Any) -> None:  # noqa: ANN401
        """Say or warn of something."""
        self.add([Remark(key, numbers)])

    def add(self, remarks: Iterable[Remark]) -> None:
        """Take remarks over; what has been said is not said again."""
        for one in remarks:
            if one not in self.all:
                self.all.append(one)

    def notes_of(self, texts: Iterable[str]) -> None:
        """Say what is text already."""
        self.add(Remark("common.text", {"text": text}) for text in texts)

    def cautions_of(self, texts: Iterable[str]) -> None:
        """Warn by what is text already."""
        self.add(Remark("common.warning", {"text": text}) for text in texts)

    def needs(self, wanted: Mapping[str, object], what: str) -> bool:
        """Say which keys are missing; whether any is."""
        missing = [key for key, value in wanted.items() if value is None]
        if missing:
            listed = " and ".join(part for part in (", ".join(missing[:-1]), missing[-1]) if part)
            verb = "is" if len(missing) == 1 else "are"
            self.say("common.needed", keys=listed, verb=verb, what=what)
        return bool(missing)

    def _texts(self, *, cautions: bool) -> tuple[str, ...]:
        return tuple(one.text(self.display) for one in self.all if one.is_caution is cautions)

    @property
    def notes(self) -> tuple[str, ...]:
        """All that is no warning, as text."""
        return self._texts(cautions=False)

    @property
    def cautions(self) -> tuple[str, ...]:
        """All warnings, as text."""
        return self._texts(cautions=True)

    @property
    def other_hand(self) -> dict[str, str]:
        """Notes that name a side of the picture, and what they are in a mirrored copy."""
        texts = {one.text(self.display): one for one in self.all}
        hands = {here: one.text(self.display, mirrored=True) for here, one in texts.items()}
        return {here: other for here, other in hands.items() if here != other}


def reminders(build: Build, *topics: str) -> tuple[str, ...]:
    """Cautions that go with every guard and every view, with their sources."""
    # How the belt lies at snug.
    driven, floor = build.scenario.driven.shaft, build.scenario.parts.base.floor
    motor, belt = build.motor_at_snug, "level belt"
    shafts = zip((motor, driven), rim_radii(build), strict=True)
    top = max(at[1] + radius for at, radius in shafts)
    if math.atan2(abs(motor[1] - driven[1]), abs(motor[0] - driven[0])) > _LEVEL:
        belt = "inclined belt"
    elif floor is not None and top - floor <= _LOW:
        belt = "low belt"
    said = []
    for row in load("guarding")["reminder"]:
        topic, text = row["topic"], row["text"]
        if build.display is Display.METRIC:
            text = row.get("metric", text)
        if topic in _BELTS and topic != belt:
            continue
        if not topics or ("belt" if topic in _BELTS else topic) in topics:
            sure = ")." if row["sure"] == "published" else f", {row['sure']})."
            said.append(f"{text} ({row['source']}{sure}")
    return tuple(said)


def last_word(of: str) -> str:
    """Who decides ("closing"), or what a view is not for ("view")."""
    text: str = load("guarding")[of]["text"]
    return text
