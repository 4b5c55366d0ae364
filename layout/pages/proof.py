"""The proof: one page a print job, that says how true printer and paper are before anything is cut to it."""

from __future__ import annotations

from jigs.base.drawing import Bounds
from jigs.record import Record
from layout.draw import qr
from layout.pages import calibration
from layout.pages.ink import BODY, HEAD, LABEL, TITLE, Ink, wrapped
from layout.sheet import lettering, marks
from layout.sheet.marks import Group, Stroke

SQUARE = 100.0
_ROW, _READINGS = 10.4, 60.0
"""Height of a reading, and the least width of the readings, mm."""


class Facts(Record):
    """What the proof says of its job and its printer."""

    title: str
    revision: str
    correction: str
    codes: tuple[str, ...]


def groups(frame: Bounds, floor: float, facts: Facts, edges: calibration.Edges) -> list[Group]:
    """Return what stands on the proof, between the top of its frame and `floor`."""
    ink = Ink("proof", "Proof of scale")
    left, top, right = frame.left + 5.0, frame.top - 5.0, frame.right - 5.0
    ink.write((left, top - 6.0), "Is this print true to size?", TITLE, bold=True)
    y = ink.rows(left, top - 9.0, wrapped(_HOW, BODY, right - left), BODY)
    side = min(SQUARE, frame.width - 20.0)
    low = y - 2.0 - side
    fits = low > floor and side == SQUARE and right - left - side - 6.0 >= _READINGS
    found = [*_square(left, low, side)] if fits else []
    beside = left + side + 6.0
    if not found:
        low, beside = y, left
    rows = _rows(edges) if found else _rows(edges)[:-2]
    _readings(ink, beside, y - 2.0, right, rows)
    y = min(low, y - 2.0 - _ROW * len(rows) - 6.0) - 4.0
    y = _sum(ink, left, y, right, facts, edges)
    _kept(ink, left, y, right, floor)
    found += [ink.group()]
    found += _code(facts, right, floor, y)
    return found


_HOW = (
    "Lay a steel rule on the lengths below and write down what it reads. All within 0.5 mm: go on. Otherwise print "
    "again at 100 %, one side, without “fit to page”."
)


def _rows(edges: calibration.Edges) -> list[tuple[str, str]]:
    return [
        ("left edge, up", f"{edges.up} mm"),
        ("bottom edge, across", f"{edges.across} mm"),
        ("diagonal, ring to ring", f"{edges.diagonal} mm"),
        ("right edge", f"{edges.inches_up} in"),
        ("top edge", f"{edges.inches_across} in"),
        ("square, across", "100 mm"),
        ("square, up", "100 mm"),
    ]


def _readings(ink: Ink, left: float, top: float, right: float, rows: list[tuple[str, str]]) -> None:
    y = top
    for words, number in rows:
        ink.write((left, y - 3.6), words, LABEL)
        ink.write((left, y - 8.6), number, LABEL, bold=True)
        ink.box(Bounds(right - 26.0, y - 8.8, right, y - 1.4), marks.EDGE)
        y -= _ROW


def _sum(ink: Ink, left: float, y: float, right: float, facts: Facts, edges: calibration.Edges) -> float:
    """Write the correction as a sum to be filled in; return where it ends."""
    ink.write((left, y - 4.6), "The correction", HEAD, bold=True)
    y -= 12.6
    for words, length, size in (("across", "bottom edge", edges.across), ("up", "left edge", edges.up)):
        said = f"{words}: {size} ÷ what the {length} reads ="
        ink.write((left, y), said, BODY)
        at = left + lettering.width(said, BODY) + 3.0
        ink.box(Bounds(at, y - 1.8, at + 26.0, y + 5.2), marks.EDGE)
        y -= _ROW
    made = (
        f"Drawn with the correction: {facts.correction}. Is a number under 0.998 or above 1.002? Then have the printer "
        "corrected: print its check sheet and give the four readings."
    )
    return ink.rows(left, y + 3.0, wrapped(made, LABEL, right - left), LABEL) - 2.0


def _kept(ink: Ink, left: float, top: float, right: float, floor: float) -> None:
    y = top - 6.0
    for words in ("printer", "tray", "paper", "date"):
        if y - 2.0 < floor:
            return
        ink.write((left, y), words, LABEL)
        ink.line((left + 16.0, y - 1.0), (left + 86.0, y - 1.0), pen=marks.NARROW)
        y -= 8.0
    if y > floor + 2.0:
        rows = wrapped(
            "Paper is not a gauge: ±0.3 mm. What must be truer is set by gauge block or callipers.", BODY, 86.0
        )
        if y - len(rows) * BODY * 1.68 > floor:
            ink.rows(left, y + 3.0, rows, BODY, bold=True)


def _code(facts: Facts, right: float, floor: float, top: float) -> list[Group]:
    """Return the code of the job, where there is room for it."""
    code = qr.fitting(facts.codes, min(44.0, top - floor - 8.0))
    if code is None:
        return []
    ink = Ink("proof-code", "Code of the settings")
    low = floor + 3.0
    ink.strokes += [Stroke(square, marks.SOLID) for square in code.squares(right - code.side, round(low, 4))]
    ink.write((right - code.side / 2, low + code.side + 0.6), "this job's settings", LABEL, "middle")
    return [ink.group()]


def _square(left: float, low: float, side: float) -> list[Group]:
    ink = Ink("calibration-square-inches", "4 in along the square")
    for quarter in range(1, 16):
        at = quarter / 4 * calibration.INCH
        if at < side:
            long = 3.0 if quarter % 4 == 0 else 1.6
            ink.line((left + at, low), (left + at, low + long), pen=marks.NARROW)
            ink.line((left + side, low + at), (left + side - long, low + at), pen=marks.NARROW)
    ink.write((left + side / 2, low + side / 2 + 2.0), "100 × 100 mm", BODY, "middle", bold=True)
    ink.write((left + side / 2, low + side / 2 - 4.0), "inch ticks at the bottom and the right", LABEL, "middle")
    return [
        calibration.square(left, low, side),
        calibration.square_ticks(left, low, side, 100, 10),
        ink.group(),
    ]
