"""Terms as text: what one means, which there are, and the keys of a scenario."""

from __future__ import annotations

from dataclasses import replace

from mountcalc.explain.results import Explanation, Group, Meaning
from mountcalc.explain.terms import meanings
from mountcalc.pages.page import heading, paragraph, wrap
from mountcalc.scenario.file.tables import TABLES, keys_of
from mountcalc.scenario.keys import Declared

_LISTED = {
    Group.WORD: "Words",
    Group.COLUMN: "Columns",
    Group.MARK: "Marks",
    Group.STATE: "States",
    Group.METHOD: "Set by",
    Group.READING: "Read",
    Group.JUDGEMENT: "Checks",
    Group.VERDICT: "Verdicts",
    Group.EXIT: "Exit",
    Group.CHOICE: "Values",
    Group.TABLE: "Tables",
}
_LONGEST = 45  # lines of a page
_NAMES = 22  # columns for names of keys; few are longer


def explanation_text(found: Explanation) -> str:
    """The page of one term; where it has many meanings, the later ones in short."""
    once, formulas = [], set[str | None]()
    for one in found.meanings:
        again = one.formula in formulas
        once.append(replace(one, formula=None, where=(), source=None) if again else one)
        formulas.add(one.formula)
    for full in range(len(once), 0, -1):
        told = (_meaning(one, in_full=n < full) for n, one in enumerate(once))
        text = "\n\n".join([heading(found.term), *told])
        if len(text.splitlines()) <= _LONGEST:
            break
    return text


def _meaning(one: Meaning, *, in_full: bool) -> str:
    name = one.term if one.group is not Group.EXIT else f"exit code {one.term}"
    of = {
        Group.COLUMN: f"column of mountcalc {one.of}",
        Group.MARK: f"mark of mountcalc {one.of}",
        Group.STATE: "state of the plate",
        Group.ZERO: "kind of zero",
        Group.METHOD: "a way to set the tension",
        Group.READING: "a reading in the log of mountcalc fit",
        Group.JUDGEMENT: "judgement of mountcalc check or belts",
        Group.VERDICT: "verdict of a judgement",
        Group.CHOICE: f"value of {one.of}",
        Group.WORD: "",
        Group.EXIT: "",
    }.get(one.group, one.group.value)
    lines = [wrap(f"{name}{f' ({of})' if of else ''}: {one.meaning}.")]
    told = {
        "Wanted": (one.wanted or "").replace(" wanted", "", 1),
        "Without": one.without,
        "Symbol": one.symbol,
        "Formula": one.formula,
        "Where": "; ".join(one.where),
        "Source": one.source,
        "Example": one.example,
    }
    if not in_full:
        told = {key: told[key] for key in ("Without", "Example")}
    lines += [paragraph(key, text) for key, text in told.items() if text]
    return "\n".join(lines)


def terms_text() -> str:
    """The words that there are, by group."""
    lines = []
    for group, name in _LISTED.items():
        words = [
            word
            for one in meanings()
            if one.group is group
            for word in ((one.term, *one.also) if group is Group.STATE else (one.term,))
        ]
        lines.append(paragraph(name, ", ".join(sorted({*words}, key=str.casefold))))
    lines.append(paragraph("Keys", "of the tables: mountcalc explain --keys lists them."))
    lines.append(paragraph("JSON", "every key of JSON and CSV, such as tension_N."))
    return "\n\n".join(
        [heading("Words that mountcalc explain knows"), "\n".join(lines), "mountcalc explain TERM"]
    )


def tables_of_keys() -> list[tuple[str, str, list[Declared]]]:
    """Header, words and keys of every table of a scenario."""
    return [
        (
            f"[[{name}]]" if table.array else f"[{name}]" if name else "above all tables",
            table.words,
            keys_of(name),
        )
        for name, table in TABLES.items()
    ]


def keys_text() -> str:
    """Every key of a scenario: what it is, what is wanted, what is taken without it."""
    sections = [heading("Keys of a scenario file")]
    for header, words, keys in tables_of_keys():
        lines = [f"{header}  {words}".rstrip()]
        room = min(max(len(key.name) for key in keys) + 4, _NAMES)
        for key in keys:
            what = f"{key.words[0].upper()}{key.words[1:]}"
            said = f"{what}: {value_words(key)}. {without_words(key)}."
            lines.append(wrap(said, f"  {key.name:<{room - 3}} ", " " * room))
        sections.append("\n".join(lines))
    return "\n\n".join(sections)


def value_words(key: Declared) -> str:
    """What a key's value has to be."""
    return key.wanted.replace(" wanted", "", 1)


def without_words(key: Declared) -> str:
    """What is taken where the file does not have a key."""
    if key.required:
        return "Always wanted"
    return f"Without it: {key.without}" if key.without else "Without it: nothing"
