"""A pattern as it stands on a box: what it says in JSON, report and cover, and its pages. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.wording import Words, say
from jigs.parts.part import Part, Parts, Row
from jigs.parts.pattern.part import Pattern
from jigs.parts.pattern.rules import PATTERN

with lazily():  # a box is checked without its cards
    from jigs.parts.pattern import card


class PatternPart(Part[Pattern]):
    """A pattern of one's own on a side."""

    rules = PATTERN
    reported = "side width height middle chip_depth wood_left"
    name = jig = "pattern"

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made = self.made
        yield "size", say("{width} × {height}, on the " + made.side, width=made.width, height=made.height)
        yield "middle", say("{x} from the left-hand end, {y} from the bottom edge", x=made.middle.x, y=made.middle.y)
        yield (
            "chips",
            say("{depth} deep, {left} thick at the thinnest section", depth=made.chip_depth, left=made.wood_left),
        )

    def set_to(self) -> Words:
        """Return what it is carved to, in a line."""
        made = self.made
        words = f"{{wide:cut}} × {{high:cut}} on the {made.side}, its middle {{x:cut}} from the left, {{y:cut}} up; "
        numbers = {"wide": made.width, "high": made.height, "x": made.middle.x, "y": made.middle.y}
        return say(words + "chips {deep:cut} deep", **numbers, deep=made.chip_depth)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and its pattern both ways."""
        del others
        return card.of(self.made)
