"""The rules of the handle."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from jigs.base.rules import READ_OUT, Problem, Rules, note, stop, warn
from jigs.base.usual import HANDLE_CENTRES_INSIDE, LEAST_WEB
from jigs.base.wording import at_least, at_most
from jigs.parts.handle.part import Handle

LEAST_NECK, LEAST_FINGER_HEIGHT, LEAST_FINGER_DEPTH = 18.0, 20.0, 15.0
"""The neck that holds, the opening that fingers go into and how far (common practice, no source), mm."""
HIGHEST = 300.0
"""The highest handle that a box file takes, mm."""
LEAST_CREST = 0.5
"""A lower crest is no more than a few shavings (common practice, no source), mm."""
LEAST_NECK_AREA = 350.0
"""The least section of a handle's neck against a knock (common practice, no source), mm²."""
LEAST_OVER_HOLE = 3.0
"""With less wood over a hole a handle breaks in the hand that lifts the lid (common practice, no source), mm."""
SHORTEST, LONGEST = 10.0, 600.0
"""The handles that are drawn, mm."""
LEAST_RIM = 0.5
"""With less of its rim in wood a hole saw without a pilot walks: the half that is in wood no longer holds it."""


def _holes_meet(made: Handle) -> Iterator[Problem]:
    if made.neck <= 0:
        yield stop(
            "handle.neck",
            "the holes meet: the neck between them is {neck}",
            "a neck of {least} or more",
            neck=made.neck,
            least=at_least(LEAST_NECK),
        )


def _no_foot(made: Handle) -> Iterator[Problem]:
    if made.foot <= 0:
        yield stop(
            "handle.foot",
            "the holes come out at the foot, with {foot} of wood under them",
            "{least} or more",
            foot=made.foot,
            least=at_least(LEAST_WEB),
        )


def _holes_miss_the_ends(made: Handle) -> Iterator[Problem]:
    least, most = made.reach
    if made.neck > 0 and not least < made.length < most:
        shortest = max(made.neck + 2 * made.radius, SHORTEST)
        longest = min(made.neck + 2 * made.radius * (1 + HANDLE_CENTRES_INSIDE), LONGEST)
        yield stop(
            "handle.length",
            "a handle {length} long is not cut by holes of {saw} with a neck of {neck} between them",
            "from {shortest} to {longest}",
            length=made.length,
            saw=2 * made.radius,
            neck=made.neck,
            shortest=at_least(shortest),
            longest=at_most(max(shortest, longest)),
        )


def _crest_is_no_arc(made: Handle) -> Iterator[Problem]:
    if made.neck > 0 and (not 0 < made.crest <= made.length / 2 or made.crest >= made.height):
        flattest = _crest_over_the_holes(made)
        most = min(
            made.length / 2, made.height - READ_OUT, flattest if flattest >= LEAST_CREST + READ_OUT else math.inf
        )
        yield stop(
            "handle.crest",
            "a crest of {crest} over a handle of {length} by {height} is flat or no arc",
            "more than 0, and at most {most}",
            crest=made.crest,
            length=made.length,
            height=made.height,
            most=at_most(most),
        )


def _crest_crosses_hole(made: Handle) -> Iterator[Problem]:
    over = min(made.holes.hole_to_crest, made.holes.horn_tip)
    if over >= LEAST_WEB - READ_OUT:
        return
    said = "a handle {height} high has {over} of wood over its holes"
    if over < LEAST_OVER_HOLE - READ_OUT:
        said += ": they break through" if over <= 0 else ", and under {least} it breaks when the lid is lifted"
    where, works, offers = _out_of_the_crest(made)
    yield (stop if over < LEAST_OVER_HOLE - READ_OUT else warn)(
        where, said, works, height=made.height, over=over, least=LEAST_OVER_HOLE, **offers
    )


