"""The letters of the sheets, for the page too: served from this computer."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

_FILES = {"regular": "SourceSansPro-Regular.otf", "semibold": "SourceSansPro-Semibold.otf"}


@cache
def content(name: str) -> bytes | None:
    """Return the font of a name; None where there is none."""
    if name not in _FILES:
        return None
    return (files("font_source_sans_pro") / "files" / _FILES[name]).read_bytes()
