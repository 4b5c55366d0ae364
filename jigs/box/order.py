"""The order of work of a box: every step with its own numbers, a box to tick, and holds for the teacher to sign."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT
from jigs.base.usual import RABBET_BIT, WEEK_OF_DRYING
from jigs.base.wording import Words, read_out, say
from jigs.box.chain import Box, corner_names
from jigs.box.rack import TEST_PIECE, trial_pieces
from jigs.box.stock import Woods, woods_of_sides
from jigs.parts.bottom.part import Bottom
from jigs.parts.bottom.sheets import TONGUE_WITHIN
from jigs.parts.groove.part import Groove
from jigs.parts.handle import handle as handle_jig
from jigs.parts.handle import sheets as handle_sheets
from jigs.parts.handle.part import Handle
from jigs.parts.joint.made import all_cuts, planed_off
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, asked_of, cut_length, thicknesses
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.joint.settings import SledSettings
from jigs.parts.lid.part import Lid
from jigs.trade import finishing, passes
from jigs.trade import lid as lid_trade
from jigs.trade.handle import gap_under_foot
from jigs.trade.passes import KeySide
from jigs.trade.sled import SledNumbers

SQUARE_WITHIN = {"mm": 0.5, "in": 25.4 / 32}
"""What the diagonals of a glued box may differ by, mm (common practice, no source)."""
_TEMPLATE = 60.0
"""The longer side of the plan of the corners, mm."""

Act = Literal["prepare", "set", "try", "measure", "cut", "fit", "finish", "join"]
Hold = Literal["", "power", "cut"]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do: `act` is what is done, `of` the part or the cut that it is done to.

    At a hold the teacher signs: "power" is a set-up that is looked at before the machine is switched on, "cut" a trial
    or a reading that is looked at before the cut that can't be undone. `heed` are the cautions of its machine or tool.
    """

    words: Words
    act: Act = "prepare"
    of: str = ""
    hold: Hold = ""
    heed: tuple[str, ...] = ()


Station = tuple[str, tuple[Step, ...]]


def drawings(box: Box) -> tuple[draw.Drawing, ...]:
    """Return the sheets of the order of work, none where a rule stops the joint.

    A sheet holds the steps up to where the work changes, so that its cautions are those of its own machines.
    """
    if box.numbers is None:
        return ()
    made = [_sheet(box, number) for number in range(len(_SHEETS))]
    return tuple(drawing for drawing in made if drawing is not None)


_STACK = "stack and cut the joints"
_SHEETS: tuple[tuple[str, ...], ...] = (
    ("stock", "cutter", "sled"),
    ("test joint", "boards", _STACK),
    ("groove",),
    ("bottom", "carving"),
    ("glue", "flush"),
    ("lid",),
    ("handle", "finish"),
)
"""The stations on each of the sheets: machines that have different cautions stand on different ones."""


