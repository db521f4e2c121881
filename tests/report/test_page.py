"""What stands in the page: the rooms' own sentences in their order, nothing from elsewhere."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from mountcalc.card.page import card_text
from mountcalc.check.page import check_text
from mountcalc.pages.page import CAUTION, CAUTIONS
from mountcalc.report.blocks import Drawn, Grid, Paper, Picture, Points, Section, Slider, Text, told
from mountcalc.report.findings import findings_of
from mountcalc.report.page import page_html
from mountcalc.report.pictures import svg_of
from mountcalc.report.sections import _drawings, _set, sections_of
from mountcalc.scenario.reader import parse_scenario
from mountcalc.setting import advise
from mountcalc.table import words
from mountcalc.table.giving import unsaid
from mountcalc.table.table import tension_table
from mountcalc.tolerance.page import tolerance_text

SCENARIOS = Path(__file__).parents[2] / "scenarios"
ORDER = [
    *("buy-saw", "set", "picture", "range", "table", "card", "checks", "parts", "drawings"),
    *("cautions", "assumptions", "how-sure"),
]
VOID = {"meta", "input", "br", "img", "link", "circle", "path", "use", "rect", "line"}


class Read(HTMLParser):
    """Texts, tags and names of a page; whether what is opened is shut."""

    def __init__(self, html):
        super().__init__()
        self.texts, self.tags, self.names, self.open, self.odd = [], [], [], [], []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self.names += [value for name, value in attrs if name == "id"]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if tag not in VOID and (not self.open or self.open.pop() != tag):
            self.odd.append(tag)

    def handle_data(self, data):
        if self.open and self.open[-1] not in {"script", "style"}:
            self.texts.append(data)

    @property
    def text(self):
        return " ".join(" ".join(self.texts).split())


@pytest.fixture(scope="module")
def read(mill):
    return Read(mill.html)


def texts_of(sections):
    """All texts of the sections' blocks."""
    for section in sections:
        yield section.title
        for block in section.blocks:
            match block:
                case Text():
                    yield from (block.name, block.text)
                case Points():
                    yield from block.items
                case Grid():
                    yield from (block.caption, block.legend, *block.heads, *sum(block.rows, ()))
                case Slider():
                    yield from (*block.heads, *block.parts)


def test_sections_stand_in_their_order_and_all_is_in_the_page(mill, read):
    names = [one.name for one in mill.sections]
    assert names[: len(ORDER)] == ORDER
    assert names[-1] == "log"
    assert [name for name in read.names if name in names] == names
    for text in texts_of(mill.sections):
        assert " ".join(text.split()) in read.text, text
    assert read.odd == read.open == []


def test_cautions_come_first(mill, read):
    assert read.text.index(CAUTION) < read.text.index("Buy and saw")
    (points,) = next(one for one in mill.sections if one.name == "cautions").blocks
    assert points.items[-len(CAUTIONS) :] == CAUTIONS


def test_it_says_what_the_commands_say(mill):
    """No second wording: each sentence is on the page of its command."""
    found, scenario = mill.found, mill.scenario
    pages = {
        "card": card_text(scenario, found.card, more=True),
        "checks": check_text(scenario, found.check, more=True),
        "how-sure": tolerance_text(scenario, found.tolerance, more=True),
    }
    for section in mill.sections:
        if section.name not in pages:
            continue
        page = " ".join(pages[section.name].split())
        page = re.sub(r" \(mountcalc (setting|check|parts|card)[^)]*\)", "", page)
        for block in section.blocks:
            if isinstance(block, Text) and block.name != "Builds" and not block.strong:
                assert " ".join(block.text.split()) in page
            if isinstance(block, Points):
                for item in block.items:
                    assert " ".join(item.split(" %: ", 1)[-1].split()) in page
    (verdict,) = (
        block
        for section in mill.sections
        if section.name == "set"
        for block in section.blocks
        if isinstance(block, Text) and block.name == "Verdict"
    )
    said = words.verdict(scenario, found.table, found.advice.setting)
    assert verdict.text == said.replace(" (mountcalc setting says how)", "")
    assert "mountcalc" not in verdict.text


