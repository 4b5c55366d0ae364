"""Paper sizes against the standards, and what a person may type for a page."""

from __future__ import annotations

import pytest

from jigs.errors import CannotRead
from layout import paper

ISO_216 = {"A5": (148, 210), "A4": (210, 297), "A3": (297, 420), "A2": (420, 594), "A1": (594, 841), "A0": (841, 1189)}
"""mm, ISO 216."""
ANSI_INCHES = {
    "Letter": (8.5, 11),
    "Legal": (8.5, 14),
    "Tabloid": (11, 17),
    "C": (17, 22),
    "D": (22, 34),
    "E": (34, 44),
}
"""ANSI Y14.1, and Legal."""


@pytest.mark.parametrize("name", ISO_216)
def test_iso_216(name: str) -> None:
    page = paper.named(name)
    assert (page.width, page.height) == ISO_216[name]


@pytest.mark.parametrize("name", ANSI_INCHES)
def test_ansi(name: str) -> None:
    page = paper.named(name.lower())
    assert (page.width / 25.4, page.height / 25.4) == pytest.approx(ANSI_INCHES[name], abs=1e-12)


def test_frame_is_that_of_iso_5457() -> None:
    """20 mm at the binding edge, 10 mm elsewhere (ISO 5457, as quoted at second hand), either way the page lies."""
    for page in (paper.named("A4"), paper.named("A4").turned):
        left, bottom, right, top = page.frame
        assert (left, bottom, page.width - right, page.height - top) == pytest.approx((20, 10, 10, 10))


def test_both_keeps_to_what_a4_and_letter_share() -> None:
    """Half an inch off every edge of the narrower width and the lesser height: 184.6 by 254.0 mm."""
    both = paper.named("both")
    assert (both.width, both.height) == pytest.approx((210, 279.4))
    assert (both.frame.width, both.frame.height) == pytest.approx((184.6, 254.0))


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("300x400 mm", (300, 400)),
        ("300 x 400", (300, 400)),
        ("300mm x 400mm", (300, 400)),
        ("12x18 in", (304.8, 457.2)),
        ('12×18"', (304.8, 457.2)),
    ],
)
def test_measured_pages(typed: str, size: tuple[float, float]) -> None:
    page = paper.named(typed)
    assert (page.width, page.height) == pytest.approx(size)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("A44", "did you mean 'A4'"),
        ("leter", "did you mean 'Letter'"),
        ("zzz", "there are: A5"),
        ("300x", "paper: '' is empty"),
        ("300xabc mm", "abc"),
        ("20x400 mm", "from 50 to 5080 mm; 20 mm is not; the nearest that works is 50 mm"),
        ("300x9000 mm", "the nearest that works is 5080 mm"),
    ],
)
def test_bad_pages(typed: str, says: str) -> None:
    with pytest.raises(CannotRead, match="paper") as refused:
        paper.named(typed)
    assert says in str(refused.value)


def test_larger_papers_stay_in_the_family() -> None:
    assert [page.name for page in paper.larger(paper.named("A3"), "in")] == ["A2", "A1", "A0"]
    assert [page.name for page in paper.larger(paper.named("Legal"), "mm")] == ["Tabloid", "C", "D", "E"]
    assert paper.larger(paper.named("A0"), "mm") == ()
    assert paper.larger(paper.named("8x10 in"), "in")[0].name == "Letter"
