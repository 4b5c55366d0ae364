"""A test joint beside the sled it was cut on: whether it is that sled's, and whether its sheets still hold.

The cutter takes what it takes: a sled can be tuned to the clearance that is wanted, and fingers and sockets that are a
little wider or narrower than drawn add up across the board. Then another width is ripped, by another story stick.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Value
from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT, Problem, stop, warn
from jigs.base.settings import made_of
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint import part as joint_part
from jigs.parts.joint import sled as sled_jig
from jigs.parts.joint.rules import MOST_CLEARANCE
from jigs.parts.joint.settings import SledSettings, counted
from jigs.record import Record
from jigs.trade import fingers, passes
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers
from jigs.trade.tune import Readings, Tuning, Wanted, Widths, widths_expected

MOST_CHANGE = 1.0
"""A test joint that is further off than this was cut with other settings, or read wrongly, mm."""


class Drawn(Record):
    """A joint as its sheets have it. `error` is how wrong the cutter may have been measured, mm."""

    asked: SledSettings
    numbers: SledNumbers
    error: float
    in_box: bool

    @property
    def wanted(self) -> Wanted:
        """What the joint should be."""
        return Wanted(self.numbers.clearance, self.asked.proud, self.numbers.slack)

    @property
    def cutter_key(self) -> str:
        """What the cutter is called where it is to be changed."""
        return "joint.cutter" if self.in_box else "cutter"

    @property
    def board_key(self) -> str:
        """What the width of the board is called there."""
        return "box.height" if self.in_box else "board"


class Compared(Record):
    """What the joint that was read makes of the sheets. `numbers` are the sled's for the joint as it will be.

    They are those drawn where the sheets hold, and None where the readings don't tell or a problem stops it.
    """

    drawn: Drawn
    numbers: SledNumbers | None
    problems: tuple[Problem, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether rip-to width and story stick are as drawn, as far as the readings can tell."""
        return self.numbers is self.drawn.numbers

    @property
    def stick_out(self) -> float | None:
        """How far lines of the story stick are out, at most, mm."""
        if self.numbers is None:
            return None
        boards = zip(_lines(self.numbers), _lines(self.drawn.numbers), strict=True)
        pairs = [pair for lines, drawn in boards for pair in zip(lines, drawn, strict=False)]
        return max(abs(line - drawn) for line, drawn in pairs)


def of_box(file: BoxFile) -> Drawn:
    """Return the joint of a box file. Raises CannotBuild where a rule stops it."""
    found: list[Problem] = []
    numbers, meant = joint_part.joint(file, found)
    if numbers is None or meant is None:
        raise CannotBuild(found)
    return Drawn(joint_part.asked_of(file), numbers, meant.errors.socket, in_box=True)


def of_sled(chosen: Mapping[str, Value], units: Units) -> Drawn:
    """Return the joint of a sled by its settings, lengths in mm. Raises CannotBuild where a rule stops it."""
    asked = _asked(chosen, units)
    numbers, _ = sled_jig.work_out(asked)
    return Drawn(asked, numbers, sled_jig.meant(asked, numbers).errors.socket, in_box=False)


def compare(tuning: Tuning, readings: Readings, drawn: Drawn) -> Compared:
    """Put the joint as it will be, once it is tuned, beside the sheets it was cut by.

    They hold where the rip-to width, the sum of n fingers and sockets, differs by no more than n times what a reading
    may be out. How well the cutter was measured before does not count: the joint that was read has shown what it makes.
    """
    widths = widths_expected(tuning, readings)
    if other := [*_another_cutter(widths, readings, drawn)] or [*_another_joint(readings, drawn)]:
        return Compared(drawn, None, tuple(other))
    if widths is None:
        return Compared(drawn, None)
    count = drawn.numbers.count
    off = fingers.rip_width(count, widths.finger, widths.socket) - drawn.numbers.rip_width
    if abs(off) <= count * widths.error + fingers.TOUCH:
        return Compared(drawn, drawn.numbers)
    return _other_sheets(widths, readings, drawn)


