"""Second opinions where a formula has no published value: solvers, and wood cut and put together by other libraries."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.optimize import brentq
from shapely import affinity

from jigs.base.catalogue import find
from jigs.trade import circles, dividers, fingers, fit, groove, hinge, movement, panel, spacing
from jigs.trade.cut import Board, mate
from jigs.trade.fingers import Span
from jigs.trade.sled import blade_chord
from tests.outside import Check, agree, compared
from tests.test_properties import example_of as example

SOLVED_WOOD = Check(
    "Wood and its moisture", "scipy.optimize.brentq on the formulas; a strain turned by numpy", "independent solver"
)
SEARCHED = Check(
    "Fingers, sockets, sled",
    "every odd width tried; scipy.optimize.brentq; intervals and discs of shapely",
    "independent solver",
)
LIBRARIES = Check("Fit of a joint, tuning", "packages uncertainties, scipy and shapely", "reference library")
LAID_OUT = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "boards put together, cutters rolled and cuts laid over wood by numpy and shapely",
    "reference library",
)
ROUND = 512
"""Segments of a quarter circle: a disc of 120 mm then is true to 0.0006 mm."""


# -- wood ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("celsius", [-10, 20, 45])
@pytest.mark.parametrize("moisture", [3.0, 8.5, 12.0, 20.0])
@SOLVED_WOOD.of(movement.humidity_for)
def test_humidity_is_where_a_solver_finds_it(celsius: float, moisture: float) -> None:
    solved = brentq(lambda humid: movement.equilibrium_moisture(celsius, humid) - moisture, 0, 100, xtol=1e-11)
    agree(movement.humidity_for(celsius, moisture), solved, 1e-8, unit="%")


@pytest.mark.parametrize("coefficient", [0.00126, 0.00248, 0.00431])
@pytest.mark.parametrize(("start", "end"), [(6.5, 13.0), (12.0, 7.0), (16.0, 24.0), (8.0, 4.0)])
@SOLVED_WOOD.of(movement.moisture_at, movement.humidity_at, movement.change)
def test_the_moisture_of_a_size_is_where_a_solver_finds_it(coefficient: float, start: float, end: float) -> None:
    size = 136 + movement.change(136, coefficient, start, end)
    found = movement.moisture_at(136, coefficient, start, size)
    near = (end - 0.5, end + 0.5)
    solved = brentq(lambda m: 136 + movement.change(136, coefficient, start, m) - size, *near, xtol=1e-11)
    agree(found, solved, 1e-8, unit="%")
    humid = brentq(lambda humid: movement.equilibrium_moisture(20, humid) - solved, 0, 100, xtol=1e-11)
    agree(movement.humidity_at(136, coefficient, start, size, 20), humid, 1e-7, unit="%")


@pytest.mark.parametrize("angle", range(0, 91, 15))
@SOLVED_WOOD.of(movement.ring_coefficient)
def test_a_board_between_flat_and_quarter_is_a_turned_strain(angle: int) -> None:
    """Radial and tangential strain are the ends of one symmetric tensor: turned, its first entry is the board's."""
    radial, tangential = 0.00126, 0.00248
    for at, expected in ((movement.FLAT, tangential), (movement.QUARTER, radial)):
        agree(movement.ring_coefficient(radial, tangential, at), expected, 1e-15, unit="a %")
    turn = math.radians(angle - movement.FLAT)
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    strain = rotation @ np.diag([tangential, radial]) @ rotation.T
    agree(movement.ring_coefficient(radial, tangential, angle), strain[0, 0], 1e-15, unit="a %")


# -- fingers and sled ----------------------------------------------------------------------------------------------

JOINTS = [(90.0, 9.9, 10.0), (88.49, 12.6, 12.7), (143.7, 6.0, 6.1), (300.0, 24.8, 25.0)]


@pytest.mark.parametrize(("board", "gap", "socket"), JOINTS)
@SEARCHED.of(fingers.largest_count, fingers.gap_for_count, fingers.gap_that_fits, fingers.rip_width)
def test_parts_of_a_board_are_laid_one_after_the_other(board: float, gap: float, socket: float) -> None:
    """Part after part, finger and socket in turn, until the board is full; then a solver fills it to the edge."""
    count, filled = 0, 0.0
    while filled + (next_part := socket if count % 2 else gap) <= board:
        count, filled = count + 1, filled + next_part
    agree(fingers.largest_count(board, gap, socket), count, 0.0, unit="parts")
    agree(fingers.rip_width(count, gap, socket), filled, unit="mm")
    clearance = socket - gap
    solved = brentq(lambda found: fingers.rip_width(count, found, found + clearance) - board, 1, 60, xtol=1e-12)
    agree(fingers.gap_for_count(board, count, clearance), solved, 1e-9, unit="mm")
    solved = brentq(lambda found: fingers.rip_width(count, found, socket) - board, 0.1, 60, xtol=1e-12)
    agree(fingers.gap_that_fits(board, count, socket), solved, 1e-9, unit="mm")


