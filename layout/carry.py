"""What a sheet carries of itself: the revision mark."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

MARK_LENGTH = 6


def revision_mark(name: str, settings: Mapping[str, object]) -> str:
    """Return a short mark that changes with any setting, so that sheets of two jobs can't be mixed unnoticed."""
    written = json.dumps([name, dict(settings)], sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(written.encode()).hexdigest()[:MARK_LENGTH]
