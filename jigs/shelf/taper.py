"""A taper sled: carries a board past the saw at an angle, so that its edge comes off in a taper."""

from __future__ import annotations

from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import (
    Beside,
    Card,
    Caution,
    Check,
    Checks,
    Hold,
    Order,
    Pictures,
    Setting,
    Settings,
    Sheets,
    Template,
)
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import danger, stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, say
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.things import plan, section
from jigs.trade.circles import taper_angle
from jigs.trade.fingers import TOUCH

EXTRA = 40.0
"""Sled beyond the board at each end, mm."""
FENCE = 25.0
WITHIN = 0.2
"""How near the board's widths are set, by a rule (common practice, no source), mm."""
STEEP = 15.0
"""A steeper taper is sawn by hand or on a band saw (common practice, no source), degrees."""
PLATE, KERF = 12.0, 3.2
"""Thickness of the sled and width of the saw's cut in pictures, mm."""
ABOVE = 6.0
"""How far a blade stands out of the wood in pictures, mm."""
LONGEST = 520.0
"""A longer board is drawn shorter in pictures, mm."""
GRIP = 125.0
"""From the blade to the middle of the grip in pictures, mm."""
SHOWN = 150.0
"""How much of a taper is drawn at full size where a page can't hold the sled, mm."""
CAUTIONS = (
    Caution("Blade", "Keep guard and riving knife on. Use a sharp, flat, tight blade."),
    Caution("Hands", "Hold the grip only, well away from the line of the blade."),
    Caution("Throw", "Clamp the board to the sled. A loose board is thrown at you."),
    Caution("Return", "Power off first: a turning blade throws a sled drawn back."),
    Caution("Offcut", "Leave it where it lies until the blade stands still."),
)


@jig("taper", title="Taper sled", summary="saws tapers on legs and lids")
def taper(
    *,
    wide: Annotated[float, Length("width at the wide end", 8, 400)],
    narrow: Annotated[float, Length("width at the narrow end", 4, 400)],
    length: Annotated[float, Length("length of the taper", 30, 2000)],
    thickness: Annotated[float, Length("thickness of the board", 4, 80)] = Usual(20, 3 / 4).default,
) -> Plan:
    """The sled at full size with its fence at the taper's angle, and the two offsets that set it.

    Example: --wide 40 --narrow 25 --length 400

    Sources: The angle is that of a right triangle: `jigs/trade/circles.py`. The steepest for a sled: common
    practice, no source.
    """
    found = []
    if narrow >= wide - TOUCH:
        said = "a narrow end of {narrow} is no narrower than the wide end of {wide}"
        numbers = {"wide": wide, "narrow": narrow, "most": at_most(wide), "least": at_least(narrow, "wide")}
        ways = ("make the narrow end {most} or less", "make the wide end {least} or more")
        found.append(stop("narrow", said, ways, **numbers))
    refuse(found)
    angle = taper_angle(wide=wide, narrow=narrow, length=length)
    if angle > STEEP:
        said = "the blade may lift the board from the sled, because a taper of {angle}° is steeper than {steep}°"
        found.append(danger("narrow", said, "use a band saw or a plane", angle=f"{angle:.1f}", steep=f"{STEEP:g}"))
    title = say("Taper, {wide:cut} to {narrow:cut} over {length:cut}", wide=wide, narrow=narrow, length=length)
    numbers_out = {"angle": angle, "offset": wide - narrow, "in_100": 100 * (wide - narrow) / length}
    return Plan(title, numbers_out, _sheets(_Sled(wide, narrow, length, thickness, angle)), tuple(found))


class _Sled(Record):
    """A taper as it is sawn: sizes in mm, its angle in degrees."""

    wide: float
    narrow: float
    length: float
    thickness: float
    angle: float

    def fence(self, at: float, length: float = 0.0) -> float:
        """Return where the fence stands, the blade at 0, so far from the wide end of a taper so long."""
        return -(self.wide - (self.wide - self.narrow) / (length or self.length) * at)


def _sheets(made: _Sled) -> Sheets:
    whole = _view(made, made.length)
    if made.length > SHOWN:
        whole = replace(whole, detail=_view(made, SHOWN))
    use = "glue it on the sled, its heavy edge on the saw cut"
    return Sheets((_card(made),), (Template(whole, "taper", use, "taper"),))


# -- the card --------------------------------------------------------------------------------------------------------


