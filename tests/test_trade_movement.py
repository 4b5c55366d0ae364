"""Movement of wood against the published tables, other people's worked examples, and its own inverses."""

from __future__ import annotations

import math
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.trade import movement, timber
from tests.outside import Check, agree, compared

TABLE_4_2 = Check("Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 4-2", "handbook table")
TABLE_13_5 = Check("Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 13-5", "handbook table")
TABLE_4_3 = Check(
    "Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 4-3 beside Table 13-5", "handbook table"
)
MAGAZINES = Check("Wood and its moisture", "Hardwood Floors magazine, 2016; Wood magazine", "worked example")
EQUATION_4_5 = Check(
    "Wood and its moisture", "USDA Wood Handbook FPL-GTR-282, Eq. 4-5 in °C beside that in °F", "independent derivation"
)
FROM_MEMORY = Check("Wood and its moisture", "Wood Handbook, Eq. 13-3 and some rows of Table 13-5", "from memory")
BY_HAND = Check("Wood and its moisture", "arithmetic written out in jigs/trade/movement.py", "worked example")
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

# USDA Wood Handbook FPL-GTR-190, Table 4-2: moisture in % by temperature in °F (rows) and humidity in % (columns).
MOISTURES = """
        5   10   15   20   25   30   35   40   45   50   55   60   65   70   75   80   85   90   95
  30  1.4  2.6  3.7  4.6  5.5  6.3  7.1  7.9  8.7  9.5 10.4 11.3 12.4 13.5 14.9 16.5 18.5 21.0 24.3
  40  1.4  2.6  3.7  4.6  5.5  6.3  7.1  7.9  8.7  9.5 10.4 11.3 12.3 13.5 14.9 16.5 18.5 21.0 24.3
  60  1.3  2.5  3.6  4.6  5.4  6.2  7.0  7.8  8.6  9.4 10.2 11.1 12.1 13.3 14.6 16.2 18.2 20.7 24.1
  70  1.3  2.5  3.5  4.5  5.4  6.2  6.9  7.7  8.5  9.2 10.1 11.0 12.0 13.1 14.4 16.0 17.9 20.5 23.9
  80  1.3  2.4  3.5  4.4  5.3  6.1  6.8  7.6  8.3  9.1  9.9 10.8 11.7 12.9 14.2 15.7 17.7 20.2 23.6
 100  1.2  2.3  3.3  4.2  5.0  5.8  6.5  7.2  7.9  8.7  9.5 10.3 11.2 12.3 13.6 15.1 17.0 19.5 22.9
 110  1.1  2.2  3.2  4.0  4.9  5.6  6.3  7.0  7.7  8.4  9.2 10.0 11.0 12.0 13.2 14.7 16.6 19.1 22.4
 120  1.1  2.1  3.0  3.9  4.7  5.4  6.1  6.8  7.5  8.2  8.9  9.7 10.6 11.7 12.9 14.4 16.2 18.6 22.0
 130  1.0  2.0  2.9  3.7  4.5  5.2  5.9  6.6  7.2  7.9  8.7  9.4 10.3 11.3 12.5 14.0 15.8 18.2 21.5
 140  0.9  1.9  2.8  3.6  4.3  5.0  5.7  6.3  7.0  7.7  8.4  9.1 10.0 11.0 12.1 13.6 15.3 17.7 21.0
 150  0.9  1.8  2.6  3.4  4.1  4.8  5.5  6.1  6.7  7.4  8.1  8.8  9.7 10.6 11.8 13.1 14.9 17.2 20.4
"""

