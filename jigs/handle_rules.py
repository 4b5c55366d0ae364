"""The rules of the handle."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.box_parts import Handle
from jigs.errors import READ_OUT, Problem
from jigs.rules import LEAST_WEB, Rules
from jigs.usual import HANDLE_CENTRES_INSIDE

LEAST_NECK, LEAST_FINGER_HEIGHT, LEAST_FINGER_DEPTH = 18.0, 20.0, 15.0
"""The neck that holds, the opening that fingers go into and how far (common practice, no source), mm."""
LEAST_CREST = 0.5
"""A lower crest is no more than a few shavings (common practice, no source), mm."""
LEAST_NECK_AREA = 350.0
"""The least section of a handle's neck against a knock (common practice, no source), mm²."""
LEAST_OVER_HOLE = 3.0
"""With less wood over a hole a handle breaks in the hand that lifts the lid (common practice, no source), mm."""
LEAST_RIM = 0.5
"""With less of its rim in wood a hole saw without a pilot walks: the half that is in wood no longer holds it."""


def _holes_meet(made: Handle) -> Iterator[Problem]:
    if made.neck <= 0:
        yield Problem(
            "stop",
            "handle.neck",
            "the holes meet: the neck between them is {neck}",
            "a neck of {least}, the holes' centres {centre} from the middle",
            {"neck": made.neck, "least": LEAST_NECK, "centre": made.radius + LEAST_NECK / 2},
        )


def _no_foot(made: Handle) -> Iterator[Problem]:
    if made.foot <= 0:
        yield Problem(
            "stop",
            "handle.foot",
            "the holes come out at the foot, with {foot} of wood under them",
            "{least} or more",
            {"foot": made.foot, "least": LEAST_WEB},
        )


def _holes_miss_the_ends(made: Handle) -> Iterator[Problem]:
    least, most = made.reach
    if made.neck > 0 and not least < made.length < most:
        yield Problem(
            "stop",
            "handle.length",
            "a handle {length} long is not cut by holes of {saw} with a neck of {neck} between them",
            "from {shortest} to {longest}",
            {
                "length": made.length,
                "saw": 2 * made.radius,
                "neck": made.neck,
                "shortest": made.neck + 2 * made.radius,
                "longest": made.neck + 2 * made.radius * (1 + HANDLE_CENTRES_INSIDE),
            },
        )


def _crest_is_no_arc(made: Handle) -> Iterator[Problem]:
    most = min(made.length / 2, made.height)
    if not 0 < made.crest <= made.length / 2 or made.crest >= made.height:
        yield Problem(
            "stop",
            "handle.crest",
            "a crest of {crest} over a handle of {length} by {height} is flat or no arc",
            "more than 0, and less than {most}",
            {"crest": made.crest, "length": made.length, "height": made.height, "most": most},
        )


def _crest_crosses_hole(made: Handle) -> Iterator[Problem]:
    over = min(made.holes.hole_to_crest, made.holes.horn_tip)
    if over >= LEAST_WEB - READ_OUT:
        return
    flattest = _crest_over_the_holes(made)
    where, works = "handle.height", "a height of {works}"
    if made.crest > flattest:
        where, works = "handle.crest", "no height is enough under it; a crest of {flatter} at most"
    if made.crest > flattest and flattest < LEAST_CREST + READ_OUT:
        where, works = "handle.length", "no height is enough; a longer handle, or a wider neck"
    said = "a handle {height} high has {over} of wood over its holes"
    if over < LEAST_OVER_HOLE - READ_OUT:
        said += ": they break through" if over <= 0 else ", and under {least} it breaks when the lid is lifted"
    yield Problem(
        "stop" if over < LEAST_OVER_HOLE - READ_OUT else "warning",
        where,
        said,
        works,
        {
            "height": made.height,
            "over": over,
            "least": LEAST_OVER_HOLE,
            "works": _height_that_works(made) if where == "handle.height" else 0.0,
            "flatter": flattest - READ_OUT,
        },
    )