def _other_sheets(widths: Widths, readings: Readings, drawn: Drawn) -> Compared:
    """Return the sled for a joint that is no longer the one drawn, or what stops it."""
    asked, count = drawn.asked, drawn.numbers.count
    needed = fingers.rip_width(count, widths.finger, widths.socket)
    if asked.layout == "rip" and needed > asked.board + fingers.TOUCH:
        return Compared(drawn, None, (_board_too_narrow(needed, widths, drawn),))
    kept = None if asked.layout == "keep" else count
    try:
        numbers = arithmetic.as_cut(drawn.numbers, widths.finger, widths.socket, asked.board, asked.layout, kept)
    except ValueError:
        return Compared(drawn, None, (_not_centred(widths, drawn),))
    return Compared(drawn, numbers, (_sheets_no_longer_hold(numbers, widths, readings, drawn),))


def _lines(numbers: SledNumbers) -> list[list[float]]:
    """Return the lines of the story stick, from the reference edge: of front, of end, and the boards' other edge."""
    both = (numbers.long_sockets, numbers.short_sockets)
    return [[edge for span in sockets for edge in (span.start, span.end)] for sockets in both] + [[numbers.width]]


# -- what is said --------------------------------------------------------------------------------------------------


def _another_joint(readings: Readings, drawn: Drawn) -> Iterator[Problem]:
    finger = drawn.numbers.finger
    if readings.finger is not None and abs(readings.finger - finger) > MOST_CHANGE:
        yield stop(
            "finger",
            "the finger reads {read:gauge}, and this file has fingers of {finger:gauge}: no more than {most:gauge} can "
            "be tuned",
            ("name the file of this joint", "measure the finger again"),
            finger=finger,
            read=readings.finger,
            most=MOST_CHANGE,
        )


def _another_cutter(widths: Widths | None, readings: Readings, drawn: Drawn) -> Iterator[Problem]:
    """Find a socket so wide or narrow that the cutter would be one for another finger."""
    if widths is None:
        return
    numbers = drawn.numbers
    apart = abs(widths.socket - numbers.socket)
    most = min(passes.ONE_PASS_LENGTH, passes.ONE_PASS_SHARE * numbers.finger)
    if apart <= most + widths.error + fingers.TOUCH:
        return
    works = _works_with(widths, drawn)
    keys = works and f". If it does make {{socket:gauge}}, put it in as {works} and draw the sheets again"
    yield stop(
        _where(readings),
        "the socket will be {socket:gauge}, and the cutter of this file makes {drawn:gauge}: {apart:gauge} apart, they "
        "are not of one cutter. {count} would need boards ripped to {width:gauge}, not {old:gauge}",
        "name the file of this joint, or measure the cutter again in scrap" + keys,
        socket=widths.socket,
        drawn=numbers.socket,
        apart=apart,
        count=counted(numbers.count),
        width=fingers.rip_width(numbers.count, widths.finger, widths.socket),
        old=numbers.rip_width,
    )


def _board_too_narrow(needed: float, widths: Widths, drawn: Drawn) -> Problem:
    numbers: dict[str, object] = {
        "socket": widths.socket,
        "finger": widths.finger,
        "count": counted(drawn.numbers.count),
        "needed": needed,
        "board": drawn.asked.board,
        "old": drawn.numbers.rip_width,
        "enough": needed + READ_OUT,
    }
    works = ["use a board of {enough} or more"] if _drawn_again(drawn, board=needed + READ_OUT) else []
    nearer = fingers.gap_that_fits(drawn.asked.board, drawn.numbers.count, widths.socket) - READ_OUT
    if nearer > 0 and widths.socket - nearer <= MOST_CLEARANCE:
        works.append("set the key nearer, for fingers of {nearer:gauge} and a clearance of {clearance:gauge}")
        numbers |= {"nearer": nearer, "clearance": widths.socket - nearer}
    fewer = _drawn_again(drawn, cutter=_cutter(widths, drawn), fingers=None)
    if fewer and fewer.count < drawn.numbers.count:
        works.append("rip to {narrower:gauge}, for {fewer}")
        numbers |= {"fewer": counted(fewer.count), "narrower": fewer.width}
    return stop(
        drawn.board_key,
        "the fingers will be {finger:gauge} and the sockets {socket:gauge} wide: {count} need boards ripped to "
        "{needed:gauge}, not {old:gauge}; the board is {board}",
        "measure the cutter again in scrap"
        + (f". If it does make the socket: {', or '.join(works)}; then draw the " if works else ", and draw the ")
        + "sheets and the story stick again",
        **numbers,
    )


