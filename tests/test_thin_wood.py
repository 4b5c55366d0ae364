"""The thin-wood map, held against the closed formulas of the trade and against rasters of the same outlines."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage

from jigs.box import chain, thin_wood
from jigs.box.thin_wood import Place, Section
from jigs.boxfile import reading
from jigs.trade import groove, lid, shell
from jigs.trade.handle import EndHoles
from tests.boxes import SAMPLES, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.outside import Check, agree

FORMULAS = Check(
    "The whole box", "least wood: outlines measured by shapely, a raster of scipy.ndimage", "reference library"
)
RASTER = Check(
    "The whole box", "least wood: outlines measured by shapely, a raster of scipy.ndimage", "reference library"
)

AGREED = 0.02


def found(made: chain.Box) -> dict[tuple[str, str], float]:
    return {(thin.part, thin.place): thin.wood for thin in thin_wood.thin_wood(made)}


def formulas(made: chain.Box) -> dict[tuple[str, str], float]:
    """Return what the closed formulas of jigs/trade say of every place they know."""
    known: dict[tuple[str, str], float] = {}
    if handle := made.handle:
        holes = handle.holes
        known["handle", "above a hole, to the crest"] = holes.over_holes
        known["handle", "base, under a hole"] = holes.base
        known["handle", "neck, between the holes"] = holes.thinnest_neck
        if handle.arched:
            known["handle", "foot, beside the arch"] = holes.foot
    if top := made.lid:
        known["lid", "edge, above the rabbet"] = lid.edge_thickness(
            thickness=top.thickness, plug_depth=top.plug_depth, crown=top.crown
        )
    if slot := made.groove:
        known["sides", "wall behind the groove"] = groove.wall_left(thickness=slot.thickness, depth=slot.depth)
        known["sides", "under the groove"] = slot.from_bottom
        # Where the cutter's middle is in a socket, its round end leaves more in the finger.
        known |= {
            (kind, "end margin, beyond the stopped groove"): slot.end_margin
            for kind in slot.stopped_kinds
            if any(start <= slot.fence <= end for start, end in slot.fingers[kind])
        }
    if fan := made.shell:
        known["front", "under the chips of the shell"] = shell.wood_left(thickness=fan.thickness, chip=fan.chip_depth)
        known["front", "ridge between chips of the shell"] = min(fan.ridges)
    return known


def disagreements(made: chain.Box) -> dict[tuple[str, str], tuple[float, float]]:
    measured = found(made)
    return {
        place: (wood, measured[place]) for place, wood in formulas(made).items() if abs(measured[place] - wood) > AGREED
    }


@st.composite
def boxes(draw: st.DrawFn) -> chain.Box:
    """Draw boxes with every part; what a rule stops is left out of them."""

    def mm(least: float, most: float) -> float:
        return draw(st.floats(least, most).map(lambda value: round(value, 2)))

    thickness, lid_thickness, saw = mm(9, 16), mm(14, 24), mm(28, 45)
    neck, base, crest = mm(18, 30), mm(4, 9), mm(3, 8)
    # From the middle to the near side of an end hole: half the neck, beside an eye as high as they are, or beside an
    # arch with its centre on the base line, where centres are saw + neck apart.
    inner, row = draw(
        st.sampled_from(
            [
                (neck / 2, {}),
                (saw / 2 + neck, {"handle__holes": "3", "handle__middle": "eye"}),
                (math.sqrt((saw + neck) ** 2 - (saw / 2 + base) ** 2) - saw / 2, {"handle__holes": "3"}),
            ]
        )
    )
    changes: dict[str, Any] = {
        "sides__thickness": thickness,
        "groove__depth": thickness * mm(0.3, 0.6),
        "groove__from_bottom": mm(3, 16),
        "groove__end_margin": mm(2, 5),
        "lid__thickness": lid_thickness,
        "lid__plug": lid_thickness * mm(0.2, 0.35),
        "lid__crown": lid_thickness * draw(st.sampled_from([0.0, 0.1, 0.3])),
        "handle__saw": saw,
        "handle__neck": neck,
        "handle__base": base,
        "handle__crest": crest,
        "handle__length": 2 * inner + saw * mm(0.9, 1.8),
        "handle__height": saw + base + crest + mm(2, 14),
        "shell__chip": mm(2, 3),
        "bottom__tongue": 5.8,
        "box__height": draw(st.sampled_from([70, 90, 110])),
    }
    return worked(WHOLE_METRIC, **{key: f"{value:.4f}" for key, value in changes.items()}, **row)


@FORMULAS.of()
@settings(max_examples=16)
@given(boxes())
def test_the_map_agrees_with_the_formulas(made: chain.Box) -> None:
    """Worked values, derived in the docstrings of jigs/trade."""
    known, measured = formulas(made), found(made)
    agree({place: measured[place] for place in known}, known, AGREED, unit="mm")


@FORMULAS.of(lid.over_shoulder)
@settings(max_examples=8)
@given(boxes())
def test_over_the_shoulder_the_map_measures_square_to_the_crown(made: chain.Box) -> None:
    """The formula measures upright; square to the arc it is R less the way from its centre to the shoulder."""
    top = made.lid
    if top is None:
        return
    measured = found(made)["lid", "above the plug’s shoulder"]
    assert measured <= top.over_shoulder + AGREED
    if top.crown:
        radius = lid.arc_radius(top.width, top.crown)
        to_shoulder = math.hypot(top.plug.width / 2, top.plug_depth - (top.thickness - radius))
        agree(measured, radius - to_shoulder, AGREED, unit="mm")


@FORMULAS.of(shell.wood_left)
@pytest.mark.parametrize(("height", "right_over"), [(50, False), (64, False), (72, True), (78, True)])
def test_a_shell_over_the_groove_has_at_least_the_wood_of_the_formula(height: int, right_over: bool) -> None:
    """The formula holds where a chip lies right over the groove, and is on the safe side where it only comes near."""
    made = worked(WHOLE_METRIC, shell__height=f"{height}", shell__width="80", shell__knife="45")
    fan = made.shell
    assert fan is not None
    assert fan.groove is not None
    left = shell.wood_left(thickness=fan.thickness, chip=fan.chip_depth, groove_depth=fan.groove.depth)
    measured = found(made)["front", "from the chips of the shell to the groove"]
    if right_over:
        agree(measured, left, AGREED, unit="mm")
        assert fan.wood_left == left
    else:
        assert measured > left + AGREED


def test_a_wrong_formula_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    made = worked(WHOLE_METRIC)
    assert disagreements(made) == {}
    monkeypatch.setattr(EndHoles, "hole_to_crest", EndHoles.horn_tip)
    assert set(disagreements(made)) == {("handle", "above a hole, to the crest")}
    monkeypatch.setattr(groove, "wall_left", lambda *, thickness, depth: depth + 1)
    assert ("sides", "wall behind the groove") in disagreements(made)


# -- a second method -----------------------------------------------------------------------------------------------

STEP = 0.1
THREE = {"handle__holes": "3", "handle__length": "150"}
HIGH = {**THREE, "handle__length": "108", "handle__base": "20", "handle__height": "92"}


def pieces(wood: Any, eaten: float) -> tuple[int, int]:
    """Count the pieces of wood and of air when so much is taken off all round: the raster's own distances."""
    left, bottom, right, top = wood.bounds
    x, y = np.meshgrid(np.arange(left - 2, right + 2, STEP), np.arange(bottom - 2, top + 2, STEP))
    shapely.prepare(wood)
    deep = ndimage.distance_transform_edt(shapely.contains_xy(wood, x, y)) * STEP
    kept = deep > eaten
    return ndimage.label(kept)[1], ndimage.label(~kept, np.ones((3, 3)))[1]