# USDA Wood Handbook FPL-GTR-190, Table 13-5, by where each row was read: species; radial; tangential, in 1/100 000 for
# each % of moisture. Those marked so are from memory.
COEFFICIENTS = {
    "Wood Handbook FPL-GTR-190 Table 13-5": """
        Alder, red; 151; 256
        Apple; 205; 376
        Ash, Oregon; 141; 285
        Ash, black; 172; 274
        Ash, green; 169; 274
        Ash, pumpkin; 126; 219
        Ash, white; 169; 274
        Aspen, quaking; 119; 234
        Basswood, American; 230; 330
        Beech, American; 190; 431
        Birch, paper; 219; 304
        Birch, river; 162; 327
        Birch, sweet; 256; 338
        Birch, yellow; 256; 338
        Buckeye, yellow; 123; 285
        Butternut; 116; 223
        Catalpa, northern; 85; 169
        Cherry, black; 126; 248
        Chestnut, American; 116; 234
        Cottonwood, black; 123; 304
        Cottonwood, eastern; 133; 327
        Elm, American; 144; 338
        Elm, cedar; 183; 419
        Elm, rock; 165; 285
        Elm, slippery; 169; 315
        Elm, winged; 183; 419
        Hackberry; 165; 315
        Hickory, pecan; 169; 315
        Honeylocust; 144; 230
        Locust, black; 158; 252
        Madrone, Pacific; 194; 451
        Magnolia, cucumbertree; 180; 312
        Magnolia, southern; 187; 230
        Magnolia, sweetbay; 162; 293
        Maple, bigleaf; 126; 248
        Maple, black; 165; 353
        Maple, red; 137; 289
        Maple, silver; 102; 252
        Maple, sugar; 165; 353
        Oak, black; 123; 230
        Persimmon, common; 278; 403
        Red oak, California; 123; 230
        Red oak, commercial; 158; 369
        Red oak: water, laurel, willow; 151; 350
        Sassafras; 137; 216
        Sweetgum; 183; 365
        Sycamore, American; 172; 296
        Tanoak; 169; 423
        Tupelo, black; 176; 308
        Tupelo, water; 144; 267
        Walnut, black; 190; 274
        White oak, Oregon white; 144; 327
        White oak, commercial; 180; 365
        White oak, live; 230; 338
        White oak, overcup; 183; 462
        Willow, black; 112; 308
    """,
    "from memory of Table 13-5 (imported woods)": """
        Andiroba; 137; 274
        Apitong; 243; 527
        Balsa; 102; 267
        Greenheart; 390; 430
        Iroko; 153; 205
        Khaya; 141; 201
        Limba; 151; 187
        Mahogany; 172; 238
        Obeche; 106; 183
        Okoume; 194; 212
        Ramin; 133; 308
        Spanish-cedar; 141; 219
        Teak; 101; 186
    """,
    "from memory of Table 13-5; agrees with Table 4-3 shrinkage": """
        Baldcypress; 130; 216
        Cedar, Atlantic white; 99; 187
        Cedar, Port-Orford; 158; 241
        Cedar, incense; 112; 180
        Cedar, yellow; 95; 208
        Douglas-fir, coast; 165; 267
        Douglas-fir, interior north; 130; 241
        Douglas-fir, interior west; 165; 263
        Fir, California red; 155; 278
        Fir, Pacific silver; 151; 327
        Fir, balsam; 99; 241
        Fir, noble; 148; 293
        Fir, subalpine; 88; 259
        Fir, white; 112; 245
        Hemlock, eastern; 102; 237
        Hemlock, western; 144; 274
        Larch, western; 155; 323
        Pine, eastern white; 71; 212
        Pine, jack; 126; 230
        Pine, loblolly; 165; 259
        Pine, lodgepole; 148; 234
        Pine, longleaf; 176; 263
        Pine, ponderosa; 133; 216
        Pine, red; 130; 252
        Pine, shortleaf; 158; 271
        Pine, slash; 187; 267
        Pine, sugar; 99; 194
        Pine, western white; 141; 259
        Redcedar, eastern; 106; 162
        Redwood, old-growth; 120; 205
        Redwood, second-growth; 101; 229
        Spruce, Engelmann; 130; 248
        Spruce, Sitka; 148; 263
        Spruce, black; 141; 237
        Spruce, red; 130; 274
        Tamarack; 126; 259
        Yellow-poplar; 158; 289
    """,
    "from memory of Table 13-5": """
        Hickory, true; 259; 411
        Holly; 165; 353
        Cedar, western red; 111; 234
        Cedar, northern white; 101; 229
    """,
}

