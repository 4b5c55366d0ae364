"""Every page of a box, in the order of work; and which of them a person asked for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import Any

from jigs.base.cards import Card, Sheets, together
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.keeping import kept
from jigs.base.rules import Problem, stop
from jigs.base.wording import near
from jigs.box.chain import PARTS, Box
from jigs.parts.joint import in_box
from jigs.parts.part import Part
from jigs.record import Record


class _Station(Record):
    """One place in the order of work: the family its pages are named after, and what draws them from the box.

    `needs` is the part of the box that it is drawn from. Where the file asks for that part and a rule has taken it,
    the station can't be drawn.
    """

    jig: str
    draw: Callable[[Box], Sheets]
    needs: str = ""

    def asked(self, box: Box) -> bool:
        """Whether the box file asks for these pages."""
        return not self.needs or self.needs == "numbers" or getattr(box.file, self.needs) is not None

    def possible(self, box: Box) -> bool:
        """Whether the rules leave what these pages are drawn from."""
        return not self.needs or getattr(box, self.needs) is not None


def _of_part(kind: type[Part[Any]]) -> _Station:
    def draw(box: Box) -> Sheets:
        return together(part.sheets(box.parts) for part in box.parts if part.name == kind.name)

    return _Station(kind.jig, draw, kind.name)


def _reading(box: Box, cards: Sequence[Card], drawn: Callable[[str], bool], *, colour: bool, woods: bool) -> Sheets:
    """Return the pages to read; of those that are not drawn the name: their picture takes longer than all the work."""
    from jigs.box import cover, readings  # noqa: PLC0415 - the picture is drawn with shapely, slow to import

    def page(name: str, title: str, draw: Callable[[], Card]) -> Card:
        return draw() if drawn(name) else Card(name, title, "", (), (), jig=_BOX, reading=True)

    read = Sheets((
        page("cover", box.file.title, lambda: cover.page(box, cards, colour=colour)),
        page("readings", readings.TITLE, lambda: readings.page(box)),
    ))  # fmt: skip
    return together([read, _in_its_woods(box)]) if woods else read


def _in_its_woods(box: Box) -> Sheets:
    from jigs.box import woods  # noqa: PLC0415 - seldom asked for

    return Sheets((woods.page(box),))


def _stock(box: Box) -> Sheets:
    from jigs.box import stock_card  # noqa: PLC0415 - a jig alone needs none of it

    return Sheets((stock_card.card(box),))


def _sled(box: Box) -> Sheets:
    """Return the pages of the sled that cuts the joint."""
    return in_box.sheets(box.file)


def _glue(box: Box) -> Sheets:
    from jigs.box import glue_card  # noqa: PLC0415 - a jig alone needs none of it

    return Sheets((glue_card.card(box),))


def _mockup(box: Box) -> Sheets:
    from jigs.box.mockup import sheets as mockup  # noqa: PLC0415 - only where it is asked for

    return mockup.sheets(box)


def _at_the_bench(box: Box) -> Sheets:
    from jigs.box import finish_card  # noqa: PLC0415 - a jig alone needs none of it

    return Sheets((finish_card.card(box),))


_BOX = "box"
"""The family of the pages that belong to no part."""
_STATIONS = (
    _Station("stock", _stock, "stock"),
    _Station("sled", _sled, "numbers"),
    *(_of_part(kind) for kind in PARTS if not kind.after_glue),
    _Station(_BOX, _glue, "numbers"),
    *(_of_part(kind) for kind in PARTS if kind.after_glue),
    _Station(_BOX, _at_the_bench, "numbers"),
)
"""The order of work: what is carved and fitted while boards are flat comes before the box is glued."""

_ON_REQUEST = (_Station("mockup", _mockup, "numbers"),)
"""What is drawn only where it is asked for by name: no page of the work, and on another paper."""
WOODS = "woods"
"""The page that shows the box in its woods: a picture for a client, drawn only where it is asked for."""
FAMILIES = (*dict.fromkeys(station.jig for station in (*_STATIONS, *_ON_REQUEST)), WOODS)
"""The families of pages that a box can have."""


def sheets(box: Box, only: Sequence[str] = (), *, colour: bool = False) -> Sheets:
    """Return the pages of a box as far as its rules leave them.

    `only` are those asked for: by family, as `handle`, or one by one, as `handle-outline`. All are returned with it
    too: they keep the numbers they have among all; the pages to read have nothing on them where they are not asked for.
    The mock-up and the page of the woods are among them only where they are asked for. With `colour` the cover shows
    the woods. Raises CannotBuild where a rule stops the box or what was asked for, and CannotRead, with near names, for
    a page that there is not.
    """

    def drawn(name: str) -> bool:
        return not only or not {name, _BOX, f"{_BOX}-{name}"}.isdisjoint(only)

    return _made(box, only, drawn, colour=colour)


def listed(box: Box, drawn: Collection[str] = ()) -> Sheets:
    """Return the usual pages of a box for their names and numbers: of those to read only the ones named are drawn.

    Raises CannotBuild where a rule stops the box.
    """
    return _made(box, (), drawn.__contains__, colour=False)


def _made(box: Box, only: Sequence[str], drawn: Callable[[str], bool], *, colour: bool) -> Sheets:
    requested = [station for station in _ON_REQUEST if station.jig in {name.split("-")[0] for name in only}]
    asked = [station for station in (*_STATIONS, *requested) if station.asked(box)]
    possible = [station for station in asked if station.possible(box)]
    if box.stopped and not only:
        raise CannotBuild([*box.problems, *_the_rest(possible)])
    work = _work(box)
    more = (station.draw(box) for station in possible if station in _ON_REQUEST)
    refused = {station.jig for station in asked} - {station.jig for station in possible}
    if box.numbers is None or min(box.inside) <= 0:
        refused.add(WOODS)
    woods = WOODS in only and WOODS not in refused
    made = together([_reading(box, work.cards, drawn, colour=colour, woods=woods), work, *more])
    if stopped := [name for name in only if name.split("-")[0] in refused]:
        stops = [problem for problem in box.problems if problem.severity == "stop"]
        raise CannotBuild([*stops, *_needs_them(stopped)])
    check_names(made, only, [WOODS, *(station.jig for station in _ON_REQUEST)])
    return made


@kept(8)
def _work(box: Box) -> Sheets:
    """Return the pages of the work, as far as the rules leave them. They are kept: each is asked for many times."""
    return together(station.draw(box) for station in _STATIONS if station.asked(box) and station.possible(box))


def check_names(made: Sheets, only: Sequence[str], more: Sequence[str] = ()) -> None:
    """Raise CannotRead, with near names, for a page that there is not; `more` can be asked for besides."""
    known = list(dict.fromkeys([*made.names(), *more]))
    for name in only:
        if name not in known:
            raise CannotRead(f"--only: there is no page called '{name}'; {near(name, known)}")


def _the_rest(possible: Sequence[_Station]) -> list[Problem]:
    """Say what can be drawn although a rule stops the box."""
    families = dict.fromkeys(station.jig for station in possible if station.needs)
    if not families:
        return []
    rest = " ".join(f"--only {family}" for family in families)
    return [stop("sheets", "nothing was drawn; what the errors leave can be", rest)]


def _needs_them(stopped: Sequence[str]) -> list[Problem]:
    said = "{sheets} can't be drawn before the errors are corrected"
    return [stop("sheets", said, sheets=", ".join(stopped))]
