"""The steps of the joint in the order of work of a box: cutter, sled, test joint, boards, fingers. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import cautions
from jigs.base.rules import READ_OUT
from jigs.base.wording import say
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.made import all_cuts, planed_off
from jigs.parts.joint.part import asked_of, cut_length
from jigs.parts.joint.settings import SledSettings
from jigs.parts.part import BY_HAND, SAWN, Step, held, step
from jigs.trade import passes
from jigs.trade.sled import SledNumbers

SIGNED = {"cutter set": "Cutter set", "fingers set": "Gap set", "fingers tried": "Test joint"}
"""What is signed at the holds, by their names."""


def _turning(file: BoxFile) -> tuple[str, ...]:
    """Return the cautions of what cuts the joint: a bit in a collet, or a blade."""
    return (cautions.BLADE, cautions.SAW) if file.joint.machine == "table saw" else (cautions.JIG,)


def cutter(file: BoxFile) -> Iterator[Step]:
    """Yield how the cutter is set and measured."""
    looked_at = {
        "router table": "cutter tight in its collet and turned once by hand, fence clamped, guard on",
        "table saw": "blade tight on its arbor and turned once by hand, guard and riving knife as the manual says",
    }
    yield held("power", "cutter", looked_at[file.joint.machine], _turning(file))
    words = (
        "Cut a groove in scrap of this wood. It must read {cutter:gauge}: put another reading into the box file first."
    )
    yield step("try", "cutter", words, cutter=file.joint.cutter)


def sled(file: BoxFile, numbers: SledNumbers) -> Iterator[Step]:
    """Yield how the sled is set."""
    yield step(
        "set", "fingers", "Key {key:gauge}, spacer {spacer:gauge}.", key=numbers.key, spacer=numbers.short_spacer
    )
    first, several = numbers.runs[0].depth, " for the first run" if numbers.runs[1:] else ""
    words = f"Cutter {{high:gauge}} above the table, {{deep:gauge}} above the plate{several}."
    yield step("set", "fingers", words, _turning(file), high=numbers.plate + first, deep=first)
    words = "Gap {gap:gauge} with a gauge block; across key and cutter {over:gauge}. Clamp."
    yield step("set", "fingers", words, gap=numbers.gap, over=numbers.over_all)
    words = "gap {gap:gauge}, play on the key {slack:gauge}, upright square to the key"
    yield held("power", "fingers", words, gap=numbers.gap, slack=numbers.slack)


def _fed(file: BoxFile, numbers: SledNumbers) -> tuple[str, ...]:
    """Return the cautions of cutting fingers; only a bit grabs boards that are cut in another order."""
    several = numbers.passes.count > 1 and file.joint.machine == "router table"
    return (cautions.FINGERS, *((cautions.SEVERAL_PASSES,) if several else ()))


def trial(file: BoxFile, numbers: SledNumbers) -> Iterator[Step]:
    """Yield the test joint, up to the hold that ends it."""
    words = "Two test pieces in one stack, one on the key and one on the spacer. Put them together dry."
    yield step("try", "fingers", words, _fed(file, numbers))
    words = (
        "Finger {finger:gauge}, socket {socket:gauge}, clearance {clearance:gauge}, proud {proud:gauge}: write them on "
        "the sheet of the test joint. Correct the setting; repeat the test joint until every reading passes."
    )
    sizes = {
        "finger": numbers.finger,
        "socket": numbers.socket,
        "clearance": numbers.clearance,
        "proud": file.joint.proud,
    }
    yield step("measure", "fingers", words, **sizes)
    yield held("cut", "fingers", "test joint, every reading within its limits")


def boards(file: BoxFile, numbers: SledNumbers, strips: int) -> Iterator[Step]:
    """Yield the cuts to size: they wait for the test joint, which says how wide, and come before the strip is short.

    `strips` are those that the sides are sawn from, 0 where that is not planned.
    """
    more, over = planed_off(numbers, file.units), file.box.height - numbers.width
    if over <= READ_OUT:
        yield Step(say("Leave the wood {wide} wide: the joint takes all of it.", wide=file.box.height))
    elif over <= more:
        yield Step(say("Leave the wood {wide} wide: the rest is planed off the jointed boards.", wide=file.box.height))
    else:
        words = (
            "Rip the wood of the sides to {wide:gauge} while it is long, a push stick at its end: {more:cut} is planed "
            "off when the joints are cut."
        )
        yield step("cut", "width", words, SAWN, wide=numbers.width + more, more=more)
    if strips:
        strip = "the strip" if strips == 1 else "each strip"
        yield Step(f"Draw the triangle over {strip}, number the corners, mark the bottom edge along all of it.")
    words = "Crosscut each pair against one stop: front and back {long:cut}, the ends {short:cut}."
    long, short = cut_length(file, file.box.length), cut_length(file, file.box.width)
    yield step("cut", "length", words, SAWN, long=long, short=short)


def fingers(file: BoxFile, numbers: SledNumbers) -> Iterator[Step]:
    """Yield how the boards are cut: in one stack, turned between its batches, or one by one."""
    asked = asked_of(file)
    if asked.method != "one stack":
        yield from _one_by_one(file, numbers, asked)
        return
    words = "Batch A: stack front, back, spacer {spacer:gauge}, ends and backing board as the table says, bottom edges "
    yield step("prepare", "", words + "to the key. Clamp.", spacer=numbers.short_spacer)
    yield from _several_cuts(numbers, asked)
    words = f"Cut {numbers.positions} positions, pushed to the same face of the key. Mark the ends A in the clamp."
    yield step("cut", "fingers", words, _fed(file, numbers))
    yield from _deeper(numbers, "cut all positions again, the clamp still on")
    yield Step("Batch B: turn every board end for end, the bottom edge again to the key.")
    again = f" in {len(numbers.runs)} runs, the first at the first height again" if numbers.runs[1:] else ""
    words = f"Cut {numbers.positions} positions{again}. Mark the ends B in the clamp. Only ends of one batch are mates."
    yield step("cut", "fingers", words)
    if numbers.trims_the_top:
        yield Step(
            f"Check that position {numbers.positions} was cut in both batches: it trims the top fingers of the ends, "
            "or a fin above the top sockets of front and back holds the corners open."
        )
    yield from _to_width(file, numbers)


def _to_width(file: BoxFile, numbers: SledNumbers) -> Iterator[Step]:
    """What is left on the boards comes off by hand, once the joints show where they end."""
    if (over := file.box.height - numbers.width) > READ_OUT:
        words = (
            "Gauge {width:gauge} from the bottom edge of every board. Plane the top edges to the line by hand, "
            "{over:cut} off, so that no strip is left above a top socket. No jointed board goes over the saw again."
        )
        over = min(over, planed_off(numbers, file.units))
        yield step("cut", "top edges", words, BY_HAND, width=numbers.width, over=over)


def _several_cuts(numbers: SledNumbers, asked: SledSettings) -> Iterator[Step]:
    if (cuts := numbers.passes.count) > 1:
        each = all_cuts(passes.cuts(numbers.passes, asked.machine, asked.key_side))
        yield Step(f"Make every socket in {cuts} cuts before the boards step on: {each}.")


def _deeper(numbers: SledNumbers, then: str) -> Iterator[Step]:
    for run in numbers.runs[1:]:
        words = f"Raise the cutter to {{high:gauge}} above the table and {then}."
        yield step("cut", "fingers", words, high=numbers.plate + run.depth)


def _one_by_one(file: BoxFile, numbers: SledNumbers, asked: SledSettings) -> Iterator[Step]:
    """Boards that are not cut in one stack: each by itself, its backing board behind it, and no batches."""
    yield from _several_cuts(numbers, asked)
    words = (
        "Front, then back: bottom edge against the key, clamped with its backing board to the upright. Cut "
        f"{numbers.positions} positions, pushed to the {asked.key_side}; then the same at its other end."
    )
    yield step("cut", "fingers", words, _fed(file, numbers))
    words = (
        "Each end board the same way, but for the first position with the spacer {spacer:gauge} between key and board. "
        "Do not move the gap between boards."
    )
    yield step("cut", "fingers", words, spacer=numbers.short_spacer)
    yield from _deeper(numbers, "cut all positions of every board again")
    yield from _to_width(file, numbers)
    yield Step("Put every corner together dry and number it. A corner that is tight: try the other end board.")
