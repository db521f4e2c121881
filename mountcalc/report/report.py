"""All that is known of a mount as one page, in each form that is asked for."""

from __future__ import annotations

from collections.abc import Iterable

from mountcalc.report.findings import findings_of
from mountcalc.report.sections import sections_of
from mountcalc.scenario.model import Scenario


def reported(scenario: Scenario, forms: Iterable[str] = ("html",)) -> dict[str, bytes]:
    """The same sections as ``html``, as ``pdf``; see :func:`mountcalc.report`."""
    sections, made = sections_of(findings_of(scenario)), {}
    for form in forms:
        if form == "html":
            from mountcalc.report.page import page_html  # noqa: PLC0415

            made[form] = page_html(scenario.title, sections).encode()
        else:
            from mountcalc.report.pdf import page_pdf  # noqa: PLC0415

            made[form] = page_pdf(scenario, sections)
    return made
