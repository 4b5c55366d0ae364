"""The carriage of the indexing sled: its pieces, the lower edge of its face, and a picture of it put together.

The axis across is that of the plate: the cutter's centre at 0, the key right (+) or left (-) of it. The maker stands
at the near side and feeds away from himself, so the cutter comes out of the carriage on his side: out of the stack,
the backing board and the slot in the face, into the tunnel between the feet with the exit block for a roof.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.base import drawing as draw
from jigs.base.lengths import Units, round_up
from jigs.base.wording import Words, say
from jigs.trade.sled import SledNumbers

SLOT_CLEAR = 3.0
"""The slot clears key and cutter by this much at least, to both sides and above, mm."""
BOARD = 18.0
"""Face, feet, braces and exit block are at least this thick (common practice, no source), mm."""
BRACE = 70.0
BRIDGE = 25.0
"""The exit block lies on each foot with this much of its length, mm."""
BEYOND_CUTTER = 20.0
"""The feet and the exit block go on so far beyond the furthest place of the cutter, mm."""
_ZONE = 20.0
"""What is drawn of the face to both sides of the slot where the page can't hold more, mm."""


@dataclass(frozen=True)
class Carriage:
    """Sizes of the carriage, mm, round in the reader's units; `slot_…` and `reach_…` from the cutter's centre."""

    units: Units
    hand: int
    slot_away: float
    slot_key: float
    slot_height: float
    reach_away: float
    reach_key: float
    height: float
    board: float
    foot_thick: float
    foot_deep: float
    brace: float

    @property
    def slot(self) -> float:
        """Width of the slot."""
        return self.slot_away + self.slot_key

    @property
    def long(self) -> float:
        """Length of the face."""
        return self.reach_away + self.reach_key

    @property
    def foot_away(self) -> float:
        """Length of the foot on the cutter's side of the slot: from the end of the face to the slot."""
        return self.reach_away - self.slot_away

    @property
    def foot_key(self) -> float:
        """Length of the foot on the key's side."""
        return self.reach_key - self.slot_key

    @property
    def exit_long(self) -> float:
        """Length of the exit block, across the slot."""
        return self.slot + 2 * round_up(BRIDGE, self.units)

    @property
    def key_side(self) -> str:
        """The side the key is on, as a word."""
        return "right" if self.hand > 0 else "left"

    @property
    def other_side(self) -> str:
        """The other side, as a word."""
        return "left" if self.hand > 0 else "right"


def carriage_of(n: SledNumbers, units: Units, hand: int, thickest_shim: float) -> Carriage:
    """Return the carriage for a sled: every size rounded up to what a rule can be set to."""
    room = SLOT_CLEAR + thickest_shim  # the face goes with the boards from cut to cut
    board = round_up(BOARD, units)
    slot_height = round_up(n.cut_depth + SLOT_CLEAR, units)
    out_behind = n.along + n.margin - board
    return Carriage(
        units=units,
        hand=hand,
        slot_away=round_up(n.cutter / 2 + room, units),
        slot_key=round_up(n.key_to_centre + n.key + room, units),
        slot_height=slot_height,
        reach_away=round_up(n.width + n.short_spacer - n.key_to_centre, units),
        reach_key=round_up(max(n.key_to_centre + n.width, n.key_to_centre + n.key + room + 2 * BRIDGE), units),
        height=round_up(n.fence_height, units),
        board=board,
        foot_thick=max(board, slot_height),
        foot_deep=round_up(max(BRACE, out_behind + BEYOND_CUTTER), units),
        brace=round_up(BRACE, units),
    )


def drawing(made: Carriage, n: SledNumbers, backer: float, cautions: tuple[str, ...]) -> draw.Drawing:
    """Return the sheet of the carriage. `backer` is the thickness of the backing board, mm."""
    body = (_together(made), _pieces(made, backer), _face(made), _square(made, n), _how(made), _brace(made))
    return draw.Drawing("carriage", "carriage", "the upright carriage the boards are clamped to", body, cautions)


# -- pieces --------------------------------------------------------------------------------------------------------


def _pieces(made: Carriage, backer: float) -> draw.Table:
    rows = (
        ("A", "face", "1", made.long, made.height, made.board),
        ("B", f"foot, {made.other_side}", "1", made.foot_away, made.foot_deep, made.foot_thick),
        ("C", f"foot, {made.key_side}", "1", made.foot_key, made.foot_deep, made.foot_thick),
        ("D", "brace", "2", made.brace, made.brace, made.board),
        ("E", "exit block", "1", made.exit_long, made.foot_deep, made.board),
        ("F", "backing board", "1", "as the boards", "as the boards", backer),
    )
    return draw.Table("pieces", "Pieces", ("", "Piece", "Count", "Long", "Wide", "Thick"), rows)


