"""Command on a mount that is not built yet: place."""

from __future__ import annotations

import dataclasses
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.cli.application import app
from mountcalc.cli.arguments import AsJson, ScenarioFile
from mountcalc.cli.speech import EXIT_UNMET, say, talk
from mountcalc.errors import InputError

if TYPE_CHECKING:
    from mountcalc.placement.search import Found
    from mountcalc.results.place import Advance, Placement, Prefer
    from mountcalc.scenario.search_model import Search

__all__ = ["place"]

_MOST_COUNT = 100
_MOST_SAMPLES = 10_000_000
_MOST_SEED = 2**32 - 1


@app.command(
    epilog="""\b
Examples:
  mountcalc place scenarios/fretsaw-bench.toml
  mountcalc place scenarios/fretsaw-bench.toml --prefer compact --count 3
  mountcalc place scenarios/fretsaw-bench.toml --write layouts --plot pictures

\b
Exit codes: 0 a layout will do; 1 none will; 2 the input cannot be used.
"""
)
def place(  # noqa: PLR0913  # one option for each thing that can be asked for
    file: ScenarioFile,
    *,
    prefer: Annotated[
        str,
        typer.Option(
            metavar="WHAT",
            help="fine (least tension a turn), compact (shortest plate) or light-bolt (least force "
            "in the bolt).",
        ),
    ] = "fine",
    count: Annotated[
        str, typer.Option(metavar="N", help=f"Layouts to rank, 1 to {_MOST_COUNT}.")
    ] = "10",
    samples: Annotated[
        str | None,
        typer.Option(metavar="N", help="Layouts to try, instead of the file's."),
    ] = None,
    seed: Annotated[
        str | None,
        typer.Option(
            metavar="N", help="Another number tries other layouts; instead of the file's."
        ),
    ] = None,
    json: AsJson = False,
    csv: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH", readable=False, help="Also write the layouts to this CSV file."
        ),
    ] = None,
    write: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", readable=False, help="Also write each layout as a scenario file."
        ),
    ] = None,
    plot: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            readable=False,
            help="Also draw map, Pareto front and the best layout (PNG).",
        ),
    ] = None,
) -> None:
    """Where hinge and bolt go: layouts that keep all limits and clear the keep-outs, ranked."""
    preferred = _preferred(prefer)
    wanted = _whole("count", count, 1, _MOST_COUNT)
    asked_samples = None if samples is None else _whole("samples", samples, 1, _MOST_SAMPLES)
    asked_seed = None if seed is None else _whole("seed", seed, 0, _MOST_SEED)
    from mountcalc.scenario.reader import read_search  # noqa: PLC0415

    search = _instead(read_search(file), asked_samples, asked_seed)
    from mountcalc.placement.search import find_layouts  # noqa: PLC0415
    from mountcalc.show.files import refuse_other_than_folder  # noqa: PLC0415

    # A search is long: what cannot be written is told before it.
    for folder in (write, plot, None if csv is None else csv.parent):
        if folder is not None:
            refuse_other_than_folder(folder)

    with _progress() as advanced:
        found = find_layouts(search, preferred, wanted, advanced)
    placement = _written(search, found, file.stem, write=write, csv=csv, plot=plot)
    _answer(search, placement, found, json=json)
    if not placement.layouts:
        raise typer.Exit(EXIT_UNMET)


def _instead(search: Search, samples: int | None, seed: int | None) -> Search:
    """The search with what was asked for instead of the file's."""
    space = search.space
    space = dataclasses.replace(
        space,
        samples=space.samples if samples is None else samples,
        seed=space.seed if seed is None else seed,
    )
    return dataclasses.replace(search, space=space)


def _preferred(text: str) -> Prefer:
    from mountcalc.results.place import Prefer  # noqa: PLC0415

    try:
        return Prefer(text)
    except ValueError:
        words = ", ".join(one.value for one in Prefer)
        raise InputError(f"prefer: one of {words} wanted, got {text!r}") from None


def _whole(name: str, text: str, low: int, high: int) -> int:
    """Read a whole number of an option."""
    plain = text.strip().replace(",", "").replace("_", "")
    if plain.isascii() and plain.isdigit() and len(plain) <= len(str(high)):
        value = int(plain)
        if low <= value <= high:
            return value
    raise InputError(f"{name}: a whole number from {low:,} to {high:,} wanted, got {text!r}")


@contextmanager
def _progress() -> Iterator[Callable[[Advance], None] | None]:
    """A bar on a terminal; None where nobody looks at one."""
    if not sys.stderr.isatty():
        yield None
        return
    # No estimate of the time left: the best are refined most while few have been tried.
    with typer.progressbar(
        length=1, label="layouts tried", show_eta=False, show_percent=True, file=sys.stderr
    ) as bar:

        def advanced(at: Advance) -> None:
            bar.length = at.of
            bar.label = f"layouts tried, {at.feasible:,} will do"
            bar.update(at.done - bar.pos)

        yield advanced


def _written(
    search: Search,
    found: Found,
    stem: str,
    *,
    write: Path | None,
    csv: Path | None,
    plot: Path | None,
) -> Placement:
    """Write all files that are asked for, or none; the placement with the names of scenarios."""
    placement = found.placement
    files: list[tuple[Path, bytes]] = []
    if write is not None:
        from mountcalc.show.place_files import layout_files  # noqa: PLC0415

        texts, placement = layout_files(search, placement, found.scenarios, write, stem)
        files += texts.items()
    if csv is not None:
        from mountcalc.show.place_data import place_csv  # noqa: PLC0415

        files.append((csv, place_csv(placement).encode()))
    if plot is not None:
        files += _drawn(search, found, plot, stem)
    _write_once(files)
    return placement


def _drawn(search: Search, found: Found, folder: Path, stem: str) -> list[tuple[Path, bytes]]:
    import logging  # noqa: PLC0415

    # Without a home to write to, matplotlib would tell users of its cache.
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    from mountcalc.show.place_pictures import place_pictures  # noqa: PLC0415

    drawn = place_pictures(search, found)
    return [(folder / f"{stem}-{name}.png", png) for name, png in drawn.items()]


def _write_once(files: list[tuple[Path, bytes]]) -> None:
    if not files:
        return
    from mountcalc.show.files import write_files  # noqa: PLC0415

    paths = dict(files)
    if len(paths) < len(files):
        raise InputError("two results would be written to one file: give them other names")
    write_files(paths)
    for path in paths:
        talk(f"written: {path}")


def _answer(search: Search, placement: Placement, found: Found, *, json: bool) -> None:
    if json:
        from mountcalc.show.place_data import place_json  # noqa: PLC0415

        say(place_json(placement))
        return
    from mountcalc.show.place_text import place_text  # noqa: PLC0415

    say(place_text(search, placement, found.scenarios[0] if found.scenarios else None))