# Rows whose coefficients stand for a group of species, or for another grading of the species, than the shrinkage does.
GROUPED = {"Ash, green", "Birch, sweet", "Elm, cedar", "Cedar, northern white", "Cedar, western red"}

MOISTURE = st.floats(0, 30)
COEFFICIENT = st.floats(0.0007, 0.0053)
CHERRY, WALNUT, MAPLE = 0.00248, 0.00274, 0.00353  # tangential, Wood Handbook FPL-GTR-190, Table 13-5


def published_moistures() -> list[tuple[float, float, float]]:
    """Return (°F, humidity, moisture) for each entry of the table."""
    head, *rows = (line.split() for line in MOISTURES.strip().splitlines())
    return [
        (float(row[0]), float(humidity), float(moisture))
        for row in rows
        for humidity, moisture in zip(head, row[1:], strict=True)
    ]


@TABLE_4_2.of(movement.equilibrium_moisture)
@pytest.mark.parametrize("equation", ["fahrenheit", "celsius"])
def test_moisture_agrees_with_the_published_table(equation: Literal["fahrenheit", "celsius"]) -> None:
    entries = published_moistures()
    assert len(entries) == 11 * 19
    for fahrenheit, humidity, moisture in entries:
        found = movement.equilibrium_moisture((fahrenheit - 32) / 1.8, humidity, equation)
        agree(found, moisture, 0.07, unit="%", case=(fahrenheit, humidity))


@BY_HAND.of(movement.equilibrium_moisture)
@pytest.mark.parametrize(
    ("celsius", "humidity", "moisture"),
    [  # worked values of the equation in °F
        pytest.param(20, 30, 6.1904, id="EMC_20C_0.3"),
        pytest.param(20, 45, 8.4887, id="EMC_20C_0.45"),
        pytest.param(20, 50, 9.28, id="EMC_20C_0.5"),
        pytest.param(20, 65, 12.002, id="EMC_20C_0.65"),
        pytest.param(25, 70, 12.9372, id="EMC_25C_0.7"),
        pytest.param((70 - 32) / 1.8, 30, 6.1717, id="EMC_70F_0.3"),
        pytest.param((70 - 32) / 1.8, 45, 8.4627, id="EMC_70F_0.45"),
        pytest.param((70 - 32) / 1.8, 50, 9.25, id="EMC_70F_0.5"),
        pytest.param((70 - 32) / 1.8, 65, 11.96, id="EMC_70F_0.65"),
        pytest.param((78 - 32) / 1.8, 70, 12.9134, id="EMC_78F_0.7"),
        pytest.param(60, 55, 8.38, id="EMC_140F_0.55"),
    ],
)
def test_worked_moistures(celsius: float, humidity: float, moisture: float) -> None:
    places = 5e-5 if round(moisture, 2) != moisture else 5e-3
    agree(movement.equilibrium_moisture(celsius, humidity), moisture, places, unit="%")


@settings(deadline=None)
@given(st.floats(-20, 70), st.floats(0, 100), st.floats(0, 100))
def test_moisture_rises_with_humidity_and_turns_back_into_it(temperature: float, humidity: float, other: float) -> None:
    moisture = movement.equilibrium_moisture(temperature, humidity)
    assert 0 <= moisture < movement.SATURATION
    assert movement.humidity_for(temperature, moisture) == pytest.approx(humidity, abs=2e-9)
    if humidity < other:
        assert moisture <= movement.equilibrium_moisture(temperature, other)


@EQUATION_4_5.of(movement.equilibrium_moisture)
def test_both_equations_say_the_same() -> None:
    # Their constants are rounded apart: from −20 to 70 °C and 0 to 100 % they part by up to 0.016 %.
    for celsius in range(-20, 71):
        for humidity in range(0, 101, 5):
            found = movement.equilibrium_moisture(celsius, humidity, "celsius")
            agree(found, movement.equilibrium_moisture(celsius, humidity), 0.017, unit="%")


