"""The commands as functions: each gives the result that its command prints.

All numbers are in SI units: metres, newtons, radians, seconds, watts. Results are immutable; their
``to_dict()`` has the keys and units of the command's JSON. A mount that cannot be solved, turns
past a dead centre and a belt that never becomes snug are a MountError; an argument that a function
cannot use is an InputError that names it. What a function needs is imported when it is called, as
for a command.
"""

from __future__ import annotations

import functools
import importlib
import inspect
import math
import os
import reprlib
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import is_dataclass
from numbers import Real
from typing import TYPE_CHECKING, Any, NamedTuple, ParamSpec, TypeAlias, TypeVar

from mountcalc.errors import InputError
from mountcalc.scenario import MOST_BUILDS, MOST_LAYOUTS, MOST_SAMPLES, MOST_SEED

if TYPE_CHECKING:
    from enum import StrEnum

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import ArrayLike

    from mountcalc.belts.results import BeltChoice
    from mountcalc.card.results import BenchCard
    from mountcalc.check.results import Check
    from mountcalc.explain.results import Explanation
    from mountcalc.fit.answer import FittedMount
    from mountcalc.fit.readings import Reading
    from mountcalc.fit.results import Fit
    from mountcalc.fit.strum.strand import Strummed
    from mountcalc.measure.drive import MeasureQuestion
    from mountcalc.measure.results import Measured
    from mountcalc.new.results import Understood
    from mountcalc.parts.results import PartsList
    from mountcalc.place.search.search import Found
    from mountcalc.report.restorer.results import RestorerSheet
    from mountcalc.requirements.results import Advice
    from mountcalc.scenario.model import Scenario
    from mountcalc.scenario.search import Search
    from mountcalc.table.many import Tables
    from mountcalc.table.results import TensionTable
    from mountcalc.tolerance.results import Tolerance

    _Word = TypeVar("_Word", bound=StrEnum)
    Readings: TypeAlias = str | os.PathLike[str] | Sequence[Reading | Mapping[str, Any]]

_Taken = ParamSpec("_Taken")
_Given = TypeVar("_Given")


# Kinds of argument: where each stands, and whence one comes.
_KINDS = {
    "Scenario": ("mountcalc.scenario.model", ": read_scenario reads one from a file"),
    "Search": ("mountcalc.scenario.search", ": read_search reads one from a file"),
    "MeasureQuestion": ("mountcalc.measure.drive", ""),
    "Found": ("mountcalc.place.search.search", ""),
}


def _checked(function: Callable[_Taken, _Given]) -> Callable[_Taken, _Given]:
    """A function that refuses, in one line, what is none of the things that its annotations say."""
    signature = inspect.signature(function)

    @functools.wraps(function)
    def called(*arguments: _Taken.args, **named: _Taken.kwargs) -> _Given:
        bound = signature.bind(*arguments, **named)
        for name, value in bound.arguments.items():
            annotation = str(signature.parameters[name].annotation)
            if annotation in _KINDS:
                module, whence = _KINDS[annotation]
                if not isinstance(value, getattr(importlib.import_module(module), annotation)):
                    got = type(value).__name__ if is_dataclass(value) else _found(value)
                    raise InputError(f"{name}: a {annotation} is wanted, got {got}{whence}")
            elif annotation == "float | None" and value is not None:
                is_number = isinstance(value, Real) and not isinstance(value, bool)
                if not is_number or not math.isfinite(value):
                    raise InputError(f"{name}: one finite number is wanted, got {_found(value)}")
                bound.arguments[name] = float(value)
        return function(*bound.args, **bound.kwargs)

    return called


