"""Results that are kept: asked once, by all that is written of an input; and they change no byte of a page."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from pathlib import Path

import pytest

from jigs.base.drawing import Point
from jigs.base.keeping import kept, kept_for
from jigs.base.wording import say
from layout import make

ROOT = Path(__file__).parent.parent
BOX = ROOT / "samples" / "recipe-box.toml"


def test_what_was_asked_is_not_worked_out_again() -> None:
    asked = []

    @kept(2)
    def doubled(number: float, *, by: int = 2) -> float:
        """Double it."""
        asked.append(number)
        return number * by

    assert [doubled(n) for n in (1.0, 1.0, 2.0, 1.0)] == [2.0, 2.0, 4.0, 2.0]
    assert asked == [1.0, 2.0]
    assert doubled(1.0, by=3) == 3.0
    assert doubled(2.0) == 4.0  # the third pushed it out
    assert asked == [1.0, 2.0, 1.0, 2.0]
    assert doubled.__doc__ == "Double it."


def test_what_was_made_of_one_thing_is_never_given_for_another_that_is_equal() -> None:
    made = []

    @kept_for(2)
    def first(numbers: tuple[float, ...]) -> float:
        made.append(numbers)
        return numbers[0]

    one, equal = (0.0, 1.0), (-0.0, 1.0)
    assert str(first(one)) == str(first(one)) == "0.0"
    assert str(first(equal)) == "-0.0"
    assert made == [one, equal]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (0.0, -0.0),
        (12, 12.0),
        (1, True),
        (Point(0.0, 1.0), Point(-0.0, 1.0)),
        (say("{count} holes", count=2), say("{count} holes", count=2.0)),
    ],
)
def test_what_python_takes_for_equal_is_told_apart_where_it_is_written_otherwise(one: object, other: object) -> None:
    written = kept(8)(repr)
    assert one == other
    assert (written(one), written(other)) == (repr(one), repr(other))


def test_what_was_refused_is_asked_again() -> None:
    asked = []

    @kept(8)
    def late(number: int) -> int:
        asked.append(number)
        if len(asked) == 1:
            raise ValueError("not yet")
        return number

    with pytest.raises(ValueError, match="not yet"):
        late(1)
    assert late(1) == late(1) == 1
    assert asked == [1, 1]


ALONE = "import sys; from tests.test_keeping import drawn; print(drawn(sys.argv[1]))"


def drawn(overhang: str) -> str:
    """Return what some pages and the picture of a box come to."""
    file = make.box(BOX.read_text(encoding="utf-8"), BOX.name, {"lid.overhang": overhang})
    made = make.draw(file, ["cover", "lid", "groove", "plate"], make.Printing(formats=("svg",))).files
    return hashlib.sha256(b"".join([*made.values(), make.picture(file)])).hexdigest()


@pytest.mark.slow
def test_a_page_is_the_same_whatever_was_drawn_before() -> None:
    """Other boxes first, with the same pictures and others, beside a process that draws nothing else."""
    found = [drawn(overhang) for overhang in ("4", "6", "5", "6")]
    alone = subprocess.run([sys.executable, "-c", ALONE, "6"], check=True, capture_output=True, text=True, cwd=ROOT)
    assert found[1] == found[3] == alone.stdout.strip()
    assert len(set(found)) == 3