@pytest.mark.parametrize(("board", "gap", "socket"), JOINTS)
@SEARCHED.of(fingers.sockets, fingers.fingers_between)
def test_fingers_are_what_sockets_leave_of_a_line(board: float, gap: float, socket: float) -> None:
    for offset in (0.0, (gap + socket) / 2):
        cut = fingers.sockets(board, gap, socket, offset)
        spans = shapely.union_all([shapely.LineString([(span.start, 0), (span.end, 0)]) for span in cut])
        left = shapely.LineString([(0, 0), (board, 0)]).difference(spans)
        found = [edge for span in fingers.fingers_between(board, cut) for edge in (span.start, span.end)]
        expected = sorted(edge for piece in shapely.get_parts(left) for edge in (piece.bounds[0], piece.bounds[2]))
        agree(found, expected, 1e-9, unit="mm")


@pytest.mark.parametrize(("diameter", "height"), [(250.0, 18.3), (254.0, 40.0), (160.0, 79.0), (210.0, 1.0)])
@SEARCHED.of(blade_chord)
def test_a_blade_is_as_long_as_a_disc_at_that_height(diameter: float, height: float) -> None:
    disc = shapely.Point(0, 0).buffer(diameter / 2, quad_segs=4 * ROUND)
    level = diameter / 2 - height
    across = disc.intersection(shapely.LineString([(-diameter, level), (diameter, level)]))
    agree(blade_chord(diameter, height), across.length, 0.01, unit="mm")


# -- fit -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("thickness", "degrees"), [(12.0, 0.5), (12.7, 0.25), (18.0, 3.0)])
@LIBRARIES.of(fit.floor_lean, fit.angular_loss, fit.steepest_angle)
def test_leaning_boards_are_turned_and_measured(thickness: float, degrees: float) -> None:
    """A floor is a line turned by the lean; two cheeks are two of them; the steepest angle is a solver's."""
    floor = affinity.rotate(shapely.LineString([(0, 0), (100, 0)]), degrees, origin=(0, 0))
    at_back = floor.intersection(shapely.LineString([(thickness, -50), (thickness, 50)])).bounds[1]
    agree(fit.floor_lean(thickness, degrees), at_back, 1e-9, unit="mm")
    agree(fit.angular_loss(thickness, thickness, degrees), 2 * at_back, 1e-9, unit="mm")
    solved = brentq(lambda angle: fit.angular_loss(thickness, 10, angle) - 0.04, 0, 5, xtol=1e-12)
    agree(fit.steepest_angle(0.1, thickness, 10, 0.4), solved, 1e-9, unit="°")


# -- the other jigs ------------------------------------------------------------------------------------------------


@LAID_OUT.of("hinge", hinge.recess)
def test_a_bush_rolled_round_a_template_cuts_the_leaf() -> None:
    """What is left of the opening for the bush's centre, grown by the cutter, is the leaf with round corners."""
    asked = example("hinge")
    made = find("hinge").plan(asked, "mm").numbers
    opening = shapely.box(0, -100, made["opening"], made["opening_depth"])
    cut = opening.buffer(-asked["bush"] / 2, join_style="mitre").buffer(asked["cutter"] / 2, quad_segs=ROUND)
    left, _, right, back = cut.bounds
    agree((right - left, back), (asked["leaf_length"], asked["leaf_depth"]), 1e-6, unit="mm")
    agree(left, made["offset"], 1e-6, unit="mm")
    corner = shapely.box(left, back - made["corner_radius_in_wood"], left + made["corner_radius_in_wood"], back)
    lost = (1 - math.pi / 4) * (asked["cutter"] / 2) ** 2  # what a round corner lacks of a square one
    agree(corner.difference(cut).area, lost, 1e-4, unit="mm²")