def _card(made: _Sled) -> Card:
    bands = (
        Pictures((_from_above(made), _at_the_blade(made)), least=48.0, most=96.0, shares=(0.64, 0.36)),
        Beside(Settings(_settings(made)), _checks(made), 0.68),
        Order(
            (
                "Run the empty sled past the blade once: its edge is now the line of the cut.",
                "Mark both widths on the board. Lay the two marks on that edge.",
                "Slide fence and stop against the board. Screw them down from below.",
            ),
        ),
        Hold("Widths read right, board clamped, guard on, blade turned by hand.", "taper set"),
        Order(
            (
                "Power on. Push the sled right past the blade. Power off; then draw it back.",
                "Opposite side of a leg: put the offcut, and a strip as thick as the saw cut, between board and fence.",
            ),
        ),
    )
    return Card("taper", "Taper", "Table saw", CAUTIONS, bands, f"the fence stands at {made.angle:.2f}°", "taper")


def _settings(made: _Sled) -> tuple[Setting, ...]:
    return (
        Setting("blade", "Blade to table", "90°", using="try square"),
        Setting("length", "Taper’s length", made.length, 1.0, "rule"),
        Setting("narrow", "Width, narrow end", made.narrow, WITHIN, "block"),
        Setting("wide", "Width, wide end", made.wide, WITHIN, "block"),
    )


def _checks(made: _Sled) -> Checks:
    rows = (("wide end", made.wide), ("narrow end", made.narrow))
    return Checks(tuple(Check(name, size - WITHIN, size + WITHIN, 0.05) for name, size in rows), "Check", "at the edge")


def _from_above(made: _Sled) -> draw.View:
    """The sled in the cut, lying: you stand at the left. Composed with the blade at x = 0 and the feed up."""
    long = min(made.length, LONGEST)
    left = min(made.fence(0, long) - FENCE - 10.0, -GRIP - 50.0)
    at_blade, above = max(long * 0.5, 40.0), PLATE + made.thickness + ABOVE
    far = left - 24.0
    parts = (
        plan.table(draw.Bounds(far, -EXTRA - 30, 66, long + EXTRA + 30)),
        plan.board("rip-fence", "Rip fence", draw.Bounds(far, -EXTRA - 30, left, long + EXTRA + 30)),
        plan.board("plate", "Sled", draw.Bounds(left, -EXTRA, 0, long + EXTRA), reference="right"),
        *_on_the_sled(made, long),
        scenes.blade_from_above((KERF / 2, at_blade), KERF, above),
        scenes.blade_guard((KERF / 2, at_blade), above),
        plan.push_block(draw.Bounds(-GRIP - 30, -EXTRA + 2, -GRIP + 30, -EXTRA + 22)),
        plan.hand("right", (-GRIP, -EXTRA)),
        plan.arrow("feed", "Feed", (-GRIP, long * 0.45), (-GRIP, long * 0.45 + 70)),
    )
    half = long / 2
    labels = (
        draw.balloon("wide", (made.fence(0, long) * 0.3, 0), "left"),
        draw.balloon("narrow", (made.fence(long, long) * 0.5, long), "left"),
        draw.Label("feed", draw.Point(-GRIP, long * 0.45 - 35), leader=False, bold=True),
        draw.Label("rip fence", draw.Point((left + far) / 2, half), leader=False),
        draw.Label("guard: no hand near it", draw.Point(44, half), leader=False, bold=True),
        draw.Label("fence", draw.Point(made.fence(half, long) - FENCE / 2, half), leader=False),
        draw.Label("stop", draw.Point(made.fence(0, long) * 0.75, -6), towards="left"),
        draw.Label("grip", draw.Point(-GRIP, -EXTRA + 12), towards="above"),
    )
    run = draw.Dimension(draw.Point(0, 0), draw.Point(0, long), "right", "", "length")
    shorter = "; its length drawn shorter" if long < made.length else ""
    title = f"From above, in the cut: you stand at the left{shorter}"
    upright = draw.View("from-above", title, parts, (run,), labels, to_scale=False)
    return scenes.on_its_side(upright, clockwise=True)