def test_no_air_brings_wood_to_saturation() -> None:
    assert movement.humidity_for(20, 30) is None
    assert movement.humidity_for(20, 0) == 0


@pytest.mark.parametrize(
    "source",
    [
        pytest.param(source, marks=(FROM_MEMORY if "memory" in source else TABLE_13_5).of(timber.all_species))
        for source in COEFFICIENTS
    ],
)
def test_every_published_coefficient_is_in_the_table(source: str) -> None:
    published = {
        name: (int(radial) / 1e5, int(tangential) / 1e5)
        for name, radial, tangential in (row.strip().split("; ") for row in COEFFICIENTS[source].strip().splitlines())
    }
    found = {row.listed: (row.radial, row.tangential) for row in timber.all_species() if row.source == source}
    assert found == published
    compared(2 * len(published))


def test_the_table_has_no_other_species() -> None:
    assert {row.source for row in timber.all_species()} == set(COEFFICIENTS)
    assert len(timber.all_species()) == 110


def from_shrinkage(shrinkage: float) -> float:
    """Return the coefficient that follows from the shrinkage in %, as a fraction of the size at 10 %."""
    return 1 / (3000 / shrinkage - 20)


@TABLE_4_3.of(movement.shrinkage_from_coefficient)
def test_coefficients_follow_from_the_shrinkage() -> None:
    # Wood Handbook FPL-GTR-190, Table 4-3, beside Table 13-5. A shrinkage is rounded to 0.1 %: 2e-5.
    exceptions = set()
    pairs = 0
    for row in timber.all_species():
        for shrinkage, coefficient in (
            (row.radial_shrinkage, row.radial),
            (row.tangential_shrinkage, row.tangential),
        ):
            if shrinkage is not None:
                pairs += 1
                if abs(from_shrinkage(shrinkage) - coefficient) > 2e-5:
                    exceptions.add(row.listed)
    compared(pairs)
    assert pairs == 108
    assert exceptions == GROUPED


@TABLE_4_3.of(movement.shrinkage_from_coefficient)
@pytest.mark.parametrize(  # Wood Handbook FPL-GTR-190, Tables 4-3 and 13-5
    ("shrinkage", "coefficient"), [(7.1, 0.00248), (9.9, 0.00353), (7.8, 0.00274), (11.9, 0.00431)]
)
def test_coefficient_from_shrinkage_and_back(shrinkage: float, coefficient: float) -> None:
    found = from_shrinkage(shrinkage)
    agree(found, coefficient, 5e-6, unit="a %")
    agree(movement.shrinkage_from_coefficient(found), shrinkage, unit="%")


@BY_HAND.of(movement.change)
@pytest.mark.parametrize(
    ("width", "coefficient", "start", "end", "expected", "places"),
    [
        pytest.param(
            5,
            0.00369,
            6,
            9,
            0.055,
            5e-4,
            id="red oak, Hardwood Floors magazine, 2016",
            marks=MAGAZINES.of(movement.change),
        ),
        pytest.param(
            8, 0.0026, 6, 12, 0.1248, 5e-5, id="red alder, Wood magazine", marks=MAGAZINES.of(movement.change)
        ),
        pytest.param(145.89, CHERRY, 6.1904, 12.9372, 2.44, 5e-3, id="a panel's year, worked value"),
        pytest.param(60, CHERRY, 6.1904, 12.9372, 1.00, 5e-3, id="slot across the grain, worked value"),
        pytest.param(2.5, WALNUT, 6.1717, 12.9134, 0.046, 5e-4, id="slot in inches, worked value"),
        pytest.param(147.5, CHERRY, 8.4887, 12.9372, 149.13 - 147.5, 5e-3, id="panel cut for now, worked value"),
    ],
)
def test_worked_changes(
    width: float, coefficient: float, start: float, end: float, expected: float, places: float
) -> None:
    agree(movement.change(width, coefficient, start, end), expected, places, unit="")


