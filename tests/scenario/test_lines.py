"""The line on which a key stands."""

import tomllib

from mountcalc.scenario.file.toml_text import LineIndex

TEXT = '''\
# [not a table]
title = "a = b # [x]"  # = [y]

[driven]  # a comment
shaft = [
  "0 in", # ]
  "0 in",
]
pulley_diameter = "9 in"
[[driven.bearing]]
name = """x
[motor]
length = "y"\\""""
position = "0 in"
[[driven.bearing]]
position = "1 in"
[driven.bearing.deeper]
z = 1
[ "mo\\"tor" ]
a.b = {c = 1, d = "}"}
'lit' = \'\'\'
q = 1
\'\'\'
"q=q" = 3
'''


def test_lines_of_keys_and_tables():
    tomllib.loads(TEXT)
    index = LineIndex(TEXT)
    lines = TEXT.split("\n")
    for path, start in {
        ("title",): "title",
        ("driven",): "[driven]",
        ("driven", "shaft"): "shaft",
        ("driven", "pulley_diameter"): "pulley_diameter",
        ("driven", "bearing"): "[[driven.bearing]]",
        ("driven", "bearing", 0, "name"): "name",
        ("driven", "bearing", 0, "position"): 'position = "0',
        ("driven", "bearing", 1, "position"): 'position = "1',
        ("driven", "bearing", 1, "deeper", "z"): "z",
        ('mo"tor', "a", "b"): "a.b",
        ('mo"tor', "lit"): "'lit'",
        ('mo"tor', "q=q"): '"q=q"',
    }.items():
        assert lines[index.line_of(path) - 1].startswith(start)


def test_a_key_that_is_not_there_gets_the_line_of_its_table():
    index = LineIndex(TEXT)
    assert index.line_of(("driven", "power")) == index.line_of(("driven",))
    assert index.line_of(("driven", "bearing", 1, "limit")) == 15
    assert index.line_of(('mo"tor', "a", "b", "c")) == 20
    assert index.line_of(("plate",)) is None


def test_windows_line_ends():
    text = TEXT.replace("\n", "\r\n")
    assert LineIndex(text).line_of(("driven", "pulley_diameter")) == 9
