"""The order of work of a box: every step with its own numbers, a box to tick, and holds for the teacher to sign."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigs import cautions
from jigs.box import Box, asked_of, corner_names
from jigs.box_parts import MEMBERS, cut_length
from jigs.drawing import Cell, Drawing, Label, Line, Notes, Part, Point, Table, View, rectangle
from jigs.errors import READ_OUT
from jigs.lengths import round_up
from jigs.rack import TEST_PIECE, trial_pieces
from jigs.sled_parts import RIP_LATER, all_cuts
from jigs.sled_rules import MOST_SPREAD, Asked
from jigs.trade import finishing, passes
from jigs.trade.passes import KeySide
from jigs.trade.sled import SledNumbers
from jigs.usual import WEEK_OF_DRYING
from jigs.wording import Words, read_out, say

SQUARE_WITHIN = {"mm": 0.5, "in": 25.4 / 32}
"""What the diagonals of a glued box may differ by, mm (common practice, no source)."""
_TEMPLATE = 60.0
"""The longer side of the plan of the corners, mm."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do. Before a hold nothing is switched on until the teacher has signed."""

    words: Words
    hold: bool = False


Station = tuple[str, tuple[Step, ...]]


def drawings(box: Box) -> tuple[Drawing, ...]:
    """Return the sheets of the order of work, none where a rule stops the joint.

    A sheet holds the steps up to where the work changes, so that its cautions are those of its own machines.
    """
    if box.numbers is None:
        return ()
    made = [_sheet(box, number) for number in range(len(_SHEETS))]
    return tuple(drawing for drawing in made if drawing is not None)


_STACK = "stack and cut the joints"
_SHEETS: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("stock", "cutter", "sled"), (cautions.SAW, cautions.JIG)),
    (("test joint", _STACK), (cautions.FINGERS,)),
    (("groove", "bottom"), (cautions.GROOVE, cautions.RABBET)),
    (("carving", "glue", "flush", "lid"), (cautions.CARVING, cautions.RABBET, cautions.HAND_TOOLS)),
    (("handle", "finish"), (cautions.HOLE_SAW,)),
)
"""The sheets: the stations on each, and the cautions of those."""


def _sheet(box: Box, number: int) -> Drawing | None:
    """Return one of the sheets, its steps numbered on from those before; None where the box has none of its parts."""
    names, heeded = _SHEETS[number]
    every = stations(box)
    here = [(title, steps) for title, steps in every if title in names]
    if not here:
        return None
    first = 1 + sum(len(steps) for _, steps in every[: every.index(here[0])])
    steps = tuple(step for _, steps in here for step in steps)
    body: list[View | Table | Notes] = [_table(steps, first)]
    if _STACK in names:
        together = [batches(box)] if box.file.joint.method == "one stack" else []
        body += [*together, _corners(box), _away(box)]
    purpose = (
        "every step in its order, ticked when done; at a hold the machine stays isolated until the teacher has signed"
    )
    said = (cautions.GENERAL, cautions.CLASS, *heeded)
    return Drawing(
        f"order-{number + 1}",
        f"order of work: {', '.join(title for title, _ in here)}",
        purpose,
        tuple(body),
        said,
        jig="box",
    )


def _table(steps: Sequence[Step], first: int) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (str(i), step.words if not step.hold else _held(step.words), None) for i, step in enumerate(steps, start=first)
    ]
    return Table("steps", f"Steps {first} to {first + len(steps) - 1}", ("", "Step", "Tick or sign"), tuple(rows))


def _held(words: Words) -> Words:
    said = "HOLD. Teacher signs before the next power on: "
    return said + words if isinstance(words, str) else say(said + words.sentence, **words.numbers)


def told(box: Box) -> tuple[str, ...]:
    """Return the steps of the sheets as plain words in the units of the box, for a page without columns."""
    made = [step for _, steps in stations(box) for step in steps]
    return tuple(read_out(_held(step.words) if step.hold else step.words, box.file.units) for step in made)