@FROM_MEMORY.of(movement.change, movement.ratio)
def test_outside_the_tables_range_the_shrinkage_decides() -> None:
    # Wood Handbook FPL-GTR-190, Eq. 13-3, from memory, with the shrinkage of cherry (Table 4-3): 7.1 %.
    expected = 100 * (16 - 8) / (3000 / 7.1 - 30 + 8)
    agree(movement.change(100, CHERRY, 8, 16), expected, share=2e-3, unit="mm")
    assert movement.change(100, CHERRY, 8, 16) != pytest.approx(100 * CHERRY * 8, rel=2e-3)
    exact = 100 * (16 - 8) / (3000 / movement.shrinkage_from_coefficient(CHERRY) - 30 + 8)
    agree(movement.change(100, CHERRY, 8, 16), exact, share=1e-9, unit="mm")
    # The range goes from 6 to 14 %, both included: a tenth beyond, the change no longer is in proportion.
    for end, inside in ((6, True), (5.9, False), (14, True), (14.1, False)):
        in_proportion = pytest.approx(100 * CHERRY * (end - 8), rel=1e-6)
        assert (movement.change(100, CHERRY, 8, end) == in_proportion) is inside


@given(COEFFICIENT, MOISTURE, MOISTURE)
def test_inside_the_straight_line_holds_and_outside_the_way_does_not_matter(
    coefficient: float, start: float, end: float
) -> None:
    found = movement.ratio(coefficient, start, end)
    if min(start, end) >= 6 and max(start, end) <= 14:
        assert found == pytest.approx(1 + coefficient * (end - start), abs=1e-12)
    else:
        # Sizes on one straight line over moisture: going through another moisture comes to the same.
        assert found == pytest.approx(movement.ratio(coefficient, start, 20) * movement.ratio(coefficient, 20, end))
        assert (found > 1) is (end > start) or abs(end - start) < 1e-9


@given(COEFFICIENT, MOISTURE, MOISTURE, st.floats(20, 500))
def test_the_moisture_of_a_size_turns_back_into_it(coefficient: float, start: float, end: float, width: float) -> None:
    target = width * movement.ratio(coefficient, start, end)
    found = movement.moisture_at(width, coefficient, start, target)
    # At the edge of the table's range the two formulas part by up to a twelfth of the change.
    assert found == pytest.approx(end, abs=abs(end - start) / 12 + 1e-6)
    if 6 <= start <= 14 and 6 <= end <= 14:
        assert found == pytest.approx(end, abs=1e-6)


@pytest.mark.parametrize(("start", "edge", "beyond"), [(6, 14, 14.01), (8, 6, 5.999)])
def test_a_size_between_the_two_formulas_is_reached_at_the_edge(start: float, edge: float, beyond: float) -> None:
    target = 100 * (1 + CHERRY * (beyond - start))  # a little more than the straight line gives at the edge
    assert movement.moisture_at(100, CHERRY, start, target) == edge


@BY_HAND.of(movement.moisture_at, movement.humidity_at)
def test_a_plug_locks() -> None:
    # Worked value: fitted 0.5 mm loose at 20 °C and 30 %, cherry, opening 136: at 7.68 %, which is 40 % humidity.
    agree(movement.moisture_at(135.5, CHERRY, 6.1904, 136), 7.68, 5e-3, unit="%")
    agree(movement.humidity_at(135.5, CHERRY, 6.1904, 136, 20), 40, 0.5, unit="%")
    assert movement.humidity_at(135.5, CHERRY, 6.1904, 150, 20) is None