@_checked
def table(scenario: Scenario, turns: ArrayLike | None = None) -> TensionTable:
    """Tension, shaft load, bearing loads and adjuster force against turns of the adjuster.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : array_like [-], optional
        Turns from zero, shape (n,), positive tightens; without them a range that is useful at the
        bench. A mount without an adjuster has one row, whatever the turns.

    Returns
    -------
    TensionTable
        ``rows``, one a turn; ``columns()`` has the same as arrays of shape (n,).

    Examples
    --------
    >>> scenario = read_scenario("scenarios/cider-mill.toml")
    >>> columns = table(scenario, turns=[0, 1, 2]).columns()
    >>> columns["tension"].round(1)
    array([ 0. , 42.8, 85.7])
    >>> columns["running_bearing_1_load"].shape
    (3,)
    """
    from mountcalc.table.table import tension_table  # noqa: PLC0415

    return tension_table(scenario, turns)


@_checked
def tables(
    scenario: Scenario,
    turns: ArrayLike,
    *,
    hinge: ArrayLike | None = None,
    tip: ArrayLike | None = None,
    stiffness: ArrayLike | None = None,
) -> Tables:
    """The tables of many variants of one mount, all at the same turns, in one go.

    Parameters
    ----------
    scenario : Scenario
        The mount; a variant differs from it in what is given below.
    turns : array_like [-]
        Turns from zero, shape (t,).
    hinge : array_like [m], optional
        Points x, y, shape (m, 2).
    tip : array_like [m], optional
        Where the adjuster bears on the plate as drawn (a link's pin in the plate), shape (m, 2).
    stiffness : array_like [N], optional
        Of one belt, shape (m,).

    Returns
    -------
    Tables
        ``columns`` of shape (m, t), equal to those of :func:`table` for each variant; ``why_not``
        says what cannot be solved. Of table's columns these are not there: what is for the bench
        (span, its frequency and deflection), what the softest and stiffest belt would do (two more
        solutions each), shares of adjuster and hinge, and words (bearings' names, why no grip).
        ``turns`` stands beside. What a file's points and sizes are checked for is not checked.

    Examples
    --------
    >>> scenario = read_scenario("scenarios/cider-mill.toml")
    >>> found = tables(scenario, turns=[0, 1, 2], stiffness=[4e4, 6e4, 8e4, 1e5])
    >>> found.columns["tension"].shape
    (4, 3)
    >>> found.columns["tension"][:, 2].round(1)
    array([ 69.5,  92.8, 111.5, 126.8])
    """
    from mountcalc.table.many import tension_tables  # noqa: PLC0415

    return tension_tables(scenario, turns, {"hinge": hinge, "tip": tip, "stiffness": stiffness})


@_checked
def setting(scenario: Scenario, *, remedies: bool = False) -> Advice:
    """The gentlest setting, between slip and the bearings' limits, and what would widen it.

    Parameters
    ----------
    scenario : Scenario
        The mount; its ``limits`` say what a setting must keep.
    remedies : bool, optional
        Solve what would widen the range although it is open and wide enough.

    Returns
    -------
    Advice
        Its ``setting`` has the range and the set point; beside it stand remedies and notes.

    Examples
    --------
    >>> found = setting(read_scenario("scenarios/cider-mill.toml")).setting
    >>> found.open, round(found.turns_min, 2), round(found.turns_max, 2)
    (True, 1.49, 3.88)
    """
    from mountcalc.setting.advice import advise  # noqa: PLC0415

    return advise(scenario, always_remedies=remedies)


@_checked
def check(scenario: Scenario, turns: float | None = None) -> Check:
    """Every judgement of a mount: what fails, what to change, what passes.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        Turns from zero at which to judge it; without them those of the gentlest setting.

    Returns
    -------
    Check
        ``ok`` unless a judgement fails; ``judgements``, and one report a bearing.

    Examples
    --------
    >>> result = check(read_scenario("scenarios/job-press.toml"))
    >>> result.ok, [one.name for one in result.judgements if one.verdict == "fail"][0]
    (False, 'setting')
    """
    from mountcalc.check.check import check as check_mount  # noqa: PLC0415

    return check_mount(scenario, turns)


