"""Every word that the pages, a scenario, JSON and exit codes have is explained, with its source."""

import json
import re
import shlex
from pathlib import Path

import pytest
import sizes

from mountcalc.check.page import _NAMES
from mountcalc.console import speech
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.errors import InputError
from mountcalc.explain.examples import scenario_of, told, value_text, with_example
from mountcalc.explain.page import explanation_text, keys_text, terms_text
from mountcalc.explain.results import Explanation, Group
from mountcalc.explain.terms import explanation, glossary, index, meanings
from mountcalc.fit.readings import ReadingMethod
from mountcalc.judgement import Verdict
from mountcalc.quantities import QUANTITIES
from mountcalc.requirements.results import MethodName
from mountcalc.scenario.file.tables import TABLES, keys_of
from mountcalc.scenario.text.writing import Display
from mountcalc.setting import advise
from mountcalc.setting.page import setting_text
from mountcalc.table import words

TOP = Path(__file__).parents[2]
# Words of no one number, columns whose reading is not kept, a fault of ours, and a knock that no
# shipped mount has.
NO_EXAMPLE = {
    *("case", "creep", "dead centre", "centrifugal tension", "off", "Hz", "dB", "harmonic", "3"),
    "hinge-knock",
}
PAGES = (
    "table cider-mill.toml --more", "table wood-lathe.toml", "table feed-mill.toml",
    "table grindstone.toml", "setting cider-mill.toml", "check cider-mill.toml --more",
    "belts cider-mill.toml", "card cider-mill.toml",
    "tolerance cider-mill.toml --builds 200 --more", "tolerance grindstone.toml --builds 200",
    "fit cider-mill.toml cider-mill-readings.csv --more",
    "fit cider-mill.toml --strum cider-mill-pluck.wav --more",
    *(["place fretsaw-bench.toml --samples 2048 --more"] if sizes.FULL else []),
)  # fmt: skip
MEASURED = ('measure --section A --center "21 in" --motor-pulley "3 in" --driven-pulley "9 in"',)
# Heads of tables; what stands in the line below them.
TITLES = re.compile(
    r"^(?:THE SETTING|BY HAND|HOW TO SET IT|BEARINGS AT|THE LENGTHS|WHAT HELPS|WHICH ERROR|BANDS|"
    r"THE LAYOUTS|WHAT THEY GIVE|WHAT TO BUY|SECTION |THE READINGS|ALL OF THEM|PEAKS OF).*\n"
    r"((?:[A-Z(].*\n)?)(.*)\n",
    re.MULTILINE,
)


def terms(*groups):
    return {one.term for one in meanings() if one.group in groups}


def heads(page):
    """Words over the columns of a page: two spaces lie between them, or one where it is narrow."""
    for _, line in TITLES.findall(page):
        for head in re.split(r"\s{2,}|,\s+", line.strip()):
            words = head.split()
            while words:  # the longest that is known, of words that a narrow page puts together
                ends = range(len(words), 0, -1)
                end = next((end for end in ends if " ".join(words[:end]).casefold() in index()), 1)
                yield " ".join(words[:end])
                words = words[end:]


@pytest.mark.parametrize("said", PAGES)
def test_every_column_that_a_page_shows_is_explained(mountcalc, monkeypatch, said):
    monkeypatch.chdir(TOP / "scenarios")
    found = [*heads(mountcalc(*shlex.split(said)).out)]
    assert len(found) > 2
    assert [head for head in found if head.casefold() not in index()] == []


@pytest.mark.parametrize("said", MEASURED)
def test_every_column_of_an_unknown_drive_is_explained(mountcalc, said):
    found = [*heads(mountcalc(*shlex.split(said), "--more").out)]
    # Under "wrap (deg)" stand motor and driven.
    assert [head for head in found if head.casefold() not in {*index(), "(deg)"}] == []
    assert len(found) > 9


@pytest.mark.parametrize(
    ("group", "wanted"),
    [
        (Group.STATE, State),
        (Group.ZERO, ZeroKind),
        (Group.METHOD, MethodName),
        (Group.READING, ReadingMethod),
        (Group.VERDICT, Verdict),
    ],
)
def test_every_name_of_a_kind_is_explained_and_no_other(group, wanted):
    assert terms(group) == {one.value for one in wanted}


