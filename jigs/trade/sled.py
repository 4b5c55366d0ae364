"""Every number of the indexing sled, from finger, cutter and boards. Millimetres and degrees."""

from math import ceil, radians, sqrt, tan
from typing import Literal

from jigs.record import Record, replace
from jigs.trade import fingers, fit, passes
from jigs.trade.fingers import Span
from jigs.trade.limits import at_least, finite, positive, under
from jigs.trade.predict import Errors

Ends = Literal["rip", "keep", "centre"]
RunBoards = Literal["all boards", "front and back", "ends"]

GAP_WITHIN, CUTTER_WITHIN, SPACER_WITHIN = 0.05, 0.02, 0.05
"""mm: what a careful shop holds with callipers and blocks (common practice, no source)."""
SHIM_WITHIN = 0.02
"""mm: the same of a shim planed to a thickness (common practice, no source)."""
RIP_WITHIN = 0.1
"""mm: the same of a board ripped at the saw's fence (common practice, no source)."""
KEY_BELOW_CUT = 0.5
"""mm: the key stays this far below the cut, or the board rides on it (rule)."""
HEIGHT_WITHIN = 0.1
"""mm: how near a cutter's height is set with a block (common practice, no source)."""
DEEPEST_RUN = 2.1
"""A bit takes at most so many times its width in one run (common practice, no source: twice, or a hair over)."""
SQUARE_SHARE = 0.4
"""The share of the clearance that a carriage out of square may eat: 0.10 mm on 12 mm sides: 0.1 degree."""
LEAST_FENCE = 150.0
FENCE_SHARE = 0.6
"""The fence is as high as this share of the board's length, and at least 150 mm (common practice, no source)."""
NOTHING_LEFT = fingers.Leftover(0.0, 0.0, "long")


class Run(Record):
    """All positions cut at one height of the cutter, `depth` above the plate, by these boards of the stack."""

    depth: float
    boards: RunBoards


def errors(pass_count: int) -> Errors:
    """Return what a careful shop holds in a joint: with several passes a socket is as wrong as cutter and shim."""
    socket = CUTTER_WITHIN + (SHIM_WITHIN if pass_count > 1 else 0.0)
    return Errors(gap=GAP_WITHIN, socket=socket, spacer=SPACER_WITHIN, rip=RIP_WITHIN)


def runs(*, sides: float, ends: float, proud: float, cutter: float, blade: float | None) -> tuple[Run, ...]:
    """Return the runs that make the sockets, each deeper than the one before. Millimetres.

    A socket is as deep as the board that goes into it is thick, and `proud` more: front and back are cut for the ends,
    the ends for front and back. All boards share the lesser depth; where the two are further apart than a height can be
    set, the boards that get the thicker mates are then cut again by themselves, over the sockets they have. A bit
    takes at most `DEEPEST_RUN` times its width in a run, in equal steps; a blade (given by its diameter) takes all.
    Raises ValueError for lengths out of their domain.
    """
    positive(sides=sides, ends=ends, cutter=cutter)
    low, high = sorted((sides + proud, ends + proud))
    positive(cut_depth=low)
    if high - low <= HEIGHT_WITHIN:
        return tuple(Run(depth, "all boards") for depth in _steps(0.0, high, cutter, blade))
    deeper: RunBoards = "ends" if sides > ends else "front and back"
    return (
        *(Run(depth, "all boards") for depth in _steps(0.0, low, cutter, blade)),
        *(Run(depth, deeper) for depth in _steps(low, high, cutter, blade)),
    )


def _steps(done: float, depth: float, cutter: float, blade: float | None) -> tuple[float, ...]:
    count = 1 if blade else ceil((depth - done) / (DEEPEST_RUN * cutter) - fingers.TOUCH)
    return tuple(done + (depth - done) * step / count for step in range(1, count + 1))