@_checked
def belts(scenario: Scenario, driven_speed: float | None = None) -> BeltChoice:
    """Every published length of the section in the mount, ranked, and why one is out.

    Parameters
    ----------
    scenario : Scenario
        The mount; its own belt is judged beside the published lengths.
    driven_speed : float, optional [rad/s]
        Speed wanted of the driven shaft, for which pulleys are looked up.

    Returns
    -------
    BeltChoice
        The lengths that become snug in the travel, the best first, and the drive that they make.

    Examples
    --------
    >>> choice = belts(read_scenario("scenarios/cider-mill.toml"))
    >>> choice.belts[0].designation
    'A60'
    """
    from mountcalc.belts.choice import choose_belt  # noqa: PLC0415

    if driven_speed is not None and driven_speed <= 0:
        raise InputError(f"driven_speed: a speed above zero is wanted, got {driven_speed!r}")
    return choose_belt(scenario, driven_speed)


@_checked
def measure(question: MeasureQuestion) -> Measured:
    """An unknown drive: from an old belt, a string or the centres to the belt to buy, and back.

    Parameters
    ----------
    question : MeasureQuestion
        What was measured.

    Returns
    -------
    Measured
        ``candidates``, those first that have a belt near enough; or the ``facts`` of a designation.

    Examples
    --------
    >>> found = measure(MeasureQuestion(section="A", outside=62 * 0.0254))
    >>> found.candidates[0].buy.designation
    'A60'
    """
    from mountcalc.measure.measure import measure_drive  # noqa: PLC0415

    return measure_drive(question)


@_checked
def card(scenario: Scenario, turns: float | None = None) -> BenchCard:
    """A card for the bench: how to feel, hear and weigh the tension, and when to look again.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        Turns from zero; without them those of the gentlest setting.

    Returns
    -------
    BenchCard
        For a belt that has bedded in and for a new one.

    Examples
    --------
    >>> round(card(read_scenario("scenarios/cider-mill.toml")).spring_balance.pull, 1)
    110.1
    """
    from mountcalc.card.card import bench_card  # noqa: PLC0415

    return bench_card(scenario, turns)


@_checked
def example(name: str) -> str:
    """The text of a scenario that ships, for ``parse_scenario`` or to be changed.

    Parameters
    ----------
    name : str
        As ``mountcalc example`` lists them.

    Returns
    -------
    str
        TOML with its comments.

    Examples
    --------
    >>> parse_scenario(example("grindstone")).adjuster.kind.value
    'jack-in-plate'
    """
    from mountcalc.example.shipped import example_files  # noqa: PLC0415

    return next(iter(example_files(name).values())).decode()


@_checked
def new(answers: Mapping[str, str]) -> Understood:
    """A scenario from what a tape gives.

    Parameters
    ----------
    answers : mapping of str to str
        Answers by their names as ``mountcalc new --names`` lists them, with ``_`` for ``-``.

    Returns
    -------
    Understood
        ``scenario`` and the ``text`` of its file, ``taken`` for what nobody said, and
        ``contradictions``: where there are any, some answer is wrong.

    Examples
    --------
    >>> found = new(
    ...     {
    ...         "built": "no",
    ...         "motor_pulley_across": "3 in",
    ...         "driven_pulley_across": "10 in",
    ...         "driven_height": "36 in",
    ...         "driven_wall": "40 in",
    ...         "room_left": "36 in",
    ...         "room_right": "10 in",
    ...         "room_above": "6 in",
    ...     }
    ... )
    >>> found.is_search, parse_search(found.text).space.kinds[0].value
    (True, 'jack-in-base')
    """
    from mountcalc.new.answers import measured  # noqa: PLC0415
    from mountcalc.new.understanding import understood  # noqa: PLC0415

    return understood(measured(answers))


@_checked
def explain(term: str) -> Explanation:
    """What a word of the pages, of a scenario's keys or of JSON means, with formula and source.

    Parameters
    ----------
    term : str
        The word; an InputError says what may be meant where it is none.

    Returns
    -------
    Explanation
        ``meanings``, each with an example that is computed from a scenario that ships.

    Examples
    --------
    >>> found = explain("belt.stiffness").meanings[0]
    >>> found.example
    'stiffness = "12000 lbf" (cider-mill.toml)'
    """
    from mountcalc.explain.terms import explanation  # noqa: PLC0415

    return explanation(term)


