"""Numbers as the writers of pages put them down."""

from __future__ import annotations

import functools


@functools.lru_cache(maxsize=65536)  # rows, columns and ticks share most of their coordinates
def number(value: float) -> str:
    """Return a number to a ten-thousandth of a mm, without trailing zeros and without a minus on zero."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