def test_every_mark_judgement_and_exit_code_is_explained():
    assert set(words.MARKS) <= terms(Group.MARK)
    assert set(_NAMES) <= terms(Group.JUDGEMENT)
    codes = {str(value) for name, value in vars(speech).items() if name.startswith("EXIT_")}
    assert terms(Group.EXIT) == {"0", *codes}


def test_every_judgement_that_a_shipped_scenario_gets_is_explained():
    from mountcalc.check.check import check

    names = {
        one.name
        for name in ("cider-mill", "seed-cleaner")
        for one in check(scenario_of(name)).judgements
    }
    assert names <= terms(Group.JUDGEMENT)


def test_every_key_of_a_scenario_says_what_it_is_and_what_is_taken_without_it():
    for table in TABLES:
        for key in keys_of(table):
            name = f"{table}.{key.name}".lstrip(".")
            assert name in terms(Group.KEY)
            assert key.words, name
            assert not key.words.endswith("."), name
            assert "wanted" in key.wanted, name
            assert key.required or key.without, f"{name} wants a Without in its annotation"
            assert not (key.required and key.without), name


def test_what_is_taken_without_a_key_is_what_the_reader_takes():
    """Of defaults that are told in words besides: reading one gives the mount that has none."""
    plain = scenario_of("cider-mill")
    bare = plain.with_(
        driven={"starting_factor": None}, belt={"stiffness_factor": None}, limits=None
    )
    for table in ("driven", "belt", "limits", "build"):
        for key in keys_of(table):
            if re.fullmatch(r"[\d.]+|\"[\d. /]+\w+\"", key.without):
                text = key.without
                value = key.form.read(text.strip('"') if '"' in text else json.loads(text))
                part = getattr(bare, table)
                assert getattr(part, key.field) == pytest.approx(value), key.name


def test_every_key_of_json_is_explained():
    assert terms(Group.JSON) == {one.key for one in QUANTITIES.values()}
    for name in QUANTITIES:
        assert explained(name)


def explained(term):
    return index().get(term.casefold().replace("_", " "))


def test_formulas_name_their_source():
    with_formula = [one for one in meanings() if one.formula]
    assert len(with_formula) > 30
    assert [one.term for one in with_formula if not one.source] == []
    assert [one.term for one in with_formula if "``" in f"{one.formula}{one.source}"] == []
    (tension,) = [one for one in meanings() if (one.term, one.of) == ("tension", "table")]
    assert tension.formula.endswith("T = EA max(0, L - L0) / L0 [N]")
    assert tension.source.startswith("Hooke's law.")
    assert tension.where[0] == "path, free_length: belt path L and free length L0 [m]"
    assert tension.symbol == "T"


@pytest.mark.parametrize(
    ("term", "example"),
    [
        ("belt.stiffness", 'stiffness = "12000 lbf" (cider-mill.toml)'),
        ("adjuster.bolt.across", 'across = "-90 mm" (seed-cleaner.toml)'),
        ("limits.bedding", "bedding = 1.3 (cider-mill.toml takes that)"),
        ("driven.oil", 'oil = "ISO VG 68 at 120 degF" (cider-mill.toml could say)'),
        ("turnbuckle", None),
        ("LIMIT?", "at 3 turns (mountcalc table cider-mill.toml)"),
        ("riding", "at rest (mountcalc table forge-blower.toml)"),
        ("exit 1", "mountcalc check job-press.toml"),
        ("hold-back", 'acts = "hold-back" (fretsaw-bench.toml)'),
    ],
)
def test_examples_are_those_of_shipped_scenarios(term, example):
    if example is None:
        with pytest.raises(InputError, match="nothing is known"):
            explanation(term)
    else:
        assert explanation(term).meanings[0].example == example


def test_an_example_is_computed_when_it_is_asked_for(mountcalc, monkeypatch):
    monkeypatch.chdir(TOP / "scenarios")
    shown = explanation("pull").meanings[0].example
    row = mountcalc("table", "cider-mill.toml", "--turns", "2").out
    assert re.search(r"^ +2 .* 38\.1 ", row, re.MULTILINE)
    assert shown == "38.1 lbf (mountcalc table cider-mill.toml at 2 turns)"


