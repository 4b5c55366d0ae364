"""What the wood of a box costs and wastes, and what is to buy: by sums of the JSON report, prices and boards."""

from __future__ import annotations

import re
from typing import Any

import pytest

from jigs.box import chain, shopping
from jigs.boxfile import reading
from layout import make
from tests.boxes import SAMPLES, WHOLE_INCHES, WHOLE_METRIC

PRICED = WHOLE_METRIC.replace(
    "[stock]\n",
    '[stock]\ncurrency = "euros"\n'
    'prices = [{ species = "cherry", price = 4200 }, { species = "sugar maple", price = 3000 }]\n',
)
RACK = re.compile(r"boards = \[.*?\n\]", re.DOTALL)


def data_of(text: str) -> dict[str, Any]:
    data: dict[str, Any] = make.check(make.box(text, "box.toml")).data
    return data["stock"]  # type: ignore[no-any-return]  # JSON


def box_of(text: str) -> chain.Box:
    return chain.work_out(reading.read(text, "box.toml"))


# -- to buy --------------------------------------------------------------------------------------------------------


def test_without_a_rack_all_of_the_wood_is_to_buy() -> None:
    """As much as the report's rough sizes with a trim at each end of a board, and the test pieces."""
    stock = data_of(RACK.sub("boards = []", PRICED))
    rough = {tuple(strip["length"] if key == "length" else strip[key] for key in ("length", "width", "thickness"))
             for strip in stock["strips"]}  # fmt: skip
    bought = {one["name"]: (one["length"], one["width"], one["thickness"]) for one in stock["to_buy"]}
    assert bought["the strip of the sides"] in rough
    assert set(bought) == {"the strip of the sides", "the bottom", "the lid", "the handle", "8 test pieces"}
    length, width, thickness = bought["8 test pieces"]
    assert (length, width, thickness) == pytest.approx((8 * (150 + 3.2) + 30, 94.5, 15.0))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_rack_that_does_leaves_only_test_pieces_to_buy(sample: Any) -> None:
    stock = data_of(sample.read_text(encoding="utf-8"))
    assert [re.sub(r"\d+", "#", one["name"]) for one in stock["to_buy"]] == ["# test pieces"]
    assert shopping.table(box_of(sample.read_text(encoding="utf-8"))) is None


def test_what_is_bought_is_enough() -> None:
    """With the boards of the list in the rack nothing is to buy any more."""
    text = RACK.sub("boards = []", WHOLE_METRIC)
    boards = [
        f"  {{ length = {one['length']}, width = {one['width']}, thickness = {one['thickness']}"
        + (f', species = "{one["species"]}"' if one["species"] else "")
        + " },\n"
        for one in data_of(text)["to_buy"]
    ]
    bought = text.replace("boards = []", f"boards = [\n{''.join(boards)}]")
    assert data_of(bought)["missing"] == []


# -- waste and cost ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [WHOLE_METRIC, WHOLE_INCHES, RACK.sub("boards = []", WHOLE_METRIC)])
def test_waste_is_what_is_in_no_part(text: str) -> None:
    """By the JSON report alone: opened boards less their offcuts, or the rough sizes, against the parts as cut."""
    whole: dict[str, Any] = make.check(make.box(text, "box.toml")).data
    stock = whole["stock"]
    parts = sum(part["length"] * part["width"] * part["thickness"] for part in whole["parts"])
    used = sum((one["length"] - one["offcut"]) * one["width"] * one["thickness"] for one in stock["boards"])
    if not stock["boards"]:
        trim = 2 * (12.7 if 'units = "in"' in text else 15.0)
        used = stock["volume"] * 1e9 - sum(trim * strip["width"] * strip["thickness"] for strip in stock["strips"])
    assert stock["waste"] == pytest.approx(1 - parts / used, abs=1e-6)
    assert 0.1 < stock["waste"] < 0.9


def test_a_board_has_its_own_price_or_that_of_its_wood() -> None:
    """board 1 of 2400 × 100 × 15 at 4200 the m³, board 2 for 9.50, board 3 for what no price is known of."""
    text = PRICED.replace("thickness = 15 }", 'thickness = 15, species = "black cherry" }')
    text = text.replace("thickness = 21 }", "thickness = 21, price = 9.5 }")
    cost = shopping.costs(box_of(text))
    assert cost is not None
    assert cost.opened == pytest.approx(2.4 * 0.1 * 0.015 * 4200 + 9.5)
    assert cost.unknown == ("board 3",)
    assert cost.said == "24.62 euros, without board 3"


def test_in_inches_a_price_is_of_a_board_foot() -> None:
    """1 in × 12 in × 12 in is a board foot; the strip of box N, 33 3/8 × 3 11/16 × 5/8 in, holds 0.53 of one."""
    text = RACK.sub("boards = []", WHOLE_INCHES).replace(
        "[stock]\n", '[stock]\ncurrency = "dollars"\nprices = [{ species = "black walnut", price = 12 }]\n'
    )
    text = re.sub(r'species = "[a-z ]+"', 'species = "black walnut"', text)
    [strip] = [one for one in data_of(text)["to_buy"] if "strip" in one["name"]]
    feet = strip["length"] * strip["width"] * strip["thickness"] / 25.4**3 / 144
    assert strip["cost"] == pytest.approx(12 * feet)


def test_without_prices_nothing_is_said_of_money() -> None:
    assert data_of(WHOLE_METRIC)["cost"] is None
    assert "cost" not in shopping.said(box_of(WHOLE_METRIC))
    assert " % waste" in shopping.said(box_of(WHOLE_METRIC))
    assert shopping.said(box_of(WHOLE_METRIC.partition("[stock]")[0])) == ""


def test_the_card_lists_what_is_to_buy() -> None:
    found = shopping.table(box_of(RACK.sub("boards = []", PRICED)))
    assert found is not None
    assert found.headings[-1] == "Cost"
    assert [row[0] for row in found.rows][:2] == ["the strip of the sides", "the bottom"]
    plain = shopping.table(box_of(RACK.sub("boards = []", WHOLE_METRIC)))
    assert plain is not None
    assert plain.headings[-1] == "Volume"
