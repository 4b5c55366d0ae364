"""A box file worked out: the chain, the dry fit, the report, and the rules of the box."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

import cli
from jigs.base.wrapping import WIDTH
from jigs.box import chain, details, report
from jigs.boxfile import reading
from layout import make
from tests.boxes import METRIC, SAMPLES, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.legibility import faults
from tests.outside import Check, agree

BY_HAND = Check(
    "The whole box", "arithmetic written out in jigs/trade, from a box file to every number", "worked example"
)

ROOT = Path(__file__).parent.parent


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def test_the_metric_reference_box() -> None:
    """Worked values: gap 9.9, pitch 19.9, spacer 9.95, rip to 89.5, cut 12.3, over all 29.8, inside 216 by 136."""
    data = chain.as_data(worked())
    assert data["fingers"]["count"] == 9
    assert data["fingers"]["rip_width"] == pytest.approx(89.5)
    expected = {"gap": 9.9, "key": 9.9, "spacer": 9.95, "slack": 0.1, "cut_depth": 12.3, "over_all": 29.8}
    assert data["sled"] == pytest.approx(expected)
    assert (data["box"]["inside_length"], data["box"]["inside_width"]) == (216, 136)
    assert data["fit"]["one_stack"] == pytest.approx({"clearance_min": 0.1, "flush_low": -0.05, "flush_high": 0.05})
    # One seating error of each board, uniform on the slack, for four sockets: 0.1 sqrt(4/6).
    assert data["fit"]["separately"]["drift_sd"] == pytest.approx(0.1 * math.sqrt(4 / 6))
    assert data["fit"]["separately"]["clearance_worst"] == pytest.approx(-0.2)
    front, _, left, _ = data["parts"]
    assert (front["name"], front["length"], left["name"], left["length"]) == ("front", 240.6, "left end", 160.6)
    assert front["sockets"][0] == pytest.approx([9.9, 19.9])
    assert left["sockets"][0] == pytest.approx([0, 9.95])


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_samples_can_be_built(sample: Path) -> None:
    found = chain.work_out(reading.load(sample))
    assert not found.stopped
    assert found.numbers is not None
    assert found.numbers.count % 2 == 1


@pytest.mark.parametrize(
    ("changes", "where", "says"),
    [
        ({"box__length": "20"}, "box.length", "two sides 12 mm thick leave no inside in a box 20 mm long outside"),
        ({"joint__cutter": "12"}, "joint.finger", "the cutter makes a socket of 12 mm"),
        ({"box__height": "25"}, "box.height", "2 fingers + 1 socket, the fewest that make a joint, are 29.80 mm wide"),
        ({"sides__species": '"cherri"'}, "sides.species", "cherri"),
    ],
)
def test_what_stops_a_box(changes: dict[str, str], where: str, says: str) -> None:
    found = worked(**{name: value.strip('"') for name, value in changes.items()})
    assert found.stopped
    stops = [problem for problem in found.problems if problem.severity == "stop"]
    assert stops[0].where == where
    assert says in stops[0].says("mm")


def test_mates_of_another_wood_move_apart() -> None:
    """Black cherry and sugar maple, flat-sawn, 100 mm, 3 %: 100 x |.00248 - .00353| x 3 = 0.315 mm.

    Coefficients: USDA Wood Handbook FPL-GTR-190, Table 13-5.
    """
    found = worked(box__height="100", sides__species="black cherry", sides__ends_species="sugar maple")
    [problem] = [p for p in found.problems if p.where == "sides.ends_species"]
    assert re.search(r"end 0\.3[12] mm out of flush", problem.says("mm"))
    assert not [p for p in worked(sides__species="black cherry").problems if p.where == "sides.ends_species"]


def test_cut_separately_the_chance_is_told() -> None:
    found = worked(joint__method="separately")
    [problem] = [p for p in found.problems if p.where == "joint.method"]
    # Odd counts, m 4, slack 0.1, gap, cutter and spacer within the card's limits: 6.0 % of the corners of a model of
    # rows in numpy (written apart, 200 000 trials); four corners apart from one another: 1 - 0.94^4 = 22 %.
    assert "cut separately, 6.0 % of the corners will not go together, which spoils 22 % of the boxes" in problem.says(
        "mm"
    )
    assert found.meant is not None
    assert "separately, 6.0 % of the corners, 22 % of the boxes" in "\n".join(details.closed_joint(found.meant, "mm"))
    apart = chain.as_data(found)["fit"]["separately"]
    assert apart["chance_fails"] == pytest.approx(0.06, abs=0.001)
    assert apart["chance_box_fails"] == pytest.approx(1 - (1 - apart["chance_fails"]) ** 4)


def test_check_prints_a_report_of_80_columns() -> None:
    for sample in SAMPLES:
        result = run("check", str(sample), "--details")
        assert result.exit_code == 0
        assert all(len(row) <= 80 for row in result.stdout.splitlines())
        for words in ("The joint closed", "not to scale", "[####]", "What the error comes from", "spacer", "%"):
            assert words in result.stdout


def test_check_as_json_even_where_a_rule_stops(tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text(METRIC.replace("cutter = 10", "cutter = 12"))
    result = run("check", str(path), "--json")
    assert result.exit_code == 1
    data: dict[str, Any] = json.loads(result.stdout)
    assert data["fingers"] is None
    assert data["problems"][0]["severity"] == "stop"
    assert set(data) == {
        *("box", "fingers", "sled", "fit", "parts", "groove", "bottom"),
        *("lid", "handle", "shell", "pattern", "movement", "stock", "problems", "hours"),
    }


def test_a_bad_file_ends_with_2(tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text(METRIC.replace("finger", "fingr"))
    result = run("check", str(path))
    assert result.exit_code == 2
    assert "did you mean 'finger' or 'fingers'?" in " ".join(result.stderr.split())
    assert run("check", str(tmp_path / "none.toml")).exit_code == 2


# -- the two reference boxes, end to end ---------------------------------------------------------------------------


# Worked values, derived in the docstrings of jigs/trade: in mm, then in inches. None: not an own number of the box.
REFERENCE: list[tuple[str, float, float]] = [
    ("box.height", 89.5, 3.484),
    ("box.inside_length", 216, 8.5),
    ("box.inside_width", 136, 5.5),
    ("fingers.count", 9, 7),
    ("fingers.finger", 9.9, 0.496),
    ("fingers.pitch", 19.9, 0.996),
    ("fingers.rip_width", 89.5, 3.484),
    ("sled.gap", 9.9, 0.496),
    ("sled.key", 9.9, 0.496),
    ("sled.spacer", 9.95, 0.498),
    ("sled.cut_depth", 12.3, 0.5156),
    ("sled.over_all", 29.8, 1.492),
    ("parts.front.length", 240.6, 9.53125),
    ("parts.left end.length", 160.6, 6.53125),
    # Tongue in the middle: 12 + 7.9 and 3/16 + (.240 + .375)/2 are under the inside; 89.5 and 3.484 to the rim.
    ("box.inside_depth", 69.6, 2.989),
    ("box.inside_depth_under_lid", 63.6, 2.739),
    ("box.diagonal", 288.444, 11.5109),
    ("box.diagonal_glued", 288.944, 11.5366),
    ("groove.fence_reach", 227.8, 12.2344),
    ("groove.fence_length", 460, 24.5),
    ("bottom.thickness", 10, 0.375),
    ("bottom.rabbet_depth", 2.1, 0.0675),
    ("bottom.lower_face", 9.9, 0.12),
    ("groove.fence", 15, 0.3125),
    ("groove.end_wood", 3.8, 0.1719),
    ("groove.end_wood_max", 4.06, 0.1756),
    ("groove.corner.size", 0, 0),
    ("bottom.length", 227, 8.96875),
    ("bottom.width", 145.89, 5.908),
    ("bottom.width_dry", 145.06, 5.871),
    ("bottom.width_wet", 147.5, 5.980),
    ("bottom.engagement_dry", 3.06, 0.121),
    ("bottom.tongue", 5.8, 0.240),
    ("lid.length", 250, 9.875),
    ("lid.width", 170, 6.875),
    ("lid.plug_length", 215.4, 8.469),
    ("lid.plug_width", 134.12, 5.418),
    ("lid.gap_shop", 1.88, 0.082),
    ("lid.gap_dry", 2.64, 0.116),
    ("lid.gap_wet", 0.40, 0.0156),
    ("lid.crown_radius", 605.08, 23.758),
    ("lid.edge", 6.0, 0.250),
    ("handle.centre_offset", 31.3, 1.1975),
    ("handle.chord", 27.19, 1.0437),
    ("handle.crest_radius", 205, 8.260),
    ("handle.least_wood", 6.0, 0.25),
    ("handle.blank_length", 111.2, 4.29),
    ("shell.rib_radius", 37.861, 1.6628),
    ("shell.lobe_radius", 6.150, 0.1987),
    ("shell.chip_depth", 3.217, 0.1083),
    ("shell.wood_left", 12 - 3.217, 0.5 - 0.1083),
    ("stock.strips.0.length", 842.0, 33.5),
]
# The same whatever the unit: shares, degrees, % of moisture (Wood Handbook, chapter 4: 20 °C 45 and 30 %, 25 °C 70 %).
WITHOUT_UNIT: list[tuple[str, float, float, float]] = [
    ("handle.rim_in_wood", 0.75, 0.76, 0.005),
    ("shell.half_angle", 52.262, 48.422, 0.001),
    ("movement.moisture_shop", 8.49, 8.49, 0.006),
    ("movement.moisture_dry", 6.19, 6.19, 0.006),
    ("movement.moisture_wet", 12.94, 12.94, 0.006),
    ("movement.sides_difference", 0, 0, 0),
]


def at(data: Any, path: str) -> Any:
    """Return what a report says at a path; a part is found by its name."""
    for key in path.split("."):
        if isinstance(data, list):
            data = data[int(key)] if key.isdigit() else next(part for part in data if part["name"] == key)
        else:
            data = data[key]
    return data


@BY_HAND.of()
@pytest.mark.parametrize(("path", "metric", "inches"), REFERENCE, ids=[row[0] for row in REFERENCE])
def test_the_reference_boxes(path: str, metric: float, inches: float) -> None:
    agree(at(chain.as_data(worked(WHOLE_METRIC)), path), metric, 0.0061, unit="mm")
    agree(
        at(chain.as_data(worked(WHOLE_INCHES)), path) / (1 if path == "fingers.count" else 25.4),
        inches,
        0.00051,
        unit="in",
    )


@BY_HAND.of()
@pytest.mark.parametrize(("path", "metric", "inches", "within"), WITHOUT_UNIT, ids=[row[0] for row in WITHOUT_UNIT])
def test_the_reference_boxes_without_unit(path: str, metric: float, inches: float, within: float) -> None:
    agree(at(chain.as_data(worked(WHOLE_METRIC)), path), metric, within, unit="")
    agree(at(chain.as_data(worked(WHOLE_INCHES)), path), inches, within, unit="")


@BY_HAND.of()
@pytest.mark.parametrize(
    ("text", "stopped", "through", "stop", "start", "end"),
    [  # worked values M and N: M stops the ends at 153.8, N front and back at 9 15/64
        pytest.param(WHOLE_METRIC, "left end", "front", 153.8, 3.8, 156.8, id="M"),
        pytest.param(WHOLE_INCHES, "front", "left end", 9.234375 * 25.4, 11 / 64 * 25.4, 9.359375 * 25.4, id="N"),
    ],
)
def test_the_groove_of_every_board(
    text: str, stopped: str, through: str, stop: float, start: float, end: float
) -> None:
    data = chain.as_data(worked(text))
    assert set(data["groove"]["stops"]) == set(data["groove"]["stopped"])
    agree(data["groove"]["stops"][stopped], {"left": stop, "right": stop}, unit="mm")
    assert data["groove"]["corner"]["kind"] == "square"
    made = at(data, f"parts.{stopped}.groove")
    agree((made["start"], made["end"]), (start, end), unit="mm")
    made = at(data, f"parts.{through}.groove")
    agree((made["start"], made["end"]), (0, at(data, f"parts.{through}.length")), unit="mm")
    assert [part["name"] for part in data["parts"]] == [
        *("front", "back", "left end", "right end", "bottom", "lid", "handle")
    ]
    assert [part["groove"] for part in data["parts"][4:]] == [None, None, None]


@BY_HAND.of()
def test_more_numbers_of_the_reference_boxes() -> None:
    """Worked values: shoulder gap, engagement, rabbets, over the shoulder, hole to crest, clamps, resawn stick."""
    metric, inches = worked(WHOLE_METRIC), worked(WHOLE_INCHES)
    assert metric.bottom
    assert metric.lid
    assert metric.handle
    assert metric.stock
    assert metric.finish
    assert inches.bottom
    assert inches.lid
    assert inches.handle
    assert inches.stock
    assert inches.finish
    assert inches.groove
    pairs = [
        (metric.bottom.seasons.shoulder_gap, 0.81, inches.bottom.seasons.shoulder_gap, 0.036),
        (metric.bottom.seasons.engagement_now, 4.95, inches.bottom.seasons.engagement_now, 0.204),
        (metric.bottom.seasons.engagement_dry_centred, 4.53, inches.bottom.seasons.engagement_dry_centred, 0.185),
        (metric.bottom.quartered.width, 146.68, inches.bottom.rabbet_depths[0], 0.0675),
        (metric.lid.rabbets[0], 17.3, inches.lid.rabbets[0], 0.703),
        (metric.lid.rabbets[1], 17.94, inches.lid.rabbets[1], 0.7285),
        (metric.lid.over_shoulder, 8.27, inches.lid.over_shoulder, 0.345),
        (metric.lid.widths[0], 169.03, inches.groove.radius, 0.125),
        (metric.lid.widths[1], 171.88, inches.groove.passes[0], 0.125),
        (metric.handle.holes.hole_to_crest, 6.64, inches.handle.holes.hole_to_crest, 0.255),
        (metric.handle.clamp_room, 36.3, inches.handle.clamp_room, 1.4475),
        (metric.stock.resawn_length, 434.4, inches.stock.resawn_length, 17.1875),
        (metric.stock.resawn_thickness, 33.2, inches.stock.resawn_thickness, 1.375),
        (metric.finish.cheeks / 100, 46.08, inches.finish.cheeks / 25.4, 6.0),
        (metric.finish.caul_relief, 1.3, inches.finish.area / 25.4, 453.3),
    ]
    for made, expected, made_inches, expected_inches in pairs:
        agree(made, expected, 0.006, unit="mm")
        agree(made_inches / 25.4, expected_inches, 0.0006 if expected_inches < 400 else 0.06, unit="")
    agree(metric.finish.area / 1e6, 0.2874, 0.00005, unit="m²")
    assert (metric.finish.clamps, inches.finish.clamps) == (8, 8)


def test_what_is_left_out_is_worked_out() -> None:
    """Bare sections take the usual sizes, and build with nothing worse than a wood that has no name."""
    bare = METRIC + "[groove]\ncutter = 6\n[bottom]\nthickness = 10\n[lid]\nthickness = 18\n[handle]\nsaw = 38.6\n"
    made = worked(bare + "[shell]\nlobes = 7\nwidth = 60\nheight = 40\n[stock]\n")
    assert not made.stopped
    assert {p.where for p in made.problems if p.severity == "warning"} == {"groove", "bottom.species", "lid.species"}
    data = chain.as_data(made)
    assert (data["parts"][0]["groove"]["depth"], data["bottom"]["tongue"]) == pytest.approx((6, 5.8))
    assert data["parts"][0]["groove"]["from_bottom"] == pytest.approx((9.95 + 19.85 - 6) / 2)  # middle of a finger
    assert 3.3 <= data["groove"]["end_wood"] <= 4.06
    assert data["lid"]["edge"] == pytest.approx(6)
    assert data["handle"]["rim_in_wood"] == pytest.approx(1 - math.acos(0.7) / math.pi)
    assert data["stock"]["boards"] == []
    assert all(len(row) <= 80 for row in report.check(made).splitlines())


def test_a_file_without_parts_has_none() -> None:
    data = chain.as_data(worked())
    assert [data[name] for name in ("groove", "bottom", "lid", "handle", "shell", "stock")] == [None] * 6
    assert len(data["parts"]) == 4


def test_grain_runs_the_long_way_whichever_side_is_the_front() -> None:
    turned = worked(WHOLE_METRIC, box__length="160", box__width="240")
    data = chain.as_data(turned)
    assert (data["bottom"]["length"], data["lid"]["length"]) == (227, 250)
    assert data["bottom"]["width"] == pytest.approx(145.89, abs=0.005)
    assert data["groove"]["stopped"] == ["left end", "right end"]
    assert data["groove"]["stops"]["left end"]["right"] == pytest.approx(233.8)


def test_a_stop_takes_only_what_depends_on_it() -> None:
    data = chain.as_data(worked(WHOLE_METRIC, joint__cutter="12"))
    assert data["fingers"] is None
    assert [name for name in ("groove", "bottom", "shell", "stock") if data[name]] == []
    assert data["lid"]["plug_width"] == pytest.approx(134.12, abs=0.005)
    assert [part["name"] for part in data["parts"]] == ["lid", "handle"]
    data = chain.as_data(worked(WHOLE_METRIC, groove__depth="12"))
    assert [name for name in ("groove", "bottom", "shell") if data[name]] == []
    assert data["parts"][0]["groove"] is None
    assert [name for name in ("fingers", "lid", "handle", "stock") if data[name] is None] == []


def test_the_stock_comes_out_of_the_rack() -> None:
    made = worked(WHOLE_METRIC).stock
    assert made
    assert made.plan
    assert [piece.name for piece in made.strips[0].pieces] == ["front", "right end", "back", "left end"]
    assert made.volume == pytest.approx(made.board_feet * 144 * 25.4**3 / 1e9)
    [strip] = made.strips
    opened = next(opened for opened in made.plan.boards if strip.name in {piece.name for piece in opened.pieces})
    assert opened.board.length == 2400
    assert opened.offcut == pytest.approx(2400 - 842 - 3.2)


def test_the_report_tells_every_part() -> None:
    for text, words in ((WHOLE_METRIC, "153.8 mm left and right"), (WHOLE_INCHES, "9 15/64 in left and right")):
        said = details.details(worked(text))
        assert all(len(row) <= 80 for row in said.splitlines())
        assert words in said
        for title in ("Groove", "Bottom", "Lid", "Handle", "Shell", "Wood moves", "Stock", "Glue and finish"):
            assert f"\n{title}\n" in said


def test_the_report_says_what_to_know_before_the_set_ups() -> None:
    """Worked values of the box: 89.5 to rip to, a clearance of 0.1 at worst 0.03; 80.3 is half of the ends' 160.6."""
    said = report.check(worked(WHOLE_METRIC))
    rows = said.splitlines()
    assert rows[0] == "BOX M, black cherry. Sizes in mm."
    assert rows[2].startswith("outside 240 × 160 × 89.50; inside 216 × 136 × ")
    assert "CAN BE BUILT. Clearance 0.10; at worst 0.03. In one stack, fewer than 1 in 1000" in said
    assert said.index("BEFORE YOU CUT") < said.index("DANGER") < said.index("CHOOSE") < said.index("\nSLED ")
    starts = [row.split(" ")[0] for row in rows[rows.index("BEFORE YOU CUT") :] if row[:1].isupper()]
    assert starts == ["BEFORE", "WOOD", "SLED", "GROOVE", "BOTTOM", "SHELL", "LID", "HANDLE", "GLUE"]
    assert max(map(len, rows)) <= WIDTH


