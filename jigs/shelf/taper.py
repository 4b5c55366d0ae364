"""A taper sled: carries a board past the saw at an angle, so that its edge comes off in a taper."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, say
from jigs.trade.circles import taper_angle
from jigs.trade.fingers import TOUCH

EXTRA = 40.0
"""Sled beyond the board at each end, mm."""
FENCE = 25.0
STEEP = 15.0
"""A steeper taper is sawn by hand or on a band saw (common practice, no source), degrees."""


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
        said = "the narrow end of {narrow} is not narrower than the wide end of {wide}"
        numbers = {"wide": wide, "narrow": narrow, "most": at_most(wide), "least": at_least(narrow, "wide")}
        ways = ("a narrow end of {most} at most", "a wide end of {least} at least")
        found.append(stop("narrow", said, ways, **numbers))
    refuse(found)
    angle = taper_angle(wide=wide, narrow=narrow, length=length)
    if angle > STEEP:
        said = "{angle} degrees is steep for a sled: wood lifts from it over the blade"
        found.append(warn("narrow", said, "a band saw or a plane", angle=f"{angle:.2f}"))
    title = say("Taper sled, {wide} to {narrow} in {length}", wide=wide, narrow=narrow, length=length)
    numbers_out = {"angle": angle, "offset": wide - narrow, "in_100": 100 * (wide - narrow) / length}
    return Plan(title, numbers_out, (_sheet(wide, narrow, length, thickness, angle),), tuple(found))


def _sheet(wide: float, narrow: float, length: float, thickness: float, angle: float) -> draw.Drawing:
    table = draw.Table(
        "settings",
        "Settings",
        ("Setting", "Value", "Set with"),
        (
            ("Fence from the sled's edge, narrow end", narrow, "gauge block or rule"),
            ("Fence from the sled's edge, wide end", wide, "gauge block or rule"),
            ("Between the two, along the edge", length, "rule"),
            ("Angle", f"{angle:.2f} degrees", "the two widths; no protractor is as good"),
        ),
    )
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            "The sled's edge is where the blade cuts: saw it off along the fence of the saw first. Then lay the "
            "board's two marks on that edge, slide fence and stop against the board and screw them down.",
            say(
                "Board of {thickness} held down by two clamps with handles away from the blade. A second side of a leg "
                "is cut with the first offcut, or twice its thickness, under the board.",
                thickness=thickness,
            ),
        ),
    )
    purpose = "sled for a table saw: the board lies against fence and stop, the blade runs along the sled's edge"
    body = (_view(wide, narrow, length), table, notes)
    return draw.Drawing("sled", "taper sled", purpose, body, (cautions.GENERAL, cautions.BLADE))


def _view(wide: float, narrow: float, length: float) -> draw.View:
    """The sled from above: the blade runs up x = 0, the narrow end first."""
    top, bottom = length + EXTRA, -EXTRA
    slope = (wide - narrow) / length

    def fence_at(y: float) -> float:
        return -(wide - slope * y)

    base = draw.Part(
        "base",
        "Sled",
        (
            draw.Line(draw.rectangle(fence_at(bottom) - FENCE - 10, bottom, 0, top)),
            draw.Line(draw.line((0, bottom - 3), (0, top + 3)), draw.Kind.REFERENCE),
        ),
    )
    fence_outline = draw.polygon(
        (fence_at(0), 0), (fence_at(length), length), (fence_at(length) - FENCE, length), (fence_at(0) - FENCE, 0)
    )
    fence = draw.Part("fence", "Fence", (draw.Line(fence_outline),), hatched=(fence_outline,))
    stop_outline = draw.rectangle(fence_at(0), -12, -4, 0)
    end_stop = draw.Part("stop", "Stop", (draw.Line(stop_outline),), hatched=(stop_outline,))
    feed = draw.Part(
        "feed", "Feed", arrows=((draw.Point(-wide / 2, length * 0.4), draw.Point(-wide / 2, length * 0.4 + 18)),)
    )
    wide_end = draw.Dimension(draw.Point(fence_at(0), 0), draw.Point(0, 0), "below", "wide end")
    narrow_end = draw.Dimension(draw.Point(fence_at(length), length), draw.Point(0, length), "above", "narrow end")
    long = draw.Dimension(draw.Point(0, 0), draw.Point(0, length), "right", "taper")
    labels = (
        draw.Label("the blade runs along this edge", draw.Point(0, length * 0.5), towards="right"),
        draw.Label("stop", draw.Point(fence_at(0) / 2, -6), towards="below"),
        draw.Label("fence", draw.Point(fence_at(length / 2) - FENCE / 2, length / 2), towards="left"),
    )
    critical = draw.Bounds(fence_at(0) - 3, -15, 3, min(60.0, length))
    return draw.View(
        "sled",
        "Sled from above",
        (base, fence, end_stop, feed),
        (wide_end, narrow_end, long),
        labels,
        check=wide_end,
        critical=critical,
    )
