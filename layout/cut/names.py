"""How cut files are called: after the job, the family and the piece, so that the same piece keeps its file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jigs.base.cards import Template


def of_template(prefix: str, template: Template) -> str:
    """Return how the file of a template is called, without its suffix."""
    family = "" if template.jig == prefix else f"{template.jig}-"
    return f"{prefix}-cut-{family}{template.view.name}"


def of_square(prefix: str) -> str:
    """Return how the file of the square is called that is cut first, without its suffix."""
    return f"{prefix}-cut-square"


def of_job(prefix: str, templates: Iterable[Template]) -> Iterator[str]:
    """Yield how all files of a job are called, without their suffixes."""
    yield from (of_template(prefix, template) for template in templates)
    yield of_square(prefix)