def test_where_there_are_errors_they_alone_are_printed() -> None:
    said = report.check(worked(WHOLE_METRIC, joint__cutter="12", groove__depth="12"))
    assert "CAN'T BE BUILT AS ASKED: 1 error.\n\n1 joint.finger\n  The cutter makes a socket of 12 mm" in said
    assert not re.search("DANGER|CHOOSE|SLED|CAN BE BUILT", said)


def test_another_value_is_told_with_all_that_it_changes() -> None:
    before = worked(WHOLE_METRIC)
    said = details.changes(before, worked(WHOLE_METRIC, joint__cutter="9.82"))
    assert "\n  gap        9.72 mm; was 9.90 mm\n" in said
    assert "\n  across     29.26 mm across key and cutter; was 29.80 mm across key and cutter\n" in said
    assert "cut depth" not in said  # which stays as it is
    assert "\nLid\n" not in said
    assert all(len(row) <= WIDTH for row in said.splitlines())
    wider = details.changes(before, worked(WHOLE_METRIC, box__width="170"))
    assert "\n  inside     216 mm × 146 mm; was 216 mm × 136 mm\n" in wider
    assert "end boards: 163.8 mm left and right of the bit’s centre" in wider
    assert "was 153.8 mm left and right" in wider


def test_a_part_that_comes_or_goes_is_a_change() -> None:
    bare, with_lid = worked(METRIC), worked(METRIC + "[lid]\nthickness = 18\n")
    assert re.search(r"\nLid\n(.*\n)*  size       250 mm × 170 mm; was none\n", details.changes(bare, with_lid))
    assert "  size       none; was 250 mm × 170 mm\n" in details.changes(with_lid, bare)


