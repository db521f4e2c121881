"""A drawing: its items with all that is said beside them, and the scale at which it fits."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence

from mountcalc.drafting.annotations import extremes
from mountcalc.drafting.items import Bounds, Item, Point, around, mirrored, moved
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Display

_MIRRORED = (
    "A mirrored copy: right and left, in the name of the view and in these notes, are those of the "
    "drawing that is not mirrored."
)
_SIDES_CHANGED = "A mirrored copy: right and left are those of this picture."


class Drawing(Record):
    """A drawing of one thing."""

    name: str  # short, also that of its files: "plate", "guard" and so on
    title: str  # what it shows
    view: str  # from where it is seen
    items: tuple[Item, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    # Whether it is a template, printed 1:1 over as many sheets as that takes.
    true_scale: bool = True
    # Numbers that it states, in SI units.
    facts: Mapping[str, float] = dataclasses.field(default_factory=dict)
    # What the places of its texts are made for: 5 for a drawing that is read at 1:5.
    scale: float = 1.0
    # What of it is not at its scale; empty where all is.
    scale_note: str = ""
    # View and notes that name a side of the picture, and what they are in a mirrored copy.
    other_hand: Mapping[str, str] = dataclasses.field(default_factory=dict)
    # Units of its texts, and of what is printed around it.
    display: Display = Display.METRIC
    # Of a template: all of it with its dimensions on one page.
    glance: Drawing | None = None

    def bounds(self) -> Bounds:
        """Smallest upright rectangle around all items, texts by the estimate of their width."""
        if not self.items:
            raise ValueError(f"{self.name}: nothing is drawn")
        return around(point for item in self.items for point in extremes(item, self.scale))

    def mirrored(self) -> Drawing:
        """The drawing turned over about the vertical line x = 0; its texts stay readable."""
        view = f"{self.view}, mirrored left for right" if self.view else "mirrored"
        return dataclasses.replace(
            self,
            title=f"{self.title}, mirrored",
            view=self.other_hand.get(self.view, view),
            items=tuple(mirrored(item) for item in self.items),
            notes=(
                _SIDES_CHANGED if self.other_hand else _MIRRORED,
                *(self.other_hand.get(note, note) for note in self.notes),
            ),
            other_hand={after: before for before, after in self.other_hand.items()},
            glance=None if self.glance is None else self.glance.mirrored(),
        )

    def moved(self, by: Point) -> Drawing:
        """The drawing in another place."""
        return dataclasses.replace(self, items=tuple(moved(item, by) for item in self.items))


# ISO 5455:1979, the recommended reduction scales.
METRIC_SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500)
# Quarter and eighth of full size are read off an inch rule (common practice).
INCH_SCALES = (1, 2, 4, 8, 10, 20, 50, 100, 200, 500)

# Room for a drawing, width and height [m], that letter and A4 both leave beside margins, strip and
# a heading of three lines: upright, and lying.
SMALLEST_ROOMS = ((0.188, 0.185), (0.256, 0.126))


def fits_sheet(drawing: Drawing) -> bool:
    """Whether a drawing at its scale fits the smallest sheet."""
    left, bottom, right, top = drawing.bounds()
    width, height = (right - left) / drawing.scale, (top - bottom) / drawing.scale
    return any(width <= across and height <= up for across, up in SMALLEST_ROOMS)


def settled(build: Callable[[float], Drawing], bare: Sequence[Item], display: Display) -> Drawing:
    """Draw for the least scale at which the drawing fits the smallest sheet.

    Texts keep their size on paper, so a drawing grows with its scale.
    """
    series = INCH_SCALES if display is Display.INCH else METRIC_SCALES
    for scale in series[:-1]:
        if fits_sheet(Drawing("", "", "", tuple(bare), scale=scale)):
            drawing = build(scale)
            if fits_sheet(drawing):
                return drawing
    return build(series[-1])


def settled_with_names(
    unnamed: Callable[[float], Drawing],
    named: Callable[[Drawing], Drawing],
    bare: Sequence[Item],
    display: Display,
) -> Drawing:
    """Draw for the least scale at which the drawing fits with its names."""
    least = settled(unnamed, bare, display).scale
    return settled(
        lambda scale: named(unnamed(scale)) if scale >= least else unnamed(scale), bare, display
    )