def _square(made: Carriage, n: SledNumbers) -> draw.Notes:
    """How square the face must be, over a length that is round in the reader's units."""
    over = square_over(made.units)
    if not n.clearance:
        words: Words = "There is no clearance to spend: the face must be as square to the key as you can make it."
    else:
        words = say(
            "The face stands square to the key and to the plate within {off} in {over} ({angle} degrees): that much "
            "takes {share} of the clearance of {clearance}. Test it with a try square against the key.",
            off=n.square_in_100 * over / 100,
            over=over,
            angle=f"{n.square_angle:.2f}",
            share="four tenths",
            clearance=n.clearance,
        )
    return draw.Notes("square", "Square to the key", (words,))


def square_over(units: Units) -> float:
    """Return the length squareness is said over, mm: 100 mm, or 4 in."""
    return 100.0 if units == "mm" else 4 * 25.4


def _how(made: Carriage) -> draw.Notes:
    return draw.Notes(
        "together",
        "Put together",
        (
            "Saw the slot into the lower edge of A. Glue and screw A to the ends of B and C, heads sunk into A, all "
            "lower edges level; each foot ends at the slot. So the slot runs on between the feet, from front to back.",
            say(
                "Lay E over the slot on both feet, against the back of A, and screw it down: {bridge} on each foot. It "
                "is the roof over the cutter where that comes out, on your side. One brace D stands on each foot, its "
                "legs on foot and A.",
                bridge=round_up(BRIDGE, made.units),
            ),
            "Only the key guides. As the carriage is fed, the key runs into the slot and through between the feet; it "
            "touches neither. A carriage with a guide of its own would fight the key.",
            "F is a waste board in the stack, last, next to A: it keeps the exit side whole. It butts the spacer like "
            "the ends, steps on and is turned with them. A new one for every stack.",
        ),
    )


# -- face ----------------------------------------------------------------------------------------------------------


def _face(made: Carriage) -> draw.View:
    """The lower edge of the face from the key's end to beyond the slot; less of it where the page is small."""
    title = say(
        "A, lower edge of the face, as you stand: slot {far} from its {side} end", far=made.foot_key, side=made.key_side
    )
    return replace(_face_view(made, title, made.reach_key), detail=_face_view(made, title, made.slot_key + _ZONE))


def _face_view(made: Carriage, title: Words, end: float) -> draw.View:
    """The face as far as `end` from the cutter's centre on the key's side."""
    at, high = made.hand, made.slot_height
    top = high + 16
    whole = end == made.reach_key
    far = made.slot_away + _ZONE
    outline = [(-at * far, 0.0), (-at * made.slot_away, 0.0), (-at * made.slot_away, high)]
    outline += [(at * made.slot_key, high), (at * made.slot_key, 0.0), (at * end, 0.0)]
    if whole:
        outline.append((at * end, top))
    ends = (-at * far,) if whole else (-at * far, at * end)
    breaks = draw.lines([draw.break_line(draw.Point(x, 0), draw.Point(x, top)) for x in ends], draw.Kind.NARROW)
    left, right = sorted((-at * made.slot_away, at * made.slot_key))
    slot = draw.Dimension(draw.Point(left, 0), draw.Point(right, 0), "below", "slot width")
    dimensions = [
        slot,
        draw.Dimension(draw.Point(0, 0), draw.Point(at * made.slot_key, 0), "below", "from centre"),
        draw.Dimension(
            draw.Point(-at * far, 0),
            draw.Point(-at * made.slot_away, high),
            "left" if at > 0 else "right",
            "slot height",
        ),
    ]
    if whole:
        dimensions.append(
            draw.Dimension(draw.Point(at * made.slot_key, 0), draw.Point(at * end, 0), "below", "to the end")
        )
    parts = (
        draw.Part("carriage-face", "Face, lower edge", draw.lines([draw.line(*outline)]) + breaks),
        draw.Part(
            "carriage-centre", "Cutter centre", (draw.Line(draw.line((0, -4), (0, high + 10)), draw.Kind.CENTRE),)
        ),
    )
    return draw.View("face", title, parts, tuple(dimensions), check=slot)


def _brace(made: Carriage) -> draw.View:
    leg, blunt = made.brace, round_up(12.0, made.units)
    shape = draw.polygon((0, 0), (leg, 0), (leg, blunt), (blunt, leg), (0, leg))
    part = draw.Part("carriage-brace", "Brace", draw.lines([shape]))
    across = draw.Dimension(draw.Point(0, 0), draw.Point(leg, 0), "below", "leg")
    up = draw.Dimension(draw.Point(0, 0), draw.Point(0, leg), "left")
    return draw.View("brace", "D, brace, make two", (part,), (across, up), check=across)


# -- picture -------------------------------------------------------------------------------------------------------


def _together(made: Carriage) -> draw.View:
    """The carriage put together, as you stand behind it and from its side. Sizes are the picture's own."""
    parts, labels = _from_behind(made.hand)
    more, side_labels = _from_the_side(40.0)
    return draw.View(
        "together",
        "The carriage as you stand, and from its left side",
        (*parts, *more),
        labels=(*labels, *side_labels),
        to_scale=False,
    )


