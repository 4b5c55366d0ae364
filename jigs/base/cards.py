"""What a jig says on paper: cards for the work, templates to lay on wood, pages to read.

A card belongs to one operation at one place of work. It is made up of bands, one below the other: pictures, settings,
checks, a hold, the order of cutting. A template is one piece at full size. None of them knows the paper it is for.

Words may name a card as `[card:groove]`; it is printed with the number that the card has among those of the job, and
`[number:groove]` as the number alone. Lengths in words say what they are for, as `{gap:gauge}` (`lengths.bare`);
without it they are sizes that are cut.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from jigs.base.drawing import Table, View
from jigs.base.wording import Words
from jigs.record import Record


class Caution(Record):
    """A danger of one operation: the hazard in a word, what happens and what to do in a sentence or two."""

    hazard: str
    words: Words


class Setting(Record):
    """A row of the settings, in the order they are made.

    `name` is what balloons and dimensions of the card's pictures are called by. `value` in mm is printed as finely as
    `within`, mm, asks for; words are printed as they are. `using` is what it is set with.
    """

    name: str
    what: Words
    value: float | Words
    within: float = 0.0
    using: Words = ""


class Settings(Record):
    """What is set, row by row; every row has a number that the pictures bear too, and a box to tick."""

    rows: tuple[Setting, ...]
    title: Words = "Set in this order"


class Check(Record):
    """A reading with its limits, and a box to write it in. Limits in mm, `low` to `high`; or in words."""

    what: Words
    low: float | Words
    high: float | None = None
    within: float = 0.05
    """How finely the limits are printed, as a setting's."""


class Checks(Record):
    """Readings one below the other, or side by side where they have the width of the card to themselves."""

    rows: tuple[Check, ...]
    title: Words = "Check, power off"
    words: Words = ""
    """What is measured, below the title."""


class Reading(Record):
    """A row of a trial: its letter on the picture, what it ought to be, what lets the work go on; a box to write in."""

    letter: str
    what: Words
    aim: float | Words
    low: float | Words
    high: float | None = None
    within: float = 0.01


class Readings(Record):
    """The readings of a trial."""

    rows: tuple[Reading, ...]
    title: Words = ""


class Hold(Record):
    """Work stops here until what these words say is so, and somebody has signed."""

    words: Words
    name: str = ""
    """Which hold it is, for a class's list: "groove set"."""


class Order(Record):
    """Steps in the order they are done, numbered."""

    steps: tuple[Words, ...]
    title: Words = ""


class Text(Record):
    """Paragraphs to read; `small` in letters that are read at a desk."""

    title: Words
    paragraphs: tuple[Words, ...]
    small: bool = False


class Pictures(Record):
    """Views side by side, each scaled to the room it gets; with `same_scale` all alike.

    They give way to the other bands down to `least` mm of height. `in_row` is how many stand side by side.
    """

    views: tuple[View, ...]
    least: float = 45.0
    most: float = 110.0
    same_scale: bool = False
    in_row: int = 3
    shares: tuple[float, ...] = ()
    """How the width is shared among the views of a row; by what each needs where this is empty."""


class Beside(Record):
    """Two bands side by side with a line between; `share` is the left one's part of the width."""

    left: Band
    right: Band
    share: float = 0.68


class Column(Record):
    """Bands one below the other, in one half of a pair."""

    bands: tuple[Band, ...]


class Code(Record):
    """The code of the job, to be scanned; nothing where the page has none."""

    words: Words = "this job’s settings"


Band: TypeAlias = Column | Code | Settings | Checks | Readings | Hold | Order | Text | Pictures | Beside | Table


class Card(Record):
    """All that is needed for one operation at one place of work: one page, or two, front and back.

    `place` is the machine or the bench; `about` goes on after it in the header: which boards, what comes first.
    `jig` is the family of the job that it belongs to. Without cautions it has no band of them. One that is for
    `reading` is no operation: it is read once, and has a number of its own, R1. One that is `called` something is none
    of the cards of its job, and is not counted with them.
    """

    name: str
    title: Words
    place: str
    cautions: tuple[Caution, ...]
    bands: tuple[Band, ...]
    about: Words = ""
    jig: str = ""
    reading: bool = False
    called: str = ""

    def holds(self) -> tuple[Hold, ...]:
        """Return its holds, in their order."""
        return tuple(band for band in self.bands if isinstance(band, Hold))


class Template(Record):
    """One piece at full size, to be laid or glued on wood: its view, the card it belongs to, what is done with it.

    The view's `check` is its own dimension to hold a ruler to. Its title is the view's. One that is `folded` is a net
    of paper: it is cut on its lines. `apart` are pieces printed instead where it fits no page whole.
    """

    view: View
    card: str
    use: Words = ""
    jig: str = ""
    folded: bool = False
    apart: tuple[Template, ...] = ()


class Sheets(Record):
    """What is printed of a jig or of a part of a box."""

    cards: tuple[Card, ...] = ()
    templates: tuple[Template, ...] = ()

    def names(self) -> list[str]:
        """Return the names that a part of it can be asked for by: families, cards and templates."""
        families = [
            *(card.jig for card in self.cards if card.jig),
            *(piece.jig for piece in self.templates if piece.jig),
        ]
        own = [*(card.name for card in self.cards), *(template.view.name for template in self.templates)]
        return list(dict.fromkeys([*families, *own]))


def together(every: Iterable[Sheets]) -> Sheets:
    """Return the sheets of several as one, in their order."""
    made = list(every)
    cards = tuple(card for sheets in made for card in sheets.cards)
    return Sheets(cards, tuple(template for sheets in made for template in sheets.templates))
