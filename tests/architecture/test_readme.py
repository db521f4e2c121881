"""The commands, outputs and links of the README and the guide are real."""

import re
import shlex

import pytest
from written import GUIDE, PAGES, README, TOP, marked

MOST_LINES = 250


def command(name):
    (block,) = [block for _, said, block in marked("command") if said == name]
    return block


def steps(name):
    return [shlex.split(step) for step in command(name).strip().split("&&")]


def test_readme_can_be_read_at_one_sitting():
    assert len(README.splitlines()) <= MOST_LINES


def test_first_paragraph_is_the_job():
    first = README.split("\n\n")[1]
    assert first.startswith("An electric motor sits on a plate")
    assert "bearing load" in first


@pytest.mark.parametrize("name", ["run", "test"])
def test_commands_set_everything_up(name):
    assert command(name).count("\n") == 1, "one command, one line"
    make, install, *_ = steps(name)
    assert make == ["python3", "-m", "venv", ".venv"]
    assert install[:5] == [".venv/bin/python", "-m", "pip", "install", "-q"]


def test_continuous_integration_runs_the_readme_commands():
    script = (TOP / ".ci" / "run").read_text(encoding="utf-8")
    for marker in ("command: run", "command: test"):
        assert f"run_readme_command '{marker}'" in script


def test_run_command_gives_the_table_and_pictures(mountcalc, tmp_path, monkeypatch):
    monkeypatch.chdir(TOP)
    table, plot = steps("run")[2:]
    assert table[0] == plot[0] == ".venv/bin/mountcalc"
    assert mountcalc(*table[1:]).code == 0
    plot[plot.index("--out") + 1] = str(tmp_path)
    assert mountcalc(*plot[1:]).code == 0
    assert len(list(tmp_path.glob("*.png"))) == 2


@pytest.mark.parametrize(("page", "said", "shown"), marked("output"))
def test_output_shown_is_the_real_output(mountcalc, monkeypatch, page, said, shown):
    monkeypatch.chdir(TOP)
    program, *arguments = shlex.split(said)
    assert program == "mountcalc", page
    assert shown.strip()
    assert mountcalc(*arguments).out.startswith(shown.rstrip("\n"))


@pytest.mark.parametrize(("page", "said", "shown"), marked("part of"))
def test_a_part_that_is_shown_is_in_the_real_output(
    mountcalc, tmp_path, monkeypatch, page, said, shown
):
    (tmp_path / "scenarios").symlink_to(TOP / "scenarios")
    monkeypatch.chdir(tmp_path)
    for one in said.split(" && "):
        real = mountcalc(*shlex.split(one)[1:]).out
    assert shown.count("\n") > 3, page
    assert shown in real


def test_scenarios_in_the_table_are_those_that_ship():
    text = PAGES["mountcalc/guide/your-mount.md"]
    named = set(re.findall(r"^\| `([\w-]+\.toml)` \|", text, re.MULTILINE))
    assert named == {path.name for path in (TOP / "scenarios").glob("*.toml")}


def test_readme_links_every_page():
    linked = re.findall(r"^\| \[.*?\]\((.*?)\) \|", README, re.MULTILINE)
    assert sorted(linked) == sorted(page for page in PAGES if page != "README.md")
    assert {path.suffix for path in GUIDE.iterdir()} == {".md"}


def anchors(text):
    """What a link may point to inside a page: its headings, as they become anchors."""
    titles = re.findall(r"^#+ (.*)", re.sub(r"```.*?```", "", text, flags=re.DOTALL), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-") for title in titles}


OTHERS = {
    name: (TOP / name).read_text(encoding="utf-8") for name in ("DEVELOPERS.md", "CHANGELOG.md")
}


@pytest.mark.parametrize("page", [*PAGES, *OTHERS])
def test_links_and_pictures_lead_somewhere(page):
    text = re.sub(r"^```.*?^```", "", (PAGES | OTHERS)[page], flags=re.DOTALL | re.MULTILINE)
    links = [link for link in re.findall(r"\]\((.*?)\)", text) if "://" not in link]
    for link in links:
        path, _, anchor = link.partition("#")
        target = (TOP / page).parent / path if path else TOP / page
        assert target.resolve().is_file(), link
        assert target.resolve().is_relative_to(TOP), link
        assert not anchor or anchor in anchors(target.read_text(encoding="utf-8")), link
    assert page in OTHERS or links, "every page leads on"
