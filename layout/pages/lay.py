"""Which class lays out which band of a card."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from jigs.base import cards
from jigs.base import drawing as draw
from layout.pages import bands
from layout.pages.bands import Laid, Setting
from layout.pages.pictures import PicturesBand

_MADE: Mapping[type, Callable[[Any, float, Setting], Laid]] = {
    cards.Settings: bands.SettingsBand,
    cards.Checks: bands.ChecksBand,
    cards.Readings: bands.ReadingsBand,
    cards.Hold: bands.HoldBand,
    cards.Order: bands.OrderBand,
    cards.Text: bands.TextBand,
    cards.Pictures: PicturesBand,
    cards.Beside: bands.BesideBand,
    cards.Column: bands.ColumnBand,
    cards.Code: bands.CodeBand,
    draw.Table: bands.TableBand,
}


def laid(band: cards.Band, width: float, on: Setting) -> Laid:
    """Return a band laid out for a width, mm."""
    return _MADE[type(band)](band, width, on)
