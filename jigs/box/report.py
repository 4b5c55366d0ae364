"""A box in the words of a maker, in 80 columns: can it be built, what to know before cutting, what to set up.

Where a rule stops the box, that alone is said. Settings stand in the order of work, without their unit, which is said
once; messages carry it, as they are read alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from jigs.base import amounts
from jigs.base.lengths import Units
from jigs.base.rules import Problem, to_tell
from jigs.base.wording import Words, on_paper, read_out, say
from jigs.base.wrapping import wrapped
from jigs.box import rack, shopping
from jigs.box.chain import Box
from jigs.box.details import chance
from jigs.parts.joint import in_box
from jigs.parts.part import Part
from jigs.trade.stock import is_sheet

_NAME = 9
"""Columns before the settings of a set-up: its name stands there."""


def check(box: Box) -> str:
    """Return the report of a box: its errors, or else the verdict, what to know before cutting, and the set-ups."""
    rows = [*_head(box), ""]
    if box.stopped:
        return _text([*rows, *errors(box.problems, box.file.units)])
    rows += [*_size(box), *_verdict(box)]
    if told := to_tell([*box.problems, *rack.trials_to_get(box)]):
        rows += ["", *before_you_cut(told, box.file.units)]
    return _text([*rows, "", *_set_ups(box)])


def changed(box: Box) -> str:
    """Return the verdict on a box that was changed and what to know of it before cutting."""
    rows = [*_head(box), *_size(box), *_verdict(box)]
    if told := to_tell([*box.problems, *rack.trials_to_get(box)]):
        rows += ["", *before_you_cut(told, box.file.units)]
    return _text(rows)


def of_jig(title: str, settings: str, problems: Sequence[Problem], units: Units) -> str:
    """Return the report of a jig that belongs to no box: its settings, its errors, or else what to know of it."""
    rows = [f"{title.upper()}. {_sizes_in(units)}", *wrapped(settings), ""]
    if any(problem.severity == "stop" for problem in problems):
        return _text([*rows, *errors(problems, units)])
    told = ["", *before_you_cut(to_tell(problems), units)] if problems else []
    return _text([*rows, "CAN BE BUILT.", *told])


def errors(problems: Sequence[Problem], units: Units) -> Iterator[str]:
    """Yield what stops a box, each with the setting it is about, and nothing else."""
    stops = [problem for problem in problems if problem.severity == "stop"]
    yield f"CAN'T BE BUILT AS ASKED: {len(stops)} error{'s' if len(stops) > 1 else ''}."
    for number, problem in enumerate(stops, start=1):
        yield ""
        yield f"{number} {problem.where}"
        yield from wrapped(problem.sentences(units), "  ", "  ")


def before_you_cut(problems: Sequence[Problem], units: Units) -> Iterator[str]:
    """Yield what must be known before cutting, numbered, the worst first, each with the setting it is about."""
    yield "BEFORE YOU CUT"
    for number, (sign, said) in enumerate(_entries(problems, units), start=1):
        first = f"{number} {sign:{_SIGN}}"
        yield from wrapped(said, first, " " * len(first))


def _entries(problems: Sequence[Problem], units: Units) -> Iterator[tuple[str, str]]:
    """Yield the entries of the list, each with its sign; all wood to get is one entry, for it is got in one go."""
    for of_wood, group in groupby(problems, lambda problem: problem.about == "wood"):
        said = [(problem.sign, problem.sentences(units), problem.where) for problem in group]
        if of_wood:
            yield "GET", f"{' '.join(words for _, words, _ in said)} (stock.boards)"
        else:
            yield from ((sign, f"{words} ({where})") for sign, words, where in said)


_SIGN = len("WARNING ")


def _head(box: Box) -> Iterator[str]:
    file = box.file
    woods = [file.sides.species, file.sides.ends_species, file.lid and file.lid.species]
    named = " and ".join(dict.fromkeys(wood for wood in woods if wood))
    yield f"{file.title.upper()}{', ' if named else ''}{named}. {_sizes_in(file.units)}"


def _sizes_in(units: Units) -> str:
    return "Sizes in mm." if units == "mm" else "Sizes in inches."


def _size(box: Box) -> Iterator[str]:
    outside = box.file.box.length, box.file.box.width, box.height
    words = "outside {length:cut} × {width:cut} × {high:gauge}; inside {long:cut} × {wide:cut}"
    if box.depth is not None:
        words += " × {deep:cut down}" + (" under the plug of the lid" if box.depth_under_plug is not None else "")
    sizes = dict(zip(("length", "width", "high"), outside, strict=True))
    yield from _set_up("", say(words, **sizes, long=box.inside[0], wide=box.inside[1], deep=box.depth), box.file.units)


def _verdict(box: Box) -> Iterator[str]:
    if box.meant is None:
        yield "CAN BE BUILT."
        return
    expected = box.meant.prediction
    words = say(
        "CAN BE BUILT. Clearance {clearance:gauge}; at worst {worst:gauge}. "
        + ("In one stack, " if box.meant.method == "one stack" else "Cut separately, ")
        + f"{chance(expected.chance_fails)}.",
        clearance=box.meant.mating.clearance,
        worst=expected.clearance_worst,
    )
    yield from _set_up("", words, box.file.units)


# -- the set-ups ---------------------------------------------------------------------------------------------------


def _set_ups(box: Box) -> Iterator[str]:
    """Yield what is set for every operation, in the order of work."""
    for name, words in (*_wood(box), *_sled(box), *_parts(box), *_glue(box)):
        yield from _set_up(name.upper(), words, box.file.units)


def _wood(box: Box) -> Iterator[tuple[str, Words]]:
    made = box.stock
    if made is None:
        return
    words, sizes = [], dict[str, object]()
    for number, strip in enumerate(made.strips):
        words.append(f"{strip.name}: {{l{number}:rough up}} × {{w{number}:rough up}} × {{t{number}:cut}}")
        sizes |= {f"l{number}": strip.length, f"w{number}": strip.width, f"t{number}": strip.thickness}
    for number, piece in enumerate(made.others, start=len(made.strips)):
        of_sheet = is_sheet(piece.wood)
        named, thick = (f"{piece.name}, {{wood{number}}}", "gauge") if of_sheet else (piece.name, "cut")
        words.append(f"{named}: {{l{number}:rough up}} × {{w{number}:rough up}} × {{t{number}:{thick}}}")
        sizes |= {f"wood{number}": piece.wood} if of_sheet else {}
        sizes |= {f"l{number}": piece.length, f"w{number}": piece.width, f"t{number}": piece.thickness}
    volume = amounts.volume(made.volume * 1e9, box.file.units)
    in_all = "in all without the plywood" if any(is_sheet(piece.wood) for piece in made.others) else "in all"
    more = shopping.said(box)
    yield "wood", say(f"rough: {'; '.join(words)}; {volume} {in_all}{'; ' if more else ''}{more}", **sizes)


def _sled(box: Box) -> Iterator[tuple[str, Words]]:
    if box.numbers:
        yield "sled", in_box.set_to(box.file, box.numbers)


def _parts(box: Box) -> Iterator[tuple[str, Words]]:
    in_order: list[Part[object]] = sorted(box.parts, key=lambda part: part.after_glue)
    for part in in_order:
        yield part.name, part.set_to()


def _glue(box: Box) -> Iterator[tuple[str, Words]]:
    made = box.finish
    if made is None:
        return
    glue, area = amounts.weight(made.glue, box.file.units), amounts.area(made.area, box.file.units)
    words = f"{glue} of glue; {made.clamps} clamps, cauls cut back by {{relief:cut up}}; {area} of finish"
    yield "glue", say(words, relief=made.caul_relief)


# -- lines ---------------------------------------------------------------------------------------------------------


def _set_up(name: str, words: Words, units: Units) -> Iterator[str]:
    """Yield the settings of a set-up beside its name; those of none at the edge."""
    said = read_out(words, units, on_paper)
    yield from wrapped(said, f"{name:{_NAME}}" if name else "", " " * _NAME if name else "")


def _text(rows: Iterable[str]) -> str:
    return "\n".join(rows)
