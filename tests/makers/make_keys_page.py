"""Make ``mountcalc/guide/keys.md``: run ``python tests/makers/make_keys_page.py``."""

from pathlib import Path

from mountcalc.explain.page import tables_of_keys, value_words

PAGE = Path(__file__).parents[2] / "mountcalc" / "guide" / "keys.md"
HEAD = """\
# All keys of a scenario file

[All pages](../../README.md#all-pages) of mountcalc. **Unplug and lock out before hands go in.**

How to measure, and which scenario to copy: [your mount](your-mount.md). This page is made from
what reads the file, as `mountcalc explain --keys` is; `mountcalc explain KEY` has an example of
each. Quantities carry their unit, inch and metric mixed as you like. A key whose last column is
*wanted* has to be there; where two sizes stand there, the first is for a scenario in inches.
"""


def page():
    """The text of the page."""
    parts = [HEAD]
    for header, words, keys in tables_of_keys():
        title = "Above all tables" if not header.startswith("[") else f"`{header}`"
        parts.append(f"## {title}\n")
        if words:
            parts.append(f"{words[0].upper()}{words[1:]}.\n")
        rows = ["| key | what it is | what it wants | without it |", "| --- | --- | --- | --- |"]
        for key in keys:
            without = "*wanted*" if key.required else key.without
            rows.append(f"| `{key.name}` | {key.words} | {value_words(key)} | {without} |")
        parts.append("\n".join(rows) + "\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