class SledNumbers(Record):
    """The sled and the joint it cuts. Millimetres; `square_angle` in degrees.

    `finger` and `socket` are what comes out on the board; `gap` is how the key stands from the cutter for the far cut,
    which with one pass is the finger. `count` is of fingers and sockets together. `width` is the board as jointed;
    `rip_width` what so many need. `board_starter` is what longs butt: 0 unless the fingers are centred. What follows
    from other numbers by a formula of one line is a property.
    """

    finger: float
    socket: float
    clearance: float
    cutter: float
    passes: passes.Passes
    gap: float
    key: float
    spacer: float
    board_starter: float
    thickness: float
    runs: tuple[Run, ...]
    plate: float
    margin: float
    blade: float | None
    stack_thickness: float
    fence_height: float
    width: float
    count: int
    leftover: fingers.Leftover
    nearest_widths: tuple[tuple[int, float], ...]

    @property
    def pitch(self) -> float:
        """From one socket to the next."""
        return self.finger + self.socket

    @property
    def fit(self) -> fit.Fit:
        """How mates cut in one stack close."""
        return fit.one_stack(self.finger, self.socket, self.spacer)

    @property
    def slack(self) -> float:
        """Play of a socket of one cut on the key."""
        return self.cutter - self.key

    @property
    def short_spacer(self) -> float:
        """What shorts butt."""
        return self.spacer + self.board_starter

    @property
    def over_all(self) -> float:
        """Across key and cutter, with callipers: key + gap + cutter, which is key + pitch."""
        return self.key + self.pitch

    @property
    def key_to_centre(self) -> float:
        """From the key face that looks at the cutter to the cutter's centre."""
        return self.gap + self.cutter / 2

    @property
    def cut_depth(self) -> float:
        """The deepest cut above the plate."""
        return self.runs[-1].depth

    @property
    def key_height_limit(self) -> float:
        """What the key may stand above the plate: it stays under the first run's sockets."""
        return self.runs[0].depth - KEY_BELOW_CUT

    @property
    def projection(self) -> float:
        """Of the cutter above the table, through the plate."""
        return self.plate + self.cut_depth

    @property
    def rip_width(self) -> float:
        """The board that `count` fingers and sockets need."""
        return fingers.rip_width(self.count, self.finger, self.socket)

    @property
    def top_reach(self) -> float:
        """How far wood may stand above the meant top edge, counted from the joint: every pitch and the rip at their
        limits."""
        pitches = ceil(self.width / self.pitch)
        return RIP_WITHIN + pitches * (GAP_WITHIN + CUTTER_WITHIN)

    @property
    def positions(self) -> int:
        """How often the whole stack is seated and cut; each position takes `passes.count` cuts."""
        return fingers.positions(self.width, self.finger, self.socket, self.short_spacer, self.top_reach)

    @property
    def trims_the_top(self) -> bool:
        """Whether the last position makes no socket, but shortens the top fingers to what the mates leave."""
        return self.positions > max(len(self.long_sockets), len(self.short_sockets))

    @property
    def long_sockets(self) -> tuple[Span, ...]:
        """Sockets of front and back, from the reference edge."""
        return self._sockets(self.board_starter)

    @property
    def finger_count(self) -> int:
        """Fingers of front and back, which start with one; what else a kept board has at the top is not counted."""
        return self.count - self.count // 2

    @property
    def socket_count(self) -> int:
        """Their sockets, counted in the same way."""
        return self.count // 2

    @property
    def ends_unlike(self) -> bool:
        """Whether a kept board ends at the top in a strip of its own, and not in what ripping may be out by."""
        return max(self.leftover.nick, self.leftover.sliver) > RIP_WITHIN

    @property
    def short_sockets(self) -> tuple[Span, ...]:
        """Sockets of the ends, from the reference edge."""
        return self._sockets(self.short_spacer)

    def _sockets(self, offset: float) -> tuple[Span, ...]:
        """Return the sockets of a board. What a position takes of the play at the top edge is no socket."""
        cut = fingers.sockets(self.width, self.finger, self.socket, offset, self.positions)
        play = max(self.clearance, 0.0) / 2 + fingers.TOUCH
        return tuple(span for span in cut if span.width > play or span.end < self.width)

    @property
    def along(self) -> float:
        """How long the cutter is along the feed, at the face of the plate: a bit's width, or a chord of the blade."""
        return self.cutter if self.blade is None else blade_chord(self.blade, self.cut_depth)

    @property
    def slot(self) -> float:
        """How long the cutter is where it comes through the table."""
        return self.cutter if self.blade is None else blade_chord(self.blade, self.projection)

    @property
    def stroke(self) -> float:
        """How far the stack travels in a cut."""
        return self.stack_thickness + self.along + 2 * self.margin

    @property
    def key_length(self) -> float:
        """The key guides before and after the cutter: 2 (stack + half the cutter + margin)."""
        return 2 * (self.stack_thickness + self.along / 2 + self.margin)

    @property
    def plate_width(self) -> float:
        """Room for the boards on both sides of the key: 2 width + short spacer + 2 margin."""
        return 2 * self.width + self.short_spacer + 2 * self.margin

    @property
    def plate_length(self) -> float:
        """Key length + 2 margin."""
        return self.key_length + 2 * self.margin

    @property
    def square_angle(self) -> float:
        """How far the carriage may be out of square to the key, in degrees."""
        return fit.steepest_angle(self.clearance, self.thickness, self.thickness, SQUARE_SHARE)

    @property
    def square_in_100(self) -> float:
        """The same as a distance over 100 mm."""
        return 100 * tan(radians(self.square_angle))


