"""The page of a fit: what it says of the mark, of doubt and of what is worth no more."""

from dataclasses import replace

import pytest
from plot_mounts import CIDER

from mountcalc.fit.page import fit_text
from mountcalc.fit.readings import ReadingMethod
from mountcalc.fit.results import Bedding, Fit, FittedReading, Interval, NextReading, TurnGives

LBF = 4.4482216152605


def lbf(value, low, high):
    return Interval(value * LBF, low * LBF, high * LBF)


def reading(row, turns, method, read, fitted, *, error=0.5 * LBF, suspect=False):
    return FittedReading(row, turns, method, read, fitted, error, suspect)


FIT = Fit(
    title=CIDER.title,
    stiffness=lbf(12900, 12100, 13800),
    stiffness_times=Interval(1.07, 1.0, 1.15),
    zero_turns=Interval(0.31, 0.26, 0.37),
    confidence=0.9,
    scatter=1.0,
    readings=(
        reading(3, None, ReadingMethod.BALANCE, 11 * LBF, 11.2 * LBF),
        reading(4, 1.5, ReadingMethod.BALANCE, -27 * LBF, -27.04 * LBF),
        reading(5, 2.0, ReadingMethod.HUNG, 0.009525, 0.0095, error=8e-4, suspect=True),
    ),
    next=NextReading("Read the balance once more."),
    cannot_tell=("What the belt hides.",),
    turn_gave=TurnGives(6.9 * LBF, 28 * LBF),
    turn_gives=TurnGives(13 * LBF, 14.8 * LBF),
)


def said(fit, name):
    """A named paragraph of the page, in one line."""
    for paragraph in fit_text(CIDER, fit).split("\n\n"):
        text = " ".join(paragraph.split())
        at = text.find(f"{name}: ")
        if at >= 0:
            ends = [text.find(f" {other}: ", at) for other in NAMES]
            return text[at : min([end for end in ends if end > at], default=None)]
    return ""


NAMES = ("Belt", "Zero", "A turn", "Weights", "Give")


def test_the_belt_with_its_interval_beside_what_the_file_says():
    assert said(FIT, "Belt") == (
        "Belt: stiffness 12900 lbf, 12100 to 13800 (90 % sure); the file says 12000 lbf, known to "
        "a factor of 2."
    )
    wide = replace(FIT, stiffness=lbf(12900, 6000, 26000))
    assert said(wide, "Belt").endswith(
        "These readings tell no more than that: read at more turns, further apart."
    )


@pytest.mark.parametrize(
    ("zero", "words"),
    [
        (
            (0.31, 0.26, 0.37),
            "your mark is 5/16 turn before the true zero, which is at 5/16 on your count (1/4 to "
            "3/8): make a new mark there.",
        ),
        (
            (-0.5, -0.7, -0.3),
            "your mark is 1/2 turn past the true zero, which is at -1/2 on your count (-3/4 to "
            "-1/4): make a new mark there.",
        ),
        (
            (2.2, 2.0, 2.3),
            "your mark is 2 3/16 turns before the true zero, which is at 2 3/16 on your count (2 "
            "to 2 5/16): make a new mark there.",
        ),
        (
            (0.06, -0.1, 0.2),
            "your mark may be right: the true zero is at 1/16 (-1/8 to 1/4).",
        ),
    ],
)
def test_where_the_mark_is_and_what_to_do(zero, words):
    assert said(replace(FIT, zero_turns=Interval(*zero)), "Zero") == f"Zero: {words}"


def test_what_a_turn_gives_before_and_after():
    assert said(FIT, "A turn") == (
        "A turn: the first from the true zero gives 13-15 lbf on each strand; before the readings, "
        "6.9-28 lbf."
    )
    assert said(replace(FIT, turn_gives=None), "A turn") == ""


def test_what_else_was_found():
    heavier = replace(FIT, weights=Interval(1.052, 1.01, 1.08), give=Interval(9e5, 7e5, 1.2e6))
    assert said(heavier, "Weights") == (
        "Weights: motor and plate weigh 1.05 times what the file says (1.01 to 1.08)."
    )
    assert "plate and bolt give" in said(heavier, "Give")


def test_readings_in_their_own_units_with_what_is_off():
    lines = fit_text(CIDER, FIT).splitlines()
    start = lines.index("THE READINGS")
    assert lines[start + 1 : start + 5] == [
        "  row  turns  method        read  fitted     off",
        "    3  slack  balance   11.0 lbf    11.2    -0.2",
        "    4  1 1/2  balance  -27.0 lbf   -27.0    +0.0",
        "    5      2  hung      0.375 in   0.374  +0.001  DOUBT",
    ]
    assert "  row  turns  method        read  fitted     off  error" in fit_text(
        CIDER, FIT, more=True
    )


def test_doubt_next_open_and_bedding_are_told_as_they_are():
    bedding = Bedding(
        dates=2, elapsed=9.0, by_hours=True, turns=1.5, turns_lost=Interval(0.1, 0.0, 0.2),
        tension_lost=lbf(1, 0, 2), lost_per_hour=lbf(0.1, 0, 0.2), lost_per_day=None,
        tension_now=lbf(20, 19, 21), tension_next=lbf(19, 18, 20), sentences=("It lost some.",),
    )  # fmt: skip
    fit = replace(FIT, notes=("Row 5 disagrees.",), bedding=bedding, written="mill-fitted.toml")
    for name, text in (
        ("Doubt", "Row 5 disagrees."),
        ("Next", "Read the balance once more."),
        ("Open", "What the belt hides."),
        ("Bedding", "It lost some."),
        ("Written", "mill-fitted.toml: your file with what was fitted. Go on with it, as mountcalc "
         "table mill-fitted.toml."),
    ):  # fmt: skip
        assert said(fit, name) == f"{name}: {text}"
    assert said(FIT, "Doubt") == said(FIT, "Bedding") == said(FIT, "Written") == ""


def test_of_many_readings_the_suspect_and_the_last_are_shown():
    many = tuple(
        reading(row, row / 8, ReadingMethod.BALANCE, row * LBF, row * LBF, suspect=row == 3)
        for row in range(2, 42)
    )
    fit = replace(FIT, readings=many)
    page, full = fit_text(CIDER, fit), fit_text(CIDER, fit, more=True)
    assert len(page.splitlines()) <= 45
    shown = [line.split()[0] for line in page.splitlines() if "  balance " in line]
    assert shown == ["3", *map(str, range(29, 42))]
    assert "  40 in all: --more" in page
    assert full.count("  balance ") == 14 + 40