@pytest.mark.slow
@RASTER.of()
@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("face of the handle", {}),  # the base gives first
        ("face of the handle", {"handle__base": "9", "handle__height": "56"}),  # the wood over the holes
        ("face of the handle", {"handle__base": "20", "handle__height": "92", "handle__neck": "18"}),  # the neck
        ("face of the handle", {**HIGH, "handle__neck": "18"}),
        ("face of the handle", {**THREE, "handle__middle": "eye", "handle__middle_saw": "50", "handle__height": "64"}),
        ("a side cut across", {}),  # the wall behind the groove
        ("inner face of end boards", {"groove__end_margin": "1.5", "groove__from_bottom": "11.9"}),  # the end margin
    ],
)
def test_wood_holds_together_until_its_least_is_eaten(name: str, changes: dict[str, str]) -> None:
    """Taking w/2 off all round parts the wood, or opens a hole to the outside, from w = the least wood on."""
    made = worked(WHOLE_METRIC, **changes)
    [section] = [section for section in thin_wood.sections(made) if section.name.startswith(name)]
    least = min(thin.wood for thin in thin_wood.measure(section))
    whole = pieces(section.wood, 0)
    assert pieces(section.wood, least / 4) == whole
    assert pieces(section.wood, least / 2 - 1.5 * STEP) == whole
    assert pieces(section.wood, least / 2 + 1.5 * STEP) != whole