class _Joint(Record):
    """What the cutter and the passes make of the finger asked for."""

    finger: float
    socket: float
    key_gap: float
    passes: passes.Passes


class _Boards(Record):
    """How the joint falls on the board."""

    width: float
    count: int
    starter: float
    leftover: fingers.Leftover


def blade_chord(diameter: float, height: float) -> float:
    """Return how long a saw blade is at a level `height` below its top: 2 sqrt(2 R h - h**2), from the circle.

    Raises ValueError for a height that is not above 0 and under half the diameter: the arbor is in the way.
    """
    positive(diameter=diameter, height=height)
    under(diameter / 2, height=height)
    return 2 * sqrt(diameter * height - height**2)


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
    ends_thickness: float | None = None,
    boards_in_stack: int = 4,
    backer: float | None = None,
    spacer: float | None = None,
    key: float | None = None,
    ends: Ends = "rip",
    count: int | None = None,
    pass_count: int | None = None,
    blade: float | None = None,
) -> SledNumbers:
    """Return every number of the sled for `finger` wide fingers made with a `cutter` measured in wood.

    One pass (a cutter near the finger): socket = cutter, finger = gap = cutter - clearance. Several: the
    finger stays, socket = finger + clearance, and for the far cut the key stands at pitch - cutter. The key
    is cutter - slack in both, unless `key` gives it (slack then follows); the spacer is (finger + socket)/2
    unless given. Across key and cutter the callipers read key + pitch: key + gap + cutter, with gap = pitch
    - cutter whichever way the socket is made.

    `ends`: "rip" the board to `count` fingers and sockets together (default: as many as fit), "keep" its full width, or
    "centre" what is left at both edges alike. `blade` is the diameter of a saw blade, None for a bit. The stack is
    boards_in_stack * the thicker boards + backer (one more board unless given); `ends_thickness` is given where the
    ends are not as thick as the sides.

    Raises ValueError for lengths out of their domain, a cutter wider than the socket, a clearance that
    leaves no finger, a `count` the board is too narrow for or a `pass_count` that cannot make the socket.
    Rules of good practice (a key as thick as the cutter, no clearance) are left to the caller.
    """
    lengths = {"finger": finger, "board": board, "thickness": thickness, "plate": plate, "board_length": board_length}
    _require(lengths | {"boards_in_stack": boards_in_stack}, cutter, clearance, slack if key is None else 0.0)
    finite(proud=proud, margin=margin)
    ends_thickness = thickness if ends_thickness is None else ends_thickness
    depths = runs(sides=thickness, ends=ends_thickness, proud=proud, cutter=cutter, blade=blade)
    thickness = max(thickness, ends_thickness)
    joint = _joint(finger, cutter, clearance, pass_count)
    spacer = fit.centred_spacer(joint.finger, joint.socket) if spacer is None else spacer
    key = cutter - slack if key is None else key
    positive(spacer=spacer, key=key)
    boards = _boards(board, joint, spacer, ends, count)
    return SledNumbers(
        finger=joint.finger,
        socket=joint.socket,
        clearance=clearance,
        cutter=cutter,
        passes=joint.passes,
        gap=joint.key_gap,
        key=key,
        spacer=spacer,
        board_starter=boards.starter,
        thickness=thickness,
        runs=depths,
        plate=plate,
        margin=margin,
        blade=blade,
        stack_thickness=boards_in_stack * thickness + (thickness if backer is None else backer),
        fence_height=max(LEAST_FENCE, FENCE_SHARE * board_length),
        width=boards.width,
        count=boards.count,
        leftover=boards.leftover,
        nearest_widths=fingers.nearest_widths(board, joint.finger, joint.socket),
    )