def test_what_is_put_into_a_scenario_can_be_read():
    for number, (name, add) in enumerate(told()):
        if "search" not in add:
            assert scenario_of(f"{name} + {number}").title == scenario_of(name).title


@pytest.mark.skipif(not sizes.FULL, reason="every example is computed with --full")
def test_every_term_has_an_example():
    without = [one for one in meanings() if with_example(one).example is None]
    of_json = [one for one in without if one.group is Group.JSON]
    assert {one.term for one in without} - {one.term for one in of_json} <= NO_EXAMPLE
    assert len(of_json) < len(QUANTITIES) / 5


@pytest.mark.skipif(not sizes.FULL, reason="every example is computed with --full")
def test_every_page_of_a_term_is_short():
    for word, found in index().items():
        page = explanation_text(Explanation(word, tuple(map(with_example, found))))
        assert len(page.splitlines()) <= 45, word
        assert max(map(len, page.splitlines())) <= 80, word


def test_a_stiffness_is_no_moment():
    """Both keys end in N_m: force over length, and force times length."""
    assert value_text("adjuster_stiffness_N_m", 7850.0, Display.INCH) == "7850 N/m"
    assert value_text("moment_N_m", 2.0, Display.INCH) == "2 N m"


@pytest.mark.parametrize("word", ["give", "judgement", "builds", "taut", "keep-out", "middling"])
def test_words_that_pages_lead_with_are_known(word):
    page = explanation_text(explanation(word))
    assert "Example:" in page
    assert "[[[" not in page


def test_pages_are_short_and_narrow():
    pages = [terms_text()]
    pages += [explanation_text(Explanation(word, found)) for word, found in index().items()]
    assert max(len(page.splitlines()) for page in pages) <= 45
    assert max(len(line) for page in (*pages, keys_text()) for line in page.splitlines()) <= 80


def test_a_misspelt_term_is_told_with_what_is_meant(mountcalc):
    done = mountcalc("explain", "tensoin")
    assert (done.code, done.out) == (2, "")
    assert done.err == 'mountcalc: term: nothing is known of "tensoin"; did you mean "tension"?\n'
    far = mountcalc("explain", "zzzz")
    assert far.err.endswith("mountcalc explain lists the words\n")


def test_words_of_a_term_need_no_quotes(mountcalc):
    page = mountcalc("explain", "as", "drawn").out
    assert page.startswith("as drawn\n========\n\nas drawn: the one position of the plate")
    assert page == mountcalc("explain", "As-Drawn").out.replace("As-Drawn", "as drawn")


def test_json_has_everything(mountcalc):
    one = json.loads(mountcalc("explain", "belt.mass", "--json").out)
    assert one["meanings"][0]["wanted"].startswith("mass per length wanted")
    every = json.loads(mountcalc("explain", "--json").out)["meanings"]
    assert len(every) == len(meanings())
    keys = json.loads(mountcalc("explain", "--keys", "--json").out)["meanings"]
    assert len(keys) == len(glossary(keys=True).meanings) < len(every)


def test_the_page_of_keys_is_what_the_schema_says(mountcalc):
    from make_keys_page import PAGE, page

    assert PAGE.read_text(encoding="utf-8") == page(), "run tests/makers/make_keys_page.py"
    shown = mountcalc("explain", "--keys").out
    for table in TABLES:
        for key in keys_of(table):
            assert re.search(rf"^  {key.name} +[A-Z]", shown, re.MULTILINE)
            assert f"| `{key.name}` |" in page()
    assert mountcalc("explain", "--keys", "belt").code == 2


def test_a_reading_is_the_one_that_the_page_of_setting_prints():
    mill = scenario_of("cider-mill")
    page = setting_text(mill, advise(mill))
    printed = re.search(r"spring balance, lbf gained +(.*)", page)[1].split()
    shown = []
    for column in ("aim", "new belt", "not below", "never above"):
        found = next(one for one in explanation(column).meanings if one.of == "setting")
        shown.append(with_example(found).example.split()[:2])
    assert shown == [[reading, "lbf"] for reading in printed]
