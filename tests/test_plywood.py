"""A bottom of plywood: its sizes, every rule of it, what it is called and sawn from, and what cards say of it."""

from __future__ import annotations

import contextlib
import itertools
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card
from jigs.base.catalogue import Plan, find
from jigs.base.errors import CannotBuild, JigleafError
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.box import chain, glue_card, questions, rack, report, woods
from jigs.box.sheets import sheets
from jigs.boxfile import change, reading, units
from jigs.parts.bottom import card as bottom_card
from jigs.parts.bottom.part import Bottom
from tests import on_cards, refusals
from tests.boxes import WHOLE_INCHES, WHOLE_METRIC
from tests.conftest import pages_of
from tests.legibility import faults
from tests.outside import Check, agree
from tests.test_words import rejected
from tests.words import words_of

BY_HAND = Check("Bottom panel", "arithmetic written out in jigs/trade/panel.py", "worked example")
PUT_BACK = Check(
    "Bottom panel", "the panel put back into its grooves at every moisture, passes counted", "independent derivation"
)
INCH = 25.4
METRIC = WHOLE_METRIC.replace("thickness = 10\ntongue = 5.8\n", 'material = "plywood"\nthickness = 5.8\n')
INCHES = WHOLE_INCHES.replace(
    'thickness = "3/8"\ntongue = 0.240\n', 'material = "plywood"\nthickness = 0.205\n'
).replace('cutter = "1/4"', "cutter = 0.213")
SHEET: dict[str, Any] = {"along": 216.0, "across": 136.0, "groove": 6.0, "depth": 6.0, "material": "plywood"}


def worked(text: str = METRIC, **changes: str) -> chain.Box:
    values = {name.replace("__", "."): value for name, value in changes.items()}
    return chain.work_out(reading.read(change.set_values(text, values) if values else text, "box.toml"))


def bottom_of(text: str = METRIC, **changes: str) -> Bottom:
    made = worked(text, **changes).bottom
    assert made is not None
    return made


def plan(units: Units = "mm", **changes: Any) -> Plan:
    return find("panel").plan({**SHEET, "thickness": 5.8} | changes, units)


def told(where: str, units: Units = "mm", **changes: Any) -> tuple[str, str, str]:
    """Return how bad, what and what instead is said of a setting."""
    found = [p for p in refusals.problems(lambda: plan(units, **changes)) if p.where == where]
    assert found, f"nothing said about {where}"
    return found[0].sign, found[0].says(units), found[0].suggests(units)


def said_of(asked: dict[str, Any]) -> list[Problem]:
    return refusals.problems(lambda: plan(**asked))


def silent(where: str, units: Units = "mm", **changes: Any) -> bool:
    return not [p for p in refusals.problems(lambda: plan(units, **changes)) if p.where == where]


def card(made: Bottom) -> Card:
    return on_cards.card(bottom_card.of(made), "bottom")


# -- sizes ---------------------------------------------------------------------------------------------------------


@BY_HAND.of("panel")
def test_the_metric_box() -> None:
    """Inside 216 × 136, grooves 6 deep, 0.5 in all: 216 + 12 − 0.5 by 136 + 12 − 0.5, held by 6 − 0.25 all year."""
    data = chain.as_data(worked())
    made = data["bottom"]
    assert made["material"] == "plywood"
    agree(
        (made["length"], made["width"], made["width_dry"], made["width_wet"]), (227.5, 147.5, 147.5, 147.5), unit="mm"
    )
    agree(
        (made["engagement_dry"], made["tongue"], made["thickness"], made["rabbet_depth"]),
        (5.75, 5.8, 5.8, 0),
        unit="mm",
    )
    agree((made["lower_face"], made["upper_face"]), (12, 17.8), unit="mm")
    assert chain.as_data(worked(WHOLE_METRIC))["bottom"]["material"] == "solid"


@BY_HAND.of("panel")
def test_the_inch_box() -> None:
    """Inside 8.5 × 5.5, grooves 1/4 deep, .020 in all: 8.98 by 5.98, held by .24."""
    made = bottom_of(INCHES)
    agree((made.length / INCH, made.seasons.width / INCH), (8.98, 5.98), unit="in")
    agree((made.seasons.engagement_now / INCH, made.tongue / INCH), (0.24, 0.205), unit="in")