def _out_of_the_crest(made: Handle) -> tuple[str, str, dict[str, object]]:
    """Return the setting that leaves wood enough over the holes, and the words and values for it."""
    flattest = _crest_over_the_holes(made)
    if made.crest <= flattest:
        height = _height_that_works(made)
        works = "a height of {works}" if height <= HIGHEST else "a smaller saw, or less wood under the holes"
        return "handle.height", works, {"works": at_least(height)}
    if flattest < LEAST_CREST + READ_OUT:
        # The centres in the ends, there is room under some crest.
        longer = at_least(made.neck + 2 * made.radius)
        return "handle.length", "no height is enough; a handle {longer} long", {"longer": longer}
    lower = replace(made, crest=flattest)
    height = _height_that_works(lower)
    offers: dict[str, object] = {
        "flatter": at_most(flattest, "handle.crest", **{"handle.height": height}),
        "works": at_least(height, "handle.height", **{"handle.crest": flattest}),
    }
    return "handle.crest", "no height is enough under it; a crest of {flatter} at most, and a height of {works}", offers


def _crest_over_the_holes(made: Handle) -> float:
    """Return the highest crest under which a hole and wood enough over it find room at some height.

    The hole's centre must lie under the arc: R − radius − wood ≥ X. With R = (h² + c²)/2c over half the length h this
    is c² − 2Kc + h² ≥ 0 for K = X + radius + wood, so c ≤ K − √(K² − h²).
    """
    needed, half = made.neck / 2 + 2 * made.radius + LEAST_WEB, made.length / 2
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
        yield warn(
            "handle.neck",
            "the web between the holes is {neck}",
            "{least} or more",
            neck=made.neck,
            least=at_least(LEAST_NECK),
        )
    elif made.thickness < LEAST_NECK_AREA / made.neck - READ_OUT:
        yield warn(
            "handle.thickness",
            "a neck of {neck} by {thickness} may break across the grain when the lid is knocked",
            "a thickness of {works} or more",
            neck=made.neck,
            thickness=made.thickness,
            works=at_least(LEAST_NECK_AREA / made.neck),
        )


def _thin_foot(made: Handle) -> Iterator[Problem]:
    if made.foot < LEAST_WEB - READ_OUT:
        yield warn(
            "handle.foot",
            "{foot} of wood under the holes will break",
            "{least} or more",
            foot=made.foot,
            least=at_least(LEAST_WEB),
        )


def _saw_walks(made: Handle) -> Iterator[Problem]:
    if made.holes.rim_in_wood < LEAST_RIM:
        yield warn(
            "handle.length",
            "in a blank trimmed first only {rim} of the saw's rim is in wood and its pilot drill in none: the saw will "
            "walk",
            ("drill the blank before its ends are trimmed", "butt a waste block of the same thickness to the end"),
            rim=f"{made.holes.rim_in_wood:.0%}",
        )


def _fingers_do_not_fit(made: Handle) -> Iterator[Problem]:
    """Find an opening too small for fingers. It is 2·√(r² − (deep − r)²) high, so that 2r = (high²/4 + deep²)/deep."""
    high, deep = made.holes.chord, made.holes.grip_depth
    if high < LEAST_FINGER_HEIGHT - READ_OUT or deep < LEAST_FINGER_DEPTH - READ_OUT:
        reach = max(deep, LEAST_FINGER_DEPTH)
        saw = max(2 * made.radius, ((LEAST_FINGER_HEIGHT / 2) ** 2 + reach**2) / reach)
        length = made.neck + 2 * reach
        yield warn(
            "handle.saw",
            "fingers go into an opening of {high} by {deep}; they need {least_high} by {least_deep}",
            "a hole of {wider} in a handle {long} long",
            high=high,
            deep=deep,
            least_high=LEAST_FINGER_HEIGHT,
            least_deep=LEAST_FINGER_DEPTH,
            wider=at_least(saw, "handle.saw", **{"handle.length": length}),
            long=at_most(length, "handle.length", **{"handle.saw": saw}),
        )


def _saw_as_marked(made: Handle) -> Iterator[Problem]:
    saw = 2 * made.radius
    if any(abs(saw / step - round(saw / step)) < 1e-6 for step in (1.0, 25.4 / 16)):
        yield note(
            "handle.saw",
            "the hole is given as exactly {saw}, the size marked on the saw? The curve is off by half of what it "
            "really cuts wider",
            "drill a hole in scrap and measure the hole",
            saw=saw,
        )


HANDLE: Rules[Handle] = Rules(
    (_holes_meet, _no_foot, _holes_miss_the_ends, _crest_is_no_arc),
    (_crest_crosses_hole, _thin_neck, _thin_foot, _saw_walks, _fingers_do_not_fit, _saw_as_marked),
)
