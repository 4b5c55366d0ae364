"""What stands on a card or a template, found by its name: for tests that hold it against something else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jigs.base import cards
from jigs.base.drawing import Part, Path, Table, View
from jigs.base.lengths import Units
from jigs.base.wording import Words, on_paper, read_out


def card(sheets: cards.Sheets, name: str) -> cards.Card:
    return next(one for one in sheets.cards if one.name == name)


def template(sheets: cards.Sheets, name: str) -> View:
    return next(one.view for one in sheets.templates if one.view.name == name)


def bands(of: cards.Card) -> list[Any]:
    """Return the bands of a card, those that stand beside others one by one."""
    return list(_flat(of.bands))


def _flat(every: tuple[cards.Band, ...]) -> Iterator[Any]:
    for band in every:
        if isinstance(band, cards.Beside):
            yield from _flat((band.left, band.right))
        elif isinstance(band, cards.Column):
            yield from _flat(band.bands)
        else:
            yield band


def views(of: cards.Card) -> dict[str, View]:
    return {view.name: view for band in bands(of) if isinstance(band, cards.Pictures) for view in band.views}


def settings(of: cards.Card) -> dict[str, Any]:
    """Return what is set, by the names of the rows, in their order."""
    return {row.name: row.value for band in bands(of) if isinstance(band, cards.Settings) for row in band.rows}


def checks(of: cards.Card) -> dict[str, cards.Check]:
    found = [row for band in bands(of) if isinstance(band, cards.Checks) for row in band.rows]
    return {read_out(row.what, "mm"): row for row in found}


def table(of: cards.Card, name: str) -> Table:
    return next(band for band in bands(of) if isinstance(band, Table) and band.name == name)


def words(of: cards.Card, units: Units) -> str:
    """Return its title, cautions, steps and holds as they are printed, sizes as they are cut."""
    said: list[Words] = [of.title, of.about, *(caution.words for caution in of.cautions)]
    for band in bands(of):
        said += band.steps if isinstance(band, cards.Order) else [band.words] if isinstance(band, cards.Hold) else []
    return " ".join(read_out(one, units, on_paper) for one in said)


def part(found: View, name: str) -> Part:
    return next(one for one in found.parts if one.name == name)


def points(found: Part) -> list[tuple[float, float]]:
    """Return the corners of its first line."""
    shape = found.lines[0].shape
    assert isinstance(shape, Path)
    return [tuple(point) for point in shape.points()]  # type: ignore[misc] # a Point is a pair
