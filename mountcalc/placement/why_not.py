"""Why layouts will not do, in sentences that say what to change."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.placement.judge import Judge
from mountcalc.placement.reasons import reason_name
from mountcalc.results.place import WhyNot
from mountcalc.scenario.search_model import Search

__all__ = ["reasons_told"]


def reasons_told(
    search: Search, judge: Judge, counts: NDArray[np.int64]
) -> tuple[tuple[WhyNot, ...], tuple[str, ...]]:
    keep_outs = search.space.keep_outs
    order = [int(code) for code in np.argsort(-counts, kind="stable") if counts[code] and code]
    return tuple(WhyNot(reason_name(code, keep_outs), int(counts[code]), "") for code in order), ()