@LAID_OUT.of(hinge.recess_depth)
def test_two_leaves_let_in_leave_the_gap() -> None:
    for closed, gap in ((3.2, 0.4), (5.0, 0.0), (3.175, 0.8)):
        deep = hinge.recess_depth(closed=closed, gap=gap)
        below = shapely.box(0, -20, 10, 0).difference(shapely.box(0, -deep, 10, 0))
        above = affinity.translate(affinity.scale(below, yfact=-1, origin=(0, 0)), 0, gap)
        agree(below.distance(above), closed, 1e-9, unit="mm")


@pytest.mark.parametrize("radius", [20.0, 100.0])
@LAID_OUT.of("trammel", circles.disc_pivot, circles.hole_pivot)
def test_a_cutter_swung_round_a_pivot_leaves_disc_and_hole(radius: float) -> None:
    numbers = find("trammel").plan(example("trammel") | {"radius": radius}, "mm").numbers
    cutter = example("trammel")["cutter"]
    disc, hole = (
        shapely.Point(0, 0).buffer(pivot, quad_segs=ROUND).exterior.buffer(cutter / 2, quad_segs=ROUND)
        for pivot in (numbers["pivot_disc"], numbers["pivot_hole"])
    )
    inner = shapely.LinearRing(disc.interiors[0].coords)
    agree(shapely.Point(0, 0).distance(inner), radius, 1e-3, unit="mm")
    agree(hole.bounds[2], radius, 1e-3, unit="mm")


@LAID_OUT.of("taper", circles.taper_angle)
def test_a_leg_sawn_at_the_angle_is_as_narrow_as_asked() -> None:
    asked = example("taper")
    angle = find("taper").plan(asked, "mm").numbers["angle"]
    saw = affinity.rotate(shapely.box(-10, asked["wide"], 2000, 500), -angle, origin=(0, asked["wide"]))
    leg = shapely.box(0, 0, asked["length"], asked["wide"]).difference(saw)
    ends = [leg.intersection(shapely.LineString([(x, -1), (x, 500)])).length for x in (0, asked["length"])]
    agree(ends, [asked["wide"], asked["narrow"]], 1e-6, unit="mm")


@LAID_OUT.of("dividers", dividers.slots)
def test_dividers_put_into_their_box_part_it_equally() -> None:
    """Both kinds stand in the middles of each other's slots; what they leave of the floor are the compartments."""
    asked = example("dividers")
    numbers = find("dividers").plan(asked, "mm").numbers
    long, short = numbers["long"], numbers["short"]
    thick = asked["thickness"]

    def walls(made: dict[str, Any], inside: float, turned: bool) -> list[Any]:
        start = (inside - made["length"]) / 2
        middles = [start + slot + made["slot_width"] / 2 for slot in made["slots"]]
        sides = [(at - thick / 2, at + thick / 2) for at in middles]
        return [shapely.box(-1, a, 1000, b) if turned else shapely.box(a, -1, b, 1000) for a, b in sides]

    walls_of_both = walls(long, asked["length"], False) + walls(short, asked["width"], True)
    floor = shapely.box(0, 0, asked["length"], asked["width"]).difference(shapely.union_all(walls_of_both))
    rooms = shapely.get_parts(floor)
    assert len(rooms) == asked["along"] * asked["across"]
    along, across = ([room.bounds[way + 2] - room.bounds[way] for room in rooms] for way in (0, 1))
    agree(along, [long["clear"]] * len(rooms), 1e-6, unit="mm")
    agree(across, [short["clear"]] * len(rooms), 1e-6, unit="mm")
    # Slots from above and from below meet: together they are as deep as the divider is high, and a little more.
    assert long["slot_depth"] + short["slot_depth"] > asked["height"]


@LAID_OUT.of("dovetail", spacing.dovetails)
def test_pins_are_what_tails_leave_of_their_board() -> None:
    """Tails sawn from wide to narrow over the thickness of the mate; the rest are pins, narrow where tails are wide."""
    asked = example("dovetail")
    numbers = find("dovetail").plan(asked, "mm").numbers
    thick, width = asked["pin_board"], asked["width"]
    lean = (numbers["tail_wide"] - numbers["tail_narrow"]) / 2
    tails = [shapely.Polygon([(a, 0), (b, 0), (b - lean, thick), (a + lean, thick)]) for a, b in numbers["tails"]]
    pins = shapely.get_parts(shapely.box(0, 0, width, thick).difference(shapely.union_all(tails)))
    assert len(pins) == len(tails) + 1
    agree(sum(part.area for part in (*pins, *tails)), width * thick, 1e-6, unit="mm²")
    ends = shapely.LineString([(-1, 0), (width + 1, 0)])
    found = sorted(pin.intersection(ends).length for pin in pins)
    spread = sorted([numbers["tails"][0][0], width - numbers["tails"][-1][1]])
    between = [after[0] - before[1] for before, after in pairwise(numbers["tails"])]
    agree(found, sorted([*spread, *between]), 1e-9, unit="mm")
    flank = np.diff(np.array(tails[0].exterior.coords)[1:3], axis=0)[0]
    agree(math.degrees(math.atan2(-flank[0], flank[1])), numbers["angle"], 1e-9, unit="°")