@BY_HAND.of("panel")
@pytest.mark.parametrize(
    ("thickness", "tongue", "deep"),
    [(5.6, 5.6, 0), (5.9, 5.9, 0), (5.91, 5.8, 0.11), (6.4, 5.8, 0.6), (8.6, 5.8, 2.8), (11.5, 5.8, 5.7)],
)
def test_a_sheet_has_rabbets_only_where_it_does_not_go_in(thickness: float, tongue: float, deep: float) -> None:
    """A groove of 6 less 0.1 takes 5.9 as it is; thicker, the tongue is 6 − 0.2, all of the rest below it."""
    numbers = plan(thickness=thickness).numbers
    agree((numbers["thickness"], numbers["tongue"]), (thickness, tongue), unit="mm")
    agree(numbers["rabbet_depths"], (deep, 0), unit="mm")
    agree(numbers["upper_face"] - numbers["lower_face"], thickness, unit="mm")
    agree(numbers["rabbet_widths"], (6, 6), unit="mm")  # held 5.75, and 0.25 that the shoulders keep


def test_no_air_moves_it_and_none_is_asked_for() -> None:
    one = plan().numbers
    airs: tuple[dict[str, Any], ...] = (
        {"shop_humidity": 20.0},
        {"shop_humidity": 90.0},
        {"dry_humidity": 10.0, "wet_humidity": 95.0},
    )
    for air in airs:
        assert plan(**air).numbers == one
        assert silent("shop humidity", **air)
    dry = '[climate]\ndry = { temperature = "20 C", humidity = 10 }\n'
    box = worked(METRIC + dry)
    assert not [p for p in box.problems if p.where.startswith("bottom")]
    [part] = [part for part in box.parts if part.name == "bottom"]
    assert part.year() == ()


@PUT_BACK.of("panel")
@settings(max_examples=50)
@given(
    along=st.floats(60, 600),
    across=st.floats(60, 600),
    depth=st.floats(3, 10),
    clearance=st.floats(0, 2),
    groove=st.floats(3, 10),
    thickness=st.floats(2, 18),
    units=st.sampled_from(["mm", "in"]),
)
def test_any_sheet_lies_in_its_grooves_and_nowhere_else(
    along: float, across: float, depth: float, clearance: float, groove: float, thickness: float, units: Units
) -> None:
    """Boxes of air on two axes: the tongue within floors and groove, the body within the inside, wherever it lies."""
    asked = {"along": along, "across": across, "depth": depth, "clearance": clearance, "groove": groove}
    try:
        numbers = plan(units, **asked, thickness=thickness, sides=30.0).numbers
    except CannotBuild as error:
        found = [problem.suggests(units) for problem in error.problems]
        if not all(found):
            pytest.fail(f"nothing is suggested: {error}")
        return
    tongue, (below, above), wide = numbers["tongue"], numbers["rabbet_depths"], numbers["rabbet_widths"]
    assert above == 0
    assert below == pytest.approx(thickness - tongue)
    assert tongue <= groove
    assert numbers["lower_face"] >= -1e-9
    for room, size in ((along, numbers["length"]), (across, numbers["width"])):
        for left in (-depth, (room - size) / 2, room + depth - size):  # slid to one floor, in the middle, to the other
            assert left + size <= room + depth + 1e-9
            assert min(-left, left + size - room) >= depth - clearance - 1e-9
            body = left + wide[0], left + size - wide[1]
            assert below == 0 or (body[0] >= -1e-9 and body[1] <= room + 1e-9)
    assert numbers["width"] == numbers["width_dry"] == numbers["width_wet"]


# -- rules ---------------------------------------------------------------------------------------------------------


def test_a_sheet_thinner_than_its_groove_rattles() -> None:
    assert told("groove", thickness=5.6) == (
        "WARNING",
        "plywood 5.60 mm thick will rattle in a groove 6 mm wide: it is 0.40 mm thinner, and over 0.30 mm is felt",
        "cut the groove 5.8 mm wide with a narrower bit; or shim it, and glue it all round",
    )
    assert silent("groove", thickness=5.6, groove=5.8)
    assert silent("groove", thickness=5.7)
    sign, says, suggests = told("groove", "in", groove=INCH / 4, thickness=0.205 * INCH, depth=INCH / 4, sides=INCH / 2)
    assert sign == "WARNING"
    assert "Plywood 0.205 in thick" in says.capitalize()
    assert "it is 0.045 in thinner" in says
    assert "cut the groove 0.213 in wide" in suggests


