"""A real browser without a window, where there is one; what is looked at in a page."""

import os
import shutil
from contextlib import contextmanager
from pathlib import Path

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome")


@contextmanager
def browser():
    """A headless Chromium; the test is skipped where none is found."""
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    known = [os.environ.get("MOUNTCALC_BROWSER"), *map(shutil.which, NAMES)]
    path = next((one for one in known if one and Path(one).exists()), None)
    if path is None:  # before what drives it is started, which wants libraries of its own
        pytest.skip(f"no browser: none of {', '.join(NAMES)}, nor what MOUNTCALC_BROWSER names")
    with api.sync_playwright() as play:
        # What runs as root in a container has no sandbox.
        running = play.chromium.launch(executable_path=path, args=["--no-sandbox"])
        try:
            yield running
        finally:
            running.close()


# Texts whose contrast is less than the 4.5:1 of WCAG 2.1, success criterion 1.4.3.
PALE_TEXTS = """
() => {
  const parse = text => (text.match(/[\\d.]+/g) || []).map(Number);
  const light = ([r, g, b]) => {
    const part = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const ground = element => {
    for (let one = element; one; one = one.parentElement) {
      const [r, g, b, a = 1] = parse(getComputedStyle(one).backgroundColor);
      if (a === 1 && r !== undefined) return [r, g, b];
    }
    return [255, 255, 255];
  };
  const found = [], walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let seen = 0;
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent.trim(), element = walker.currentNode.parentElement;
    const style = getComputedStyle(element);
    if (!text || ["SCRIPT", "STYLE"].includes(element.tagName) || !element.getClientRects().length)
      continue;
    seen += 1;
    const svg = element instanceof SVGElement;
    const colour = parse(svg ? style.fill : style.color).slice(0, 3);
    const [high, low] = [light(colour), light(ground(element))].sort((a, b) => b - a);
    const ratio = (high + 0.05) / (low + 0.05);
    if (!(ratio >= 4.5)) found.push(`${text.slice(0, 40)}: ${ratio.toFixed(2)}`);
  }
  return [seen, found];
}
"""

# What those who do not see the page, or have no mouse, could not tell or reach.
FAULTS = """
() => {
  const faults = [], all = selector => [...document.querySelectorAll(selector)];
  const check = (holds, what) => { if (!holds) faults.push(what); };
  check(document.documentElement.lang === "en", "language");
  check(document.title.trim(), "title");
  check(all("h1").length === 1, "one first heading");
  let level = 0;
  for (const one of all("h1, h2, h3, h4")) {
    const next = Number(one.tagName[1]);
    check(next <= level + 1, `heading out of order: ${one.textContent}`);
    level = next;
  }
  const named = one => (one.getAttribute("aria-label") || "").trim();
  for (const one of all("svg")) {
    const hidden = one.closest("[aria-hidden=true]"), labelled = one.closest("[role=img]");
    check(hidden ? labelled : one.getAttribute("role") === "img", "a drawing that is not told");
    check(!labelled || named(labelled), "a drawing without a label");
  }
  check(all("figure svg").length > 0, "no figure");
  for (const one of all("input")) {
    const label = document.querySelector(`label[for="${one.id}"]`);
    check(label && label.textContent.trim(), `input without a label: ${one.id}`);
  }
  for (const one of all("table")) {
    check(one.caption && one.caption.textContent.trim(), "table without a caption");
    check(one.querySelector("th"), "table without heads");
  }
  for (const one of all("th")) check(one.scope, `head without a scope: ${one.textContent}`);
  for (const one of all("[tabindex]")) check(named(one) && one.role, "unnamed stop");
  for (const one of all("a")) {
    const to = one.getAttribute("href");
    check(to.startsWith("#") && document.getElementById(to.slice(1)), `a link to nothing: ${to}`);
  }
  const names = all("[id]").map(one => one.id);
  check(new Set(names).size === names.length, "an id twice");
  check(names.every(one => !/\\s/.test(one)), "an id with a blank");
  return faults;
}
"""