@pytest.mark.parametrize("holes", [2, 3])
@LAID_OUT.of("drilling", spacing.centred)
def test_a_row_of_holes_is_in_balance(holes: int) -> None:
    """Its middle is the board's, and a least-squares line through its places climbs by the pitch."""
    asked = example("drilling") | {"holes": holes}
    places = np.array(find("drilling").plan(asked, "mm").numbers["places"])
    pitch, first = np.polyfit(np.arange(holes), places, 1)
    agree((pitch, places.mean()), (asked["pitch"], asked["length"] / 2), 1e-9, unit="mm")
    agree(places, first + pitch * np.arange(holes), 1e-9, unit="mm")


@LAID_OUT.of(spacing.shared)
def test_shares_are_the_middles_of_equal_cells() -> None:
    for length, count in ((90.0, 3), (88.9, 2), (120.0, 7)):
        edges = np.linspace(0, length, count + 1)
        agree(spacing.shared(length=length, count=count), (edges[1:] + edges[:-1]) / 2, 1e-9, unit="mm")


@LAID_OUT.of("cradle", spacing.mitre_keys)
def test_a_slot_across_a_corner_is_cut_out_of_a_section_of_the_box() -> None:
    """Two boards of a mitred corner, corner down: the blade takes all that lies under its top."""
    asked = example("cradle")
    numbers = find("cradle").plan(asked, "mm").numbers
    thick = asked["thickness"]
    corner = shapely.LineString([(-200, 200), (0, 0), (200, 200)])
    wood = corner.buffer(-thick, single_sided=True, join_style="mitre")
    if shapely.Point(0, 1).distance(wood) > 0:
        wood = corner.buffer(thick, single_sided=True, join_style="mitre")
    slot = wood.intersection(shapely.box(-300, -1, 300, asked["depth"]))
    agree(math.hypot(slot.bounds[2], asked["depth"]), numbers["leg"], 1e-6, unit="mm")
    upright = shapely.LineString([(0, -1), (0, 300)])
    deepest = wood.difference(shapely.box(-300, -1, 300, numbers["deepest"]))
    agree(deepest.intersection(upright).length, 3.0, 1e-6, unit="mm")  # least wood: common practice, no source
    agree(numbers["blade_above_table"] - asked["depth"], 12.0, 1e-9, unit="mm")  # the cradle's base


@LAID_OUT.of("parting", spacing.parted_finger)
def test_a_box_sawn_open_and_planed_closes_to_its_pattern() -> None:
    """Saw kerf and planing come out of the wide part: what is left of it closes to one part like the others."""
    asked = example("parting")
    numbers = find("parting").plan(asked, "mm").numbers
    board = shapely.LineString([(0, 0), (numbers["width"], 0)])
    kerf = shapely.LineString([(numbers["saw_from"], 0), (numbers["saw_to"], 0)])
    below, above = sorted(shapely.get_parts(board.difference(kerf)), key=lambda piece: piece.bounds[0])
    planing = (numbers["wider"] - kerf.length) / 2
    heights = (below.length - planing, above.length - planing)
    agree(heights, (numbers["box_height"], numbers["lid_height"]), 1e-9, unit="mm")
    whole = fingers.rip_width(asked["count"], asked["finger"], asked["socket"])
    agree(sum(heights), whole, 1e-9, unit="mm")