@BY_HAND.of(movement.step_at_top)
@pytest.mark.parametrize(
    ("width", "first", "second", "moisture_change", "expected", "places"),
    [  # worked values
        pytest.param(100, CHERRY, 0.00126, 3, 0.37, 5e-3, id="cherry, flat beside quarter-sawn"),
        pytest.param(4, MAPLE, 0.00165, -2, 0.015, 5e-4, id="maple_in"),
    ],
)
def test_step_at_the_top(
    width: float, first: float, second: float, moisture_change: float, expected: float, places: float
) -> None:
    agree(movement.step_at_top(width, first, second, moisture_change), expected, places, unit="")


@given(st.floats(0, 90))
def test_ring_angles(angle: float) -> None:
    cherry = timber.species("black cherry")
    assert cherry.coefficient(movement.FLAT) == pytest.approx(cherry.tangential)
    assert cherry.coefficient(movement.QUARTER) == pytest.approx(cherry.radial)
    # Two boards whose rings stand at right angles to each other share the sum of both coefficients.
    both = cherry.coefficient(angle) + cherry.coefficient(90 - angle)
    assert both == pytest.approx(cherry.radial + cherry.tangential)
    assert cherry.radial - 1e-12 <= cherry.coefficient(angle) <= cherry.tangential + 1e-12


@PRACTICE.of(movement.year)
@given(st.floats(4, 10), st.floats(0, 8), st.integers(1, 12))
def test_a_year_goes_from_dry_to_wet_and_back(dry: float, swing: float, wettest: int) -> None:
    months = movement.year(dry, dry + swing, wettest)
    assert len(months) == 12
    assert months[wettest - 1] == max(months) == pytest.approx(dry + swing)
    assert min(months) == pytest.approx(dry)
    assert sum(months) / 12 == pytest.approx(dry + swing / 2)


def test_august_is_the_wettest_month_unless_told() -> None:
    assert movement.year(6, 12) == movement.year(6, 12, 8)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: movement.equilibrium_moisture(71, 50), "temperature is 71; it must be from -20 to 70"),
        (lambda: movement.equilibrium_moisture(20, 101), "humidity is 101; it must be from 0 to 100"),
        (lambda: movement.equilibrium_moisture(math.nan, 50), "temperature is nan"),
        (lambda: movement.humidity_for(20, 31), "moisture is 31; it must be from 0 to 30"),
        (lambda: movement.ratio(0, 6, 8), "coefficient is 0; it must be more than 0"),
        (lambda: movement.change(-1, CHERRY, 6, 8), "width is -1; it must be at least 0"),
        (lambda: movement.change(1, CHERRY, 6, 31), "end is 31; it must be from 0 to 30"),
        (lambda: movement.ring_coefficient(0.001, 0.002, 91), "ring_angle is 91; it must be from 0 to 90"),
        (lambda: movement.year(6, 12, 13), "wettest_month is 13; it must be from 1 to 12"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_a_size_outside_the_tables_range_turns_back_exactly() -> None:
    # both moistures are outside, where all sizes lie on one straight line
    target = 100 * movement.ratio(CHERRY, 16, 20)
    assert movement.moisture_at(100, CHERRY, 16, target) == pytest.approx(20)


def test_a_size_is_reached_from_bone_dry_wood_up() -> None:
    def size(moisture: float) -> float:  # on the straight line of Eq. 13-3, the wood 100 wide at 16 %
        return 100 * (1 / CHERRY - 10 + moisture) / (1 / CHERRY - 10 + 16)

    assert movement.humidity_at(100, CHERRY, 16, size(-0.5), 20) is None
    dry = movement.humidity_at(100, CHERRY, 16, size(0.5), 20)
    assert dry is not None
    assert movement.equilibrium_moisture(20, dry) == pytest.approx(0.5)


def test_the_wettest_air_is_found_again() -> None:
    assert movement.humidity_for(20, movement.equilibrium_moisture(20, 100)) == 100


@pytest.mark.parametrize("start", [-1, 31])
def test_no_wood_starts_so_dry_or_so_wet(start: float) -> None:
    with pytest.raises(ValueError, match=f"start is {start}; it must be from 0 to 30"):
        movement.moisture_at(100, CHERRY, start, 101)
