"""What is to go into a new box: whether it does, and the outside sizes of the box that just takes it.

The sizes are those of the chain: they follow from the sides, the bottom in its groove, the plug of the lid and whole
fingers, and are tried before they are offered.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from jigs.base import lengths
from jigs.base.errors import CannotRead
from jigs.base.lengths import Units
from jigs.base.wording import say, shown
from jigs.box import new, questions
from jigs.box.chain import Box
from jigs.record import Record
from jigs.trade import fingers


class Sizes(NamedTuple):
    """Length, width and height, mm."""

    length: float
    width: float
    height: float


KEYS = ("box.length", "box.width", "box.height")
"""The keys of those sizes."""
_LEAST, _MOST = 1.0, 2000.0
_ROUNDS = 8
"""Boxes that are tried: with another size another lid or bottom may be usual."""
_SAME = 1e-6
_UNIT = re.compile(r"(?:mm|cm|in\.?|inch|inches|\"|″|”)\s*$", re.IGNORECASE)


def read(typed: str, units: Units) -> Sizes:
    """Return the sizes of what goes in, typed as `150 x 105 x 102`; a unit at the end is that of all.

    Raises CannotRead.
    """
    said = [part.strip() for part in re.split(r"[x×*]", typed.strip(), flags=re.IGNORECASE)]
    if len(said) != len(Sizes._fields):
        example = "150 x 105 x 102" if units == "mm" else "6 x 4-1/4 x 4"
        raise CannotRead(f"'{shown(typed, 60)}' is not three sizes; type length x width x height, as in {example}")
    unit = _UNIT.search(said[-1])
    if unit and not any(_UNIT.search(one) for one in said[:-1]):
        said = [*(f"{one} {unit[0]}" for one in said[:-1]), said[-1]]
    try:
        sizes = Sizes(*(float(lengths.read(one, units)) for one in said))
    except lengths.LengthError as error:
        raise CannotRead(str(error)) from None
    for one, size in zip(said, sizes, strict=True):
        if not _LEAST <= size <= _MOST:
            least, most = (lengths.show(limit, units) for limit in (_LEAST, _MOST))
            raise CannotRead(
                f"'{shown(one, 40)}' is no size of what goes into a box; it must be from {least} to {most}"
            )
    return sizes


def room(worked: Box) -> Sizes | None:
    """Return the room in a box: down to its bottom, if it has one, and up to its lid's plug. None without a joint."""
    if worked.numbers is None:
        return None
    depth = worked.height if worked.inside_depth is None else worked.inside_depth
    return Sizes(*worked.inside, depth - (worked.lid.plug_depth if worked.lid else 0.0))


class Goes(Record):
    """How what is to go in goes into a box: which sizes are too large, in words by the key, else the room to spare."""

    wanted: Sizes
    too_large: Mapping[str, str]
    spare: str


def goes(wanted: Sizes, worked: Box) -> Goes:
    """Return how something goes into a box."""
    there = room(worked)
    if there is None:
        return Goes(wanted, {}, "")
    units = worked.file.units
    under = " under the lid’s plug" if worked.lid else ""
    says = (
        "what goes in is {wanted:typed} long, and there is room for {there:typed down}",
        "what goes in is {wanted:typed} wide, and there is room for {there:typed down}",
        f"what goes in is {{wanted:typed}} high, and the box is {{there:gauge}} deep{under}",
    )
    told = {
        key: say(words, wanted=one, there=left).read_out(units)
        for key, words, one, left in zip(KEYS, says, wanted, there, strict=True)
        if one > left + _SAME
    }
    left = [lengths.bare(max(one, 0.0), units) for one in map(float.__sub__, there, wanted)]
    spare = f"{' × '.join(left)} {units}" if any(one != "0" for one in left) else "nothing"
    return Goes(wanted, told, "" if told else spare)


class Proposal(Record):
    """Outside sizes that just take what is to go in, as they are typed, by key, and the box that they make."""

    typed: Mapping[str, str]
    worked: Box


def proposal(wanted: Sizes, units: Units, typed: Mapping[str, str], without: Collection[str] = ()) -> Proposal | None:
    """Return the sizes of the box that just takes something with all the other answers; None where none does.

    Of a length and a width they are whole mm or eighths of an inch; the boards are as wide as whole fingers need.
    """
    found = list(_taking(wanted, units, typed, without))
    return min(found, key=lambda one: (one.worked.height, sum(one.worked.inside)), default=None)


def _taking(wanted: Sizes, units: Units, typed: Mapping[str, str], without: Collection[str]) -> Iterator[Proposal]:
    answers = {key: words for key, words in typed.items() if key not in KEYS}
    form, tried = questions.form(units, answers, without), set[str]()
    for _ in range(_ROUNDS):
        worked = form.made.worked
        there = room(worked)
        sizes = {} if there is None else _outside(worked, wanted, there, units)
        if not sizes or str(sizes) in tried:
            return
        tried.add(str(sizes))
        form = questions.form(units, {**answers, **sizes}, without)
        if any(one.refused for one in form.asked if one.question.key in sizes):
            return
        if not goes(wanted, form.made.worked).too_large:
            yield Proposal(sizes, form.made.worked)


def _outside(worked: Box, wanted: Sizes, there: Sizes, units: Units) -> dict[str, str]:
    """Return the sizes that a box needs for what it is to take, as far as its own parts tell."""
    file, made = worked.file, worked.numbers
    assert made is not None, "a box with room has a joint"
    flat = (file.box.length + wanted.length - there.length, file.box.width + wanted.width - there.width)
    high = worked.height + wanted.height - there.height
    count = next(n for n in range(1, 10_000) if fingers.rip_width(n, made.finger, made.socket) >= high - _SAME)
    boards = fingers.rip_width(count, made.finger, made.socket)
    step = 1.0 if units == "mm" else 25.4 / 8
    rounded = (-(-(size - _SAME) // step) * step for size in (*flat, boards))
    return {key: _typed(size, units) for key, size in zip(KEYS, rounded, strict=True)}


def _typed(size: float, units: Units) -> str:
    return new.length(size, units).strip('"')
