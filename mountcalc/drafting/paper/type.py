"""Texts on paper: how wide they are, broken into lines that fit."""

from __future__ import annotations

import functools
import re

from matplotlib.font_manager import FontProperties, findfont, get_font

from mountcalc.pages.plot_style import plain

__all__ = ["CAPITAL", "FONT", "POINTS_PER_HEIGHT", "broken", "cut_to", "printed", "text_width"]

FONT = FontProperties(family="DejaVu Sans")

_POINTS = 72 / 0.0254
CAPITAL = 0.729  # capitals of the font in ems
POINTS_PER_HEIGHT = _POINTS / CAPITAL  # size of type [pt] for capitals of one metre

_SIZE = 100.0
_WORD = re.compile(r"\S*\d \d+/\d+\S*|\S+")  # a mixed number is one word: "7 29/32"
_MOST = 2000  # characters of one text that are looked at


def printed(text: str) -> str:
    """A text in one line, of signs that the font has."""
    return plain(text, _MOST)


def text_width(text: str, height: float) -> float:
    """Width of a text on paper."""
    return sum(map(_advance, text)) * height


@functools.cache
def _advance(letter: str) -> float:
    """From one letter to the next, in heights of a capital."""
    font = get_font(findfont(FONT))
    font.set_size(_SIZE, 72)
    glyph = font.load_char(ord(letter))
    return float(glyph.linearHoriAdvance) / 65536 / (_SIZE * CAPITAL)


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