@_checked
def parts(scenario: Scenario) -> PartsList:
    """What to buy and to cut, each with its size and where that comes from.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    PartsList
        Its ``parts``: what is bought, then what is cut.

    Examples
    --------
    >>> found = parts(read_scenario("scenarios/cider-mill.toml"))
    >>> found.parts[0].name, found.parts[0].size
    ('belt', 'A60')
    """
    from mountcalc.parts.parts import parts_list  # noqa: PLC0415

    return parts_list(scenario)


@_checked
def fit(scenario: Scenario, readings: Readings) -> Fit:
    """From readings at the machine to this belt's stiffness and the true zero, and how sure.

    Parameters
    ----------
    scenario : Scenario
        The mount as it is thought to be.
    readings : path, or list of dict
        The log, CSV or TOML; or one dict a reading, with the log's columns as keys: a number for
        ``value`` and ``at`` is in SI, a text has its unit, ``turns`` of a slack belt are "slack".

    Returns
    -------
    Fit
        ``stiffness`` [N] and ``zero_turns`` [-], each with ``value``, ``low`` and ``high``; the
        ``readings`` with what would be read there; the ``next`` one to take.

    Examples
    --------
    >>> mill = read_scenario("scenarios/cider-mill.toml")
    >>> found = fit(mill, "scenarios/cider-mill-readings.csv")
    >>> round(found.stiffness.value, -2), round(found.zero_turns.value, 2)
    (65200.0, 0.29)
    """
    return _fitted(scenario, readings).fit


@_checked
def plot_fit(scenario: Scenario, readings: Readings) -> Figure:
    """Tension against turns, before and after the readings.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    readings : path, or list of dict
        As for :func:`fit`.

    Returns
    -------
    matplotlib.figure.Figure
        What ``mountcalc fit --plot`` writes.

    Examples
    --------
    >>> mill = read_scenario("scenarios/cider-mill.toml")
    >>> len(plot_fit(mill, "scenarios/cider-mill-readings.csv").axes)
    1
    """
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    found = _fitted(scenario, readings)
    with own_settings():
        from mountcalc.fit.figure import fit_figure  # noqa: PLC0415

        return fit_figure(scenario, found)


@_checked
def strum(scenario: Scenario, recording: str | os.PathLike[str]) -> Strummed:
    """The tone of a plucked strand in a recording, and what tension that is; or why there is none.

    Parameters
    ----------
    scenario : Scenario
        The mount: what it knows bounds the tone.
    recording : path
        A WAV file, 0.5 to 120 s long.

    Returns
    -------
    Strummed
        ``tone`` and ``error`` [Hz], ``tension_low`` and ``tension_high`` [N], ``row`` for the log;
        None in all of them where no tone is sure, and ``why_not``.

    Examples
    --------
    >>> mill = read_scenario("scenarios/cider-mill.toml")
    >>> round(strum(mill, "scenarios/cider-mill-pluck.wav").tone)
    33
    """
    from mountcalc.fit.strum.strand import strum as heard  # noqa: PLC0415

    return heard(scenario, recording).told


@_checked
def plot_strum(scenario: Scenario, recording: str | os.PathLike[str]) -> Figure:
    """The spectrum of a recorded pluck: its harmonics with their numbers, and the mains.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    recording : path
        As for :func:`strum`.

    Returns
    -------
    matplotlib.figure.Figure
        What ``mountcalc fit --strum --plot`` writes.

    Examples
    --------
    >>> mill = read_scenario("scenarios/cider-mill.toml")
    >>> len(plot_strum(mill, "scenarios/cider-mill-pluck.wav").axes)
    1
    """
    from mountcalc.fit.strum.strand import strum as heard  # noqa: PLC0415
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    found = heard(scenario, recording)
    with own_settings():
        from mountcalc.fit.strum.picture import strum_figure  # noqa: PLC0415

        return strum_figure(found)