def as_cut(
    numbers: SledNumbers, finger: float, socket: float, board: float, ends: Ends, count: int | None = None
) -> SledNumbers:
    """Return the numbers of a sled whose joint comes out with another finger and socket than it was drawn for.

    The key stays; the cutter is as much wider as the socket, and the passes lie as they lay from the finger on. Raises
    ValueError for a `count` that the board does not hold, as `sled_numbers` does.
    """
    wider, further = socket - numbers.socket, finger - numbers.finger
    spacer = fit.centred_spacer(finger, socket)
    cuts = replace(numbers.passes, gaps=tuple(gap + further for gap in numbers.passes.gaps))
    boards = _boards(board, _Joint(finger, socket, numbers.gap + further, cuts), spacer, ends, count)
    return replace(
        numbers,
        finger=finger,
        socket=socket,
        clearance=socket - finger,
        cutter=numbers.cutter + wider,
        passes=cuts,
        gap=numbers.gap + further,
        spacer=spacer,
        board_starter=boards.starter,
        width=boards.width,
        count=boards.count,
        leftover=boards.leftover,
        nearest_widths=fingers.nearest_widths(board, finger, socket),
    )


def count_of(finger_count: int, *, ends: Ends, board: float, finger: float, socket: float) -> int:
    """Return how many fingers and sockets together make `finger_count` fingers on front and back, which start with one.

    As a rule they end with one too, 2 n - 1: then both edges are alike. As many sockets as fingers, 2 n, only follow
    from a board that is not ripped. One that is kept has what it holds, so n fingers are 2 n where it holds just that.
    One whose fingers are centred ends with a finger where that leaves none at the edges wider than the others, else
    with a socket. A board that is ripped has 2 n where nobody asks for a count and the largest that fits is even.

    Whether the board holds them is not asked here. Raises ValueError for fewer than 2 fingers.
    """
    at_least(2, finger_count=finger_count)
    odd = 2 * finger_count - 1
    if ends == "keep":
        return odd + (fingers.largest_count(board, finger, socket) == odd + 1)
    if ends == "centre":
        return odd + (fingers.end_part(board, odd - 2, finger, socket) > finger + fingers.TOUCH)
    return odd


def _require(lengths: dict[str, float], cutter: float, clearance: float, slack: float) -> None:
    """Raise ValueError for what no sled can be made of."""
    positive(**lengths, cutter=cutter)
    under(cutter, clearance=abs(clearance), slack=abs(slack))


def _joint(finger: float, cutter: float, clearance: float, pass_count: int | None) -> _Joint:
    if passes.one_pass_will_do(finger, cutter):
        if pass_count not in (None, 1):
            raise ValueError(
                f"pass_count is {pass_count}; the cutter {cutter:g} is so near the finger {finger:g} "
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
        raise ValueError(f"board is {board:g}; narrower than one finger of {joint.finger:g}")
    if count is None:
        count = most
    least = most if ends == "keep" else 1  # at full width the count is not a choice
    if not least <= count <= most:
        raise ValueError(f"count is {count}; a board of {board:g} with ends {ends!r} takes {least} to {most}")
    if ends == "keep":
        left = fingers.leftover(board, joint.finger, joint.socket, spacer)
        return _Boards(board, count, 0.0, left)
    return _Boards(fingers.rip_width(count, joint.finger, joint.socket), count, 0.0, NOTHING_LEFT)