@pytest.mark.parametrize("sample", SAMPLES)
def test_nothing_changes_of_the_same_box(sample: Path) -> None:
    made = chain.work_out(reading.load(sample))
    assert details.changes(made, made) == "Nothing that is measured changes."


def test_a_check_with_another_value_leaves_the_file_alone(tmp_path: Path) -> None:
    file = tmp_path / "box.toml"
    file.write_bytes((ROOT / "samples" / "recipe-box.toml").read_bytes())
    result = run("check", str(file), "--set", "joint.finger=8")
    assert result.exit_code == 0
    assert "CAN BE BUILT." in result.stdout.split("What changes\n")[0]
    assert "\n  gap        7.87 mm; was 9.92 mm\n" in result.stdout
    assert "The cutter of 7.97 mm is taken" in " ".join(result.stdout.split())
    assert all(len(row) <= WIDTH for row in result.stdout.splitlines())
    assert file.read_bytes() == (ROOT / "samples" / "recipe-box.toml").read_bytes()
    numbers = json.loads(run("check", str(file), "--set", "joint.finger=8", "--json").stdout)
    assert numbers["sled"]["gap"] == pytest.approx(7.87)
    assert any("the cutter of 7.97 mm is taken" in problem["says"] for problem in numbers["problems"])
    apart = run("check", str(file), "--set", "joint.method=separately").stdout
    assert "\n  of many    6.0 % of the corners, 22 % of the boxes will not close; was fewer" in apart