def _on_the_sled(made: _Sled, long: float) -> list[draw.Part]:
    """The board, the fence and stop that it lies against, and the clamps that hold it down."""
    wide, narrow = made.fence(0, long), made.fence(long, long)
    board = draw.polygon((wide, 0), (narrow, long), (narrow + made.wide, long), (0, 0))
    offcut = draw.polygon((0, 0), (0, long), (narrow + made.wide, long))
    rail = draw.polygon((wide, 0), (narrow, long), (narrow - FENCE, long), (wide - FENCE, 0))
    marks = [draw.line((wide, 0), (0, 0)), draw.line((narrow, long), (0, long))]
    clamps = [
        scenes.turned(plan.toggle(f"clamp-{number}", (0, 0)), clockwise=True).moved(made.fence(at, long) + 10, at)
        for number, at in ((1, long * 0.2), (2, long * 0.85))
    ]
    return [
        draw.Part("board", "Board", (draw.Line(board),), covers=(board,)),
        draw.Part("offcut", "Offcut", (draw.Line(offcut),), covers=(offcut,)),
        draw.Part("rail", "Fence of the sled", (draw.Line(rail),), covers=(rail,)),
        plan.board("stop", "Stop", draw.Bounds(wide, -12, -4, 0)),
        draw.Part("marks", "Marks of the two widths", draw.lines(marks)),
        *clamps,
    ]


def _at_the_blade(made: _Sled) -> draw.View:
    """Table, sled, board and blade cut across, half way along the taper."""
    high = PLATE + made.thickness
    face = made.fence(made.length / 2)
    left = face - FENCE - 12
    beyond = max(8.0, min(24.0, (made.wide - made.narrow) / 2))
    board = draw.rectangle(face, PLATE, 0, high)
    offcut = draw.rectangle(KERF, PLATE, KERF + beyond, high)
    parts = (
        section.table(left - 4, KERF + beyond + 6, hole=(-5.0, KERF + 5)),
        section.face("plate", "Sled", draw.rectangle(left, 0, 0, PLATE)),
        section.face("rail", "Fence of the sled", draw.rectangle(face - FENCE, PLATE, face, high)),
        section.face("board", "Board", board),
        section.face("offcut", "Offcut", offcut),
        scenes.blade_across(KERF / 2, KERF, high + ABOVE, -14.0),
    )
    labels = (
        draw.balloon("blade", (KERF / 2, -8), "right"),
        draw.Label("board", draw.Point(face / 2, PLATE + made.thickness / 2), leader=False),
        draw.Label("fence", draw.Point(face - FENCE / 2, PLATE + made.thickness / 2), leader=False),
        draw.Label("sled", draw.Point(left + 8, PLATE / 2), towards="above"),
        draw.Label("offcut", draw.Point(KERF + beyond * 0.7, high - 2), towards="above"),
    )
    return draw.View("at-the-blade", "Section at the blade", parts, labels=labels, to_scale=False)


# -- the template ----------------------------------------------------------------------------------------------------


def _view(made: _Sled, length: float) -> draw.View:
    """The sled from above over so much of its taper: the blade runs up x = 0, the narrow end first."""
    whole = length == made.length
    top, bottom = length + (EXTRA if whole else 6.0), -EXTRA if whole else -16.0
    foot, head = made.fence(0), made.fence(length)
    base = draw.Part(
        "base",
        "Sled",
        (
            draw.Line(draw.rectangle(made.fence(bottom) - FENCE - 10, bottom, 0, top)),
            draw.Line(draw.line((0, bottom - 3), (0, top + 3)), draw.Kind.REFERENCE),
        ),
    )
    rail = draw.polygon((foot, 0), (head, length), (head - FENCE, length), (foot - FENCE, 0))
    fence = draw.Part("fence", "Fence", (draw.Line(rail),))
    end_stop = draw.Part("stop", "Stop", (draw.Line(draw.rectangle(foot, -12, -4, 0)),))
    feed = draw.Part(
        "feed", "Feed", arrows=((draw.Point(foot / 2, length * 0.4), draw.Point(foot / 2, length * 0.4 + 18)),)
    )
    wide_end = draw.Dimension(draw.Point(foot, 0), draw.Point(0, 0), "below", "")
    narrow_end = draw.Dimension(draw.Point(head, length), draw.Point(0, length), "above", "")
    long = draw.Dimension(draw.Point(0, 0), draw.Point(0, length), "right")
    labels = (
        draw.Label("blade", draw.Point(0, length * 0.75), towards="left"),
        draw.Label("stop", draw.Point(foot / 2, -6), leader=False),
        draw.Label("fence", draw.Point(made.fence(length / 2) - FENCE / 2, length / 2), leader=False),
    )
    return draw.View(
        "sled",
        "Taper sled" if whole else "Taper sled, its foot; the fence goes straight on",
        (base, fence, end_stop, feed),
        (wide_end, narrow_end, long),
        labels,
        check=long,
        critical=draw.Bounds(foot - 3, -15, 3, min(60.0, length)),
    )
