"""Every length that the shop arithmetic takes is refused by its name where no such length can be.

One row a function: the arguments of a call that works, those that must be above 0, those that may be 0, and those
that may be anything finite.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import pytest

from jigs.trade import (
    circles,
    dividers,
    fingers,
    finishing,
    fit,
    groove,
    handle,
    hinge,
    lid,
    limits,
    mitre,
    movement,
    panel,
    passes,
    shell,
    spacing,
    stock,
)

Row = tuple[Callable[..., object], dict[str, object], str, str, str]

G1 = handle.EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=50, crest=5)
H1 = shell.fit(width=60, height=40, lobes=7, bulge=0.25)
JOINT: dict[str, object] = {"gap": 9.9, "socket": 10}
ON_BOARD: dict[str, object] = {"board": 95, **JOINT}
TWO_SIDES: dict[str, object] = {"thickness_long": 12, "thickness_short": 12}
SIDES: dict[str, object] = {"length": 240, "width": 160, "proud": 0.3, "kerf": 3.2, "trim": 15}
PIECE: dict[str, object] = {"name": "side", "length": 240, "width": 90, "thickness": 12}

ROWS: list[Row] = [  # function, arguments, above 0, 0 or more, finite
    (fingers.sockets, {"width": 90, **JOINT, "offset": 0}, "width gap socket", "", "offset"),
    (fingers.fingers_between, {"width": 90, "sockets": ()}, "width", "", ""),
    (
        fingers.positions,
        {"width": 90, **JOINT, "offset_max": 9.95, "reach": 0.3},
        "width gap socket",
        "offset_max",
        "reach",
    ),
    (fingers.rip_width, {"count": 9, **JOINT}, "gap socket", "", ""),
    (fingers.largest_count, ON_BOARD, "board gap socket", "", ""),
    (fingers.nearest_widths, ON_BOARD, "board gap socket", "", ""),
    (fingers.gap_for_count, {"board": 95, "count": 9, "clearance": 0.1}, "board", "", "clearance"),
    (fingers.gap_that_fits, {"board": 95, "count": 9, "socket": 10}, "board socket", "", ""),
    (fingers.centred, {**ON_BOARD, "spacer": 9.95}, "board gap socket spacer", "", ""),
    (fingers.leftover, {**ON_BOARD, "spacer": 9.95}, "board gap socket spacer", "", ""),
    (fit.one_stack, {**JOINT, "spacer": 9.95}, "gap socket", "", "spacer"),
    (fit.centred_spacer, JOINT, "gap socket", "", ""),
    (
        fit.separate_worst,
        {"clearance": 0.1, "slack": 0.1, "long_sockets": 4, "odd": True},
        "",
        "slack",
        "clearance",
    ),
    (fit.drift_sd, {"slack": 0.1, "long_sockets": 4}, "", "slack", ""),
    (fit.angular_loss, {**TWO_SIDES, "degrees": 0.1}, "thickness_long thickness_short", "", ""),
    (fit.floor_lean, {"thickness": 12, "degrees": 0.1}, "thickness", "", ""),
    (
        fit.steepest_angle,
        {**TWO_SIDES, "clearance": 0.1, "share": 0.4},
        "thickness_long thickness_short",
        "",
        "clearance",
    ),
    (passes.one_pass_will_do, {"finger": 10, "cutter": 10}, "finger cutter", "", ""),
    (passes.plan, {"socket": 6.1, "cutter": 3.2, "gap": 6}, "socket cutter gap", "", ""),
    (passes.ear_height, {"cutter": 3.2, "bevel_degrees": 15}, "cutter", "", ""),
    (passes.copied_widths, {"first": 6.1, "cutter": 3.2, "key": 3.15, "steps": 3}, "first cutter key", "", ""),
    (groove.fence, {"from_bottom": 12, "cutter": 6}, "cutter", "from_bottom", ""),
    (
        groove.stops,
        {"length": 240, "cutter": 6, "left_end_margin": 3.5, "right_end_margin": 3.5},
        "length cutter",
        "left_end_margin right_end_margin",
        "",
    ),
    (groove.filler_block, {"long_board": 240, "short_board": 160}, "short_board", "", ""),
    (groove.fence_reach, {"farthest": 612, "block": 50, "clamp": 24}, "farthest", "block clamp", ""),
    (groove.overlap, {"from_bottom": 8, "cutter": 6, "fingers": [(0, 10)]}, "cutter", "", ""),
    (groove.least_from_bottom, {"thickness": 12}, "thickness", "", ""),
    (
        groove.safe_heights,
        {"cutter": 6, "fingers": {"long": [(0, 10)]}, "least": 4, "margin": 0.5},
        "cutter",
        "least margin",
        "",
    ),
    (groove.least_end_margin, {"thickness": 12, "proud": 0.3}, "thickness", "proud", ""),
    (
        groove.most_end_margin,
        {"cut_depth": 12, "tongue_reach": 5.5, "cutter": 6, "tongue": 5.8},
        "cut_depth tongue_reach cutter tongue",
        "",
        "",
    ),
    (groove.reach, {"cut_depth": 12, "end_margin": 3, "cutter": 6, "tongue": 5.8}, "cut_depth", "end_margin", ""),
    (
        groove.widest_safe,
        {"from_bottom": 5, "fingers": {"long": [(0, 10)]}, "least": 4.5, "margin": 0.5},
        "",
        "least margin",
        "",
    ),
    (
        groove.corner,
        {"cut_depth": 12, "end_margin": 3, "cutter": 6, "tongue": 5.8, "tongue_reach": 5.5, "enough": 0.1},
        "tongue_reach",
        "end_margin enough",
        "",
    ),
    (groove.wall_left, {"thickness": 12, "depth": 6}, "thickness depth", "", ""),
    (groove.depth_passes, {"depth": 6, "most": 3}, "depth most", "", ""),
    (groove.rounded_inward, {"least": 3.3, "most": 4, "step": 0.01}, "step", "", ""),
    (
        lid.plug,
        {"opening": 136, "clearance": 0.4, "coefficient": 0.00248, "now": 8, "dry": 6, "wet": 12, "film": 0.05},
        "opening coefficient",
        "clearance film",
        "",
    ),
    (lid.plug_along, {"opening": 216, "play": 0.6}, "opening", "play", ""),
    (lid.rabbet, {"lid": 170, "plug_width": 134}, "plug_width", "", ""),
    (lid.overhang, {"lid": 170, "outside": 160}, "lid outside", "", ""),
    (lid.arc_radius, {"chord": 170, "rise": 6}, "chord", "", ""),
    (lid.arc_rise, {"radius": 605, "chord": 170}, "radius", "", ""),
    (lid.flats_needed, {"width": 170, "rise": 6, "ridge": 0.3}, "ridge", "", ""),
    (
        lid.edge_thickness,
        {"thickness": 18, "plug_depth": 6, "crown": 6, "crown_along": 3},
        "thickness",
        "plug_depth crown crown_along",
        "",
    ),
    (
        handle.EndHoles,
        {"radius": 19.3, "neck": 24, "hole_height": 25.3, "length": 90, "height": 50, "crest": 5},
        "radius neck hole_height length height crest",
        "",
        "",
    ),
    (G1.wood_beside_screw, {"at": 5, "bite": 15}, "bite", "", ""),
    (handle.chord, {"radius": 16, "distance": 6}, "radius", "", ""),
    (handle.rim_in_wood, {"radius": 16, "inside": 6}, "radius", "", ""),
    (handle.row_of_holes, {"radius": 16, "pitch": 24}, "radius pitch", "", ""),
    (handle.flat_between, {"radius": 16, "pitch": 24}, "pitch", "", ""),
    (handle.rim_beside_holes, {"radius": 16, "pitch": 24, "neighbours": 1}, "radius pitch", "", ""),
    (handle.off_edge_hole, {"radius": 16, "outside": 6}, "radius", "outside", ""),
    (handle.clamp_room, {"radius": 19.3, "pad": 12, "spare": 5}, "radius", "pad spare", ""),
    (handle.blank_length, {"centre_offset": 31.3, "radius": 19.3, "spare": 5}, "centre_offset radius", "spare", ""),
    (handle.screw_length, {"lid": 18, "countersink": 3, "bite": 15}, "lid bite", "countersink", ""),
    (handle.most_bite, {"wood": 9, "keep": 4}, "", "keep", ""),
    (handle.gap_under_base, {"base": 22, "crown_radius": 536}, "base", "", ""),
    (
        panel.across_grain,
        {"opening": 136, "depth": 6, "clearance": 0.5, "coefficient": 0.00248, "now": 8, "dry": 6, "wet": 12},
        "opening depth coefficient",
        "clearance",
        "",
    ),
    (panel.along_grain, {"opening": 136, "depth": 6, "play": 0.5}, "opening depth", "play", ""),
    (panel.least_engagement, {"depth": 6}, "depth", "", ""),
    (
        panel.sums,
        {
            "along": 176,
            "across": 126,
            "depth": 6,
            "length": 187,
            "width": 136,
            "rabbet_long_grain": 5.75,
            "rabbet_end_grain": 6,
        },
        "along across depth length width",
        "rabbet_long_grain rabbet_end_grain",
        "",
    ),
    (panel.sheet, {"opening": 136, "depth": 6, "clearance": 0.5}, "opening depth", "clearance", ""),
    (panel.tongue_thickness, {"groove": 6, "play": 0.2}, "groove", "play", ""),
    (panel.rabbet_depths, {"thickness": 10, "tongue": 6}, "thickness tongue", "", ""),
    (panel.rabbet_width, {"engagement": 5, "shoulder_gap": 0.8}, "engagement", "shoulder_gap", ""),
    (panel.rabbet_passes, {"width": 17, "cutter": 20}, "width cutter", "", ""),
    (
        movement.ring_coefficient,
        {"radial": 0.00126, "tangential": 0.00248, "ring_angle": 30},
        "radial tangential",
        "",
        "",
    ),
    (movement.shrinkage_from_coefficient, {"coefficient": 0.00248}, "coefficient", "", ""),
    (movement.ratio, {"coefficient": 0.00248, "start": 6, "end": 8}, "coefficient", "", ""),
    (movement.change, {"width": 100, "coefficient": 0.00248, "start": 6, "end": 8}, "coefficient", "width", ""),
    (
        movement.moisture_at,
        {"width": 100, "coefficient": 0.00248, "start": 6, "target": 101},
        "width coefficient target",
        "",
        "",
    ),
    (
        movement.step_at_top,
        {"width": 100, "first": 0.00248, "second": 0.00126, "moisture_change": 3},
        "width first second",
        "",
        "",
    ),
    (
        shell.Shell,
        {"lobes": 7, "half_angle": 45, "rib_radius": 40, "bulge": 0.25},
        "half_angle rib_radius bulge",
        "",
        "",
    ),
    (shell.fit, {"width": 60, "height": 40, "lobes": 7, "bulge": 0.25}, "width height", "", ""),
    (shell.border, {"shell": H1, "offset": 3, "easing": 2}, "offset easing", "", ""),
    (shell.chip_depth, {"width": 3, "angle": 65, "other_angle": 45}, "width angle other_angle", "", ""),
    (shell.rib_chip_width, {"widest": 3, "hinge": 8, "rib_radius": 38, "at": 20}, "widest hinge", "", ""),
    (shell.ridge, {"half_step": 5, "at": 8, "chip_width": 1}, "half_step at", "chip_width", ""),
    (shell.least_hinge, {"half_step": 5, "ridge": 0.8}, "half_step ridge", "", ""),
    (shell.most_lobes, {"half_angle": 52, "hinge": 4, "ridge": 0.8}, "half_angle hinge ridge", "", ""),
    (shell.wood_left, {"thickness": 12, "chip": 3, "groove_depth": 6}, "thickness chip", "groove_depth", ""),
    (
        shell.pivot_height,
        {"bottom": 21, "board": 90, "height": 40, "margin": 3},
        "board height",
        "bottom margin",
        "",
    ),
    (shell.relief_depth, {"border": 3, "chip_depth": 3.2}, "border chip_depth", "", ""),
    (stock.Piece, PIECE, "length width thickness", "", ""),
    (stock.Board, PIECE, "length width thickness", "", ""),
    (
        stock.rough_size,
        {"length": 240, "width": 90, "thickness": 12, "spare_length": 25, "spare_width": 5, "planing": 1.5},
        "length width thickness",
        "spare_length spare_width planing",
        "",
    ),
    (stock.strip_length, SIDES, "length width", "proud kerf trim", ""),
    (stock.strip_pieces, {"lengths": [("side", 240)], "kerf": 3.2, "trim": 15}, "", "kerf trim", ""),
    (stock.resawn_length, SIDES, "length width", "proud kerf trim", ""),
    (stock.resawn_thickness, {"thickness": 12, "kerf": 3, "planing": 4}, "thickness", "kerf planing", ""),
    (
        stock.boxes_per_board,
        {"board": 2400, "strip": 812, "kerf": 3.2, "trim": 15},
        "board strip",
        "kerf trim",
        "",
    ),
    (stock.board_for, {"boxes": 2, "strip": 812, "kerf": 3.2, "trim": 15}, "strip", "kerf trim", ""),
    (stock.board_feet, {"length": 840, "width": 95, "thickness": 27}, "length width thickness", "", ""),
    (stock.cubic_metres, {"length": 840, "width": 95, "thickness": 27}, "length width thickness", "", ""),
    (stock.cutting_plan, {"pieces": [], "boards": [], "kerf": 3.2, "trim": 15}, "", "kerf trim", ""),
    (
        finishing.cheek_area,
        {"count": 9, "first_thickness": 12, "second_thickness": 12},
        "first_thickness second_thickness",
        "",
        "",
    ),
    (finishing.groove_area, {"length": 200, "width": 150, "engagement": 6}, "length width", "engagement", ""),
    (finishing.glue_mass, {"area": 1000, "per_square_metre": 200}, "", "area per_square_metre", ""),
    (finishing.clamps, {"height": 90, "spacing": 75}, "height spacing", "", ""),
    (finishing.caul_relief, {"proud": 0.3, "spare": 1}, "", "proud spare", ""),
    (
        finishing.finish_area,
        {
            "length": 240,
            "width": 160,
            "height": 90,
            "inside_length": 216,
            "inside_width": 136,
            "lid_length": 250,
            "lid_width": 170,
        },
        "length width height",
        "inside_length inside_width lid_length lid_width",
        "",
    ),
    (finishing.finish_volume, {"area": 0.3, "coats": 3, "coverage": 10}, "area coverage", "", ""),
    (finishing.diagonal, {"length": 200, "width": 150, "proud": 0.3}, "length width", "proud", ""),
    (
        finishing.out_of_square,
        {"first": 289, "second": 288, "length": 240, "width": 160},
        "first second length width",
        "",
        "",
    ),
    (mitre.side_length, {"sides": 6, "inscribed_radius": 100}, "inscribed_radius", "", ""),
    (circles.disc_pivot, {"radius": 100, "cutter": 6}, "radius cutter", "", ""),
    (circles.hole_pivot, {"radius": 100, "cutter": 6}, "radius cutter", "", ""),
    (circles.taper_angle, {"wide": 40, "narrow": 25, "length": 400}, "wide narrow length", "", ""),
    (
        dividers.slots,
        {
            "inside": 216,
            "compartments": 3,
            "thickness": 6,
            "height": 50,
            "clearance": 0.2,
            "play": 0.5,
            "relief": 0.5,
        },
        "inside thickness height",
        "clearance play relief",
        "",
    ),
    (
        hinge.recess,
        {"leaf_length": 40, "leaf_depth": 12, "bush": 16, "cutter": 10},
        "leaf_length leaf_depth bush cutter",
        "",
        "",
    ),
    (hinge.recess_depth, {"closed": 4, "gap": 0.5}, "closed", "gap", ""),
    (spacing.centred, {"length": 200, "pitch": 32, "count": 3}, "length pitch", "", ""),
    (spacing.shared, {"length": 200, "count": 3}, "length", "", ""),
    (
        spacing.dovetails,
        {"width": 90, "count": 3, "half_pin": 5, "pin": 6, "ratio": 8, "thickness": 12},
        "width half_pin pin ratio thickness",
        "",
        "",
    ),
    (
        spacing.mitre_keys,
        {"thickness": 12, "depth": 10, "base": 18, "height": 90, "count": 2, "least_wood": 3},
        "thickness depth base height",
        "",
        "",
    ),
    (spacing.parted_finger, {"finger": 10, "kerf": 3.2, "planing": 0.3}, "finger kerf", "", ""),
]


def refusals() -> Iterator[object]:
    for function, arguments, above, least, finite in ROWS:
        for names, values in ((above, (0, -1, math.nan, math.inf)), (least, (-1, math.nan, math.inf)), (finite, ())):
            for name in names.split():
                for value in values or (math.nan, math.inf, -math.inf):
                    title = f"{function.__module__.rpartition('.')[2]}.{function.__name__} {name} {value}"
                    yield pytest.param(function, arguments, name, value, id=title)


@pytest.mark.parametrize(("function", "arguments", "name", "value"), list(refusals()))
def test_a_length_that_cannot_be_is_refused_by_its_name(
    function: Callable[..., object], arguments: dict[str, object], name: str, value: float
) -> None:
    with pytest.raises(ValueError, match=rf"^{name} is {value:g}; it must be "):
        function(**arguments | {name: value})


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0].__module__.rpartition('.')[2]}.{row[0].__name__}")
def test_what_may_be_0_may_be_0(row: Row) -> None:
    function, arguments, _, least, _ = row
    function(**arguments)
    for name in least.split():
        function(**arguments | {name: 0.0})


def test_a_limit_is_no_longer_under_itself() -> None:
    limits.under(2, size=1.9)
    for size in (2.0, 2.1, math.inf):
        with pytest.raises(ValueError, match="must be less than 2"):
            limits.under(2, size=size)


@pytest.mark.parametrize(
    ("total", "step", "steps"), [(0, 1, 1), (0.9, 1, 1), (3, 1, 3), (3.1, 1, 4), (0.1 + 0.2, 0.1, 3), (1e-9, 1, 1)]
)
def test_steps_cover_a_total_and_no_rounding_costs_one_more(total: float, step: float, steps: int) -> None:
    assert limits.steps_to_cover(total, step) == steps