def test_aim_floor_and_ceiling_stand_on_the_card(mill):
    card = next(one for one in mill.sections if one.name == "card")
    (grid,) = (block for block in card.blocks if isinstance(block, Grid))
    assert grid.heads[1:] == ("aim", "new belt", "not below", "never above")
    balance = grid.rows[0]
    assert balance[0].startswith("spring balance")
    low, aim, high = float(balance[3]), float(balance[1]), float(balance[4])
    assert low < aim < high


def test_nothing_comes_from_elsewhere(mill, read):
    """No address but the names that the format wants, nothing that loads, a policy that forbids."""
    addresses = set(re.findall(r"https?://[^\s\"'<]+", mill.html))
    assert addresses <= {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}
    for tag, attrs in read.tags:
        assert tag not in {"link", "img", "iframe", "object", "embed", "video", "base", "form"}
        assert "src" not in attrs
        href = attrs.get("href", attrs.get("xlink:href", "#"))
        assert href.startswith("#")
        assert not any(name.startswith("on") for name in attrs)
    policies = [one["content"] for tag, one in read.tags if "http-equiv" in one]
    assert len(policies) == 1
    assert policies[0].startswith("default-src 'none'; ")
    assert "@import" not in mill.html
    assert "url(" not in re.sub(r"url\(#[\w-]+\)", "", mill.html.replace("url(#y)", ""))


def test_names_of_pictures_are_those_of_one_picture(mill, read):
    assert len(set(read.names)) == len(read.names)
    for section in mill.sections:
        for block in section.blocks:
            if isinstance(block, Picture):
                svg = svg_of(block)
                names = Read(svg).names
                assert names
                assert all(name.startswith(f"{block.name}-") for name in names)
                used = set(re.findall(r'(?:xlink:href="#|url\(#)([^")]+)', svg))
                assert used - {"y"} <= set(names)
                assert "<metadata" not in svg
                assert svg.count("<text") > 10


def test_what_ends_a_script_is_no_part_of_one(mill):
    data = re.search(r'<script type="application/json" id="steps">(.*?)</script>', mill.html)[1]
    assert not set("<>&") & set(data)
    steps = json.loads(data)
    assert len(steps) > len(mill.found.table.rows)
    assert mill.html.count("</script>") == 2


@pytest.mark.skipif("not config.getoption('full')", reason="made twice with --full")
def test_the_same_mount_is_the_same_page(mill):
    again = page_html(mill.scenario.title, sections_of(findings_of(mill.scenario)))
    assert again == mill.html
    assert not re.search(r"\b20\d\d-\d\d-\d\d\b", again)


def test_a_mount_without_a_setting_says_so_and_what_would_help(made, shipped):
    closed = made(shipped("job-press"))
    ranged = next(one for one in closed.sections if one.name == "range")
    texts = [one.text for one in ranged.blocks if isinstance(one, Text)]
    assert texts[0].startswith("Closed: ")
    assert "mountcalc" not in texts[0]
    (wider,) = (one for one in ranged.blocks if isinstance(one, Points))
    assert len(wider.items) == len(closed.found.advice.remedies[:4])
    card = next(one for one in closed.sections if one.name == "card")
    assert card.blocks[0].name == "No card"


NO_ADJUSTER = (r"\[adjuster\]\n(?:(?!\n\[).)*", '[adjuster]\nkind = "none"\n')
NO_DATA = (
    r'\ndesignation = "4L440".*?\n',
    '\nlength = "43.3 in"\nmass = "0.06 lb/ft"\nstiffness = "3000 lbf"\ntraction = 1.2\n',
)


def changed(change):
    """The fretsaw's search, one of its tables changed."""
    text = (SCENARIOS / "fretsaw-bench.toml").read_text(encoding="utf-8")
    written = re.sub(*change, text, count=1, flags=re.DOTALL)
    assert written != text
    return parse_scenario(written)


def test_a_search_without_an_adjuster_has_no_slider(made):
    weighed = made(changed(NO_ADJUSTER))
    words = [*texts_of(weighed.sections)]
    assert "There is no adjuster: weight alone tightens the belt." in words
    assert "nan" not in " ".join(words).lower().split()
    assert not any(isinstance(b, Slider) for one in weighed.sections for b in one.blocks)
    plain = [replace(one, blocks=one.blocks[:1]) for one in weighed.sections[:2]]
    page = Read(page_html(weighed.scenario.title, plain))
    assert not any(tag in {"input", "script"} for tag, _ in page.tags)


