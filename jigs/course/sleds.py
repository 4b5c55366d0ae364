"""The sleds that a class shares: for whom one sled does, and how it is called."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from jigs.base.kinds import Value
from jigs.base.lengths import Units
from jigs.base.wording import on_paper, read_out, say
from jigs.boxfile.change import cutter_for
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint import part as joint_part

BOARD_STEP: Mapping[Units, float] = {"mm": 50.0, "in": 2 * 25.4}
LENGTH_STEP: Mapping[Units, float] = {"mm": 250.0, "in": 10 * 25.4}
"""A shared sled is made for boards up to the next step, so that one who comes late doesn't change it."""
_WIDEST, _LONGEST = 1200.0, 2000.0  # the largest boards a sled is drawn for, mm
_SPOKEN = {Fraction(1, 4): "quarter", Fraction(1, 2): "half", Fraction(3, 4): "three-quarter", Fraction(1): "one"}


def shared_sled(file: BoxFile) -> dict[str, Value]:
    """Return the settings of the sled for all whose joint is cut alike: boards are rounded up to the next step."""
    settings = joint_part.sled_settings(file)
    board, length = (_size(settings, name) for name in ("board", "length"))
    return settings | {
        "board": min(_up(board, BOARD_STEP[file.units]), max(board, _WIDEST)),
        "length": min(_up(length, LENGTH_STEP[file.units]), max(length, _LONGEST)),
    }


def _size(settings: Mapping[str, Value], name: str) -> float:
    return float(settings[name] or 0)


def _up(value: float, step: float) -> float:
    return math.ceil(value / step - 1e-9) * step


TOLD_APART = ("Finger", "Cutter", "Sides", "Boards up to")
"""What tells one shared sled from another, as the headings of a table."""


def says(settings: Mapping[str, Value], units: Units) -> tuple[str, ...]:
    """Return what stands under those headings."""
    sizes = {name: _size(settings, name) for name in ("finger", "cutter", "thickness", "board", "length")}
    columns = ("{finger:gauge}", "{cutter:gauge}", "{thickness:cut}", "{board:rough} × {length:rough}")
    return tuple(read_out(say(words, **sizes), units, on_paper) for words in columns)


def called(file: BoxFile, base: BoxFile, mark: str) -> str:
    """Return the name of the sled's file: `sled-10-for-12-mm`, `sled-3-8-for-half-inch`.

    It says the finger and the sides it is for; then what else is not as the class's own box file has it, as far as that
    can be said in a word or two. Where it can't, the `mark` of the settings tells it from all others.
    """
    units, settings, usual = base.units, shared_sled(file), shared_sled(base)
    finger, thick = _size(settings, "finger"), _size(settings, "thickness")
    if finger != usual["finger"]:
        usual |= {"finger": finger, "cutter": cutter_for(base, finger)}
    name = f"sled-{_number(finger, units)}-for-{_spoken(thick, units)}"
    exact = _exact(finger, units) and _exact(thick, units)
    for key, word in (("cutter", "cutter"), ("board", "boards"), ("length", "long")):
        if settings[key] != usual[key]:
            name += f"-{word}-{_number(_size(settings, key), units)}"
            exact = exact and _exact(_size(settings, key), units)
    said = {"finger", "thickness", "cutter", "board", "length"}
    # What neither of the two names is as it usually is.
    same = all(settings.get(key) == usual.get(key) for key in (settings.keys() | usual.keys()) - said)
    return name if exact and same else f"{name}-{mark}"


def _inches(mm: float) -> Fraction:
    return Fraction(round(mm / 25.4 * 64), 64)


def _exact(mm: float, units: Units) -> bool:
    """Tell whether a number in a name is the very length: two lengths must not share it."""
    return abs(float(_inches(mm)) * 25.4 - mm) < 1e-6 if units == "in" else abs(round(mm, 3) - mm) < 1e-6


def _number(mm: float, units: Units) -> str:
    if units == "mm":
        return f"{round(mm, 3):g}".replace(".", "-")
    whole, part = divmod(_inches(mm), 1)
    return "-".join(str(piece).replace("/", "-") for piece in (whole, part) if piece) or "0"


def _spoken(mm: float, units: Units) -> str:
    """Return a thickness with its unit: `12-mm`, `half-inch`, `3-8-inch`."""
    if units == "mm":
        return f"{_number(mm, units)}-mm"
    return f"{_SPOKEN.get(_inches(mm), _number(mm, units))}-inch"