def test_what_a_warning_of_a_separate_cut_suggests_works() -> None:
    for slack, warned in (("0.04", True), ("0.03", False)):
        made = worked(joint__method="separately", joint__key_slack=slack)
        assert any(problem.where == "joint.method" for problem in made.problems) == warned


@pytest.mark.slow
def test_a_long_title_is_written_on_every_page() -> None:
    text = SAMPLES[0].read_text().replace('title = "Recipe box"', f'title = "{"W" * 43}"')
    made = make.draw(make.box(text, "long.toml"), ["stock"])
    assert [fault for sheet in made.cards.sheets for fault in faults(sheet)] == []


def test_a_paper_of_the_file_that_there_is_not_draws_nothing(tmp_path: Path) -> None:
    file = tmp_path / "box.toml"
    file.write_text(SAMPLES[0].read_text(encoding="utf-8").replace('paper = "A4"', 'paper = "A44"'), encoding="utf-8")
    for words in (("check", str(file)), ("draw", str(file), "-o", str(tmp_path / "sheets"))):
        result = run(*words)
        assert (result.exit_code, result.stdout) == (2, "")
        assert "print.paper: there is no paper called 'A44'" in re.sub(r"\s+", " ", result.stderr)
    assert not (tmp_path / "sheets").exists()
    typed = ("--paper", "A4", "--only", "stops", "--format", "pdf", "-o", str(tmp_path / "sheets"))
    assert run("draw", str(file), *typed).exit_code == 0


@pytest.mark.parametrize(
    ("typed", "code", "says"),
    [
        ("joint.finger=12", 1, "no other cutter is known"),
        ("box.lenth=200", 2, "did you mean 'length'?"),
        ("box.length", 2, "is not KEY=VALUE"),
        ("box.length=1", 1, "must be from 10 mm to 2000 mm; it is 1 mm"),
        ("print.paper=A44", 2, "print.paper: there is no paper called 'A44'; did you mean 'A4'?"),
    ],
)
def test_a_value_that_can_not_be_set_is_refused(typed: str, code: int, says: str) -> None:
    result = run("check", str(SAMPLES[0]), "--set", typed)
    assert result.exit_code == code
    assert says in re.sub(r"\s+", " ", result.stderr)
