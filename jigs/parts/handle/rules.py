"""The rules of the handle."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, danger, note, stop, warn
from jigs.base.usual import HANDLE_CENTRES_INSIDE, LEAST_WEB
from jigs.base.wording import at_least, at_most
from jigs.parts.handle import middle_rules
from jigs.parts.handle.part import Handle, settled
from jigs.record import replace

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
            "the holes meet, because the neck between them is {neck}",
            "make the neck {least} or more",
            neck=made.neck,
            least=at_least(LEAST_NECK),
        )


def _no_base(made: Handle) -> Iterator[Problem]:
    if made.base <= 0:
        yield stop(
            "handle.base",
            "the holes cut through the base, which has {base} of wood under them",
            "make the base {least} or more",
            base=made.base,
            least=at_least(LEAST_WEB),
        )


def _holes_miss_the_ends(made: Handle) -> Iterator[Problem]:
    least, most = made.reach
    if made.neck > 0 and not least < made.length < most:
        shortest = max(least + 2 * made.radius, SHORTEST)
        longest = min(least + 2 * made.radius * (1 + HANDLE_CENTRES_INSIDE), LONGEST)
        yield stop(
            "handle.length",
            "holes of {saw} with a neck of {neck} between them do not cut the ends of a handle {length:cut} long",
            "make it {shortest} to {longest} long",
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
            "a crest of {crest} on a handle of {length:cut} × {height:cut} is flat or no arc",
            "make the crest more than 0, and {most} or less",
            crest=made.crest,
            length=made.length,
            height=made.height,
            most=at_most(most),
        )


def _crest_crosses_hole(made: Handle) -> Iterator[Problem]:
    over = min(made.holes.over_holes, made.holes.horn_tip)
    if over >= LEAST_WEB - READ_OUT:
        return
    breaks = over < LEAST_OVER_HOLE - READ_OUT
    if over <= 0:
        said = (
            "the holes cut through the crest of a handle {height:cut} high; {least:cut up} of wood must stay above them"
        )
    elif breaks:
        said = (
            "the handle will break when you lift the lid. It is {height:cut} high, with {over:cut down} of wood over "
            "its holes; {least:cut up} is needed"
        )
    else:
        said = (
            "the wood above the holes may break: a handle {height:cut} high has {over:cut down} there, under "
            "{least:cut up}"
        )
    where, works, offers = _out_of_the_crest(made)
    least = LEAST_OVER_HOLE if breaks else LEAST_WEB
    yield (stop if breaks else warn)(where, said, works, height=made.height, over=over, least=least, **offers)


def _out_of_the_crest(made: Handle) -> tuple[str, str, dict[str, object]]:
    """Return the setting that leaves wood enough over the holes, and the words and values for it."""
    flattest = _crest_over_the_holes(made)
    if made.crest <= flattest:
        height = _height_that_works(made)
        works = "make it {works} high" if height <= HIGHEST else "use a smaller hole saw, or make the base lower"
        return "handle.height", works, {"works": at_least(height)}
    if flattest < LEAST_CREST + READ_OUT:
        # The centres in the ends, there is room under some crest.
        longer = at_least(made.reach[0] + 2 * made.radius)
        return "handle.length", "make it {longer} long: no height is enough", {"longer": longer}
    lower = replace(made, crest=flattest)
    height = _height_that_works(lower)
    offers: dict[str, object] = {
        "flatter": at_most(flattest, "handle.crest", **{"handle.height": height}),
        "works": at_least(height, "handle.height", **{"handle.crest": flattest}),
    }
    return "handle.crest", "make the crest {flatter} or less, and the handle {works} high", offers


def _crest_over_the_holes(made: Handle) -> float:
    """Return the highest crest under which a hole and wood enough over it find room at some height.

    The hole's centre must lie under the arc: R − radius − wood ≥ X. With R = (h² + c²)/2c over half the length h this
    is c² − 2Kc + h² ≥ 0 for K = X + radius + wood, so c ≤ K − √(K² − h²).
    """
    needed, half = made.between + 2 * made.radius + LEAST_WEB, made.length / 2
    return needed - math.sqrt(needed**2 - half**2) if needed > half else math.inf


def _height_that_works(made: Handle) -> float:
    """Return the height with enough wood over the holes, to the crest or else to the corner of the end."""
    holes = made.holes
    over_cusp = holes.cusps[1] + made.crest + LEAST_WEB
    if made.middle:
        over_cusp = max(over_cusp, made.middle.y + made.middle.radius + LEAST_WEB)
    try:
        return max(over_cusp, holes.height_that_leaves(LEAST_WEB))
    except ValueError:
        corner = math.sqrt((made.radius + LEAST_WEB) ** 2 - max(0.0, holes.inside_end) ** 2)
        return max(over_cusp, made.hole_height + corner + made.crest)


def _thin_neck(made: Handle) -> Iterator[Problem]:
    if made.neck < LEAST_NECK - READ_OUT:
        yield warn(
            "handle.neck",
            "a neck of {neck} between the holes may break",
            "make the neck {least} or more",
            neck=made.neck,
            least=at_least(LEAST_NECK),
        )
    elif made.thickness < LEAST_NECK_AREA / made.neck - READ_OUT:
        yield warn(
            "handle.thickness",
            "a neck of {neck} × {thickness} may break across the grain when the lid is knocked",
            "make the handle {works} thick or more",
            neck=made.neck,
            thickness=made.thickness,
            works=at_least(LEAST_NECK_AREA / made.neck),
        )


def _thin_base(made: Handle) -> Iterator[Problem]:
    if made.base < LEAST_WEB - READ_OUT:
        yield warn(
            "handle.base",
            "a base with {base} of wood under the holes will break",
            "make the base {least} or more",
            base=made.base,
            least=at_least(LEAST_WEB),
        )


def _saw_walks(made: Handle) -> Iterator[Problem]:
    if made.holes.rim_in_wood < LEAST_RIM:
        yield danger(
            "handle.length",
            "the hole saw will walk in a blank that is trimmed first. Only {rim} of the saw rim is in wood, without a "
            "pilot drill",
            ("drill the blank before you trim its ends", "butt a waste block of the same thickness against the end"),
            rim=f"{100 * made.holes.rim_in_wood:.0f} %",
        )


def _fingers_do_not_fit(made: Handle) -> Iterator[Problem]:
    """Find an opening too small for a hand. It is 2·√(r² − (deep − r)²) high, so that 2r = (high²/4 + deep²)/deep."""
    high, deep = made.holes.chord, made.holes.grip_depth
    if high < LEAST_FINGER_HEIGHT - READ_OUT or deep < LEAST_FINGER_DEPTH - READ_OUT:
        reach = max(deep, LEAST_FINGER_DEPTH)
        saw = max(2 * made.radius, ((LEAST_FINGER_HEIGHT / 2) ** 2 + reach**2) / reach)
        length = settled(replace(made.asked, saw=saw), made.units).reach[0] + 2 * reach
        yield warn(
            "handle.saw",
            "an opening of {high:cut down} × {deep:cut down} is too small for a hand, which needs {least_high:cut up} "
            "× {least_deep:cut up}",
            "drill holes of {wider} in a handle {long} long",
            high=high,
            deep=deep,
            least_high=LEAST_FINGER_HEIGHT,
            least_deep=LEAST_FINGER_DEPTH,
            wider=at_least(saw, "handle.saw", **{"handle.length": length}),
            long=at_most(length, "handle.length", **{"handle.saw": saw}),
        )


def _saw_as_marked(made: Handle) -> Iterator[Problem]:
    saws = {"handle.saw": made.asked.saw, "handle.middle_saw": made.asked.middle_saw if made.middle else None}
    for where, saw in saws.items():
        if saw and any(abs(saw / step - round(saw / step)) < 1e-6 for step in (1.0, 25.4 / 16)):
            yield note(
                where,
                "the hole is entered as {saw}, like a size marked on a hole saw. A saw cuts wider, and the curve comes "
                "out half of that off",
                "drill a hole in scrap, measure it, and enter that size",
                saw=saw,
            )


HANDLE: Rules[Handle] = Rules(
    (_holes_meet, _no_base, *middle_rules.STOPS, _holes_miss_the_ends, _crest_is_no_arc),
    (
        *(_crest_crosses_hole, _thin_neck, _thin_base, *middle_rules.WARNINGS),
        *(_saw_walks, _fingers_do_not_fit, _saw_as_marked),
    ),
)
