"""Spoilt logs of readings: an answer, or plain lines; the scenario's file is never touched."""

import json
import random
import re
from collections import Counter

import pytest
from mutations import MUTATIONS, VALUES
from sizes import size

LOGS = size(2000, 160)
PARTS = 8  # so that workers share them
CELLS = (
    *(one.strip('"') for one in VALUES),
    *("slack", "Slack", "slak", "1 1/2", "-1/2", "5/8 turn", "1e9", "-0", "99999999999999999999"),
    *("balance", "push", "swings", "hung", "centres", "tip", "BALANCE", "turns", "belt"),
    *("12.5 lbf", "-12.5 lbf", "0 lbf", "12.5", "1e-9 lbf", "900 kN", "3/8 in", "24 Hz", "0.01 Hz"),
    *("2026-02-30", "0001-01-01", "2026-05-01T25:00", "9999-12-31", "2026-W18-5", "1.5.2026"),
    *('"', "'", '""', "a\nb", "\x00", "\ufeff", "=1+1", "#", ";", "\t", " ", "", "None", "nan"),
)


@pytest.fixture(scope="module")
def good(request):
    return (request.config.rootpath / "scenarios" / "cider-mill-readings.csv").read_text()


def spoilt(rng, text):
    """The log with cells, lines, columns or bytes that are not what they were."""
    for _ in range(rng.choice((1, 1, 1, 2, 4))):
        lines = text.split("\n")
        number = rng.randrange(len(lines))
        cells = lines[number].split(",")
        match rng.randrange(7):
            case 0:
                text = MUTATIONS["byte"][0](rng, text)
                continue
            case 1:
                text = MUTATIONS["token"][0](rng, text)
                continue
            case 2:
                text = rng.choice(MUTATIONS["structure"][:3])(rng, text)
                continue
            case 3:
                cells.insert(rng.randrange(len(cells) + 1), rng.choice(CELLS))
            case 4:
                del cells[rng.randrange(len(cells))]
            case 5:
                other = rng.choice(lines).split(",")
                cells[rng.randrange(len(cells))] = rng.choice(other)
            case _:
                cells[rng.randrange(len(cells))] = rng.choice(CELLS)
        lines[number] = ",".join(cells)
        text = "\n".join(lines)
    return text


def as_toml(text):
    """The readings of a spoilt log as tables, whatever stands in its cells."""
    lines = [line.split(",") for line in text.split("\n") if not line.startswith("#")]
    head, *rows = lines or [[]]
    tables = ["\n".join(f'{k} = "{v}"' for k, v in zip(head, row, strict=False)) for row in rows]
    return "".join(f"[[reading]]\n{table}\n\n" for table in tables)


@pytest.mark.parametrize("part", range(PARTS))
def test_spoilt_logs(mountcalc, cider, tmp_path, good, part):
    before = cider.read_bytes()
    seen = Counter()
    for number in range(part, LOGS, PARTS):
        seed = f"log {number}"
        rng = random.Random(seed)  # noqa: S311  # to be repeatable
        text = spoilt(rng, good)
        log, fitted = tmp_path / f"log.{rng.choice(('csv', 'csv', 'csv', 'toml'))}", tmp_path / "f"
        text = as_toml(text) if log.suffix == ".toml" else text
        log.write_bytes(text.encode("utf-8", "surrogatepass"))
        fitted.unlink(missing_ok=True)
        options = ["--json"] if rng.random() < 0.5 else ["--more"]
        done = mountcalc("fit", cider, log, *options, "--write", fitted)
        try:
            seen[outcome(done, fitted, options)] += 1
        except Exception as error:
            error.add_note(f"seed {seed!r}, {log.name}:\n{text}\n{done}")
            raise
        assert cider.read_bytes() == before
    assert seen["answer"] > size(20, 0)
    assert seen["problems"] > size(20, 2)


def outcome(done, fitted, options):
    """Assert what holds of every outcome, and name it."""
    assert done.code in {0, 2}
    assert fitted.exists() == (done.code == 0)
    for line in done.err.splitlines():
        assert line.isprintable()
        assert len(line) < 1000
        assert "fault in mountcalc" not in line
    if done.code == 2:
        assert done.out == ""
        assert done.err
        return "problems"
    assert not re.search(r"\b(nan|inf|None)\b", done.out)
    if options == ["--json"]:
        json.loads(done.out, parse_constant=pytest.fail)
    else:
        assert max(map(len, done.out.splitlines())) <= 80
    return "answer"