def test_a_sheet_a_hair_too_thick_for_its_groove() -> None:
    assert told("thickness", thickness=5.95) == (
        "WARNING",
        "plywood 5.95 mm thick needs rabbets 0.15 mm deep for a groove 6 mm wide, too shallow to cut true; 0.40 mm is "
        "the least",
        "cut the groove 6.05 mm wide, for no rabbets; or use plywood 5.9 mm thick or less",
    )
    assert silent("thickness", thickness=5.95, groove=6.05)
    assert silent("thickness", thickness=5.9)
    assert silent("thickness", thickness=6.2)


def test_a_sheet_without_clearance_holds_the_corners_open() -> None:
    assert told("clearance", clearance=0.0) == (
        "WARNING",
        "the bottom, 228 mm × 148 mm, fills its grooves. A hair too large, it will hold the corners open",
        "make the clearance 0.5 mm",
    )
    assert silent("clearance", clearance=0.5)


def test_a_sheet_that_misses_a_groove_is_refused() -> None:
    assert told("clearance", clearance=7.0) == (
        "Error",
        "slid to one side, a bottom with a clearance of 7 mm misses the other groove, which is 6 mm deep",
        "make the clearance 0.5 mm",
    )
    sign, says, suggests = told("clearance", clearance=5.0)
    assert (sign, suggests) == ("WARNING", "make the clearance 0.5 mm")
    assert says.endswith("its engagement is 1 mm, under 1.5 mm")
    assert silent("clearance", clearance=4.5)
    # A shallow groove: 1.2 deep less 0.5 holds 0.7, 1 is wanted; 1.5 less 0.5 holds it.
    assert told("clearance", depth=1.2)[2] == "make the clearance 0.2 mm, or cut the groove 1.5 mm deep"
    ways: tuple[dict[str, Any], ...] = ({"depth": 1.2, "clearance": 0.2}, {"depth": 1.5})
    for works in ways:
        assert silent("clearance", **works)


@pytest.mark.parametrize(
    ("thickness", "groove", "as_sold"),
    [(6.0, 6.5, True), (9.0, 6.0, True), (INCH / 4, 6.5, True), (5.6, 6.0, False), (8.7, 6.0, False)],
)
def test_a_thickness_as_it_is_sold_asks_to_be_measured(thickness: float, groove: float, as_sold: bool) -> None:
    assert silent("thickness", thickness=thickness, groove=groove) != as_sold
    if as_sold:
        sign, says, suggests = told("thickness", thickness=thickness, groove=groove)
        assert sign == "CHOOSE"
        assert says.endswith("often measures less, and your groove must fit what it measures")
        assert suggests == "measure the sheet with callipers, and enter what you read"


def test_what_only_wood_has_is_told_to_do_nothing() -> None:
    wood: dict[str, Any] = {"species": "black cherry", "rings": 90.0}
    for where, value in wood.items():
        sign, says, suggests = told(where, **{where: value})
        assert sign == "CHOOSE"
        assert says == "plywood does not move with the seasons, so this setting changes nothing"
        assert suggests == 'leave it out, or make the material "solid"'
        assert plan(**{where: value}).numbers == plan().numbers
    assert not [p for p in worked(bottom__species="birch plywood").problems if p.where == "bottom.species"]


@BY_HAND.of("panel")
def test_a_sheet_hangs_below_the_sides_by_all_of_its_rabbet() -> None:
    """A tongue of 5.8 in a groove 5 up leaves 10.4 − 5 = 5.4 of a sheet of 16.2 below the edges."""
    sign, says, suggests = told("thickness", thickness=16.2, from_bottom=5.0)
    assert sign == "Error"
    assert "which hangs 5.4 mm below the bottom edges" in says
    assert suggests == "use plywood 10.3 mm thick or less, or start the groove 10.9 mm from the bottom edge"
    ways: tuple[dict[str, Any], ...] = (
        {"thickness": 10.3, "from_bottom": 5.0},
        {"thickness": 16.2, "from_bottom": 10.9},
    )
    for works in ways:
        assert silent("thickness", **works)
    agree(plan(thickness=16.2).numbers["lower_face"], 0.5, unit="mm")