def holds(box: Box) -> tuple[tuple[int, str], ...]:
    """Return the numbers of the steps that are holds, each with the station that it belongs to."""
    numbered = enumerate(((title, step) for title, steps in stations(box) for step in steps), start=1)
    return tuple((number, title) for number, (title, step) in numbered if step.hold)


# -- stations ------------------------------------------------------------------------------------------------------


def stations(box: Box) -> tuple[Station, ...]:
    """Return the stations of a box whose joint is possible, those of parts that it has, in the order of work."""
    numbers = box.numbers
    assert numbers is not None, "without a joint there is no order of work"
    every = (
        ("stock", _milling(box, numbers)),
        ("cutter", _cutter(box)),
        ("sled", _sled(numbers)),
        ("test joint", _test_joint(box, numbers)),
        (_STACK, _stack(box, numbers)),
        ("groove", _groove(box)),
        ("bottom", _bottom(box)),
        ("carving", _carving(box)),
        ("glue", _glue(box, numbers)),
        ("flush", _flush(box)),
        ("lid", _lid(box)),
        ("handle", _handle(box)),
        ("finish", _finish(box, numbers)),
    )
    return tuple((title, steps) for title, found in every if (steps := tuple(found)))


def _milling(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    file, units = box.file, box.file.units
    yield Step("Let the wood lie in the shop for a week or more, stickered.")
    yield Step(
        say(
            "Face, edge and plane all four sides and the test pieces in one setting, {thick} thick. Callipers at both "
            "ends of each: the thickest and the thinnest differ by {spread} at most.",
            thick=file.sides.thickness,
            spread=MOST_SPREAD,
        )
    )
    if box.stock:
        yield Step("Draw the triangle over the strip, number the corners, mark the bottom edge of every board.")
    yield Step(
        say(
            "Crosscut each pair against one stop: front and back {long}, the ends {short}.",
            long=cut_length(file, file.box.length),
            short=cut_length(file, file.box.width),
        )
    )
    yield Step(
        say(
            "Crosscut {count} test pieces, each {size} long, from the same stick.",
            count=str(trial_pieces()),
            size=TEST_PIECE.size(units),
        )
    )
    more = round_up(RIP_LATER, units)
    over = file.box.height - numbers.width
    if over <= READ_OUT:
        yield Step(say("Leave the boards {wide} wide: the joint takes all of it.", wide=file.box.height))
    elif over <= more:
        yield Step(say("Leave the boards {wide} wide: what is too much comes off last.", wide=file.box.height))
    else:
        yield Step(say("Rip to {wide}, {more} over: the rest comes off last.", wide=numbers.width + more, more=more))


def _cutter(box: Box) -> Iterator[Step]:
    words = "Cut a groove in scrap of this wood and measure it: {cutter}. Another reading goes into the box file first."
    yield Step(say(words, cutter=box.file.joint.cutter))


def _sled(numbers: SledNumbers) -> Iterator[Step]:
    yield Step(say("Key {key}, spacer {spacer}.", key=numbers.key, spacer=numbers.short_spacer))
    first = numbers.runs[0]
    yield Step(
        say(
            "Cutter {high} above the table, {deep} above the plate"
            + (" for the first run." if numbers.runs[1:] else "."),
            high=numbers.plate + first.depth,
            deep=first.depth,
        )
    )
    yield Step(
        say(
            "Gap {gap} with a gauge block; across cutter and key {over}. Clamp.", gap=numbers.gap, over=numbers.over_all
        )
    )
    yield Step(
        say("gap {gap}, play on the key {slack}, face square to the key", gap=numbers.gap, slack=numbers.slack),
        hold=True,
    )


def _test_joint(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    yield Step("Two test pieces in one stack, one on the key and one on the spacer. Put them together dry.")
    yield Step(
        say(
            "Finger {finger}, socket {socket}, play {play}, proud {proud}: write them on the sheet of the test joint. "
            "Mend and try again until all are within.",
            finger=numbers.finger,
            socket=numbers.socket,
            play=numbers.clearance,
            proud=box.file.joint.proud,
        )
    )
    yield Step("test joint, every reading within its limits", hold=True)


def _stack(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    asked = asked_of(box.file)
    if asked.method != "one stack":
        yield from _one_by_one(box, numbers)
        return
    yield Step(
        say(
            "Batch A: stack front, back, spacer {spacer}, ends and backing board as the table says, bottom edges "
            "to the key. Clamp.",
            spacer=numbers.short_spacer,
        )
    )
    yield from _several_cuts(numbers, asked)
    yield Step(
        f"Cut {numbers.positions} positions, always pushed to the same face of the key. Mark the ends A in the clamp."
    )
    for run in numbers.runs[1:]:
        words = "Raise the cutter to {high} above the table and cut all positions again, the clamp still on."
        yield Step(say(words, high=numbers.plate + run.depth))
    yield Step("Batch B: turn every board end for end, the bottom edge again to the key.")
    again = f" in {len(numbers.runs)} runs, the first at the first height again" if numbers.runs[1:] else ""
    yield Step(
        f"Cut {numbers.positions} positions{again}. Mark the ends B in the clamp. Only ends of one batch are mates."
    )
    if numbers.trims_the_top:
        yield Step(
            f"Check that position {numbers.positions} was cut in both batches: it trims the top fingers of the ends, "
            "or a fin above the top sockets of front and back holds the corners open."
        )
    if box.file.box.height - numbers.width > READ_OUT:
        yield Step(say("Rip the top edges: all sides {width} wide.", width=numbers.width))


def _several_cuts(numbers: SledNumbers, asked: Asked) -> Iterator[Step]:
    if (cuts := numbers.passes.count) > 1:
        each = all_cuts(passes.cuts(numbers.passes, asked.machine, asked.key_side))
        yield Step(f"Make every socket in {cuts} cuts before the boards step on: {each}.")


def _one_by_one(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    """Boards that are not cut in one stack: each by itself, its backing board behind it, and no batches."""
    asked = asked_of(box.file)
    yield from _several_cuts(numbers, asked)
    yield Step(
        "Front, then back: bottom edge against the key, clamped with its backing board to the face. Cut "
        f"{numbers.positions} positions, pushed to the {asked.key_side} each time. Turn it end for end and do the same."
    )
    yield Step(
        say(
            "Each end board the same way, but for the first position with the spacer {spacer} between key and board. "
            "Do not move the gap between boards.",
            spacer=numbers.short_spacer,
        )
    )
    for run in numbers.runs[1:]:
        words = "Raise the cutter to {high} above the table and cut all positions of every board again."
        yield Step(say(words, high=numbers.plate + run.depth))
    if box.file.box.height - numbers.width > READ_OUT:
        words = "Rip the top edges: all sides {width} wide, and no strip left above a top socket."
        yield Step(say(words, width=numbers.width))
    yield Step("Put every corner together dry and number it. A corner that is tight: try the other end board.")


def _groove(box: Box) -> Iterator[Step]:
    made = box.groove
    if made is None:
        return
    yield Step(
        say(
            "Fence {fence} from the cutter's centre, so that the groove starts {low} above the bottom edge.",
            fence=made.fence,
            low=made.from_bottom,
        )
    )
    for kind in made.stopped_kinds:
        stops = made.stops[MEMBERS[kind][0]]
        words = f"Stops for {kind}: {{left}} left and {{right}} right of the cutter's centre."
        yield Step(say(words, left=stops.left, right=stops.right))
    passes = ", ".join(f"{{pass{i}}}" for i in range(len(made.passes)))
    heights = {f"pass{i}": height for i, height in enumerate(made.passes)}
    if made.stopped:
        yield Step(say("stops set, bit at {first}, plunge trial in scrap", first=made.passes[0]), hold=True)
    else:
        yield Step(say("fence set, bit at {first}, trial in scrap", first=made.passes[0]), hold=True)
    names = f"; stopped in {' and '.join(made.stopped)}" if made.stopped else "; through in all four"
    yield Step(say(f"Groove the inner faces, bottom edge to the fence, bit at {passes}{names}.", **heights))


def _bottom(box: Box) -> Iterator[Step]:
    made = box.bottom
    if made is None:
        return
    moving, still = made.rabbet_widths
    yield Step(
        say(
            "Cut the bottom {long} along the grain by {wide}, {thick} thick.",
            long=made.length,
            wide=made.seasons.width,
            thick=made.thickness,
        )
    )
    if made.rabbet_depths[0] > 0:
        yield Step(
            say(
                "Rabbets {deep} deep on both faces, end grain first: {still} wide on the end grain, {moving} on the "
                "long grain. The tongue is {tongue}.",
                deep=made.rabbet_depths[0],
                still=still,
                moving=moving,
                tongue=made.tongue,
            )
        )
    if made.groove.corner_size:
        yield Step(say("Clip its corners by {leg} at 45 degrees.", leg=made.groove.corner_size))


def _carving(box: Box) -> Iterator[Step]:
    if made := box.shell:
        yield Step(say("Transfer the shell to the front, {wide} by {high}.", wide=made.width, high=made.height))
        yield Step(
            say("Carve: chips {deep} deep at most, {left} of wood stays.", deep=made.chip_depth, left=made.wood_left)
        )


def _glue(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    file, made = box.file, box.finish
    yield Step(
        f"Dry fit{' with the bottom in' if box.bottom else ''}: corners by their numbers"
        f"{', 1 and 3 of A, 2 and 4 of B' if file.joint.method == 'one stack' else ''}."
    )
    yield Step(say("Finish the inside, {mask} at each end masked.", mask=numbers.cut_depth + 1.0))
    if made:
        yield Step(
            say(
                "{clamps} clamps, cauls hollowed {relief} over the fingers. Glue {glue} g, on the cheeks only.",
                glue=f"{made.glue:.1f}",
                clamps=str(made.clamps),
                relief=made.caul_relief,
            )
        )
    within, length, width = SQUARE_WITHIN[file.units], file.box.length, file.box.width
    middle = math.hypot(length, width)
    lean = finishing.out_of_square(first=middle + within / 2, second=middle - within / 2, length=length, width=width)
    words = f"Diagonals equal within {{within}}; so far apart the box leans by {lean:.2f} degrees. Shift the clamps."
    yield Step(say(words, within=within))


def _flush(box: Box) -> Iterator[Step]:
    if proud := box.file.joint.proud:
        yield Step(say("Plane {proud} of end grain off every finger, from the ends inward.", proud=proud))
    yield Step("Level the rim and the foot on a flat plate until the box no longer rocks.")


def _lid(box: Box) -> Iterator[Step]:
    made = box.lid
    if made is None:
        return
    ends, sides = made.rabbets
    words = "Measure the opening: {long} by {wide} is drawn. Another reading shifts the rabbets by half the difference."
    yield Step(say(words, long=made.along, wide=made.across))
    words = "Rabbets {deep} deep, end grain first: {ends} at the ends, {sides} along the sides."
    yield Step(say(words, deep=made.plug_depth, ends=ends, sides=sides))
    words = "lid fit: gap {gap} across the grain, {play} along it"
    yield Step(say(words, gap=made.plug.gap_now, play=made.play), hold=True)
    if made.crown_radius:
        words = "Plane the crown to its template: {rise} high, radius {radius}, {edge} left at the edge."
        yield Step(say(words, rise=made.crown, radius=made.crown_radius, edge=made.edge))


def _handle(box: Box) -> Iterator[Step]:
    made = box.handle
    if made is None:
        return
    holes = made.holes
    words = "Blank {long} by {high} by {thick}; hole centres {aside} from the middle, {up} over the foot."
    yield Step(
        say(
            words,
            long=made.blank_length,
            high=made.height,
            thick=made.thickness,
            aside=holes.centre_offset,
            up=made.hole_height,
        )
    )
    words = "hole-saw clamp-up on the drill press, clamps {room} or more from a hole's centre, low speed"
    yield Step(say(words, room=made.clamp_room), hold=True)
    words = "Drill holes of {saw}, half from each face. Trim to {long}, shape the crest, radius {radius}."
    yield Step(say(words, saw=2 * made.radius, long=made.length, radius=holes.crest_radius))
    yield Step("Screw the handle on from inside the lid, the screws in the neck.")


def _finish(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    yield Step("Finish the outside and both faces of the lid alike. Lay oily rags flat outdoors or in water.")
    yield Step(
        say(
            "Write on the sled: gap {gap}, cutter {cutter}, key {key}, spacer {spacer}, cut {deep}.",
            gap=numbers.gap,
            cutter=box.file.joint.cutter,
            key=numbers.key,
            spacer=numbers.short_spacer,
            deep=numbers.cut_depth,
        )
    )
    yield Step("Write the readings on the back of the cover: the next box starts from them.")


# -- batches -------------------------------------------------------------------------------------------------------

_ENDS = {
    "A": ("1 and 3", "the right of front and back, the left of both ends"),
    "B": ("2 and 4", "the left of front and back, the right of both ends"),
}
"""Which ends of the boards are cut together, left and right as seen on their outer faces, and the corners they make."""


def facing(key_side: KeySide) -> dict[str, tuple[str, str]]:
    """Return which face of front and back, and of the ends, looks at the operator in each batch.

    A board stands on the end that is cut, its bottom edge to the key. Seen on its outer face and with the key on the
    right it was turned a quarter anticlockwise: its left end is down. A key on the left turns it the other way.
    """
    turned = ("inside", "outside"), ("outside", "inside")
    first, second = turned if key_side == "right" else turned[::-1]
    return {"A": first, "B": second}


def batches(box: Box) -> Table:
    """Return which ends are cut together: only they are mates."""
    seen = facing(asked_of(box.file).key_side)
    rows: list[tuple[Cell, ...]] = [
        (batch, corners, ends, f"front and back {seen[batch][0]}, ends {seen[batch][1]}", None)
        for batch, (corners, ends) in _ENDS.items()
    ]
    headings = ("Batch", "Corners", "These ends down", "Face towards you", "Cut")
    return Table("batches", "Which ends are cut together (left and right seen from outside)", headings, tuple(rows))


def _corners(box: Box) -> View:
    """The box from above, its corners numbered with their batch."""
    scale = _TEMPLATE / max(box.file.box.length, box.file.box.width)
    long, wide = box.file.box.length * scale, box.file.box.width * scale
    thick = min(5.0, box.file.sides.thickness * scale)
    walls = {
        "front": rectangle(0, 0, long, thick),
        "right-end": rectangle(long - thick, thick, long, wide - thick),
        "back": rectangle(0, wide - thick, long, wide),
        "left-end": rectangle(0, thick, thick, wide - thick),
    }
    parts = tuple(Part(f"plan-{name}", name.replace("-", " "), (Line(shape),)) for name, shape in walls.items())
    places = ((long, 0.0), (long, wide), (0.0, wide), (0.0, 0.0))
    at = dict(zip(corner_names(box.file), places, strict=True))
    labels = [Label(words, Point(*place), towards="right" if place[0] else "left") for words, place in at.items()]
    labels += [
        Label("front", Point(long / 2, thick / 2), towards="below"),
        Label("back", Point(long / 2, wide - thick / 2), towards="above"),
        Label("left end", Point(thick / 2, wide / 2), towards="left"),
        Label("right end", Point(long - thick / 2, wide / 2), towards="right"),
    ]
    return View("plan", "Corners, from above", parts, labels=tuple(labels), to_scale=False)


# -- notes ---------------------------------------------------------------------------------------------------------


def _away(box: Box) -> Notes:
    return Notes("away", "Away for a week", tuple(_if_away(box)))


def _if_away(box: Box) -> Iterator[Words]:
    yield (
        "Cut joints move with the air. Stack the boards flat on stickers, a board and a weight on top, wrapped in "
        "film; the bottom and the lid with them. Glue within days of cutting."
    )
    drying = f"{WEEK_OF_DRYING:.0f} % of moisture"
    if box.air and box.air.sides_difference:
        words = f"These mates move apart: {{step}} at the top of a corner when they lose {drying}."
        yield say(words, step=box.air.sides_difference)
    yield "Back again: dry fit before anything else. If a joint has closed up, let the boards lie in the shop a day."
