"""The text of a scenario file that grows key by key, each with where its value comes from."""

from __future__ import annotations

import math
from collections.abc import Sequence

from mountcalc.new.measurements import Measurements, questions
from mountcalc.new.results import Taken
from mountcalc.pages.page import CAUTIONS, wrap
from mountcalc.scenario.text.writing import DIRECTIONS, UNITS_TO_WRITE, Display, Vector, quoted

_COMMENTS = 34  # column at which they begin
_GRID = {Display.INCH: 0.0254 / 16, Display.METRIC: 1e-3}
# Words of scenarios and comments; an answer that nobody gave is marked so that it is found again.
TAKEN = "NOT MEASURED"
_DIGITS = 1
_WIDEST = 100


class Draft:
    """A scenario as it is written; ``taken`` is what nobody told."""

    def __init__(self, measured: Measurements) -> None:
        self.measured = measured
        self.units = UNITS_TO_WRITE[measured.display]
        self.grid = _GRID[measured.display]
        self.taken: list[Taken] = []
        self.tables: list[tuple[str, list[tuple[str, str]]]] = []

    def table(self, header: str, comment: str = "") -> None:
        """Begin a table."""
        self.tables.append((f"{header:<{_COMMENTS - 2}}  # {comment}" if comment else header, []))

    def put(self, key: str, value: str, comment: str = "") -> None:
        """Put a key with its value as the file has it."""
        self.tables[-1][1].append((f"{key} = {value}", comment))

    def say(self, words: str) -> None:
        """Put a comment in lines of its own, where there is anything to say."""
        if words:
            lines = wrap(words, "# ", "# ").replace("\N{NO-BREAK SPACE}", " ").split("\n")
            self.tables[-1][1].extend((line, "") for line in lines)

    def answer(self, key: str, question: str, comment: str = "") -> None:
        """Put an answer as it was written, or what is taken for it."""
        text = self.measured.text(question)
        assert text is not None, "a question without a default has to be answered here"
        if question in self.measured:
            self.put(key, quoted(text), comment)
        else:
            self.take(key, quoted(text), question, questions()[question].unsaid)

    def take(self, key: str, value: str, question: str, why: str) -> None:
        """Put what is taken for an answer that was not given, and why."""
        self.put(key, value, f"{TAKEN}: {why}")
        if question not in {one.key for one in self.taken}:
            taken = self.measured.text(question)
            self.taken.append(Taken(question, value.strip('"') if taken is None else taken, why))

    def show(self, length: float) -> str:
        """Show a length on the rule's grid."""
        return self.length(abs(length)).strip('"')

    def length(self, length: float) -> str:
        """Write a length on the rule's grid."""
        return self.units.write("position", self.on_grid(length))

    def on_grid(self, length: float) -> float:
        """Return the length of the rule's mark that is nearest."""
        return round(length / self.grid) * self.grid

    def rounded(self, point: Vector) -> Vector:
        """Return a point on the rule's grid."""
        return self.on_grid(point[0]), self.on_grid(point[1])

    def point(self, key: str, at: Vector, comment: str = "") -> None:
        """Put a point."""
        self.put(key, self.units.point(self.rounded(at)), comment)

    def direction(self, key: str, angle: float, comment: str = "") -> None:
        """Put a direction, by its name if it has one."""
        degrees = round(math.degrees(math.remainder(angle, math.tau)), _DIGITS)
        names = {round(math.degrees(at), _DIGITS) % 360: name for name, at in DIRECTIONS.items()}
        self.put(key, quoted(names.get(degrees % 360, f"{degrees:g} deg")), comment)

    def text(self, title: str, head: Sequence[str]) -> str:
        """Return the file; ``head`` are sentences for its top."""
        lines = [line for part in (*head, *CAUTIONS) for line in wrap(part, "# ", "# ").split("\n")]
        lines += ["", f"title = {quoted(title)}", f"display = {quoted(self.measured.display)}"]
        for header, keys in self.tables:
            lines += ["", header]
            for key, comment in keys:
                line = f"{key:<{_COMMENTS - 2}}  # {comment}" if comment else key
                if len(line) > _WIDEST:  # what is long stands above
                    lines += [*wrap(comment, "# ", "# ").split("\n"), key]
                else:
                    lines.append(line)
        return "\n".join(lines) + "\n"
