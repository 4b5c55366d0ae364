"""The order of work of a box in words: every step with its own numbers, and holds for the teacher to sign."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.wording import Words, read_out, say
from jigs.box.chain import Box
from jigs.box.rack import TEST_PIECE, trial_pieces
from jigs.box.stock import Woods, woods_of_sides
from jigs.parts.joint import steps as joint
from jigs.parts.joint.part import LONGS, SHORTS, thicknesses
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.part import BY_HAND, SAWN, Step, step
from jigs.trade import finishing
from jigs.trade.sled import SledNumbers

SQUARE_WITHIN = {"mm": 0.5, "in": 25.4 / 32}
"""What the diagonals of a glued box may differ by, mm (common practice, no source)."""
_STACK = "stack and cut the joints"

Station = tuple[str, tuple[Step, ...]]


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
