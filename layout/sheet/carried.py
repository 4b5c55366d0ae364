"""What a sheet carries of itself, and the mark that tells one revision from another."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

MARK_LENGTH = 6
VERSION = 1
NAMESPACE = "urn:jigleaf:sheet"


_LONGEST_NAME = 120


Kind = Literal["box", "jig"]


def revision_mark(name: str, settings: Mapping[str, object]) -> str:
    """Return a short mark that changes with any setting, so that sheets of two jobs can't be mixed unnoticed."""
    written = json.dumps([name, dict(settings)], sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(written.encode()).hexdigest()[:MARK_LENGTH]


@dataclass(frozen=True, slots=True)
class Carried:
    """What a sheet was made from: the bytes of a box file, or the settings of a jig, with a name for them.

    The name is for people: what comes back from a sheet is never used as a path.
    """

    kind: Kind
    name: str
    content: bytes
    version: int = VERSION

    def __post_init__(self) -> None:
        clean = "".join(letter if letter.isprintable() else "_" for letter in Path(self.name).name[:_LONGEST_NAME])
        object.__setattr__(self, "name", clean.strip() or self.kind)


def label(carried: Carried) -> str:
    """Return the words by which the embedded file is known again."""
    return f"jigleaf {carried.version} {carried.kind}"
