"""The pages of a set-up as they will be printed, and which of them are to be printed again: drawn when asked for."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from markupsafe import Markup

from jigs.record import Record
from layout import make
from layout.write import earlier

if TYPE_CHECKING:
    from jigs.boxfile.sections import BoxFile

_KEPT = 40


class Shown(Record):
    """A page as it is chosen from: its name, what it is called, and whether it is to be printed again."""

    name: str
    number: str
    title: str
    state: str
    chosen: bool


@dataclass
class Drawn:
    """What was drawn lately, by what it was drawn from.

    One is drawn at a time. Whoever asked for less than the newest waits in vain: `still` says whether it is wanted when
    its turn comes.
    """

    _kept: dict[tuple[str, ...], object] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock, repr=False)

    def of(self, key: tuple[str, ...], draw: Callable[[], object], still: Callable[[], bool] = lambda: True) -> object:
        """Return what was drawn from a key, drawing it where need be; None where it is not wanted any more."""
        with self._lock:
            if key in self._kept:
                self._kept[key] = self._kept.pop(key)
                return self._kept[key]
            if not still():
                return None
            found = draw()
            self._kept[key] = found
            while len(self._kept) > _KEPT:
                self._kept.pop(next(iter(self._kept)))
            return found

    def known(self, key: tuple[str, ...]) -> object:
        """Return what was drawn from a key lately; None where it is to be drawn."""
        return self._kept.get(key)


def sheets_of(file: BoxFile, name: str) -> list[Markup]:
    """Return the pages of one name as pictures, in order: front and back of a card, the templates of a family."""
    return [inline(content) for content in make.page_pictures(file, name)]


def inline(content: bytes) -> Markup:
    """Return an SVG of ours to stand in a page: without its head and without the file that it carries.

    All text in it was escaped by its writer.
    """
    text = content.decode()
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.S)
    text = text[text.index("<svg") :]
    return Markup(re.sub(r'^(<svg[^>]*?) height="[^"]*"([^>]*?) width="[^"]*"', r'\1\2 role="img"', text, count=1))


def again(changed: Sequence[str]) -> tuple[str, str]:
    """Return how many pages are to be printed again, and which, in words."""
    count = len(changed)
    return f"Print again, {count} page{'s' if count != 1 else ''}", earlier.said(changed) or "none"
