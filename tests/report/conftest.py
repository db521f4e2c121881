"""Reports are made once for all tests of a session."""

import functools
from dataclasses import replace
from pathlib import Path

import pytest

from mountcalc.report.findings import findings_of
from mountcalc.report.page import page_html
from mountcalc.report.pdf import page_pdf
from mountcalc.report.sections import sections_of
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture(scope="session")
def shipped():
    """A scenario by its name."""
    return functools.cache(lambda name: read_scenario(str(SCENARIOS / f"{name}.toml")))


@pytest.fixture(scope="session")
def hostile(shipped):
    """The cider mill with names that would be more than text if they were let."""
    mill = shipped("cider-mill")
    first, second = mill.driven.bearings
    bearings = (
        replace(first, name="</script><script>document.title = 'taken over'</script>"),
        replace(
            second, name="\"'><img src=x onerror=\"document.title='taken over'\">&amp;{{ 7*7 }}"
        ),
    )
    return replace(
        mill,
        title="<script>document.title = 'taken over'</script> & id=\"x\" url(#y) {% raw %}",
        driven=replace(mill.driven, bearings=bearings),
    )


class Made:
    """Findings, sections and both forms of one mount, each made when it is asked for."""

    def __init__(self, scenario):
        self.scenario = scenario

    @functools.cached_property
    def found(self):
        return findings_of(self.scenario)

    @functools.cached_property
    def sections(self):
        return sections_of(self.found)

    @functools.cached_property
    def html(self):
        return page_html(self.scenario.title, self.sections)

    @functools.cached_property
    def pdf(self):
        return page_pdf(self.scenario, self.sections)


@pytest.fixture(scope="session")
def made():
    return functools.cache(Made)


@pytest.fixture(scope="session")
def mill(made, hostile):
    """What most tests look at."""
    return made(hostile)