@pytest.mark.parametrize("wide", [3, 4, 6, 7])
def test_the_steps_of_a_parted_box_make_its_parts(wide: int) -> None:
    """Cut as the sheet says, step by step, with the gaps it names; then closed by the model of the cut."""
    asked = example("parting") | {"wide": wide}
    numbers = find("parting").plan(asked, "mm").numbers
    usual, broad, cutter = asked["finger"], numbers["wide_gap"], asked["socket"]
    step, width = (wide + 1) // 2, numbers["width"]
    odd = wide % 2 == 1
    gaps_long = {step: [broad] if odd else [usual, broad]}
    gaps_ends = {step: [usual, broad]} if odd else {step + 1: [broad]}

    def boards(offset: float, gaps: dict[int, list[float]]) -> Board:
        sockets, reference = [], offset
        for number in range(1, (asked["count"] + 3) // 2):
            at = gaps.get(number, [usual])
            sockets.append((reference + at[0], reference + at[-1] + cutter))
            reference = sockets[-1][1]
        inside = [Span(max(0.0, start), min(width, end)) for start, end in sockets if start < width - 1e-6]
        return Board(width, 12.0, tuple(inside))

    long = boards(0.0, gaps_long)
    spacer = usual + (cutter - usual) / 2
    ends = boards(-spacer, gaps_ends)
    found = mate(long, ends)
    assert found.closes
    assert found.clearance == pytest.approx(cutter - usual)
    edges = [edge for span in long.sockets for edge in (span.start, span.end)]
    assert edges == pytest.approx(numbers["edges"][1 : 1 + len(edges)])


# -- bottom and groove ---------------------------------------------------------------------------------------------

PUT_BACK = Check(
    "Bottom panel", "the panel put back into its grooves at every moisture, passes counted", "independent derivation"
)
FED = Check(
    "Groove and its stops", "boards fed past a cutter, and a tongue laid into its corner", "independent derivation"
)


@pytest.mark.parametrize("first", [None, 0.0, 1.5, 4.2])
@PUT_BACK.of(panel.rabbet_depths, panel.tongue_thickness, panel.along_grain, panel.rabbet_width)
def test_rabbets_leave_a_tongue_that_slides_in_its_groove(first: float | None) -> None:
    """Sections of panel and sides by shapely: no overlap, the play asked for, and shoulders where they are said."""
    tongue = panel.tongue_thickness(groove=6)
    top, bottom = panel.rabbet_depths(thickness=10, tongue=tongue, first=first)
    long = panel.along_grain(opening=216, depth=6)
    rabbet = panel.rabbet_width(engagement=(long - 216) / 2, shoulder_gap=0)
    board: Any = shapely.box(0, 0, long, 10)
    for low, high in ((0, bottom), (10 - top, 10)):
        for left in (0, long - rabbet):
            board = board.difference(shapely.box(left, low, left + rabbet, high))
    board = affinity.translate(board, -(long - 216) / 2, 0)
    groove_low = bottom - (6 - tongue) / 2
    sides = shapely.union_all([shapely.box(-12, -20, 0, 40), shapely.box(216, -20, 228, 40)])
    sides = sides.difference(shapely.box(-6, groove_low, 222, groove_low + 6))
    agree(board.intersection(sides).area, 0.0, 1e-9, unit="mm²")
    end = board.intersection(shapely.box(-20, -20, -1e-9, 40)).bounds
    agree(end[3] - end[1], 6 - 0.2, 1e-6, unit="mm")
    agree(end[0] + 6, 0.5, 1e-6, unit="mm")  # play at each end: common practice, no source


@pytest.mark.parametrize(("thickness", "depth", "from_bottom"), [(12.0, 6.0, 12.0), (9.0, 6.0, 4.5), (18.0, 7.5, 20.0)])
@FED.of(groove.wall_left, groove.fence, groove.depth_passes)
def test_a_groove_is_cut_out_of_a_section_of_its_board(thickness: float, depth: float, from_bottom: float) -> None:
    """The bit stands at the fence's distance from the lower edge and goes up pass by pass."""
    cutter, at = 6.0, groove.fence(from_bottom=from_bottom, cutter=6.0)
    board: Any = shapely.box(0, 0, thickness, 90)
    heights = groove.depth_passes(depth)
    for height in heights:
        before, board = board.area, board.difference(shapely.box(0, at - cutter / 2, height, at + cutter / 2))
        assert before - board.area <= 3 * cutter + 1e-9  # 3 mm a pass at most: common practice, no source
    agree(groove.wall_left(thickness=thickness, depth=depth), _across(board, at).length, 1e-9, unit="mm")
    agree(board.intersection(shapely.box(0, 0, depth / 2, at)).bounds[3], from_bottom, 1e-9, unit="mm")
    compared(len(heights))


def _across(board: Any, height: float) -> Any:
    return board.intersection(shapely.LineString([(-1, height), (100, height)]))
