"""The order of work of a box: every step with its own numbers, a box to tick, and holds for the teacher to sign."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.usual import WEEK_OF_DRYING
from jigs.base.wording import Words, read_out, say
from jigs.box.chain import PARTS, Box, corner_names
from jigs.box.rack import TEST_PIECE, trial_pieces
from jigs.box.stock import Woods, woods_of_sides
from jigs.parts.joint import steps as joint
from jigs.parts.joint.part import LONGS, SHORTS, asked_of, thicknesses
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.part import BY_HAND, SAWN, Step, step
from jigs.trade import finishing
from jigs.trade.passes import KeySide
from jigs.trade.sled import SledNumbers

SQUARE_WITHIN = {"mm": 0.5, "in": 25.4 / 32}
"""What the diagonals of a glued box may differ by, mm (common practice, no source)."""
_TEMPLATE = 60.0
"""The longer side of the plan of the corners, mm."""

Station = tuple[str, tuple[Step, ...]]


def drawings(box: Box) -> tuple[draw.Drawing, ...]:
    """Return the sheets of the order of work, none where a rule stops the joint.

    A sheet holds the steps up to where the work changes, so that its cautions are those of its own machines.
    """
    if box.numbers is None:
        return ()
    made = [_sheet(box, number) for number in range(len(_sheets()))]
    return tuple(drawing for drawing in made if drawing is not None)


_STACK = "stack and cut the joints"


def _sheets() -> list[list[str]]:
    """Return the stations on each of the sheets: machines that have different cautions stand on different ones."""
    sheets = [["stock", "cutter", "sled"], ["test joint", "boards", _STACK]]
    for after_glue in (False, True):
        sheets += [["glue", "flush"]] if after_glue else []
        for kind in PARTS:
            if kind.after_glue is after_glue and kind.by_hand:
                sheets[-1].append(kind.station)
            elif kind.after_glue is after_glue:
                sheets.append([kind.station])
    return [*sheets[:-1], [*sheets[-1], "finish"]]


def _sheet(box: Box, number: int) -> draw.Drawing | None:
    """Return one of the sheets, its steps numbered on from those before; None where the box has none of its parts."""
    names = _sheets()[number]
    every = stations(box)
    here = [(title, steps) for title, steps in every if title in names]
    if not here:
        return None
    first = 1 + sum(len(steps) for _, steps in every[: every.index(here[0])])
    steps = tuple(step for _, steps in here for step in steps)
    body: list[draw.Item] = [_table(steps, first)]
    if _STACK in names:
        together = [batches(box)] if box.file.joint.method == "one stack" else []
        body += [*together, _corners(box), _away(box)]
    purpose = (
        "every step in its order, ticked when done; at a hold point you go no further until the teacher has signed"
    )
    heeded = dict.fromkeys(caution for step in steps for caution in step.heed)
    said = (cautions.GENERAL, cautions.CLASS, *heeded)
    title = f"order of work: {', '.join(title for title, _ in here)}"
    return draw.Drawing(f"order-{number + 1}", title, purpose, tuple(body), said, jig="box")


def _table(steps: Sequence[Step], first: int) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [(str(i), _worded(step), None) for i, step in enumerate(steps, start=first)]
    return draw.Table("steps", f"Steps {first} to {first + len(steps) - 1}", ("", "Step", "Tick or sign"), tuple(rows))


_SIGNED = {
    "power": "HOLD POINT. The teacher signs before you switch on: ",
    "cut": "HOLD POINT. The teacher signs before you cut on: ",
}


def _worded(step: Step) -> Words:
    if not step.hold:
        return step.words
    said, words = _SIGNED[step.hold], step.words
    return said + words if isinstance(words, str) else say(said + words.sentence, **words.numbers)


def told(box: Box) -> tuple[str, ...]:
    """Return the steps of the sheets as plain words in the units of the box, for a page without columns."""
    made = [step for _, steps in stations(box) for step in steps]
    return tuple(read_out(_worded(step), box.file.units) for step in made)


def holds(box: Box) -> tuple[tuple[int, str], ...]:
    """Return the numbers of the steps that are holds, each with its name: "groove set" or "groove tried"."""
    numbered = enumerate((step for _, steps in stations(box) for step in steps), start=1)
    done = {"power": "set", "cut": "tried"}
    return tuple((number, f"{step.of} {done[step.hold]}") for number, step in numbered if step.hold)


# -- stations ------------------------------------------------------------------------------------------------------


def stations(box: Box) -> tuple[Station, ...]:
    """Return the stations of a box whose joint is possible, those of parts that it has, in the order of work."""
    file, numbers, strips = box.file, box.numbers, len(box.stock.strips) if box.stock else 0
    assert numbers is not None, "without a joint there is no order of work"
    flat, glued = (
        [(part.station, part.steps(box.parts)) for part in box.parts if part.after_glue is after_glue]
        for after_glue in (False, True)
    )
    every = (
        ("stock", _milling(box)),
        ("cutter", joint.cutter(file)),
        ("sled", joint.sled(file, numbers)),
        ("test joint", joint.trial(file, numbers)),
        ("boards", joint.boards(file, numbers, strips)),
        (_STACK, joint.fingers(file, numbers)),
        *flat,
        ("glue", _glue(box, numbers)),
        ("flush", _flush(box)),
        *glued,
        ("finish", _finish(box, numbers)),
    )
    return tuple((title, steps) for title, found in every if (steps := tuple(found)))


def _milling(box: Box) -> Iterator[Step]:
    file, thick = box.file, thicknesses(box.file)
    yield Step("Let the wood lie in the shop for a week or more, stickered.")
    words = (
        "Face, edge and plane the wood of all four sides and of the test pieces in one setting, while it is long, "
        "{thick} thick" + (", then that of the ends {ends} thick" if thick[LONGS] != thick[SHORTS] else "")
    ) + ". Callipers at both ends of each: the thickest and the thinnest differ by {spread} at most."
    yield step("cut", "thickness", words, thick=thick[LONGS], ends=thick[SHORTS], spread=MOST_SPREAD)
    woods, which = woods_of_sides(file, Woods()), "from the same stick"
    if woods[0] != woods[1]:
        yield Step("Front and back come from one wood, the ends from another: the grain runs round no corner.")
        which = "half of them of each wood"
    elif thick[LONGS] != thick[SHORTS]:
        which = "half of them as thick as the ends"
    words = f"Crosscut {{count}} test pieces, each {{size}} long, {which}. The sides stay in one length for now."
    yield step("cut", "test pieces", words, SAWN, count=str(trial_pieces()), size=TEST_PIECE.size(file.units))


def _glue(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    file, made, bottom = box.file, box.finish, box.bottom
    words = f"Dry fit{' with the bottom in' if bottom else ''}: corners by their numbers"
    words += ", 1 and 3 of A, 2 and 4 of B." if file.joint.method == "one stack" else "."
    yield step("fit", "box", words)
    more = "; and the bottom all over, its edges too" if bottom else ""
    words = f"Finish the inside of the sides, {{mask}} at each end masked{more}."
    yield step("finish", "inside", words, mask=numbers.cut_depth + 1.0)
    if made:
        words = "{clamps} clamps, cauls hollowed {relief} over the fingers. Glue {glue} g, on the cheeks only."
        amounts = {"glue": f"{made.glue:.1f}", "clamps": str(made.clamps)}
        yield step("join", "box", words, **amounts, relief=made.caul_relief)
    within, length, width = SQUARE_WITHIN[file.units], file.box.length, file.box.width
    middle = box.diagonal
    lean = finishing.out_of_square(first=middle + within / 2, second=middle - within / 2, length=length, width=width)
    over = f" over the proud fingers of {box.at_the_rim}" if file.joint.proud else ""
    words = (
        f"Both diagonals at the rim{over} read {{diagonal}}, equal within {{within}}; so far apart the box leans by "
        f"{lean:.2f} degrees. Shift the clamps."
    )
    yield step("join", "box", words, within=within, diagonal=box.diagonal_glued)


def _flush(box: Box) -> Iterator[Step]:
    if proud := box.file.joint.proud:
        words = "Plane {proud} of end grain off every finger, from the ends inward."
        yield step("cut", "outside", words, BY_HAND, proud=proud)
    words = "Level the rim and the foot on a flat plate until the box no longer rocks."
    yield step("cut", "outside", words, BY_HAND)


def _finish(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    words = "Finish the outside and both faces of the lid alike." if box.lid else "Finish the outside."
    yield step("finish", "lid" if box.lid else "outside", f"{words} Lay oily rags flat outdoors or in water.")
    if box.handle:
        yield step("finish", "handle", "Finish the handle all over.")
        words = "When the finish is hard, screw the handle on from inside the lid, the screws in the neck."
        yield step("join", "handle", words)
    words = "Write on the sled: gap {gap}, cutter {cutter}, key {key}, spacer {spacer}, cut {deep}."
    sled = {"gap": numbers.gap, "key": numbers.key, "spacer": numbers.short_spacer, "deep": numbers.cut_depth}
    yield step("prepare", "", words, cutter=box.file.joint.cutter, **sled)
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


def batches(box: Box) -> draw.Table:
    """Return which ends are cut together: only they are mates."""
    seen = facing(asked_of(box.file).key_side)
    rows: list[tuple[draw.Cell, ...]] = [
        (batch, corners, ends, f"front and back {seen[batch][0]}, ends {seen[batch][1]}", None)
        for batch, (corners, ends) in _ENDS.items()
    ]
    headings = ("Batch", "Corners", "These ends down", "Face towards you", "Cut")
    return draw.Table(
        "batches", "Which ends are cut together (left and right seen from outside)", headings, tuple(rows)
    )


def _corners(box: Box) -> draw.View:
    """The box from above, its corners numbered with their batch."""
    scale = _TEMPLATE / max(box.file.box.length, box.file.box.width)
    long, wide = box.file.box.length * scale, box.file.box.width * scale
    thick = min(5.0, box.file.sides.thickness * scale)
    walls = {
        "front": draw.rectangle(0, 0, long, thick),
        "right-end": draw.rectangle(long - thick, thick, long, wide - thick),
        "back": draw.rectangle(0, wide - thick, long, wide),
        "left-end": draw.rectangle(0, thick, thick, wide - thick),
    }
    parts = tuple(
        draw.Part(f"plan-{name}", name.replace("-", " "), (draw.Line(shape),)) for name, shape in walls.items()
    )
    places = ((long, 0.0), (long, wide), (0.0, wide), (0.0, 0.0))
    at = dict(zip(corner_names(box.file), places, strict=True))
    labels = [
        draw.Label(words, draw.Point(*place), towards="right" if place[0] else "left") for words, place in at.items()
    ]
    labels += [
        draw.Label("front", draw.Point(long / 2, thick / 2), towards="below"),
        draw.Label("back", draw.Point(long / 2, wide - thick / 2), towards="above"),
        draw.Label("left end", draw.Point(thick / 2, wide / 2), towards="left"),
        draw.Label("right end", draw.Point(long - thick / 2, wide / 2), towards="right"),
    ]
    return draw.View("plan", "Corners, from above", parts, labels=tuple(labels), to_scale=False)


# -- notes ---------------------------------------------------------------------------------------------------------


def _away(box: Box) -> draw.Notes:
    return draw.Notes("away", "Away for a week", tuple(_if_away(box)))


def _if_away(box: Box) -> Iterator[Words]:
    yield (
        "Cut joints move with the air. Stack the boards flat on stickers, a board and a weight on top, wrapped in "
        "film; the wood of the other parts with them. Glue within days of cutting."
    )
    drying = f"{WEEK_OF_DRYING:.0f} % of moisture"
    if box.air and box.air.sides_difference:
        words = f"These mates move apart: {{step}} at the top of a corner when they lose {drying}."
        yield say(words, step=box.air.sides_difference)
    yield "Back again: dry fit before anything else. If a joint has closed up, let the boards lie in the shop a day."