def _sheet(box: Box, number: int) -> draw.Drawing | None:
    """Return one of the sheets, its steps numbered on from those before; None where the box has none of its parts."""
    names = _SHEETS[number]
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
    return draw.Drawing(
        f"order-{number + 1}",
        f"order of work: {', '.join(title for title, _ in here)}",
        purpose,
        tuple(body),
        said,
        jig="box",
    )


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
    numbers = box.numbers
    assert numbers is not None, "without a joint there is no order of work"
    every = (
        ("stock", _milling(box)),
        ("cutter", _cutter(box)),
        ("sled", _sled(box, numbers)),
        ("test joint", _test_joint(box, numbers)),
        ("boards", _boards(box, numbers)),
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


def _milling(box: Box) -> Iterator[Step]:
    units, thick = box.file.units, thicknesses(box.file)
    yield Step("Let the wood lie in the shop for a week or more, stickered.")
    yield Step(
        say(
            "Face, edge and plane the wood of all four sides and of the test pieces in one setting, while it is long, "
            "{thick} thick"
            + (", then that of the ends {ends} thick" if thick[LONGS] != thick[SHORTS] else "")
            + ". Callipers at both ends of each: the thickest and the thinnest differ by {spread} at most.",
            thick=thick[LONGS],
            ends=thick[SHORTS],
            spread=MOST_SPREAD,
        ),
        "cut",
        "thickness",
    )
    stay = "The sides stay in one length for now."
    if _of_two_woods(box):
        yield Step("Front and back come from one wood, the ends from another: the grain runs round no corner.")
        words = f"Crosscut {{count}} test pieces, each {{size}} long, half of them of each wood. {stay}"
    else:
        words = f"Crosscut {{count}} test pieces, each {{size}} long, from the same stick. {stay}"
    yield Step(say(words, count=str(trial_pieces()), size=TEST_PIECE.size(units)), "cut", "test pieces", heed=_SAWN)


def _of_two_woods(box: Box) -> bool:
    return len(set(woods_of_sides(box.file, Woods()))) > 1


_SAWN = (cautions.SAW,)


def _turning(box: Box) -> tuple[str, ...]:
    """Return the cautions of what cuts the joint: a bit in a collet, or a blade."""
    return (cautions.BLADE, cautions.SAW) if box.file.joint.machine == "table saw" else (cautions.JIG,)


def _cutter(box: Box) -> Iterator[Step]:
    looked_at = {
        "router table": "cutter tight in its collet and turned once by hand, fence clamped, guard on",
        "table saw": "blade tight on its arbor and turned once by hand, guard and riving knife as the manual says",
    }
    yield Step(looked_at[box.file.joint.machine], "set", "cutter", "power", _turning(box))
    words = "Cut a groove in scrap of this wood and measure it: {cutter}. Another reading goes into the box file first."
    yield Step(say(words, cutter=box.file.joint.cutter), "try", "cutter")


def _sled(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    yield Step(say("Key {key}, spacer {spacer}.", key=numbers.key, spacer=numbers.short_spacer), "set", "fingers")
    first = numbers.runs[0]
    yield Step(
        say(
            "Cutter {high} above the table, {deep} above the plate"
            + (" for the first run." if numbers.runs[1:] else "."),
            high=numbers.plate + first.depth,
            deep=first.depth,
        ),
        "set",
        "fingers",
        heed=_turning(box),
    )
    yield Step(
        say(
            "Gap {gap} with a gauge block; across cutter and key {over}. Clamp.", gap=numbers.gap, over=numbers.over_all
        ),
        "set",
        "fingers",
    )
    words = "gap {gap}, play on the key {slack}, face square to the key"
    yield Step(say(words, gap=numbers.gap, slack=numbers.slack), "set", "fingers", "power")


def _fed(box: Box, numbers: SledNumbers) -> tuple[str, ...]:
    """Return the cautions of cutting fingers; only a bit grabs boards that are cut in another order."""
    several = numbers.passes.count > 1 and box.file.joint.machine == "router table"
    return (cautions.FINGERS, *((cautions.SEVERAL_PASSES,) if several else ()))


def _test_joint(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    words = "Two test pieces in one stack, one on the key and one on the spacer. Put them together dry."
    yield Step(words, "try", "fingers", heed=_fed(box, numbers))
    yield Step(
        say(
            "Finger {finger}, socket {socket}, play {play}, proud {proud}: write them on the sheet of the test joint. "
            "Correct the setting; repeat the test joint until every reading passes.",
            finger=numbers.finger,
            socket=numbers.socket,
            play=numbers.clearance,
            proud=box.file.joint.proud,
        ),
        "measure",
        "fingers",
    )
    yield Step("test joint, every reading within its limits", "measure", "fingers", "cut")


def _boards(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    """Yield the cuts to size: they wait for the test joint, which says how wide, and come before the strip is short."""
    file = box.file
    more, over = planed_off(numbers, file.units), file.box.height - numbers.width
    if over <= READ_OUT:
        yield Step(say("Leave the wood {wide} wide: the joint takes all of it.", wide=file.box.height))
    elif over <= more:
        yield Step(say("Leave the wood {wide} wide: the rest is planed off the jointed boards.", wide=file.box.height))
    else:
        words = (
            "Rip the wood of the sides to {wide} while it is long, a push stick at its end: {more} is planed off when "
            "the joints are cut."
        )
        yield Step(say(words, wide=numbers.width + more, more=more), "cut", "width", heed=_SAWN)
    if box.stock:
        strip = "the strip" if len(box.stock.strips) == 1 else "each strip"
        yield Step(f"Draw the triangle over {strip}, number the corners, mark the bottom edge along all of it.")
    yield Step(
        say(
            "Crosscut each pair against one stop: front and back {long}, the ends {short}.",
            long=cut_length(file, file.box.length),
            short=cut_length(file, file.box.width),
        ),
        "cut",
        "length",
        heed=_SAWN,
    )


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
    words = f"Cut {numbers.positions} positions, pushed to the same face of the key. Mark the ends A in the clamp."
    yield Step(words, "cut", "fingers", heed=_fed(box, numbers))
    for run in numbers.runs[1:]:
        words = "Raise the cutter to {high} above the table and cut all positions again, the clamp still on."
        yield Step(say(words, high=numbers.plate + run.depth), "cut", "fingers")
    yield Step("Batch B: turn every board end for end, the bottom edge again to the key.")
    again = f" in {len(numbers.runs)} runs, the first at the first height again" if numbers.runs[1:] else ""
    words = f"Cut {numbers.positions} positions{again}. Mark the ends B in the clamp. Only ends of one batch are mates."
    yield Step(words, "cut", "fingers")
    if numbers.trims_the_top:
        yield Step(
            f"Check that position {numbers.positions} was cut in both batches: it trims the top fingers of the ends, "
            "or a fin above the top sockets of front and back holds the corners open."
        )
    yield from _to_width(box, numbers)


def _to_width(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    """What is left on the boards comes off by hand, once the joints show where they end."""
    if (over := box.file.box.height - numbers.width) > READ_OUT:
        words = (
            "Gauge {width} from the bottom edge of every board. Plane the top edges to the line by hand, {over} off, "
            "so that no strip is left above a top socket. No jointed board goes over the saw again."
        )
        over = min(over, planed_off(numbers, box.file.units))
        yield Step(say(words, width=numbers.width, over=over), "cut", "top edges", heed=(cautions.HAND_TOOLS,))


def _several_cuts(numbers: SledNumbers, asked: SledSettings) -> Iterator[Step]:
    if (cuts := numbers.passes.count) > 1:
        each = all_cuts(passes.cuts(numbers.passes, asked.machine, asked.key_side))
        yield Step(f"Make every socket in {cuts} cuts before the boards step on: {each}.")


def _one_by_one(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    """Boards that are not cut in one stack: each by itself, its backing board behind it, and no batches."""
    asked = asked_of(box.file)
    yield from _several_cuts(numbers, asked)
    yield Step(
        "Front, then back: bottom edge against the key, clamped with its backing board to the face. Cut "
        f"{numbers.positions} positions, pushed to the {asked.key_side}; then the same at its other end.",
        "cut",
        "fingers",
        heed=_fed(box, numbers),
    )
    yield Step(
        say(
            "Each end board the same way, but for the first position with the spacer {spacer} between key and board. "
            "Do not move the gap between boards.",
            spacer=numbers.short_spacer,
        ),
        "cut",
        "fingers",
    )
    for run in numbers.runs[1:]:
        words = "Raise the cutter to {high} above the table and cut all positions of every board again."
        yield Step(say(words, high=numbers.plate + run.depth), "cut", "fingers")
    yield from _to_width(box, numbers)
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
        ),
        "set",
        "groove",
    )
    for kind in made.stopped_kinds:
        stops = made.stops[MEMBERS[kind][0]]
        words = f"Stops for {kind}: {{left}} left and {{right}} right of the cutter's centre."
        words += " They need a fence {fence} long." if kind == made.stopped_kinds[0] else ""
        yield Step(say(words, left=stops.left, right=stops.right, fence=made.fence_length), "set", "groove")
    heed = (cautions.GROOVE if made.stopped else cautions.THROUGH_GROOVE,)
    clamped = "fence and stops clamped" if made.stopped else "fence clamped"
    words = f"{clamped}, bit tight in its collet and {{first}} high, guard on"
    yield Step(say(words, first=made.passes[0]), "set", "groove", "power", heed)
    yield _groove_trial(made)
    lies = "groove {low} above the edge of the scrap, {wide} wide, {first} deep"
    ends = ", {wood} of wood at each stopped end" if made.stopped else ""
    numbers = {"low": made.from_bottom, "wide": made.cutter, "first": made.passes[0], "wood": made.end_wood}
    yield Step(say(lies + ends, **numbers), "measure", "groove", "cut")
    passes = ", ".join(f"{{pass{i}}}" for i in range(len(made.passes)))
    heights = {f"pass{i}": height for i, height in enumerate(made.passes)}
    names = f"; stopped in {' and '.join(made.stopped)}" if made.stopped else "; through in all four"
    yield Step(
        say(f"Groove the inner faces, bottom edge to the fence, bit at {passes}{names}.", **heights), "cut", "groove"
    )


def _groove_trial(made: Groove) -> Step:
    """Return the trial of the groove: where it is stopped, in scrap as long as the boards, or the stops try nothing."""
    if not made.stopped:
        return Step("Try it in scrap and measure the groove.", "try", "groove")
    long = {kind: made.lengths[kind] for kind in made.stopped_kinds}
    words = " and ".join(f"{{long{i}}}" for i in range(len(long)))
    return Step(
        say(
            f"Plunge trial in scrap as long as the boards that are stopped, {words}: measure the groove.",
            **{f"long{i}": size for i, size in enumerate(long.values())},
        ),
        "try",
        "groove",
    )


def _bottom(box: Box) -> Iterator[Step]:
    made = box.bottom
    if made is None:
        return
    sums = made.sums
    yield Step("Put the four sides together dry, joints closed, bottom edges level.", "fit", "sides")
    yield Step(
        say(
            "Measure the inside at the grooves: A the longer way, drawn {along}, and B the other, drawn {across}. "
            "Measure D, the grooves where they are shallowest, drawn {deep}.",
            along=made.along,
            across=made.across,
            deep=made.groove.depth,
        ),
        "measure",
        "opening",
    )
    yield Step(
        say(
            f"Cut the bottom {_sum('A + 2 × D', sums.length, 'ends')} long, along the grain, by "
            f"{_sum('B + 2 × D', sums.width, 'sides')} wide, {{thick}} thick. As drawn that is {{long}} by {{wide}}.",
            long=made.length,
            wide=made.seasons.width,
            thick=made.thickness,
            ends=abs(sums.length),
            sides=abs(sums.width),
        ),
        "cut",
        "bottom",
        heed=_SAWN,
    )
    if made.has_rabbets:
        yield from _tongue(made)
    else:
        words = "Plane the bottom until it slides in the grooves by hand, {tongue}."
        yield Step(say(words, tongue=made.tongue), "cut", "tongue", heed=(cautions.HAND_TOOLS,))
    if made.groove.corner_size:
        yield Step(say("Clip its corners by {leg} at 45 degrees.", leg=made.groove.corner_size), "cut", "corners")


def _sum(words: str, less: float, field: str) -> str:
    """Return a sum with the field of what is taken off it or added; nothing where that is not even read out."""
    said = words if abs(less) < READ_OUT / 2 else f"{words} {'−' if less > 0 else '+'} {{{field}}}"
    return said.replace(" ", "\u00a0")


def _tongue(made: Bottom) -> Iterator[Step]:
    """Yield the rabbets of the bottom: tried in scrap, for a tongue that is too thin can't be mended."""
    moving, still = made.rabbet_widths
    deep, within = made.rabbet_depths[0], TONGUE_WITHIN.size(made.groove.units)
    words = "rabbets of the bottom: bit tight in its collet and {deep} high, {still} out of the fence, guard on"
    yield Step(say(words, deep=deep, still=still), "set", "tongue", "power", (cautions.RABBET,))
    words = (
        "Rabbet both faces of scrap planed with the bottom. Measure its tongue, and slide it along a groove of the box."
    )
    yield Step(words, "try", "tongue")
    least, most = made.tongue - within, min(made.groove.cutter, made.tongue + within)
    words = "tongue of the scrap from {least} to {most}, sliding in the groove by hand"
    yield Step(say(words, least=least, most=most), "measure", "tongue", "cut")
    sums = made.sums
    ends, sides = _sum("D", sums.rabbet_end_grain, "less"), _sum("D", sums.rabbet_long_grain, "less")
    words = f"Rabbets {{deep}} deep on both faces, end grain first: {ends} wide; as drawn {{still}}. "
    words += "The tongue is {tongue}."
    numbers = {"deep": deep, "still": still, "tongue": made.tongue, "less": abs(sums.rabbet_end_grain)}
    yield Step(say(words, **numbers), "cut", "tongue")
    words = f"Set the fence for the long grain and try it in scrap: the rabbet is {sides} wide; as drawn {{moving}}. "
    words += "Then rabbet both sides."
    yield Step(say(words, moving=moving, less=abs(sums.rabbet_long_grain)), "cut", "tongue")


def _carving(box: Box) -> Iterator[Step]:
    if made := box.shell:
        yield Step(say("Transfer the shell to the front, {wide} by {high}.", wide=made.width, high=made.height))
        words = "Carve: chips {deep} deep at most, {left} of wood stays."
        carved = say(words, deep=made.chip_depth, left=made.wood_left)
        yield Step(carved, "cut", "shell", heed=(cautions.CARVING,))


def _glue(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    file, made = box.file, box.finish
    yield Step(
        f"Dry fit{' with the bottom in' if box.bottom else ''}: corners by their numbers"
        f"{', 1 and 3 of A, 2 and 4 of B' if file.joint.method == 'one stack' else ''}.",
        "fit",
        "box",
    )
    more = "; and the bottom all over, its edges too" if box.bottom else ""
    words = f"Finish the inside of the sides, {{mask}} at each end masked{more}."
    yield Step(say(words, mask=numbers.cut_depth + 1.0), "finish", "inside")
    if made:
        yield Step(
            say(
                "{clamps} clamps, cauls hollowed {relief} over the fingers. Glue {glue} g, on the cheeks only.",
                glue=f"{made.glue:.1f}",
                clamps=str(made.clamps),
                relief=made.caul_relief,
            ),
            "join",
            "box",
        )
    within, length, width = SQUARE_WITHIN[file.units], file.box.length, file.box.width
    middle = box.diagonal
    lean = finishing.out_of_square(first=middle + within / 2, second=middle - within / 2, length=length, width=width)
    over = f" over the proud fingers of {box.at_the_rim}" if file.joint.proud else ""
    words = (
        f"Both diagonals at the rim{over} read {{diagonal}}, equal within {{within}}; so far apart the box leans by "
        f"{lean:.2f} degrees. Shift the clamps."
    )
    yield Step(say(words, within=within, diagonal=box.diagonal_glued), "join", "box")


def _flush(box: Box) -> Iterator[Step]:
    if proud := box.file.joint.proud:
        words = "Plane {proud} of end grain off every finger, from the ends inward."
        yield Step(say(words, proud=proud), "cut", "outside", heed=(cautions.HAND_TOOLS,))
    words = "Level the rim and the foot on a flat plate until the box no longer rocks."
    yield Step(words, "cut", "outside", heed=(cautions.HAND_TOOLS,))


def _lid(box: Box) -> Iterator[Step]:
    made = box.lid
    if made is None:
        return
    words = "Measure the opening: {long} by {wide} is drawn. Another reading shifts the rabbets by half the difference."
    yield Step(say(words, long=made.along, wide=made.across), "measure", "opening")
    words = (
        "Cut the lid to size, square: {long} along the grain by {wide}, planed to {thick}. Mark its reference edge and "
        "its inside face."
    )
    yield Step(say(words, long=made.length, wide=made.width, thick=made.thickness), "cut", "lid", heed=_SAWN)
    yield from _plug(made)
    words = "Ease the plug's edges and try the lid: clearance {gap} across the grain in all, {play} along it."
    yield Step(say(words, gap=made.plug.gap_now, play=made.play), "fit", "lid")
    if box.handle:
        yield _screw_holes(box.handle, made)
    if made.crown_radius:
        words = "Plane the crown to its template: {rise} high, radius {radius}, {edge} left at the edge."
        crown = say(words, rise=made.crown, radius=made.crown_radius, edge=made.edge)
        yield Step(crown, "cut", "crown", heed=(cautions.HAND_TOOLS,))
    if made.crown_radius and box.handle:
        wide = min(box.handle.thickness, made.width)
        words = "Plane a flat {wide} wide along the middle of the crown, {deep} deep: the handle's foot stands on it."
        deep = gap_under_foot(foot=wide, crown_radius=made.crown_radius)
        yield Step(say(words, wide=box.handle.thickness, deep=deep), "cut", "flat", heed=(cautions.HAND_TOOLS,))


def _plug(made: Lid) -> Iterator[Step]:
    """Yield the rabbets that leave the plug: the last cut waits until the plug, or a scrap, has been measured."""
    ends, sides = made.rabbets
    bit = RABBET_BIT.size(made.units)
    every = lid_trade.rabbet_settings(lid=made.width, plug_width=made.plug.width, cutter=bit)
    words = "rabbets of the lid: bit of {bit} tight in its collet, fence clamped, guard and featherboards on"
    yield Step(say(words, bit=bit), "set", "plug", "power", (cautions.RABBET,))
    deep = made.plug_depth
    if len(every) > 1:
        words = (
            "Try each setting in scrap. Rabbet the ends {ends} wide and {deep} deep, then the sides at all settings "
            "but the last."
        )
        yield Step(say(words, deep=deep, ends=ends), "cut", "shoulders")
        words = "Measure the plug across: {reads}. Where it differs, correct the last setting by half of that."
        yield Step(say(words, reads=every[-2].plug), "measure", "plug")
        words = "plug measured; for the last setting the bit stands {out} out of the fence, or as corrected"
        yield Step(say(words, out=every[-1].exposed), "measure", "plug", "cut")
    else:
        words = "Try each setting in scrap. Rabbet the ends {ends} wide and {deep} deep."
        yield Step(say(words, deep=deep, ends=ends), "cut", "shoulders")
        words = "Cut the setting of the sides in scrap first and measure the rabbet: {sides} wide."
        yield Step(say(words, sides=sides), "try", "plug")
        yield Step(say("rabbet {sides} wide in the scrap", sides=sides), "measure", "plug", "cut")
    words = "Rabbet both sides at the last setting: {sides} wide, the plug {plug} across."
    yield Step(say(words, sides=sides, plug=made.plug.width), "cut", "plug")


def _screw_holes(made: Handle, lid: Lid | None) -> Step:
    """Return the holes of the handle's screws, drilled while the top of a lid with a crown is flat."""
    screwed = handle_sheets.Screwed(made, handle_jig.screws_of(made, lid))
    if handle_jig.SCREWED.judge(screwed, []) is None:
        words = "Drill and sink the screw holes for screws that fit this handle: the usual ones do not."
        return Step(words, "cut", "screw holes", heed=(cautions.HAND_TOOLS,))
    flat = ", while its top is flat" if lid and lid.crown_radius else ""
    words = (
        f"Drill two screw holes of {{hole}} through the lid{flat}, {{apart}} apart, from above into a waste block. "
        "Sink their heads {sunk} deep from below."
    )
    screws = screwed.screws
    said = say(words, hole=screws.hole, apart=screwed.spacing, sunk=screws.countersink)
    return Step(said, "cut", "screw holes", heed=(cautions.HAND_TOOLS,))


def _handle(box: Box) -> Iterator[Step]:
    made = box.handle
    if made is None:
        return
    if box.lid is None:
        yield _screw_holes(made, None)
    holes, pilot = made.holes, "in" if made.pilot.stays else "out"
    words = "Blank {long} by {high} by {thick}; hole centres {aside} from the middle, {up} over the foot."
    yield Step(
        say(
            words,
            long=made.blank_length,
            high=made.blank_height,
            thick=made.thickness,
            aside=holes.centre_offset,
            up=made.hole_height,
        ),
        "cut",
        "blank",
        heed=(cautions.HAND_TOOLS,),
    )
    words = (
        f"hole saw in the drill press, pilot drill {pilot}, lowest speed; blank and waste block clamped down, clamps "
    )
    words += "{room} or more from a hole's centre"
    yield Step(say(words, room=made.clamp_room), "set", "holes", "power", (cautions.HOLE_SAW,))
    second = ", the pilot in its own hole for the second" if made.pilot.stays else ""
    words = f"Drill holes of {{saw}} in the untrimmed blank, half from each face{second}."
    yield Step(say(words, saw=2 * made.radius), "cut", "holes")
    words = "Trim to {long}, shape the crest, radius {radius}. Round every edge that a hand meets."
    yield Step(say(words, long=made.length, radius=holes.crest_radius), "cut", "handle", heed=(cautions.HAND_TOOLS,))
    words = "Stand the handle on the lid and mark its foot through the screw holes. Drill its pilot holes; screw it on."
    yield Step(words, "fit", "handle")
    yield Step("Take the handle off again: lid and handle are finished apart, and nothing is drilled after that.")


def _finish(box: Box, numbers: SledNumbers) -> Iterator[Step]:
    words = "Finish the outside and both faces of the lid alike." if box.lid else "Finish the outside."
    yield Step(f"{words} Lay oily rags flat outdoors or in water.", "finish", "lid" if box.lid else "outside")
    if box.handle:
        yield Step("Finish the handle all over.", "finish", "handle")
        words = "When the finish is hard, screw the handle on from inside the lid, the screws in the neck."
        yield Step(words, "join", "handle")
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
