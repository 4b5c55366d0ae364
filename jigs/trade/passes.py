"""Several passes: a socket wider than the cutter, and what goes wrong with it.

Gaps are measured from the key face to the near side of the cutter, and listed near to far. Formulas hold in
any one unit unless a default is given in millimetres.
"""

import math
from typing import Literal

from jigs.record import Record
from jigs.trade.fingers import TOUCH
from jigs.trade.limits import at_least, not_negative, positive, under

Machine = Literal["router table", "table saw"]
KeySide = Literal["right", "left"]

ONE_PASS_LENGTH = 0.5
"""mm: a cutter nearer to the finger than this makes the socket in one pass."""
ONE_PASS_SHARE = 0.05
"""... and nearer than this share of the finger, which decides below fingers of 10 mm."""


class Passes(Record):
    """The cuts that make one socket: `gaps` from the key face to the cutter's near side, near to far.

    `shift` is the step between them and `overlap` what neighbours share; both are 0 for a single pass.
    """

    count: int
    shift: float
    overlap: float
    gaps: tuple[float, ...]


def one_pass_will_do(finger: float, cutter: float) -> bool:
    """Say whether the cutter is near enough to the finger (mm) to make the socket in one pass.

    |cutter - finger| at most 0.5 mm and at most 5 % of the finger; the finger then becomes cutter -
    clearance.
    """
    positive(finger=finger, cutter=cutter)
    return abs(cutter - finger) <= min(ONE_PASS_LENGTH, ONE_PASS_SHARE * finger) + TOUCH


def plan(socket: float, cutter: float, gap: float, least_overlap: float = 0.2, count: int | None = None) -> Passes:
    """Return the passes that widen a `cutter` to a `socket` beginning `gap` from the key face.

    With n passes evenly spread the shift is (socket - cutter)/(n - 1) and the overlap cutter - shift. n is
    the smallest that covers the socket and overlaps by at least `least_overlap` (default in mm). A `count`
    given is kept, even if its overlap is thinner than that. Raises ValueError for a cutter wider than the
    socket, a least overlap as wide as the cutter, or a `count` that cannot cover the socket.
    """
    positive(socket=socket, cutter=cutter, gap=gap)
    if cutter > socket + TOUCH:
        raise ValueError(f"cutter is {cutter:g}; wider than the socket {socket:g} it should make")
    not_negative(least_overlap=least_overlap)
    under(cutter, least_overlap=least_overlap)
    if count is None:
        count = _least_count(socket, cutter, least_overlap)
    elif count * cutter < socket - TOUCH:
        needed = math.ceil((socket - TOUCH) / cutter)
        raise ValueError(
            f"count is {count}; {count} x {cutter:g} = {count * cutter:g} does not cover the socket {socket:g}; "
            f"at least {needed} passes are needed"
        )
    if count == 1:
        return Passes(1, 0.0, 0.0, (gap,))
    shift = (socket - cutter) / (count - 1)
    return Passes(count, shift, cutter - shift, tuple(gap + step * shift for step in range(count)))


def ear_height(cutter: float, bevel_degrees: float) -> float:
    """Return how high the ears stand that alternate-bevel teeth leave on a socket floor.

    Each tooth cuts level at its point and rises by tan(bevel) over half the kerf: cutter/2 * tan(bevel).
    """
    positive(cutter=cutter)
    not_negative(bevel_degrees=bevel_degrees)
    under(90, bevel_degrees=bevel_degrees)
    return cutter / 2 * math.tan(math.radians(bevel_degrees))


def cutting_order(count: int, machine: Machine, key_side: KeySide) -> tuple[int, ...]:
    """Return the order of the passes, as places in `Passes.gaps`, so that none climbs.

    After the first pass a bit has fresh wood on one side only. Seen from above a table-mounted bit turns
    anticlockwise: with the wood fed away from the operator its left edge cuts against the feed, its right
    edge with it (climbs). So the fresh wood must lie left: with the key on the right, near to far runs
    leftwards and comes in that order; with the key on the left it is far to near. A saw blade has no side
    that climbs, either order will do and near to far is returned. Raises ValueError for a count under 1.
    """
    at_least(1, count=count)
    near_to_far = tuple(range(count))
    return near_to_far[::-1] if machine == "router table" and key_side == "left" else near_to_far


class Cut(Record):
    """One pass at a socket, in the order of cutting: `turn` counts from 1.

    `gap` is from the wood, pushed home, to the cutter's near side. The shims are all alike and as thick as the passes'
    shift: so many lie between key and wood, on the side of the cutter, and so many on the key's `far` side, where they
    fill the socket.
    """

    turn: int
    gap: float
    shims: int
    far: int


def cuts(made: Passes, machine: Machine, key_side: KeySide) -> tuple[Cut, ...]:
    """Return the cuts of a socket in the order in which none climbs, each with its shims.

    The key stands for the far cut; a cut that comes nearer has one shim more between key and wood for every shift.
    """
    last = made.count - 1
    order = cutting_order(made.count, machine, key_side)
    return tuple(Cut(turn, made.gaps[place], last - place, place) for turn, place in enumerate(order, start=1))


def copied_widths(first: float, cutter: float, key: float, steps: int) -> tuple[float, ...]:
    """Return the sockets that come of indexing off both faces of the key: each is wider by cutter - key.

    Pushed one way the cut leaves the key's near face, pushed the other way its far face; the second cut
    ends cutter - key further from the first than the last socket was wide. The trap of the self-copying
    width.
    """
    positive(first=first, cutter=cutter, key=key)
    return tuple(first + step * (cutter - key) for step in range(steps))


def _least_count(socket: float, cutter: float, least_overlap: float) -> int:
    """Solve cutter - (socket - cutter)/(n - 1) >= least_overlap for the smallest whole n."""
    if socket <= cutter + TOUCH:
        return 1
    return 1 + math.ceil((socket - cutter) / (cutter - least_overlap) - TOUCH)