def test_a_tongue_that_is_asked_for() -> None:
    assert told("tongue", thickness=8.6, tongue=6.2)[0] == "Error"
    assert told("tongue", thickness=8.6, tongue=5.5)[1].startswith("a tongue 5.5 mm thick will rattle")
    assert told("tongue", thickness=8.6, tongue=5.95)[1].endswith("and glue swells it")
    assert silent("tongue", thickness=8.6, tongue=5.8)


def test_plywood_is_no_wood_of_the_table() -> None:
    """Named as the wood of a solid bottom it is refused with the key that was meant; as its material it is not."""
    box = worked(WHOLE_METRIC, bottom__species="birch plywood")
    [problem] = [p for p in box.problems if p.where == "bottom.species"]
    assert problem.suggests("mm").startswith('make the material of the bottom "plywood"')
    assert not worked(bottom__species="birch plywood").stopped


def test_a_sheet_that_names_no_wood_is_not_drawn_in_that_of_the_sides() -> None:
    assert woods.woods_of(worked())["bottom"] is None
    assert woods.woods_of(worked(bottom__species="birch plywood"))["bottom"] == "birch plywood"
    assert woods.woods_of(worked(WHOLE_METRIC))["bottom"] == worked(WHOLE_METRIC).file.sides.species


# -- boards --------------------------------------------------------------------------------------------------------


def boards(*rows: str) -> str:
    sides = "{ length = 2400, width = 100, thickness = 15, species = 'black cherry' }"
    top = "{ length = 700, width = 180, thickness = 25, species = 'black cherry' }"
    return f"[{', '.join([sides, top, *rows])}]"


def from_boards(*rows: str, **changes: str) -> chain.Box:
    head, _, _ = METRIC.partition("boards = [")
    return worked(f"{head}boards = {boards(*rows)}\n", **changes)


@BY_HAND.of("panel")
def test_it_is_sawn_from_a_sheet_alone_and_not_planed() -> None:
    sheet = "{ length = 600, width = 300, thickness = 6, species = 'birch plywood' }"
    box = from_boards(sheet)
    assert box.stock
    assert box.stock.plan
    assert {b.board.name: [p.name for p in b.pieces] for b in box.stock.plan.boards}["board 3"] == ["bottom"]
    [rough] = [piece for piece in box.stock.others if piece.name == "bottom"]
    agree((rough.length, rough.width, rough.thickness), (252.5, 152.5, 5.8), unit="mm")  # no planing: 25 and 5 alone
    for other in ((), ("{ length = 600, width = 300, thickness = 12 }",), (sheet.replace("6,", "12,"),)):
        short = from_boards(*other)
        [missing] = [p for p in short.problems if p.sign == "GET" and "no board of" in p.says("mm")]
        assert "5.80 mm of plywood for the bottom" in missing.says("mm")
        assert missing.suggests("mm") == "get one of that size or larger, of plywood just as thick"
    solid = chain.work_out(reading.read(METRIC.replace('material = "plywood"', ""), "box.toml"))
    assert solid.stock
    wood = sum(p.length * p.width * p.thickness for p in box.stock.others if p.name != "bottom")
    strip = box.stock.strips[0]
    agree(box.stock.volume * 1e9, wood + strip.length * strip.width * strip.thickness, 1e-3, unit="mm³")


def test_the_cut_list_has_a_sheet_with_its_face_grain() -> None:
    box = worked()
    assert box.stock
    rows = {str(row[0]): row for row in rack.cut_list(box, box.stock).rows}
    row = rows["bottom, plywood"]
    assert "sheet, 253 × 153 × 5.80" in words_of(row)
    assert (row[3], row[-1]) == ("–", "face grain long way")
    assert (row[5], row[4]) == (227.5, 147.5)
    named = worked(bottom__species="birch plywood")
    assert named.stock
    assert "bottom, birch plywood" in {str(one[0]) for one in rack.cut_list(named, named.stock).rows}
    [part] = [part for part in chain.as_data(box)["parts"] if part["name"] == "bottom"]
    assert part["species"] == "plywood"


def test_the_report_says_what_it_is() -> None:
    said = " ".join(report.check(worked()).split())
    assert "bottom, plywood: 253 × 153 × 5.80" in said
    assert "in all without the plywood" in said
    assert "BOTTOM plywood 5.80 thick, glued all round; no rabbets; corners square" in said
    thick = " ".join(report.check(worked(bottom__thickness="8.6")).split())
    assert "plywood 8.60 thick, glued all round; tongue 5.80; rabbets 2.80 deep, 6 wide on the lower face" in thick


