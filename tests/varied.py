"""Boxes as makers make them: sizes, woods, cutters and parts drawn at random, always the same ones."""

from __future__ import annotations

import random
from typing import Any

import tomlkit

_WOODS = ("black cherry", "black walnut", "sugar maple", "white oak", "white ash", "red oak", "mahogany", "basswood")
_FINGERS = {
    "mm": ((10, 10.02), (8, 7.97), (6, 6.04), (12, 12.0), (6, 3.2), (12, 6.0), (15, 12.0)),
    "in": (("1/2", 0.5), ("3/8", 0.374), ("1/4", 0.251), ("3/8", 0.126), ("3/4", 0.5)),
}
_SIDES = {"mm": (8, 9, 10, 12, 14, 15), "in": ("5/16", "3/8", "1/2", "5/8")}
_LENGTHS = {"mm": (160, 420), "in": (6, 16)}
_BOARDS = {"mm": (70, 90, 92, 100, 120, 145), "in": ("2-3/4", "3-1/2", 4, "5-1/2")}
_BY_UNITS: dict[str, dict[str, Any]] = {
    "mm": {"groove": 6, "bottom": (8, 10), "lid": (15, 18, 20), "saw": (32.4, 38.6), "shell": ((50, 34), (60, 40))},
    "in": {"groove": "1/4", "bottom": ("5/16", "3/8"), "lid": ("5/8", "3/4"), "saw": (1.27, 1.52), "shell": ((2, 1),)},
}


def boxes(count: int, seed: int = 20) -> list[str]:
    """Return box files, half of them in inches; not every one can be built."""
    chance = random.Random(seed)
    return [tomlkit.dumps(_box(chance, "in" if number % 2 else "mm")) for number in range(count)]


def _box(chance: random.Random, units: str) -> dict[str, Any]:
    usual = _BY_UNITS[units]
    finger, cutter = chance.choice(_FINGERS[units])
    low, high = _LENGTHS[units]
    length, width = sorted((chance.randint(low, high), chance.randint(low, high)), reverse=True)
    wood = chance.choice(_WOODS)
    box: dict[str, Any] = {
        "title": "Box",
        "units": units,
        "box": {"length": length, "width": width, "height": chance.choice(_BOARDS[units])},
        "sides": {"thickness": chance.choice(_SIDES[units]), "species": wood},
        "joint": {"finger": finger, "cutter": cutter},
        "groove": {"cutter": usual["groove"]},
        "bottom": {"thickness": chance.choice(usual["bottom"]), "rings": chance.choice(("flat", "quarter"))},
    }
    if chance.random() < 0.3:
        box["joint"]["machine"] = "table saw"
    if chance.random() < 0.3:
        box["joint"]["method"] = "separately"
    if chance.random() < 0.25:
        box["sides"]["ends_species"] = chance.choice(_WOODS)
    if chance.random() < 0.8:
        box["lid"] = {"thickness": chance.choice(usual["lid"]), "rings": chance.choice(("flat", "quarter"))}
        if chance.random() < 0.6:
            box["handle"] = {"saw": chance.choice(usual["saw"])}
    if chance.random() < 0.4:
        wide, high_ = chance.choice(usual["shell"])
        box["shell"] = {"lobes": chance.choice((5, 6, 7)), "width": wide, "height": high_}
    if chance.random() < 0.5:
        box["stock"] = {"boards": [_board(chance, units, wood) for _ in range(chance.randint(1, 4))]}
    return box


def _board(chance: random.Random, units: str, wood: str) -> dict[str, Any]:
    length, width, thickness = (1500, 150, 20) if units == "mm" else (60, 6, 1)
    return {"length": length, "width": width + chance.choice((0, 40)) * (units == "mm"), "thickness": thickness,
            "species": wood}  # fmt: skip