def _fitted(scenario: Scenario, readings: Readings) -> FittedMount:
    from mountcalc.fit.answer import fit_log  # noqa: PLC0415
    from mountcalc.fit.log import given_readings, read_log  # noqa: PLC0415

    if isinstance(readings, str | os.PathLike):
        return fit_log(scenario, read_log(readings), os.fspath(readings))
    if not isinstance(readings, list | tuple):
        raise InputError(f"readings: a path or a list is wanted, got {_found(readings)}")
    return fit_log(scenario, given_readings(readings))


class Plots(NamedTuple):
    """The pictures of one mount: loads against turns, and the layout to scale."""

    loads: Figure
    layout: Figure


@_checked
def plot(scenario: Scenario, turns: float | None = None) -> Plots:
    """Loads against turns, and the layout to scale, as matplotlib figures.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        The other setting that the layout shows beside zero.

    Returns
    -------
    Plots
        Two figures that belong to no window: save them with ``savefig``, or show them in a
        notebook.

    Examples
    --------
    >>> plots = plot(read_scenario("scenarios/cider-mill.toml"), turns=2)
    >>> plots.layout.savefig("layout.png")  # doctest: +SKIP
    >>> len(plots.loads.axes) > 1
    True
    """
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    with own_settings():
        from mountcalc.layout.figure import plot_figures  # noqa: PLC0415

        return Plots(**plot_figures(scenario, turns))


@_checked
def plot_layout(
    scenario: Scenario, turns: float | None = None, *, ax: Axes | None = None
) -> Figure:
    """The layout to scale, at zero and at another setting, on axes of your own or a new figure.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        The other setting.
    ax : matplotlib.axes.Axes, optional
        Where to draw it, without a heading.

    Returns
    -------
    matplotlib.figure.Figure
        The figure that it is on.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> figure = Figure(figsize=(8, 5))
    >>> scenario = read_scenario("scenarios/cider-mill.toml")
    >>> plot_layout(scenario, turns=2, ax=figure.add_subplot()) is figure
    True
    """
    from mountcalc.layout.layout import mount_layout  # noqa: PLC0415
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    with own_settings():
        from mountcalc.layout.figure import layout_figure  # noqa: PLC0415

        return layout_figure(mount_layout(scenario, turns or 0.0), ax)


@_checked
def plot_setting(scenario: Scenario) -> Figure:
    """Grip, bearing loads and tension against turns, with the range between slip and limits.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    matplotlib.figure.Figure
        What ``mountcalc setting --plot`` writes.

    Examples
    --------
    >>> len(plot_setting(read_scenario("scenarios/job-press.toml")).axes) > 1
    True
    """
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415
    from mountcalc.requirements.setting import gentlest_setting  # noqa: PLC0415
    from mountcalc.setting.series import setting_tables  # noqa: PLC0415

    found = gentlest_setting(scenario)
    tables = setting_tables(scenario, found)
    with own_settings():
        from mountcalc.setting.pictures import setting_figure  # noqa: PLC0415

        return setting_figure(scenario, found, *tables)


@_checked
def place(
    search: Search,
    *,
    prefer: str = "fine",
    count: int = 10,
    samples: int | None = None,
    seed: int | None = None,
    robust: bool = False,
) -> Found:
    """Where hinge and bolt go: layouts that keep all limits and clear the keep-outs, ranked.

    Parameters
    ----------
    search : Search
        A scenario with the ranges to search, from :func:`read_search` or :func:`parse_search`.
    prefer : {"fine", "compact", "light-bolt"}
        Least tension a turn, shortest plate, or least force in the bolt.
    count : int, optional
        Layouts to rank, 1 to 100.
    samples, seed : int, optional
        Layouts to try, and which; instead of the search's own.
    robust : bool, optional
        Rank what was found by the share of builds, as ``[build]`` says, that keep all promises.

    Returns
    -------
    Found
        ``placement`` is the answer, ``scenarios`` the mounts of its layouts, in the same order.

    Examples
    --------
    >>> found = place(read_search("scenarios/fretsaw-bench.toml"), samples=256, seed=1)
    >>> found.placement.evaluated, len(found.placement.layouts) == len(found.scenarios)
    (256, True)
    """
    from mountcalc.console.choices import Prefer  # noqa: PLC0415
    from mountcalc.place.search.search import find_layouts  # noqa: PLC0415

    found = find_layouts(
        search,
        samples=_whole("samples", samples, 1, MOST_SAMPLES, search.space.samples),
        seed=_whole("seed", seed, 0, MOST_SEED, search.space.seed),
        prefer=_word("prefer", prefer, Prefer),
        count=_whole("count", count, 1, MOST_LAYOUTS, 10),
    )
    if not robust:
        return found
    from mountcalc.place.robust import ranked_by_builds  # noqa: PLC0415

    return ranked_by_builds(found)