# -- the definition ------------------------------------------------------------------------------------------------


def measured(outline: list[tuple[float, float]], *places: Place) -> list[tuple[str, float]]:
    names = {"a face": [[*outline, outline[0]]]}
    section = Section("", "", shapely.Polygon(outline), names, places, {})
    return [(thin.place, thin.wood) for thin in thin_wood.measure(section)]


def test_a_neck_nobody_named_is_found() -> None:
    waisted = [(0.0, 0.0), (20.0, 8.0), (40.0, 0.0), (40.0, 20.0), (20.0, 11.0), (0.0, 20.0)]
    wood = [wood for _, wood in measured(waisted)]
    assert min(wood) == pytest.approx(3, abs=0.2)  # across the waist, square to the flatter side
    assert measured(waisted)[0][0] == "between a face and a face"


def test_air_and_sharp_edges_are_no_wood() -> None:
    """A groove 2 wide in a board of 10 leaves 4 under it; between its own sides there is air."""
    grooved = [(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (16.0, 10.0), (16.0, 4.0), (14.0, 4.0), (14.0, 10.0), (0.0, 10.0)]
    assert min(wood for _, wood in measured(grooved)) == pytest.approx(4)
    assert measured([grooved[0], *grooved]) == measured(grooved)  # two points that are one face nowhere
    wedge = [(0.0, 0.0), (30.0, 0.0), (0.0, 10.0)]
    assert measured(wedge) == []


def test_what_is_missed_is_said() -> None:
    made = worked(WHOLE_METRIC, groove__from_bottom="12", groove__end_margin="2")
    [short] = [thin for thin in thin_wood.thin_wood(made) if not thin.met]
    assert (short.part, short.place) == ("end boards", "end margin, beyond the stopped groove")
    assert short.least == pytest.approx(3.3)  # a quarter of 12 mm is 3 mm (common practice, no source), and 0.3 proud
    assert short.where.x == pytest.approx(1, abs=0.01) or short.where.x == pytest.approx(159.6, abs=0.01)
    [row] = [row for row in thin_wood.table(made).rows if row[-1] == "no"]
    assert row[1] == short.place


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_samples_have_wood_enough_everywhere(sample: Path) -> None:
    thin = thin_wood.thin_wood(chain.work_out(reading.load(sample)))
    assert all(place.met for place in thin)
    assert [place.wood for place in thin] == pytest.approx(sorted(place.wood for place in thin))


def test_the_reference_boxes_have_every_part() -> None:
    for text in (WHOLE_METRIC, WHOLE_INCHES):
        assert {"front and back", "end boards", "sides", "front", "bottom", "lid", "handle"} == {
            part for part, _ in found(worked(text))
        }


def test_a_box_without_parts_has_its_fingers() -> None:
    assert {place for _, place in found(worked())} == {"a finger"}
