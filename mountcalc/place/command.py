"""The command ``place``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import (
    STANDARD,
    AsJson,
    More,
    ScenarioFile,
    search_of,
    source_of,
    stem_of,
    whole_number,
)
from mountcalc.console.choices import Prefer, completion, one_of
from mountcalc.console.progress import progress
from mountcalc.console.speech import EXIT_UNMET, say_bytes, say_result, write_beside
from mountcalc.errors import InputError
from mountcalc.scenario import MOST_LAYOUTS, MOST_SAMPLES, MOST_SEED

if TYPE_CHECKING:
    from mountcalc.place.results import Advance, Placement

_OF_SEARCH = 0.7  # of the time, where pictures are drawn


@app.command(
    epilog="""\b
Examples:
  mountcalc place fretsaw-bench.toml
  mountcalc place fretsaw-bench.toml --prefer compact --count 3
  mountcalc place fretsaw-bench.toml --robust
  mountcalc place fretsaw-bench.toml --write layouts --plot pictures

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
            autocompletion=completion(Prefer),
            help="fine (least tension a turn), compact (shortest plate) or light-bolt (least force "
            "in the bolt).",
        ),
    ] = "fine",
    count: Annotated[
        str, typer.Option(metavar="N", help=f"Layouts to rank, 1 to {MOST_LAYOUTS}.")
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
    robust: Annotated[
        bool,
        typer.Option(
            "--robust", help="Rank by how many of 4,000 builds keep grip, limits and room."
        ),
    ] = False,
    more: More = False,
    json: AsJson = False,
    csv: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also write the layouts to this CSV file; - prints them instead of the page.",
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
    preferred = one_of("prefer", prefer, Prefer)
    wanted = whole_number("count", count, 1, MOST_LAYOUTS)
    asked_samples = None if samples is None else whole_number("samples", samples, 1, MOST_SAMPLES)
    asked_seed = None if seed is None else whole_number("seed", seed, 0, MOST_SEED)
    if json and csv == STANDARD:
        raise InputError("json and csv: one of them can go to standard output")
    search = search_of(file)
    from mountcalc.pages.own_settings import image_of, own_settings  # noqa: PLC0415
    from mountcalc.place.page import place_text  # noqa: PLC0415
    from mountcalc.place.results import place_csv  # noqa: PLC0415
    from mountcalc.place.search.search import find_layouts  # noqa: PLC0415

    _refuse((write, plot), csv, source_of(file))

    def advanced(at: Advance) -> None:
        text = f"{at.tried:,} layouts tried, {at.feasible:,} will do"
        report(at.share * (1.0 if plot is None else _OF_SEARCH), text)

    drawn: dict[Path, bytes] = {}
    with progress() as report:
        report(0.0, "trying layouts")
        found = find_layouts(
            search, preferred, wanted, advanced, samples=asked_samples, seed=asked_seed
        )
        if robust:
            from mountcalc.place.robust import ranked_by_builds  # noqa: PLC0415

            found = ranked_by_builds(found, lambda share: report(share, "drawing builds"))
        if plot is not None:
            with own_settings():
                from mountcalc.place.pictures.best import place_figures  # noqa: PLC0415

                for name, figure in place_figures(search, found):
                    drawn[plot / f"{stem_of(file)}-{name}.png"] = image_of(figure)
                    share = _OF_SEARCH + (1.0 - _OF_SEARCH) * len(drawn) / 3
                    report(share, "drawing pictures")
    placement = found.placement
    files = [*drawn.items()]
    if write is not None:
        from mountcalc.place.as_scenario import layout_files  # noqa: PLC0415

        texts, placement = layout_files(search, placement, found.scenarios, write, stem_of(file))
        files = [*texts.items(), *files]
    _write(files, placement, csv, source_of(file))
    if csv == STANDARD:
        say_bytes(place_csv(placement).encode())
    else:
        best = found.scenarios[0] if found.scenarios else None
        say_result(placement, lambda: place_text(search, placement, best, more=more), json=json)
    if not placement.layouts:
        raise typer.Exit(EXIT_UNMET)


def _refuse(folders: tuple[Path | None, ...], csv: Path | None, source: Path | int) -> None:
    """Tell what cannot be written before the search, which is long."""
    from mountcalc.pages.files import refuse_other_than_folder, refuse_targets  # noqa: PLC0415

    for folder in filter(None, folders):
        refuse_other_than_folder(folder)
    if csv is not None and csv != STANDARD:
        refuse_targets([csv], [source])


def _write(
    files: list[tuple[Path, bytes]], placement: Placement, csv: Path | None, source: Path | int
) -> None:
    """Write pictures and scenarios, and the layouts as CSV."""
    from mountcalc.place.results import place_csv  # noqa: PLC0415

    if csv is not None and csv != STANDARD:
        files = [*files, (csv, place_csv(placement).encode())]
    contents = dict(files)
    if len(contents) < len(files):
        raise InputError("two results would be written to one file: give them other names")
    if contents:
        write_beside(contents, source)
