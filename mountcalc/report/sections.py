"""The sections of a report in their order: what to do first, what it rests on last."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterable, Iterator
from pathlib import Path

from mountcalc.card import card_words
from mountcalc.check import DOUBTS, FAILS, judged_first, kept_badly, of_verdict
from mountcalc.console.choices import DrawingName
from mountcalc.drafting.paper.pages import PRINT_WHOLE
from mountcalc.judgement import Verdict
from mountcalc.pages.page import CAUTIONS
from mountcalc.parts import ESTIMATES, Part, PartsList, by_table
from mountcalc.report.blocks import Block, Grid, Paper, Points, Section, Text, told
from mountcalc.report.findings import Findings, or_why
from mountcalc.report.pictures import drawn_of, layout_picture, range_picture
from mountcalc.report.restorer.log_sheet import log_section
from mountcalc.report.restorer.sheet import restorer_sections
from mountcalc.report.turning import slider_of
from mountcalc.requirements.notes import note_texts
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.model import Scenario
from mountcalc.setting import (
    HEADS,
    WIDEN,
    above_all,
    balance_words,
    method_rows,
    methods_head,
    methods_why,
    new_belt,
    open_or_closed,
    range_ends,
    spring_words,
    widen,
)
from mountcalc.table import giving, setting_grid, words
from mountcalc.tolerance import Tolerance, in_words, tolerance

_NO_SCALE = "The views below are as wide as the page, not at the scale they name: measure nothing."
# Where a command's page tells more, this one has it in another section.
_ELSEWHERE = re.compile(
    r" \(mountcalc (?:setting|check|parts|card)\b[^)]*\)| mountcalc check judges the rest\."
)


def sections_of(found: Findings) -> tuple[Section, ...]:
    """All of the report, without what a mount does not have."""
    sections = (
        _buy_and_saw(found),
        _set(found),
        Section("picture", "Picture", (layout_picture(found),)),
        _range(found),
        _table(found),
        _card(found),
        _checks(found),
        _parts(found),
        _drawings(found.scenario),
        _cautions(found),
        _assumptions(found),
        _how_sure(found),
        *restorer_sections(found.scenario, found.restorer),
        log_section(found.scenario, found.restorer),
    )
    return tuple(one for one in sections if one.blocks)


def _told(*parts: str) -> Iterator[Text | Points]:
    for part in parts:
        yield from _here(told(part))


def _here(blocks: Iterable[Text | Points]) -> Iterator[Text | Points]:
    """What is said, without what leads elsewhere; nothing of what is empty."""
    for one in blocks:
        if isinstance(one, Points):
            yield one
        elif one.text:
            yield Text(_ELSEWHERE.sub("", one.text), one.name, one.strong)


def _buy_and_saw(found: Findings) -> Section:
    """What is bought and what is sawn, each a line."""
    parts = found.parts
    if isinstance(parts, str):
        return Section("buy-saw", "Buy and saw", (Text(parts),))

    def rows(*, cut: bool) -> tuple[tuple[str, ...], ...]:
        return tuple(
            (
                one.name,
                "?" if one.count is None else str(one.count),
                f"{one.size or 'size not told'}{' *' * one.estimate}",
            )
            for one in parts.parts
            if one.cut is cut
        )

    heads = ("part", "count", "size")
    blocks: list[Block] = [
        Grid("Buy", heads, rows(cut=False), (0, 2)),
        Grid("Saw", heads, rows(cut=True), (0, 2)),
        Text(ESTIMATES),
    ]
    return Section("buy-saw", "Buy and saw", tuple(blocks))


def _set(found: Findings) -> Section:
    """What would mislead, the verdict, where zero is, which way to turn, and how it is weighed."""
    scenario, table, setting = found.scenario, found.table, found.advice.setting
    alone = found.advice.weight_alone.keeps_sentence
    by_weight = alone is not None and setting.set_turns is not None
    texts = [
        *told(giving.unsaid(scenario, setting.set_turns)),
        Text(alone if by_weight and alone else "", "First", strong=True),
        Text(words.verdict(scenario, table, setting), "Verdict", strong=True),
        Text(words.finding_zero(scenario, table), "Zero"),
        Text(words.which_way(scenario, table), "Tighten"),
        *told(giving.giving(scenario, table, setting)),
        Text(spring_words(scenario, setting.methods), "Spring"),
    ]
    if setting.spring_balance is not None:
        weigh = balance_words(scenario, setting.spring_balance, setting.methods)
        texts.append(Text(weigh, "Weigh"))
    texts += [Text(one, "New belt") for one in new_belt(scenario, setting)]
    return Section("set", "Set", tuple(_here(texts)))


def _range(found: Findings) -> Section:
    """Whether there is a setting, its ends, what decides them, and what would widen it."""
    scenario, setting = found.scenario, found.advice.setting
    fewest, most = range_ends(scenario, setting)
    blocks: list[Block] = [
        *_told(open_or_closed(scenario, setting)),
        Text(fewest, "Fewest"),
        Text(most, "Most"),
    ]
    wider = widen(scenario, found.advice)
    if wider:
        blocks += [Text(WIDEN.capitalize(), strong=True), Points(tuple(wider))]
    picture = range_picture(found)
    if picture is not None:
        blocks.append(picture)
    return Section("range", "Range", tuple(blocks))


def _table(found: Findings) -> Section:
    """Each setting in a row, and before it the bolt to turn."""
    grid = setting_grid(found.scenario, found.table)
    heads = tuple(f"{head}, {unit}" if unit else head for head, unit in grid.heads)
    rows = tuple(
        (*cells, end) if any(grid.ends) else cells
        for cells, end in zip(grid.rows, grid.ends, strict=True)
    )
    shown = Grid(
        "Each setting: tension, grip and loads",
        (*heads, "marks") if any(grid.ends) else heads,
        rows,
        (len(heads),),
        grid.legend,
    )
    slider = slider_of(found)
    return Section("table", "Table", (shown,) if slider is None else (slider, shown))


def _card(found: Findings) -> Section:
    """How the tension is set, heard and pressed, and when to look again."""
    card, scenario = found.card, found.scenario
    first, *then = card_words(scenario, card)
    blocks: list[Block] = [*_told(first)]
    if card.methods and card.bedded is not None:
        rows = tuple(method_rows(scenario, card.methods, card.bedded.span))
        head = methods_head(scenario, card.methods, by_weight=card.weight_alone is not None)
        above = above_all(card.methods)
        blocks.append(Grid(head.capitalize(), ("", *HEADS), rows, (0,), above))
    blocks += _told(*then)
    return Section("card", "Card", tuple(blocks))


def _checks(found: Findings) -> Section:
    """What fails and what may, with what to change; what passes in a line."""
    check = found.check
    fails, doubts = (of_verdict(check, one) for one in (Verdict.FAIL, Verdict.CAUTION))
    said = {one.what_to_change for one in fails}
    blocks: list[Block] = [*_told(judged_first(check))]
    for head, lines in ((FAILS, kept_badly(fails)), (DOUBTS, kept_badly(doubts, said))):
        items = tuple(f"{share}: {text}" if share else text for share, text in lines)
        if items:
            blocks += [Text(head.capitalize(), strong=True), Points(items)]
    return Section("checks", "Checks", tuple(blocks))


def _parts(found: Findings) -> Section:
    """What goes with each part, and where its sizes come from."""
    parts = found.parts
    if not isinstance(parts, PartsList):
        return Section("parts", "Parts", ())
    rows = tuple((one.name, one.sentence, _source(one)) for one in parts.parts)
    blocks: list[Block] = [
        Grid("What goes with each part", ("part", "what goes with it", "from"), rows, (0, 1, 2))
    ]
    if parts.not_told:
        blocks.append(Text(f"in the file: {by_table(parts.not_told)}.", "Not told"))
    if parts.notes:
        blocks.append(Points(parts.notes))
    return Section("parts", "Parts", tuple(blocks), Paper.NEVER, folded=True)


def _source(part: Part) -> str:
    missing = f"not told: {', '.join(part.not_told)}" if part.not_told else ""
    return "; ".join(filter(None, (part.source, missing)))


def _drawings(scenario: Scenario) -> Section:
    """The views, and how all drawings are made at true scale; or why there is none."""
    views = or_why(lambda: drawn_of(scenario))
    if isinstance(views, str):
        return Section("drawings", "Drawings", (Text(views, "None"),), Paper.NEVER)
    source = scenario.source
    file = shlex.quote(Path(source).name) if source and not source.startswith("<") else "FILE"
    rows = tuple((name, f"mountcalc draw {file} --only {name}") for name in DrawingName)
    grid = Grid("Drawings, and the command for each", ("drawing", "command"), rows, (0, 1))
    return Section(
        "drawings", "Drawings", (grid, Text(PRINT_WHOLE), Text(_NO_SCALE), *views), Paper.NEVER
    )


def _cautions(found: Findings) -> Section:
    """What seems to clash in this mount, and what is to be minded at any."""
    items = (*cautions(found.scenario), *CAUTIONS)
    return Section("cautions", "Cautions", (Points(items),), Paper.ROOM)


def _assumptions(found: Findings) -> Section:
    """What the numbers rest on: margins, and notes with their sources."""
    advice = found.advice
    rows = tuple((one.name, f"{one.factor:.2f}", one.sentence) for one in advice.margins)
    notes = dict.fromkeys([*note_texts(found.table.notes), *note_texts(found.card.notes)])
    blocks: list[Block] = [Grid("Margins", ("", "times", "what it is"), rows, (0, 2))]
    blocks += _told(methods_why(advice.setting.methods).removeprefix("WHY IN THIS ORDER\n"))
    blocks.append(Points(tuple(notes)))
    return Section("assumptions", "Assumptions", tuple(blocks), Paper.NEVER, folded=True)


def _how_sure(found: Findings) -> Section:
    """What builds that are a little off come to."""
    if not isinstance(found.tolerance, Tolerance):
        return Section("how-sure", "How sure", (Text(found.tolerance),), Paper.ROOM)
    many = Text(
        f"{found.tolerance.builds:,}, seed {found.tolerance.seed}. mountcalc tolerance builds "
        f"{tolerance.BUILDS:,}, so its shares differ from these by a per cent or two, rarely more.",
        "Builds",
    )
    blocks = (*_told(*in_words(found.scenario, found.tolerance)), many)
    return Section("how-sure", "How sure", blocks, Paper.ROOM)