def _not_centred(widths: Widths, drawn: Drawn) -> Problem:
    return stop(
        drawn.board_key,
        "the fingers will be {finger:gauge} and the sockets {socket:gauge} wide: {count} cannot be centred on a "
        "board of {board}",
        "measure the cutter again in scrap, and draw the sled again with what it makes",
        finger=widths.finger,
        socket=widths.socket,
        count=counted(drawn.numbers.count),
        board=drawn.asked.board,
    )


def _sheets_no_longer_hold(made: SledNumbers, widths: Widths, readings: Readings, drawn: Drawn) -> Problem:
    old = drawn.numbers
    numbers = {"finger": made.finger, "socket": made.socket, "drawn_finger": old.finger, "drawn_socket": old.socket}
    if abs(made.socket - old.socket) <= widths.error + drawn.error + fingers.TOUCH:
        return warn(
            "finger",
            "the fingers will be {finger:gauge} and the sockets {socket:gauge} wide; the sheets have "
            "{drawn_finger:gauge} and {drawn_socket:gauge}. Boards ripped and marked by the sheets will not fit",
            "measure both again; if they are right, rip after jointing, and mark no board by the story stick",
            **numbers,
        )
    works = _works_with(widths, drawn)
    keys = works and f"; put what it makes in as {works}, and draw the sheets and the story stick again"
    what = "the cutter" if old.passes.count == 1 else "the cutter and the shims"
    return warn(
        _where(readings),
        "the sockets are {socket:gauge} wide, and the sheets are drawn for {drawn_socket:gauge}: boards ripped and "
        "marked by the sheets will not fit",
        f"measure {what} again in scrap before you rip a board" + keys,
        **numbers,
    )


def _where(readings: Readings) -> str:
    return "finger" if readings.socket is None else "socket"


def _cutter(widths: Widths, drawn: Drawn) -> float:
    """Return the cutter that makes such a socket, in the passes that are drawn, mm."""
    return drawn.asked.cutter + widths.socket - drawn.numbers.socket


def _works_with(widths: Widths, drawn: Drawn) -> str:
    """Return the keys that take the cutter that was read to sheets in as many passes; "" where none would be drawn."""
    cutter = _cutter(widths, drawn)
    finger_key = drawn.cutter_key.replace("cutter", "finger")
    ways: tuple[tuple[dict[str, Value], str], ...] = (
        ({"cutter": cutter}, drawn.cutter_key),
        ({"cutter": cutter, "finger": cutter}, f"{finger_key} and {drawn.cutter_key}"),
    )
    for changed, keys in ways:
        made = _drawn_again(drawn, **changed)
        if made and made.passes.count == drawn.numbers.passes.count:
            return keys
    return ""


def _drawn_again(drawn: Drawn, **changed: Value) -> SledNumbers | None:
    """Return the sled with other settings, or None where it can't be built: what is suggested is tried first."""
    try:
        return sled_jig.work_out(_asked(vars(drawn.asked) | changed, "mm"))[0]
    except CannotBuild:
        return None


def _asked(chosen: Mapping[str, Value], units: Units) -> SledSettings:
    return made_of(SledSettings, find("sled").settings(chosen, units))
