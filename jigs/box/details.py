"""All the numbers of a box as text of 80 columns: its joint closed, its errors, and what a change moves."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from itertools import islice

from jigs.base import amounts
from jigs.base.lengths import Units, show
from jigs.base.wording import Words, read_out, say, spoken
from jigs.base.wrapping import wrapped
from jigs.box import hours, rack, shopping
from jigs.box.chain import PARTS, Box
from jigs.parts.joint import in_box
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.part import Row
from jigs.trade.fit import Spread
from jigs.trade.predict import of_a_box
from jigs.trade.sled import SledNumbers

BAR = 40
"""Characters of a bar of 100 %."""
_PICTURED = 9
THINNEST = 4
"""Places of the report where the wood is thinnest."""
_INDENT = 13


Section = Callable[[Box], Iterator[Row]]


def details(box: Box) -> str:
    """Return every number of a box, by part, without its problems."""
    units = box.file.units
    rows = ["Box", *(line for name, words in _size(box) for line in _written(name, words, units))]
    for title, section in _JOINT.items():
        rows += _section(title, section(box), units)
    if box.meant:
        rows += ["", *closed_joint(box.meant, units), "", *budget(box.meant, units)]
    for title, section in _SECTIONS.items():
        rows += _section(title, section(box), units)
    return "\n".join(rows)


def changes(before: Box, after: Box) -> str:
    """Return every row of the report that is not what it was, each with what it was.

    Of the closed joint it has what is said in words, of what the error comes from nothing.
    """
    units = after.file.units
    rows = ["What changes"]
    for title, section in (
        {"Box": _size} | _JOINT | {"The joint closed": _closing} | _SECTIONS | {"Thinnest section": _least}
    ).items():
        was, now = _by_name(section(before), units), _by_name(section(after), units)
        changed = [
            (key[0], f"{f'{key[1]}: ' if key[1] else ''}{now.get(key, 'none').rstrip('.')}; was {was.get(key, 'none')}")
            for key in {**now, **was}
            if was.get(key) != now.get(key)
        ]
        rows += _section(title, changed, units)
    return "\n".join(rows) if len(rows) > 1 else "Nothing that is measured changes."


def _size(box: Box) -> Iterator[Row]:
    length, width = box.inside
    yield "inside", say("{length} × {width}", length=length, width=width)
    if box.inside_depth is not None:
        under = "; {under} under the lid’s plug" if box.depth_under_plug is not None else ""
        words = "{depth} from the bottom to the top edge" + under
        yield "depth", say(words, depth=box.inside_depth, under=box.depth_under_plug)
    if box.numbers:
        over = f"; at glue-up {{glued}}, across the proud fingers of {box.at_the_rim} at the top edge"
        words = "{finished} outside, corner to corner" + (over if box.file.joint.proud else "")
        yield "diagonal", say(words, finished=box.diagonal, glued=box.diagonal_glued)


def closed_joint(meant: Meant, units: Units) -> Iterator[str]:
    """Yield the closed joint as a row of fingers, every gap drawn one column wide, with the true ones beside it."""
    mating, expected = meant.mating, meant.prediction
    shown = mating.cheeks[: _PICTURED - 1]
    mark = ["|" if cheek.gap < -1e-9 else "=" if cheek.gap < 1e-9 else " " for cheek in shown]
    picture = "".join(
        ("[####]" if i % 2 else "[    ]") + (mark[i] if i < len(mark) else "") for i in range(len(shown) + 1)
    )
    gaps = [cheek.gap for cheek in mating.cheeks]
    yield "The joint closed (not to scale; every gap drawn wide, | is too tight)"
    yield f"  bottom {picture}"
    yield "         [    ] front or back   [####] end board"
    yield f"  clearance  {show(mating.clearance, units)}; at each cheek {_range(min(gaps), max(gaps), units)}"
    yield f"  bottom edges out of flush, pushed down and up: {_range(mating.flush_low, mating.flush_high, units)}"
    yield f"  with every error at its limit the clearance is {show(expected.clearance_worst, units)}"
    yield f"  cut {'in one stack' if meant.method == 'one stack' else 'separately'}, {chance(expected.chance_fails)}"


def _closing(box: Box) -> Iterator[Row]:
    if box.meant is None:
        return
    yield "at worst", say("a clearance of {least}", least=box.meant.prediction.clearance_worst)
    yield "of many", chance(box.meant.prediction.chance_fails)


def _range(low: float, high: float, units: Units) -> str:
    return show(low, units) if high - low < 1e-9 else f"{show(low, units)} to {show(high, units)}"


def chance(chance: float) -> str:
    """Return how many corners and boxes will not close, in words."""
    if chance < 0.001:
        return "fewer than 1 in 1000 corners will not close"
    return f"{100 * chance:.1f} % of the corners, {100 * of_a_box(chance):.0f} % of the boxes will not close"


def budget(meant: Meant, units: Units) -> Iterator[str]:
    """Yield which measurement the error comes from, as bars with numbers."""
    expected = meant.prediction
    yield "What the error comes from (measure the longest bar better)"
    for name, spread in (("clearance", expected.clearance_spread), ("flush", expected.flush_spread)):
        yield f"  {name}: ±{show(spread.worst, units)} at worst, ±{show(spread.rss, units)} likely"
        yield from _bars(spread)


def _bars(spread: Spread) -> Iterator[str]:
    for source, share in spread.shares:
        if share >= 0.005:
            yield f"    {source:8} {share * 100:3.0f} % {'#' * max(1, round(share * BAR))}"


# -- the parts -----------------------------------------------------------------------------------------------------


def _section(title: str, rows: Iterable[Row], units: Units) -> list[str]:
    """Return a section below an empty line, its rows wrapped to the width of the report; nothing where it is empty."""
    written = [line for name, words in rows for line in _written(name, words, units)]
    return ["", title, *written] if written else []


def _written(name: str, words: Words, units: Units) -> list[str]:
    """Return a row as lines of the report, never broken inside a length."""
    return wrapped(_said(words, units), f"  {name:9}  ", " " * _INDENT)


def _said(words: Words, units: Units) -> str:
    return read_out(words, units, spoken)


def _by_name(rows: Iterable[Row], units: Units) -> dict[tuple[str, str], str]:
    """Return rows in words, by their name and by what they are of: stops have a row for each kind of board."""
    found = {}
    for name, words in rows:
        said = _said(words, units)
        of, colon, rest = said.partition(": ")
        found.update({(name, of): rest} if colon and not re.search(r"\d", of) else {(name, ""): said})
    return found


def _stock(box: Box) -> Iterator[Row]:
    made = box.stock
    if made is None:
        return
    yield "rough", amounts.volume(made.volume * 1e9, box.file.units)
    size = "{length:rough up} × {width:rough up} × {thick:cut}"
    for strip in made.strips:
        words = f"{strip.name}: {size}" + (", {wood}" if made.mixed and strip.wood else "")
        sizes = {"length": strip.length, "width": strip.width, "thick": strip.thickness}
        yield "strip", say(words, **sizes, wood=strip.wood)
    pieces, each = f"{rack.trial_pieces()} of {{size}}, beside the strips. ", rack.TEST_PIECE.size(box.file.units)
    for found in rack.wood_of_trials(box, made):
        yield "tests", say(pieces + found.sentence, size=each, **found.numbers)
        pieces = ""
    if not made.mixed:
        thick = "a blank of {length}, {thick} thick, for grain round all four corners"
        yield "resawn", say(thick, length=made.resawn_length, thick=made.resawn_thickness)
    for opened in made.plan.boards if made.plan else ():
        names = ", ".join(piece.name for piece in opened.pieces)
        of_it = ", ".join(words for words in (opened.board.called, opened.board.wood) if words)
        words = f"{{of_it}}: {names}" if of_it else names
        yield opened.board.name, say(f"{words}; {{offcut}} is left", offcut=opened.offcut, of_it=of_it)


def _finish(box: Box) -> Iterator[Row]:
    made = box.finish
    if made is None:
        return
    area = amounts.area(made.area, box.file.units)
    yield "glue", f"{amounts.weight(made.glue, box.file.units)}, brushed on"
    yield "clamps", say("{clamps}, cauls cut back by {relief}", clamps=made.clamps, relief=made.caul_relief)
    yield "finish", f"{area} inside and out"


def _least_wood(box: Box) -> Iterator[Row]:
    from jigs.box.thin_wood import thin_wood  # noqa: PLC0415 - measures outlines with shapely, slow to import

    for thin in thin_wood(box)[:THINNEST]:
        yield thin.part, say(f"{{wood}}: {thin.place}", wood=thin.wood)


def _least(box: Box) -> Iterator[Row]:
    for part, words in islice(_least_wood(box), 1):
        yield "thinnest", f"{_said(words, box.file.units)}, in {part}"


def _of_joint(rows: Callable[[SledNumbers], Iterator[Row]]) -> Section:
    return lambda box: rows(box.numbers) if box.numbers else iter(())


def _of_part(name: str) -> Section:
    return lambda box: (row for part in box.parts if part.name == name for row in part.rows())


_JOINT: dict[str, Section] = {"Fingers": _of_joint(in_box.rows_of_fingers), "Sled": _of_joint(in_box.rows_of_sled)}
_SECTIONS: dict[str, Section] = {
    **{kind.name.capitalize(): _of_part(kind.name) for kind in PARTS},
    "Wood moves": lambda box: box.air.rows() if box.air else iter(()),
    "Stock": _stock,
    "Wood and money": shopping.rows,
    "Time": hours.rows,
    "Thinnest sections": _least_wood,
    "Glue and finish": _finish,
}
