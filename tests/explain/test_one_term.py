"""One term for one thing: what pages, errors and data say holds no second word for it."""

import ast
import re
from pathlib import Path

import pytest

import mountcalc

PACKAGE = Path(mountcalc.__file__).parent
# A word that is not used, and the one that is.
NOT_USED = {
    r"\bsheaves?\b|\bbelt wheel": "pulley",
    r"\bspanner": "wrench",
    r"\baxles?\b": "shaft",
    r"\bset point": "setting",
    r"\breckon": "taken, of what is assumed; computed, of what is worked out",
    r"\ba screw through\b|\badjust(ing|er) screw|\bthe screw (extends|moves|turns)": "bolt",
    r"\bpictures a second": "frames a second",
    r"\btight side": "the way that tightens",
    r"\b[Cc]enter of|\bdead center": "centre",
    r"\b[Ll]ock-nut|\b[Ll]ocknut|\bjam nut": "lock nut",
    r"\beyebolt|\beye bolt": "eye-bolt",
    r"\bkeepout|\bno-go": "keep-out",
    r"\b[Aa]nti-?clockwise|\bcounterclockwise": "counter-clockwise",
    r"\bV belts?\b|\bvee": "V-belt",
    r"\bcolor|\bgray\b|\bmeters?\b": "colour, grey, metre",
    r"as (soft|stiff) as (the belt|it) may": "softest, stiffest belt",
    r"centres (close|open)|(close|open)s? the centres": "shafts come closer, go apart",
    r"\bsum of the strands|strands' sum": "what both strands pull together",
    r"strand (\w+ )?hums|hum of (a|the) strand": "plucked strand, swings",
    # Riddles that were told to people once.
    r"by fineness|by sensitivity": "ranked by what",
    r"\bpin pricked": "a pin through both",
    r"\bin the last one shown|\bat the last one shown": "at which turns",
    r"\bnowhere running": "running it does not",
    r"\bby turns \(": "staggered, one after the other",
    r"\bstrand hums": "a strand swings; the motor hums",
    r"\bcentres (must|by|need)|\b(closes|opens) the centres": "the shafts come closer, go apart",
    r"\b[Aa]s (soft|stiff) as the belt": "the softest, the stiffest belt",
    r"\bstrands' sum": "both strands together",
    r"\bstands what for": "why",
    r"\bno longer slips": "stops slipping by",
}


def literals(path):
    """Texts of a module that may be shown: no docstrings, no words of asserts, no single words."""
    tree, hidden = ast.parse(path.read_text(encoding="utf-8")), set()
    for node in ast.walk(tree):
        for part in getattr(node, "body", []) if isinstance(getattr(node, "body", 0), list) else []:
            if isinstance(part, ast.Expr) and isinstance(part.value, ast.Constant):
                hidden.add(id(part.value))
        if isinstance(node, ast.Assert):
            hidden |= {id(inner) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in hidden or not isinstance(node, ast.Constant):
            continue
        if isinstance(node.value, str) and " " in node.value:
            yield node.lineno, node.value


def said():
    """Every text of the package as (place, text); what a source is called is not ours to say."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for line, text in literals(path):
            yield f"{path.relative_to(PACKAGE)}:{line}", text
    for path in sorted((PACKAGE / "data").glob("*.toml")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if not re.search(r"^#|\bsource = |^also = |also = \[", line):
                yield f"{path.name}:{number}", line
    for path in sorted((PACKAGE / "guide").glob("*.md")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            yield f"{path.name}:{number}", line


TEXTS = list(said())


def test_there_are_texts_of_all_kinds():
    assert {place.split(":")[0].rpartition(".")[2] for place, _ in TEXTS} == {"py", "toml", "md"}
    assert len(TEXTS) > 5000


@pytest.mark.parametrize("word", NOT_USED)
def test_one_term_for_one_thing(word):
    found = [f"{place}: {text.strip()}" for place, text in TEXTS if re.search(word, text)]
    assert found == [], f"say {NOT_USED[word]}"