# -- cards ---------------------------------------------------------------------------------------------------------


@BY_HAND.of("panel")
def test_the_card_of_a_sheet() -> None:
    made = card(bottom_of())
    assert made.place == "Saw and bench"
    said = on_cards.words(made, "mm")
    assert "plywood 5.80, glued all round; corners square" in said
    assert "Mask 6 along its edges on both faces; finish the rest. Glue it all round: plywood does not move." in said
    assert "dab" not in said
    assert "moist" not in said.casefold()
    assert on_cards.settings(made) == {}
    assert list(on_cards.views(made)) == ["whole", "edge"]
    edge = on_cards.views(made)["edge"]
    agree({d.name: d.value for d in edge.dimensions}["depth"], 6, unit="mm")
    plies = on_cards.part(edge, "sheet")
    assert not plies.hatched
    heights = sorted({round(y, 6) for line in plies.lines for _, y in line.shape.points()})
    assert heights[0] == 0
    assert heights[-1] == pytest.approx(5.8)
    assert on_cards.part(edge, "side").hatched


@BY_HAND.of("panel")
def test_the_card_of_a_sheet_with_rabbets() -> None:
    """One setting for all four edges: the bit 2.8 high, out by the depth of the grooves."""
    made = card(bottom_of(bottom__thickness="8.6"))
    set_to = on_cards.settings(made)
    assert list(set_to) == ["bit", "height", "edges-1"]
    agree((set_to["height"], set_to["edges-1"]), (2.8, 6), unit="mm")
    said = on_cards.words(made, "mm")
    assert "Mark its lower face; rabbet that alone, both ends first." in said
    assert "both faces" not in said.replace("on both faces; finish", "")
    assert "Or with the groove’s bit of 6: edges 3.00, then 6.00." in said
    [section] = [view for name, view in on_cards.views(made).items() if name.startswith("at-")]
    piece = on_cards.part(section, "piece")
    assert not piece.hatched
    box = piece.bounds
    agree((box.bottom, box.top), (0, 8.6), unit="mm")
    assert all(part.name != "first-face" for part in section.parts)
    holds = [hold.name for hold in made.holds()]
    [part] = [part for part in worked(bottom__thickness="8.6").parts if part.name == "bottom"]
    assert holds == list(part.signed)


@BY_HAND.of("panel")
def test_the_glue_card_glues_it_all_round() -> None:
    """Glue in the grooves: 200 g/m² on two faces of 227.5 · 147.5 less 216 · 136, 8360.5 · 200 / 10⁶ = 1.67 g."""
    box, solid = worked(), worked(WHOLE_METRIC)
    assert box.finish
    assert solid.finish
    agree(box.finish.glue_in_grooves, 2 * (227.5 * 147.5 - 216 * 136) * 200 / 1e6, unit="g")
    agree(box.finish.glue - box.finish.glue_in_grooves, solid.finish.glue, unit="g")
    assert solid.finish.glue_in_grooves == 0
    said, of_wood = (words_of(glue_card.card(made)) for made in (box, solid))
    assert "Brush 1.7 g more into the grooves: plywood is glued in all round." in said
    assert "Finish the bottom’s faces, its edges masked." in said
    assert "dab" not in said
    assert "a dab at its middle" in of_wood
    assert "grooves: plywood" not in of_wood


CARDS = [(METRIC, {}), (METRIC, {"bottom__thickness": "8.6"}), (INCHES, {}), (INCHES, {"bottom__thickness": "0.355"})]


@pytest.mark.parametrize(("text", "changes"), CARDS)
def test_its_words_are_those_of_the_trade(text: str, changes: dict[str, str]) -> None:
    box = worked(text, **changes)
    assert not rejected(words_of(sheets(box), box.file.units))
    assert not rejected(report.check(box))
    for line in words_of(card(box.bottom), box.file.units).splitlines():  # type: ignore[arg-type]  # there is one
        for sentence in line.split(". "):
            assert len(sentence.split()) <= 20, sentence


