"""Names of people: how the sheet font writes them, and the files they are safe in."""

from __future__ import annotations

import hashlib
import re

from anyascii import anyascii

from jigs.base import safe_names
from jigs.course.class_list import shortened
from layout.sheet import lettering

LONGEST = 60
"""Characters of a name on a sheet."""
_LONGEST_STEM = 60
_OURS = {"plan", "summary", "class", "index", "shared", "student"}
"""The other files of a class."""


def stem(name: str) -> str:
    """Return the name of a student's file, without its ending: lower case, Latin letters, figures and hyphens.

    It depends on the name alone, so that one who comes late changes nobody's. Where it doesn't say the whole name (an
    accent, a case, another script, a length) a few figures made from the name tell it from all others.
    """
    slug = re.sub(r"[^a-z0-9]+", "-", anyascii(name).lower()).strip("-")
    whole = " ".join(word.capitalize() for word in slug.split("-")) == name
    free = slug not in safe_names.RESERVED | _OURS and not slug.startswith("all-")
    if whole and free and 0 < len(slug) <= _LONGEST_STEM:
        return slug
    mark = hashlib.sha256(name.encode()).hexdigest()[:8]
    said = slug if free else f"student-{slug}"
    return f"{said[:_LONGEST_STEM].strip('-') or 'student'}-{mark}"


def drawable(words: str) -> str:
    """Return words as the sheet font can write them: letters that it lacks in Latin ones."""
    missing = _missing(words)
    written = "".join(f" {anyascii(letter).strip(':')} " if letter in missing else letter for letter in words)
    return " ".join(written.split())


def _missing(words: str) -> list[str]:
    return [letter for letter in dict.fromkeys(words) if ord(letter) not in lettering.font().face.charToGlyph]


def on_the_sheet(name: str) -> tuple[str, str]:
    """Return a name as the sheet font can write it, and what is to be said where that is not as it was given.

    Letters the font lacks are written in Latin ones: a wrong box in their place tells nobody whose sheet it is.
    """
    missing, written = _missing(name), drawable(name)
    drawn = shortened(written or "student", LONGEST)
    said = []
    if missing:
        few = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in missing[:6])
        more = f" and {len(missing) - 6} more" if len(missing) > 6 else ""
        said.append(f"the sheet font has no {few}{more}")
    if len(written) > LONGEST and drawn.endswith("…"):
        said.append(f"a sheet has room for {LONGEST} characters")
    return drawn, f"{'; '.join(said)}: the sheets say '{drawn}'" if said else ""