@pytest.mark.skipif("not config.getoption('full')", reason="one more mount with --full")
def test_a_belt_without_data(made):
    words = " ".join(texts_of(made(changed(NO_DATA)).sections))
    assert "43.3 in along its cords" in words
    assert "nan" not in words.lower().split()


def test_short_rows_span_and_forms_are_empty():
    grid = Grid("what", ("", "one", "two"), (("a", "1", "2"), ("b", "none of it"), ("", "", "")))
    html = page_html("t", [Section("s", "S", (replace(grid, form=True),), Paper.ALWAYS)])
    assert '<td colspan="2">none of it</td>' in html
    assert '<table class="form">' in html
    assert "<tr><td></td><td></td><td></td></tr>" in re.sub(r"\n *", "", html)


def test_lines_of_a_text_page_are_put_together_again():
    text = "Verdict:  All is\n          well.\nJudged:   so.\n  - one\n    and more\n  - two\n\n"
    text += "plain: it\nis"
    assert list(told(text)) == [
        Text("All is well.", "Verdict"),
        Text("so.", "Judged"),
        Points(("one and more", "two")),
        Text("plain: it is"),
    ]


def test_give_that_nobody_has_told_leads_the_setting(shipped, mill):
    """Doubled MDF taken as rigid misleads: that comes before the turns; told, it is not said."""
    told = shipped("seed-cleaner")
    for scenario, leads in ((told.with_(adjuster={"stiffness": None}), True), (told, False)):
        table = tension_table(scenario)
        found = replace(mill.found, scenario=scenario, table=table, advice=advise(scenario))
        first = _set(found).blocks[0]
        wanted = unsaid(scenario, found.advice.setting.set_turns)
        assert bool(wanted) is leads
        assert (first.name == "Give") is leads
        if leads:
            assert first.text == " ".join(wanted.split()).removeprefix("Give: ")
            assert 'Set adjuster.stiffness = "parts".' in first.text


def test_how_many_builds_there_were_and_how_many_the_command_makes(mill):
    builds = section(mill, "how-sure").blocks[-1].text
    assert builds.startswith(f"{mill.found.tolerance.builds}, seed 0. mountcalc tolerance builds")
    assert "builds 10,000, so" in builds


def test_the_views_stand_in_the_page(mill, read):
    """As `draw` makes them: their texts as text, as wide as the page, named apart."""
    views = [one for one in section(mill, "drawings").blocks if isinstance(one, Drawn)]
    assert [one.label.split(":")[0] for one in views] == ["Assembly", "Along the shafts"]
    for one in views:
        drawn = Read(one.svg)
        assert drawn.tags[0][0] == "svg"
        assert {*drawn.tags[0][1]} == {"xmlns", "viewbox"}
        assert len(drawn.texts) > 20
        assert drawn.names
        assert ("svg", drawn.tags[0][1] | {"role": "img", "aria-label": one.label}) in read.tags
        assert all(" ".join(text.split()) in read.text for text in drawn.texts)
    assert len({*read.names}) == len(read.names)
    assert "not at the scale they name" in read.text


def test_the_commands_for_drawings_have_the_files_own_name(mill, monkeypatch):
    (grid, *_) = section(mill, "drawings").blocks
    assert grid.rows[0][1] == "mountcalc draw cider-mill.toml --only plate"
    monkeypatch.setitem(_drawings.__globals__, "drawn_of", lambda _: ())
    for source, name in (("", "FILE"), ("<text>", "FILE"), ("a/my mill.toml", "'my mill.toml'")):
        blocks = _drawings(replace(mill.scenario, source=source)).blocks
        assert blocks[0].rows[0][1] == f"mountcalc draw {name} --only plate"


def test_a_mount_that_is_too_large_to_draw_says_so(shipped):
    mill = shipped("cider-mill")
    base = replace(mill.parts.base, floor=-50.0)
    (why,) = _drawings(replace(mill, parts=replace(mill.parts, base=base))).blocks
    assert "base.floor: reaches" in why.text
    assert "drawings are made of mounts within" in why.text


def section(made, name):
    return next(one for one in made.sections if one.name == name)
