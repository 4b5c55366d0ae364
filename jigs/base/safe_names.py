"""Names of files that any system takes."""

from __future__ import annotations

import re

MOST_BYTES = 100
"""What a stem may have, so that with the name of a sheet and an ending it stays under the 255 of most disks."""
RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}
"""What Windows keeps for itself, whatever ending follows."""


def stem(written: str, instead: str) -> str:
    """Return words as the stem of a file: without what a name can't hold, cut to `MOST_BYTES`; `instead` for none."""
    plain = re.sub(r"[^\w-]+", "-", written).encode("utf-8", "ignore")[:MOST_BYTES].decode("utf-8", "ignore").strip("-")
    if not plain:
        return instead
    return f"{instead}-{plain}" if plain.lower() in RESERVED else plain
