"""The project's files, and what people read: the README and the pages of the guide."""

import re
from pathlib import Path

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")
GUIDE = TOP / "mountcalc" / "guide"
PAGES = {
    path.relative_to(TOP).as_posix(): path.read_text(encoding="utf-8")
    for path in (TOP / "README.md", *sorted(GUIDE.glob("*.md")))
}
PLACES = (".ci", "mountcalc", "notebooks", "scenarios", "tests")


def files():
    """All files of the project, and what programs left among them."""
    yield from (path for path in TOP.iterdir() if path.is_file())
    for place in PLACES:
        yield from (path for path in (TOP / place).rglob("*") if path.is_file())


def marked(kind):
    """Blocks under a marker, ``<!-- kind: said -->``, as (page, said, block)."""
    found = re.compile(rf"<!-- {kind}: (.*?) -->\n```\w*\n(.*?)```", re.DOTALL)
    return [
        (page, said, block) for page, text in PAGES.items() for said, block in found.findall(text)
    ]
