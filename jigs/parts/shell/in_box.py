"""The fan shell as it stands on a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.wording import Words, say
from jigs.parts.part import Part, Parts, Row
from jigs.parts.shell.part import Shell
from jigs.parts.shell.rules import SHELL

with lazily():  # a box is checked without its cards
    from jigs.parts.shell import card


class ShellPart(Part[Shell]):
    """The fan shell on the front."""

    rules = SHELL
    reported = "half_angle=fan.half_angle rib_radius=fan.rib_radius lobe_radius=fan.lobe_radius chip_depth wood_left"
    name = jig = "shell"

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, fan = self.made, self.made.fan
        yield "fan", f"{made.lobes} lobes, {fan.half_angle:.2f}° to each side"
        yield "ribs", say("{ribs} from the pivot", ribs=fan.rib_radius)
        yield "lobes", say("radius {radius}", radius=fan.lobe_radius)
        yield (
            "chips",
            say("{depth} deep, {left} thick at the thinnest section", depth=made.chip_depth, left=made.wood_left),
        )

    def set_to(self) -> Words:
        """Return what it is carved to, in a line."""
        made, fan = self.made, self.made.fan
        words = f"{made.lobes} lobes, {fan.half_angle:.1f}° to each side; ribs {{ribs}} from the pivot; chips {{deep}} "
        return say(words + "deep", ribs=fan.rib_radius, deep=made.chip_depth)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and its pattern."""
        return card.of(self.made)