@_checked
def tolerance(scenario: Scenario, *, builds: int = 10_000, seed: int = 0) -> Tolerance:
    """How well a mount must be built: what errors of building and of knowing do to its setting.

    Parameters
    ----------
    scenario : Scenario
        The mount; its ``build`` says how far builds may be off.
    builds : int, optional
        How many builds to reckon, 1 to 1,000,000.
    seed : int, optional
        Another number draws other builds.

    Returns
    -------
    Tolerance
        ``outcome`` has bands and shares of builds, ``shares`` what each error makes of them, and
        ``precautions`` what helps, with the outcome when it is done.

    Examples
    --------
    >>> found = tolerance(read_scenario("scenarios/cider-mill.toml"), builds=500)
    >>> max(found.shares, key=lambda one: one.tension_per_turn_share).source.value
    'stiffness_factor'
    """
    from mountcalc.tolerance.tolerance import tolerance as run_tolerance  # noqa: PLC0415

    return run_tolerance(
        scenario,
        _whole("builds", builds, 1, MOST_BUILDS, 10_000),
        _whole("seed", seed, 0, MOST_SEED, 0),
    )


@_checked
def plot_tolerance(scenario: Scenario, *, builds: int = 10_000, seed: int = 0) -> Figure:
    """Bands of the tension over many builds, and which error makes them.

    Parameters
    ----------
    scenario : Scenario
        The mount; its ``build`` says how far builds may be off.
    builds, seed : int, optional
        As for :func:`tolerance`.

    Returns
    -------
    matplotlib.figure.Figure
        What ``mountcalc tolerance --plot`` writes.

    Examples
    --------
    >>> len(plot_tolerance(read_scenario("scenarios/cider-mill.toml"), builds=500).axes)
    2
    """
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    found = tolerance(scenario, builds=builds, seed=seed)
    with own_settings():
        from mountcalc.tolerance.pictures import tolerance_figure  # noqa: PLC0415

        return tolerance_figure(scenario, found)


class PlacePlots(NamedTuple):
    """The pictures of a search; ``front`` and ``best`` are None where no layout will do."""

    map: Figure
    front: Figure | None
    best: Figure | None


@_checked
def plot_place(search: Search, found: Found) -> PlacePlots:
    """Map of the hinge's places, Pareto front and the best layout, as matplotlib figures.

    Parameters
    ----------
    search : Search
        What was searched.
    found : Found
        What :func:`place` found.

    Returns
    -------
    PlacePlots
        What ``mountcalc place --plot`` writes.

    Examples
    --------
    >>> search = read_search("scenarios/fretsaw-bench.toml")
    >>> plot_place(search, place(search, samples=256, seed=1)).front is None
    True
    """
    from mountcalc.pages.own_settings import own_settings  # noqa: PLC0415

    with own_settings():
        from mountcalc.place.pictures.best import place_figures  # noqa: PLC0415

        figures = dict(place_figures(search, found))
    return PlacePlots(figures["map"], figures.get("front"), figures.get("best"))


