"""Every number of the indexing sled, from finger, cutter and boards. Millimetres and degrees."""

from dataclasses import dataclass
from math import radians, tan
from typing import Literal

from jigs.trade import fingers, fit, passes
from jigs.trade.fingers import Span, require_finite, require_positive

Ends = Literal["rip", "keep", "centre"]

LEAST_STRIP = 0.3
"""mm: a strip thinner than this (or than the clearance) is not worth a step of the stack."""
KEY_BELOW_CUT = 0.5
"""mm: the key stays this far below the cut, or the board rides on it (rule)."""
SQUARE_SHARE = 0.4
"""The share of the clearance that a carriage out of square may eat: 0.10 mm on 12 mm sides: 0.1 degree."""
LEAST_FENCE = 150.0
FENCE_SHARE = 0.6
"""The fence is as high as this share of the board's length, and at least 150 mm (rule)."""
NOTHING_LEFT = fingers.Leftover(0.0, 0.0, "long")


@dataclass(frozen=True, slots=True)
class SledNumbers:
    """The sled and the joint it cuts. Millimetres; `square_angle` in degrees.

    `finger` and `socket` are what comes out on the board; `gap` is how the key stands from the cutter for
    the far cut, which with one pass is the finger. `width` is the board as jointed; `rip_width` what
    `count` parts need. `board_starter` and `short_spacer` are what longs and shorts butt: 0 and the spacer
    unless centred.
    """

    finger: float
    socket: float
    clearance: float
    pitch: float
    passes: passes.Passes
    fit: fit.Fit

    gap: float
    key: float
    slack: float
    spacer: float
    board_starter: float
    short_spacer: float
    over_all: float  # across key and cutter, with calipers
    key_to_centre: float

    cut_depth: float
    key_height_limit: float
    projection: float  # of the cutter above the table, through the plate

    width: float
    count: int
    rip_width: float
    steps: int  # seatings of the whole stack; each takes passes.count cuts
    long_sockets: tuple[Span, ...]
    short_sockets: tuple[Span, ...]
    leftover: fingers.Leftover
    nearest_widths: tuple[tuple[int, float], ...]

    stack_thickness: float
    stroke: float
    key_length: float
    plate_width: float
    plate_length: float
    fence_height: float
    square_angle: float
    square_in_100: float


@dataclass(frozen=True, slots=True)
class _Joint:
    """What the cutter and the passes make of the finger asked for."""

    finger: float
    socket: float
    key_gap: float
    passes: passes.Passes


@dataclass(frozen=True, slots=True)
class _Boards:
    """How the joint falls on the board."""

    width: float
    count: int
    starter: float
    leftover: fingers.Leftover


