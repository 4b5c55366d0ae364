"""Lines of a terminal: words wrapped so that a number and its unit are never parted."""

from __future__ import annotations

import re
import textwrap

WIDTH = 80
"""Letters in a line, of a terminal as of a report."""
_HARD = "\u00a0"
_TOGETHER = re.compile(r"(?<=[\d¼½¾]) (?=(?:\d+/\d+|mm|in|ft|°|%|g|kg|oz|lb|litres?)\b|[°%])|(?<= ×) | (?=× )")
"""Blanks at which no line ends: before a unit or a fraction, and round a sign of multiplication."""


def wrapped(words: str, first: str = "", rest: str = "", width: int = WIDTH) -> list[str]:
    """Return words as lines no longer than `width`, the first after `first`, the others after `rest`."""
    held = _TOGETHER.sub(_HARD, words)
    rows = textwrap.wrap(held, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return [row.replace(_HARD, " ") for row in rows]
