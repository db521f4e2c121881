"""Texts on paper: the font, how wide texts are in it, and broken into lines that fit."""

from __future__ import annotations

import functools
import importlib.util
import re
from pathlib import Path

from fontTools.ttLib import TTFont

__all__ = ["CAPITAL", "POINTS_PER_HEIGHT", "broken", "cut_to", "font_file", "printed", "text_width"]

_POINTS = 72 / 0.0254
CAPITAL = 0.729  # capitals of the font in ems
POINTS_PER_HEIGHT = _POINTS / CAPITAL  # size of type [pt] for capitals of one metre

_WORD = re.compile(r"\S*\d \d+/\d+\S*|\S+")  # a mixed number is one word: "7 29/32"
_MOST = 2000  # characters of one text that are looked at


@functools.cache
def font_file() -> Path:
    """DejaVu Sans, which the plotting library brings: found without loading that."""
    spec = importlib.util.find_spec("matplotlib")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf" / "DejaVuSans.ttf"


@functools.cache
def _advances() -> dict[int, float]:
    """From one letter to the next by the letter's number, in heights of a capital."""
    with TTFont(font_file(), lazy=True) as font:
        widths, em = font["hmtx"], font["head"].unitsPerEm
        letters = font.getBestCmap()
        return {letter: widths[glyph][0] / em / CAPITAL for letter, glyph in letters.items()}


def printed(text: str) -> str:
    """A text in one line, of signs that the font has."""
    words = " ".join(text.split())
    shown = "".join(letter if ord(letter) in _advances() else "?" for letter in words)
    return shown if len(shown) <= _MOST else f"{shown[: _MOST - 1].rstrip()}…"


def text_width(text: str, height: float) -> float:
    """Width of a text on paper."""
    advances = _advances()
    return height * sum(advances[ord(letter)] for letter in text)


def broken(text: str, height: float, room: float) -> list[str]:
    """A text broken between words into lines that fit, mixed numbers such as 7 29/32 kept whole."""
    lines: list[str] = []
    for word in _WORD.findall(printed(text)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height) <= room:
            lines[-1] = longer
        else:
            lines.append(cut_to(word, height, room))
    return lines


def cut_to(text: str, height: float, room: float) -> str:
    """A text cut at its end so that it fits."""
    shown = printed(text)
    if text_width(shown, height) <= room:
        return shown
    while shown and text_width(f"{shown}…", height) > room:
        shown = shown[:-1].rstrip()
    return f"{shown}…"