CLIPPED = {"sides": 9.0, "depth": 4.5, "end_margin": 3.0, "stopped": "front and back", "proud": 0.0}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("units", "scale"), [("mm", 1.0), ("in", 25.4 / 24)])
@pytest.mark.parametrize("changes", [{}, {"thickness": 8.6}, CLIPPED, {"thickness": 8.6, **CLIPPED}])
def test_its_pages_are_legible(paper: str, units: Units, scale: float, changes: dict[str, Any]) -> None:
    sizes = {
        key: value * scale if isinstance(value, float) else value
        for key, value in ({**SHEET, "thickness": 5.8} | changes).items()
    }
    cards, templates = pages_of(find("panel").plan(sizes, units), "panel", paper, units)
    assert len(cards.sheets) == 1
    assert [fault for sheet in (*cards.sheets, *templates.sheets) for fault in faults(sheet)] == []


# -- files ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "other", "key", "thickness"),
    [(METRIC, "in", "5.8", 0.228), (INCHES, "mm", "0.205", 5.21)],
)
def test_what_a_sheet_measures_stays_in_the_other_unit(text: str, other: Units, key: str, thickness: float) -> None:
    """5.8 mm is .2283 in, read to a thousandth; 0.205 in is 5.207 mm, read to a hundredth."""
    made = tomllib.loads(units.box_in(reading.read(text, "box.toml"), other).text)
    assert made["bottom"]["material"] == "plywood"
    assert made["bottom"]["thickness"] == thickness
    solid = text.replace('material = "plywood"\n', "")
    assert key in solid
    assert tomllib.loads(units.box_in(reading.read(solid, "box.toml"), other).text)["bottom"]["thickness"] != thickness


def test_a_sheet_of_the_rack_stays_as_thick_as_its_bottom() -> None:
    rows = boards("{ length = 600, width = 300, thickness = 5.8, species = 'plywood' }")
    head, _, _ = METRIC.partition("boards = [")
    made = tomllib.loads(units.box_in(reading.read(f"{head}boards = {rows}\n", "box.toml"), "in").text)
    assert made["stock"]["boards"][2]["thickness"] == 0.228
    assert made["stock"]["boards"][0]["thickness"] == "37/64"


@pytest.mark.parametrize(("of", "sheet"), [("mm", "5.6"), ("in", "0.205")])
def test_start_asks_for_the_material_and_then_for_no_wood(of: Units, sheet: str) -> None:
    by_key = {question.key: question for question in questions.QUESTIONS}
    keys = list(by_key)
    assert keys.index("bottom.material") + 1 == keys.index("bottom.thickness")
    draft = questions.Draft(of, {}).with_part("groove")
    assert questions.offered(draft, by_key["bottom.material"]) == "solid"
    assert draft.asks(by_key["bottom.species"])
    draft, effect = questions.answered(draft, by_key["bottom.material"], "plywood")
    assert effect == "it does not move with the seasons, and is glued all round; measure it"
    assert not draft.asks(by_key["bottom.species"])
    assert draft.asks(by_key["bottom.thickness"])
    assert questions.offered(draft, by_key["bottom.thickness"]) == sheet
    draft, effect = questions.answered(draft, by_key["bottom.thickness"], sheet)
    assert "in every season" in effect
    text = questions.made(draft).text
    section = tomllib.loads(text)["bottom"]
    assert section["material"] == "plywood"
    assert not section.keys() & {"species", "rings"}
    said = text[text.index("[bottom]") :].partition("\n\n")[0]
    assert "species" not in said
    assert "rings" not in said
    assert "thickness is what the sheet measures" in said
    with contextlib.suppress(StopIteration), pytest.raises(JigleafError, match="solid"):
        questions.answered(draft, by_key["bottom.material"], "marble")


def test_every_offer_for_a_sheet_works() -> None:
    """What a rule suggests was tried: entered, the rule is silent."""
    tried = 0
    ways = itertools.product((5.6, 5.95, 6.0, 9.0, 14.0), (0.0, 0.5, 3.0, 5.9, 8.0), (4.0, 6.0))
    for thickness, clearance, depth in ways:
        asked = {"thickness": thickness, "clearance": clearance, "depth": depth}
        for problem in said_of(asked):
            tried += assert_tried(problem, asked)
    assert tried > 50


def assert_tried(problem: Problem, asked: dict[str, Any]) -> int:
    """Enter everything that a problem offers, and return how much that was."""
    offers = [offer for way in problem.ways for offer in problem.offers(way).values()]
    for offer in offers:
        key = (offer.setting or problem.where).replace(" ", "_")
        again = said_of(asked | {key: offer.value})
        assert not any(problem.same_as(other) for other in again), (problem.rule, key, offer.value)
    return len(offers)