def _crest_over_the_holes(made: Handle) -> float:
    """Return the highest crest under which a hole and wood enough over it find room at some height.

    The hole's centre must lie under the arc: R − radius − wood ≥ X. With R = (h² + c²)/2c over half the length h this
    is c² − 2Kc + h² ≥ 0 for K = X + radius + wood, so c ≤ K − √(K² − h²).
    """
    needed, half = made.holes.centre_offset + made.radius + LEAST_WEB, made.length / 2
    return needed - math.sqrt(needed**2 - half**2) if needed > half else math.inf


def _height_that_works(made: Handle) -> float:
    """Return the height with enough wood over the holes, to the crest or else to the corner of the end."""
    holes = made.holes
    over_cusp = holes.cusps[1] + made.crest + LEAST_WEB
    try:
        return max(over_cusp, holes.height_that_leaves(LEAST_WEB))
    except ValueError:
        corner = math.sqrt((made.radius + LEAST_WEB) ** 2 - max(0.0, holes.inside_end) ** 2)
        return max(over_cusp, made.hole_height + corner + made.crest)


def _thin_neck(made: Handle) -> Iterator[Problem]:
    if made.neck < LEAST_NECK - READ_OUT:
        yield Problem(
            "warning",
            "handle.neck",
            "the web between the holes is {neck}",
            "{least} or more",
            {"neck": made.neck, "least": LEAST_NECK},
        )
    elif made.thickness < LEAST_NECK_AREA / made.neck - READ_OUT:
        yield Problem(
            "warning",
            "handle.thickness",
            "a neck of {neck} by {thickness} may break across the grain when the lid is knocked",
            "a thickness of {works} or more",
            {"neck": made.neck, "thickness": made.thickness, "works": LEAST_NECK_AREA / made.neck},
        )


def _thin_foot(made: Handle) -> Iterator[Problem]:
    if made.foot < LEAST_WEB - READ_OUT:
        yield Problem(
            "warning",
            "handle.foot",
            "{foot} of wood under the holes will break",
            "{least} or more",
            {"foot": made.foot, "least": LEAST_WEB},
        )


def _saw_walks(made: Handle) -> Iterator[Problem]:
    if made.holes.rim_in_wood < LEAST_RIM:
        yield Problem(
            "warning",
            "handle.length",
            "in a blank trimmed first only {rim} of the saw's rim is in wood and its pilot drill in none: the saw will "
            "walk",
            "drill a blank of {blank}, untrimmed; or butt a waste block of the same thickness to the end",
            {"rim": f"{made.holes.rim_in_wood:.0%}", "blank": made.blank_length},
        )


def _fingers_do_not_fit(made: Handle) -> Iterator[Problem]:
    high, deep = made.holes.chord, made.holes.grip_depth
    if high < LEAST_FINGER_HEIGHT - READ_OUT or deep < LEAST_FINGER_DEPTH - READ_OUT:
        yield Problem(
            "warning",
            "handle.saw",
            "fingers go into an opening of {high} by {deep}",
            "{least_high} by {least_deep} or more",
            {"high": high, "deep": deep, "least_high": LEAST_FINGER_HEIGHT, "least_deep": LEAST_FINGER_DEPTH},
        )


def _saw_as_marked(made: Handle) -> Iterator[Problem]:
    saw = 2 * made.radius
    if any(abs(saw / step - round(saw / step)) < 1e-6 for step in (1.0, 25.4 / 16)):
        yield Problem(
            "note",
            "handle.saw",
            "the hole is given as exactly {saw}, the size marked on the saw? The curve is off by half of what it "
            "really cuts wider",
            "drill a hole in scrap and measure the hole",
            {"saw": saw},
        )


HANDLE: Rules[Handle] = Rules(
    (_holes_meet, _no_foot, _holes_miss_the_ends, _crest_is_no_arc),
    (_crest_crosses_hole, _thin_neck, _thin_foot, _saw_walks, _fingers_do_not_fit, _saw_as_marked),
)
