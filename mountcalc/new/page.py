"""What was understood, as a page: the mount, what was taken, what to type next."""

from __future__ import annotations

import re
import shlex

from mountcalc.new.answers import marks
from mountcalc.new.measurements import Measurements, questions
from mountcalc.new.results import Taken, Understood
from mountcalc.new.sketches import mount_sketch
from mountcalc.pages.page import heading, wrap

_GUESS = re.compile("measure|guess|estimate|until")  # these come first: they are to be looked at
_MOST = 7  # of what was taken, on a page of one screen


def answers_text(answers: Measurements) -> str:
    """All answers by their marks, and what is taken where there is none."""
    lines = []
    for question in answers.asked():
        taken = answers.text(question.key)
        told = taken if question.key in answers else f"not known ({taken or question.unsaid})"
        lines.append(wrap(f"{question.brief}: {told}", f"  {marks()[question.key]:<4}", " " * 6))
    return "\n".join(lines)


def understood_text(mount: Understood, rest: str = "") -> str:
    """The mount as it was understood, and what was taken for it: all, or what a screen holds.

    ``rest`` then says where the rest is told.
    """
    guessed = sorted(mount.taken, key=lambda one: not _GUESS.search(one.why))
    taken = list(dict.fromkeys(map(_taken, guessed)))
    if rest and len(taken) > _MOST:
        taken[_MOST:] = [f"  and {len(taken) - _MOST} more: {rest}"]
    sections = [
        f"{heading(mount.scenario.title)}\nAs understood, seen facing the motor's pulley:",
        mount_sketch(mount),
        "TAKEN, since nobody said\n" + "\n".join(taken) if taken else "",
        "\n".join(wrap(remark) for remark in mount.remarks),
    ]
    return "\n\n".join(section for section in sections if section)


def next_text(mount: Understood, file: str) -> str:
    """What to type next."""
    name = shlex.quote(file)
    if mount.is_search:
        return f"NEXT\n  mountcalc place {name}    where hinge and bolt may go"
    return (
        f"NEXT\n  mountcalc table {name}    what each turn of the bolt gives\n"
        f"  mountcalc setting {name}  the gentlest setting that drives it"
    )


def _taken(one: Taken) -> str:
    known = questions().get(one.key)
    mark = marks()[one.key] if known else ""
    name = known.brief if known else one.key
    return wrap(f"{name}: {one.value} ({one.why})", f"  {mark:<4}", " " * 6)