def _piece(letter: str, title: str, *shapes: draw.Path) -> draw.Part:
    return draw.Part(f"together-{letter.lower()}", f"{letter}: {title}", draw.lines(shapes))


def _mirrored(hand: int, left: float, bottom: float, right: float, top: float) -> draw.Path:
    one, other = sorted((hand * left, hand * right))
    return draw.rectangle(one, bottom, other, top)


def _from_behind(hand: int) -> tuple[tuple[draw.Part, ...], tuple[draw.Label, ...]]:
    """Drawn for a key on the right; `hand` mirrors it."""
    key = _mirrored(hand, 5, 0, 8, 3.5)
    parts = (
        _piece("A", "face", _mirrored(hand, -30, 8, 30, 44)),
        _piece("B", "foot", _mirrored(hand, -30, 0, -6, 8)),
        _piece("C", "foot", _mirrored(hand, 11, 0, 30, 8)),
        _piece("D", "braces", _mirrored(hand, -25, 8, -21, 28), _mirrored(hand, 21, 8, 25, 28)),
        _piece("E", "exit block", _mirrored(hand, -12, 8, 17, 14)),
        draw.Part("together-key", "Key", draw.lines([key]), hatched=(key,)),
        draw.Part("together-cutter", "Cutter", (draw.Line(_mirrored(hand, -2, 0, 2, 6), draw.Kind.NEIGHBOUR),)),
        draw.Part("together-plate", "Plate", (draw.Line(draw.line((-34, 0), (34, 0))),)),
    )
    side, away = ("right", "left") if hand > 0 else ("left", "right")
    labels = (
        draw.Label("A", draw.Point(0, 34), leader=False, height=3.5),
        draw.Label("B", draw.Point(-hand * 18, 4), leader=False, height=3.5),
        draw.Label("C", draw.Point(hand * 21, 4), leader=False, height=3.5),
        draw.Label("D", draw.Point(-hand * 23, 24), towards=away),  # type: ignore[arg-type]  # one of the four sides
        draw.Label("D", draw.Point(hand * 23, 24), towards=side),  # type: ignore[arg-type]  # one of the four sides
        draw.Label("E", draw.Point(hand * 2.5, 11), leader=False, height=3.5),
        draw.Label("key", draw.Point(hand * 6.5, 1), towards="below"),
        draw.Label("cutter", draw.Point(0, 1), towards="below"),
    )
    return parts, labels


def _from_the_side(x: float) -> tuple[tuple[draw.Part, ...], tuple[draw.Label, ...]]:
    """The feed goes to the right: you stand at the left, the cutter is at the right."""
    brace = draw.polygon((x + 14, 8), (x + 14, 28), (x + 10, 28), (x, 12), (x, 8))
    stack = [draw.rectangle(x + 22 + 3 * i, 0.6, x + 25 + 3 * i, 52) for i in range(4)]
    parts = (
        draw.Part("side-a", "A: face", draw.lines([draw.rectangle(x + 14, 0, x + 19, 44)])),
        draw.Part("side-b", "B: foot", draw.lines([draw.rectangle(x, 0, x + 14, 8)])),
        draw.Part("side-d", "D: brace", draw.lines([brace])),
        draw.Part("side-e", "E: exit block", (draw.Line(draw.rectangle(x, 8, x + 14, 14), draw.Kind.HIDDEN),)),
        draw.Part("side-f", "F: backing board", draw.lines([draw.rectangle(x + 19, 0.6, x + 22, 52)])),
        draw.Part("side-boards", "Boards", draw.lines(stack, draw.Kind.NARROW)),
        draw.Part("side-cutter", "Cutter", (draw.Line(draw.rectangle(x + 41, 0, x + 45, 6), draw.Kind.NEIGHBOUR),)),
        draw.Part("side-plate", "Plate", (draw.Line(draw.line((x - 4, 0), (x + 50, 0))),)),
        draw.Part("side-feed", "Feed", arrows=((draw.Point(x + 37, 22), draw.Point(x + 49, 22)),)),
    )
    labels = (
        draw.Label("A", draw.Point(x + 16.5, 34), leader=False, height=3.5),
        draw.Label("B", draw.Point(x + 7, 4), leader=False, height=3.5),
        draw.Label("D", draw.Point(x + 11, 20), leader=False, height=3.5),
        draw.Label("E", draw.Point(x + 3, 11), towards="left"),
        draw.Label("F", draw.Point(x + 20.5, 47), towards="left"),
        draw.Label("boards", draw.Point(x + 29, 46), towards="right"),
        draw.Label("cutter", draw.Point(x + 43, 4), towards="above"),
        draw.Label("feed", draw.Point(x + 43, 22), towards="above"),
    )
    return parts, labels
