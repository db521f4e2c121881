"""The layouts of a placement as scenario files, whole and with what they are on top."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from pathlib import Path

from mountcalc.place.results import Placement, Prefer
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.scenario.writer import scenario_text

__all__ = ["layout_files"]

_LONGEST_TITLE = 120  # as a scenario's title may be
_BY = {Prefer.FINE: "fineness", Prefer.COMPACT: "compactness", Prefer.LIGHT_BOLT: "light bolt"}


def layout_files(
    search: Search, placement: Placement, mounts: Sequence[Scenario], folder: Path, stem: str
) -> tuple[dict[Path, bytes], Placement]:
    """Scenario files of the layouts, and the placement with their names in it."""
    paths = [folder / f"{stem}-{layout.rank}.toml" for layout in placement.layouts]
    files = {
        path: _text(search, placement, layout.rank, mount).encode()
        for path, layout, mount in zip(paths, placement.layouts, mounts, strict=True)
    }
    named = tuple(
        dataclasses.replace(layout, scenario_file=str(path))
        for path, layout in zip(paths, placement.layouts, strict=True)
    )
    return files, dataclasses.replace(placement, layouts=named)


def _text(search: Search, placement: Placement, rank: int, mount: Scenario) -> str:
    by = _BY[placement.prefer]
    remarks = (
        f"A layout that mountcalc place found: number {rank} by {by}, of {placement.feasible} that "
        f"would do",
        f"among {placement.evaluated} tried (seed {placement.seed}). Its dimensions are rounded to "
        "what can be marked out.",
        "mountcalc table, setting and check take this file as it is.",
        "",
    )
    title = _titled(placement.title, f": layout {rank} by {by}")
    return scenario_text(dataclasses.replace(mount, title=title), remarks, search.typed)


def _titled(title: str, ending: str) -> str:
    room = _LONGEST_TITLE - len(ending)
    return (title if len(title) <= room else title[: room - 1].rstrip() + "…") + ending