@_checked
def draw(
    scenario: Scenario,
    *,
    formats: Collection[str] = ("pdf", "dxf"),
    sheet: str | None = None,
    only: Collection[str] | None = None,
    base: bool = False,
    mirror: bool = False,
) -> dict[str, bytes]:
    """Drawings at true scale: templates to tape on the board, files for a router, views.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    formats : collection of str, optional
        Any of "pdf", "dxf", "svg" and "png".
    sheet : str, optional
        "a4", "a3", "letter" or "tabloid"; without it letter for a scenario in inches, else a4.
    only : collection of str, optional
        Any of "plate", "base", "guard", "assembly" and "along-shafts"; without it all but the base.
    base : bool, optional
        Also the half that the hinge is fixed to.
    mirror : bool, optional
        Also a copy of each, mirrored left for right.

    Returns
    -------
    dict of str to bytes
        Content of each file by its name, such as ``"plate.pdf"``.

    Examples
    --------
    >>> files = draw(read_scenario("scenarios/cider-mill.toml"), formats=["dxf"], only=["plate"])
    >>> list(files)
    ['plate.dxf']
    """
    from mountcalc.console.choices import DrawingName, FileFormat, Sheet  # noqa: PLC0415
    from mountcalc.drafting.formats.files import drawing_files, sheet_of  # noqa: PLC0415
    from mountcalc.draw.build import Build  # noqa: PLC0415
    from mountcalc.draw.drawings import drawings_of  # noqa: PLC0415

    endings = {_word("formats", one, FileFormat) for one in formats}
    names = set(DrawingName) - {DrawingName.BASE}
    if only is not None:
        names = {_word("only", one, DrawingName) for one in only}
    if base:
        names.add(DrawingName.BASE)
    paper = sheet_of(scenario) if sheet is None else _word("sheet", sheet, Sheet)
    drawings = {one.name: one for one in drawings_of(Build(scenario), names)}
    if mirror:
        drawings |= {f"{name}-mirrored": one.mirrored() for name, one in drawings.items()}
    return {
        f"{name}.{ending}": content
        for name, drawing in drawings.items()
        for ending, content in drawing_files(drawing, paper, endings).items()
    }


@_checked
def report(scenario: Scenario, *, form: str = "html") -> bytes:
    """One page for the wall and the telephone: what to buy, saw and set, and all that is known.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    form : {"html", "pdf"}
        A page for a browser, which needs nothing beside it, or the same as two pages to print.

    Returns
    -------
    bytes
        What ``mountcalc report`` writes.

    Examples
    --------
    >>> page = report(read_scenario("scenarios/cider-mill.toml"))
    >>> page[:15]
    b'<!DOCTYPE html>'
    """
    from mountcalc.console.choices import ReportForm  # noqa: PLC0415
    from mountcalc.report.report import reported  # noqa: PLC0415

    wanted = _word("form", form, ReportForm)
    return reported(scenario, [wanted])[wanted]


@_checked
def restorer(scenario: Scenario) -> RestorerSheet:
    """The restorer's sheet of a report as data: boxes, warmth, oil, belt, first run, log.

    Parameters
    ----------
    scenario : Scenario
        The mount; it is judged at its gentlest setting.

    Returns
    -------
    RestorerSheet
        Immutable, in SI; ``to_dict()`` is JSON's.

    Examples
    --------
    >>> sheet = restorer(read_scenario("scenarios/cider-mill.toml"))
    >>> sheet.boxes[0].name, sheet.boxes[0].film
    ('pulley end', True)
    """
    from mountcalc.card.card import bench_card  # noqa: PLC0415
    from mountcalc.check.check import check  # noqa: PLC0415
    from mountcalc.report.restorer.sheet import restorer_sheet  # noqa: PLC0415

    return restorer_sheet(scenario, check(scenario), bench_card(scenario))


def _found(value: object) -> str:
    """What was given, in a line."""
    return " ".join(reprlib.repr(value).split())


def _word(name: str, text: str, known: type[_Word]) -> _Word:
    from mountcalc.console.choices import one_of  # noqa: PLC0415

    if not isinstance(text, str):
        raise InputError(f"{name}: words are wanted, got {text!r}")
    return one_of(name, text, known)


def _whole(name: str, value: int | None, low: int, high: int, default: int) -> int:
    if value is None:
        return default
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise InputError(f"{name}: a whole number from {low:,} to {high:,} wanted, got {value!r}")
    return value