def sled_numbers(
    *,
    finger: float,
    cutter: float,
    clearance: float,
    slack: float,
    board: float,
    thickness: float,
    proud: float,
    plate: float,
    margin: float,
    board_length: float,
    boards_in_stack: int = 4,
    backer: float | None = None,
    spacer: float | None = None,
    key: float | None = None,
    ends: Ends = "rip",
    count: int | None = None,
    pass_count: int | None = None,
) -> SledNumbers:
    """Return every number of the sled for `finger` wide fingers made with a `cutter` measured in wood.

    One pass (a cutter near the finger): socket = cutter, finger = gap = cutter - clearance. Several: the
    finger stays, socket = finger + clearance, and for the far cut the key stands at pitch - cutter. The key
    is cutter - slack in both, unless `key` gives it (slack then follows); the spacer is (finger + socket)/2
    unless given. Across key and cutter the calipers read key + pitch: key + gap + cutter, with gap = pitch
    - cutter whichever way the socket is made.

    `ends`: "rip" the board to `count` parts (default: as many as fit), "keep" its full width, or "centre"
    equal end parts. Lengths of the sled, with stack = boards_in_stack * thickness + backer: stroke = stack
    + cutter + 2 margin; key = 2 (stack + cutter/2 + margin), for it must guide before and after the cutter;
    plate width = 2 width + short spacer + 2 margin; plate length = key length + 2 margin.

    Raises ValueError for lengths out of their domain, a cutter wider than the socket, a clearance that
    leaves no finger, a `count` the board is too narrow for or a `pass_count` that cannot make the socket.
    Rules of good practice (a key as thick as the cutter, no clearance) are left to the caller.
    """
    require_positive(finger=finger, cutter=cutter, board=board, thickness=thickness, plate=plate)
    require_positive(board_length=board_length, boards_in_stack=boards_in_stack)
    require_finite(proud=proud, margin=margin)
    for name, value in (("clearance", clearance), ("slack", slack)):
        if not abs(value) < cutter:
            raise ValueError(f"{name} {value:g}: must be smaller than the cutter {cutter:g}")
    joint = _joint(finger, cutter, clearance, pass_count)
    spacer = fit.centred_spacer(joint.finger, joint.socket) if spacer is None else spacer
    key = cutter - slack if key is None else key
    require_positive(spacer=spacer, key=key)
    boards = _boards(board, joint, spacer, ends, count)
    width, short_spacer, pitch = boards.width, spacer + boards.starter, joint.finger + joint.socket
    steps = fingers.pass_count(width, joint.finger, joint.socket, short_spacer, max(LEAST_STRIP, clearance))
    cut_depth = thickness + proud
    stack = boards_in_stack * thickness + (thickness if backer is None else backer)
    key_length = 2 * (stack + cutter / 2 + margin)
    square_angle = fit.steepest_angle(clearance, thickness, thickness, SQUARE_SHARE)
    return SledNumbers(
        finger=joint.finger,
        socket=joint.socket,
        clearance=clearance,
        pitch=pitch,
        passes=joint.passes,
        fit=fit.one_stack(joint.finger, joint.socket, spacer),
        gap=joint.key_gap,
        key=key,
        slack=cutter - key,
        spacer=spacer,
        board_starter=boards.starter,
        short_spacer=short_spacer,
        over_all=key + pitch,
        key_to_centre=joint.key_gap + cutter / 2,
        cut_depth=cut_depth,
        key_height_limit=cut_depth - KEY_BELOW_CUT,
        projection=plate + cut_depth,
        width=width,
        count=boards.count,
        rip_width=fingers.rip_width(boards.count, joint.finger, joint.socket),
        steps=steps,
        long_sockets=fingers.sockets(width, joint.finger, joint.socket, boards.starter, steps),
        short_sockets=fingers.sockets(width, joint.finger, joint.socket, short_spacer, steps),
        leftover=boards.leftover,
        nearest_widths=fingers.nearest_widths(board, joint.finger, joint.socket),
        stack_thickness=stack,
        stroke=stack + cutter + 2 * margin,
        key_length=key_length,
        plate_width=2 * width + short_spacer + 2 * margin,
        plate_length=key_length + 2 * margin,
        fence_height=max(LEAST_FENCE, FENCE_SHARE * board_length),
        square_angle=square_angle,
        square_in_100=100 * tan(radians(square_angle)),
    )


def _joint(finger: float, cutter: float, clearance: float, pass_count: int | None) -> _Joint:
    if passes.one_pass_will_do(finger, cutter):
        if pass_count not in (None, 1):
            raise ValueError(
                f"pass_count {pass_count}: the cutter {cutter:g} is so near the finger {finger:g} "
                "that 1 pass makes the socket"
            )
        finger, socket = cutter - clearance, cutter
    else:
        socket = finger + clearance  # plan() refuses one that the cutter does not fit
    cuts = passes.plan(socket, cutter, finger, count=pass_count)
    return _Joint(finger, socket, finger + (socket - cutter), cuts)


def _boards(board: float, joint: _Joint, spacer: float, ends: Ends, count: int | None) -> _Boards:
    if ends == "centre":
        interior = None if count is None else count - 2
        layout = fingers.centred(board, joint.finger, joint.socket, spacer, interior)
        return _Boards(board, layout.interior_count + 2, layout.starter, NOTHING_LEFT)
    most = fingers.largest_count(board, joint.finger, joint.socket)
    if most == 0:
        raise ValueError(f"board {board:g}: narrower than one finger of {joint.finger:g}")
    if count is None:
        count = most
    least = most if ends == "keep" else 1  # at full width the count is not a choice
    if not least <= count <= most:
        raise ValueError(f"count {count}: a board of {board:g} with ends {ends!r} takes {least} to {most} parts")
    if ends == "keep":
        left = fingers.leftover(board, joint.finger, joint.socket, spacer)
        return _Boards(board, count, 0.0, left)
    return _Boards(fingers.rip_width(count, joint.finger, joint.socket), count, 0.0, NOTHING_LEFT)
