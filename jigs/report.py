"""A box as text that reads well in 80 columns: its numbers, its joint closed, where its error comes from."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator

from jigs import rack
from jigs.box import Box
from jigs.box_parts import MEMBERS, Wood
from jigs.dry_fit import Meant
from jigs.lengths import Units, show
from jigs.trade.fit import Spread
from jigs.trade.sled import SledNumbers
from jigs.wording import Words, read_out, say

BAR = 40
"""Characters of a bar of 100 %."""
_PICTURED = 9
THINNEST = 4
"""Places of the report where the wood is thinnest."""
WIDTH, _INDENT = 80, 13
_HARD_SPACE = "\u00a0"


def check(box: Box) -> str:
    """Return the report of a box, without its problems."""
    file = box.file
    inside = " by ".join(show(size, file.units) for size in box.inside)
    rows = [file.title, "", f"  inside     {inside}"]
    if box.numbers and box.meant:
        rows += ["", *_fingers(box.numbers, file.units), "", *_sled(box.numbers, file.units)]
        rows += ["", *closed_joint(box.meant, file.units), "", *budget(box.meant, file.units)]
    for title, section in _SECTIONS.items():
        if written := list(section(box)):
            rows += ["", *_section(title, written, file.units)]
    return "\n".join(rows).replace(_HARD_SPACE, " ")


def _fingers(numbers: SledNumbers, units: Units) -> Iterator[str]:
    yield "Fingers"
    yield f"  parts      {numbers.count}, in {numbers.steps} steps of the stack"
    yield f"  finger     {show(numbers.finger, units)}"
    yield f"  socket     {show(numbers.socket, units)}"
    yield f"  clearance  {show(numbers.clearance, units)}"
    yield f"  rip to     {show(numbers.width, units)}"
    if numbers.passes.count > 1:
        yield f"  passes     {numbers.passes.count}, each shifted by {show(numbers.passes.shift, units)}"


def _sled(numbers: SledNumbers, units: Units) -> Iterator[str]:
    yield "Sled"
    rows = {
        "gap": numbers.gap,
        "key": numbers.key,
        "spacer": numbers.short_spacer,
        "cut depth": numbers.cut_depth,
        "over all": numbers.over_all,
    }
    for name, value in rows.items():
        yield f"  {name:9}  {show(value, units)}"


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
    yield "         [    ] front or back   [####] end"
    yield f"  clearance  {show(mating.clearance, units)}; at each cheek {_range(min(gaps), max(gaps), units)}"
    yield f"  bottom edges out, pushed down and up: {_range(mating.flush_low, mating.flush_high, units)}"
    yield f"  with every error at its limit the clearance is {show(expected.clearance_worst, units)}"
    yield f"  cut {'in one stack' if meant.method == 'one stack' else 'separately'}, {_chance(expected.chance_fails)}"


def _range(low: float, high: float, units: Units) -> str:
    return show(low, units) if high - low < 1e-9 else f"{show(low, units)} to {show(high, units)}"


def _chance(chance: float) -> str:
    return "fewer than 1 in 1000 will not close" if chance < 0.001 else f"{chance:.1%} will not close"


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
            yield f"    {source:8} {share:4.0%} {'#' * max(1, round(share * BAR))}"


# -- the parts -----------------------------------------------------------------------------------------------------


Row = tuple[str, Words]


def _section(title: str, rows: Iterable[Row], units: Units) -> Iterator[str]:
    """Yield a section, its rows wrapped to the width of the report but never inside a length."""
    yield title
    for name, words in rows:
        said = read_out(words, units, lambda mm, units: show(mm, units).replace(" ", _HARD_SPACE))
        yield from textwrap.wrap(
            said, WIDTH, initial_indent=f"  {name:9}  ", subsequent_indent=" " * _INDENT, break_on_hyphens=False
        )


def _groove(box: Box) -> Iterator[Row]:
    made = box.groove
    if made is None:
        return
    count = len(made.passes)
    yield "height", say("{low} to {top} from the bottom edge", low=made.from_bottom, top=made.top)
    each = "one pass" if count == 1 else f"{count} passes of {{each}}"
    yield "depth", say("{depth}, in " + each, depth=made.depth, each=made.depth / count)
    yield "fence", say("{fence} to the cutter's centre", fence=made.fence)
    yield "stopped", ", ".join(made.stopped) or "no board: it runs through all four"
    for kind in made.stopped_kinds:
        stops = made.stops[MEMBERS[kind][0]]
        words = f"{kind}: {{centre}} left and right of the cutter's centre, {{edge}} from its near edge"
        yield "stops", say(words, centre=stops.right, edge=stops.right_from_edge)
    if made.stopped:
        least, most = made.end_wood_range
        fits = "{wood}; a square corner goes in from {least} to {most}"
        yield "end wood", say(fits if least <= most else "{wood}", wood=made.end_wood, least=least, most=most)
        clipped = made.corner_kind == "clip"
        yield "corner", say("clipped by {leg} at 45°" if clipped else "square", leg=made.corner_size)


def _bottom(box: Box) -> Iterator[Row]:
    made = box.bottom
    if made is None:
        return
    sizes, (moving, still) = made.seasons, made.rabbet_widths
    yield "wood", _named(made.wood)
    yield "length", say("{length} along the grain", length=made.length)
    yield (
        "width",
        say(
            "{now} now, {dry} when driest, {wet} when wettest",
            now=sizes.width,
            dry=sizes.width_dry,
            wet=sizes.width_wet,
        ),
    )
    yield "held", say("by {held} at worst, when driest", held=sizes.engagement_dry)
    yield "tongue", say("{tongue}, rabbets {deep} deep", tongue=made.tongue, deep=made.rabbet_depths[0])
    yield "rabbets", say("{moving} on the long grain, {still} on the end grain", moving=moving, still=still)


def _lid(box: Box) -> Iterator[Row]:
    made = box.lid
    if made is None:
        return
    plug, (ends, sides) = made.plug, made.rabbets
    yield "wood", _named(made.wood)
    yield "size", say("{length} by {width}", length=made.length, width=made.width)
    yield (
        "plug",
        say("{length} by {width}, {deep} deep", length=made.plug_length, width=plug.width, deep=made.plug_depth),
    )
    yield "rabbets", say("{ends} at the ends, {sides} along the sides", ends=ends, sides=sides)
    yield (
        "gap",
        say("{now} now, {dry} when driest, {wet} when wettest", now=plug.gap_now, dry=plug.gap_dry, wet=plug.gap_wet),
    )
    yield "locks", f"at a humidity of {made.locks_at:.0f} %" if made.locks_at else "never"
    yield "edge", say("{edge}; over the plug's shoulder {over}", edge=made.edge, over=made.over_shoulder)
    if made.crown_radius:
        yield "crown", say("{rise} high, radius {radius}", rise=made.crown, radius=made.crown_radius)


def _named(wood: Wood) -> str:
    return wood.species.name if wood.named else f"not named; taken to move like {wood.species.name}"


def _handle(box: Box) -> Iterator[Row]:
    made = box.handle
    if made is None:
        return
    holes = made.holes
    yield "centres", say("{aside} from the middle, {up} up", aside=holes.centre_offset, up=made.hole_height)
    yield "opening", say("{chord} high, {deep} deep", chord=holes.chord, deep=holes.grip_depth)
    yield "rim", f"{holes.rim_in_wood:.0%} in wood"
    yield "crest", say("radius {radius}", radius=holes.crest_radius)
    yield "least", say("{wood} of wood; over the holes {over}", wood=holes.least_wood, over=holes.hole_to_crest)
    yield "blank", say("{blank} long, trimmed after drilling", blank=made.blank_length)
    yield "clamps", say("{room} or more from a hole's centre", room=made.clamp_room)


def _shell(box: Box) -> Iterator[Row]:
    made = box.shell
    if made is None:
        return
    yield "fan", f"{made.lobes} lobes, {made.fan.half_angle:.2f}° to each side"
    yield "ribs", say("{ribs} from the pivot", ribs=made.fan.rib_radius)
    yield "lobes", say("radius {radius}", radius=made.fan.lobe_radius)
    yield "chips", say("{depth} deep, {left} of wood left", depth=made.chip_depth, left=made.wood_left)


def _moves(box: Box) -> Iterator[Row]:
    air = box.air
    if air is None:
        return
    yield "moisture", f"{air.shop:.1f} % in the shop, {air.dry:.1f} % driest, {air.wet:.1f} % wettest"
    if air.sides_difference:
        yield "corners", say("{step} apart at the top after a week of drying", step=air.sides_difference)


def _stock(box: Box) -> Iterator[Row]:
    made = box.stock
    if made is None:
        return
    yield "rough", f"{made.volume:.5f} m³, {made.board_feet:.2f} board feet"
    size = "{length} by {width} by {thick}"
    for strip in made.strips:
        words = f"{strip.name}: {size}"
        yield "strip", say(words, length=strip.length, width=strip.width, thick=strip.thickness)
    pieces = f"{rack.trial_pieces()} of {{size}}, beside the strips. "
    found = rack.wood_of_trials(box, made)
    each = rack.TEST_PIECE.size(box.file.units)
    yield "tests", say(pieces + found.sentence, size=each, **found.numbers)
    yield "resawn", say("a stick of {length} for grain round all four corners", length=made.resawn_length)
    for opened in made.plan.boards if made.plan else ():
        names = ", ".join(piece.name for piece in opened.pieces)
        yield opened.board.name, say(f"{names}; {{offcut}} is left", offcut=opened.offcut)


def _finish(box: Box) -> Iterator[Row]:
    made = box.finish
    if made is None:
        return
    metric = box.file.units == "mm"
    area = f"{made.area / 1e6:.3f} m²" if metric else f"{made.area / 25.4**2:.0f} in²"
    yield "glue", f"{made.glue:.1f} g: a brush, not a bottle"
    yield "clamps", say("{clamps}, cauls cut back by {relief}", clamps=made.clamps, relief=made.caul_relief)
    yield "finish", f"{area} inside and out"


def _least_wood(box: Box) -> Iterator[Row]:
    from jigs.thin_wood import thin_wood  # noqa: PLC0415 - measures outlines with shapely, slow to import

    for thin in thin_wood(box)[:THINNEST]:
        yield thin.part, say(f"{{wood}}: {thin.place}", wood=thin.wood)


_SECTIONS: dict[str, Callable[[Box], Iterator[Row]]] = {
    "Groove": _groove,
    "Bottom": _bottom,
    "Lid": _lid,
    "Handle": _handle,
    "Shell": _shell,
    "Wood moves": _moves,
    "Stock": _stock,
    "Least wood": _least_wood,
    "Glue and finish": _finish,
}
