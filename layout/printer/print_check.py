"""The print check: a rectangle as large as the page allows, to be read with a ruler."""

from __future__ import annotations

import math

from jigs.base import drawing as draw
from jigs.base.errors import CannotBuild, WrongReadings, said_in
from jigs.base.lengths import Units, bare, show
from jigs.base.report import Report
from jigs.base.rules import Problem, stop
from jigs.record import Record, replace
from layout.pages.ink import wrapped
from layout.printer import correction, kept
from layout.printer.correction import Judgement, Readings, Verdict, signed
from layout.printer.kept import Printer
from layout.sheet import marks
from layout.sheet.marks import Bundle, Group, Layer, Sheet, Stroke, Text
from layout.sheet.paper import NAMES, Paper, default, named
from layout.write import formats

CARD = (85.60, 53.98)
"""Width and height of a bank card, mm (ISO/IEC 7810 ID-1)."""
CARD_CORNER = 3.18
"""Radius of its corners, mm (ISO/IEC 7810)."""
_STEP = 10.0
_INSIDE = 8.0
_LETTERS = 2.5
_FITS = 0.015
"""How near readings must be to the rectangle of another paper to be taken for it, as a share."""


def _how_to_read(on: Paper, units: Units) -> tuple[str, ...]:
    """Return what to do with the sheet; the last sentence but one says all that tells this sheet from another."""
    which = f" Say that the paper is {on.name}." if on.name != default(units) else ""
    which += " Say that the readings are in inches." if units == "in" else ""
    fine = "a quarter of a millimetre" if units == "mm" else "a hundredth of an inch"
    return (
        "Print at 100 %, with nothing fitted to the page. Let the sheet rest for an hour.",
        "The rectangle to read is the one with rulers inside. Lay a steel ruler or a tape along its lower side, along "
        "its left side, and from corner to corner both ways as the dashed ends point, from the middle of one line to "
        f"the middle of the other. Read to {fine}.",
        "Write the readings into the boxes. Then type them by these names, across, up, rising and falling: on the "
        f"bench under Printer, or with jigleaf calibrate.{which}",
        "A bank card just covers the outline above.",
    )


def page_for(paper: str | None, units: Units, printer: str | None) -> Paper:
    """Return the page of the print check: a paper, or the usual one of the units, within what a printer leaves white.

    A printer that is not known leaves nothing white. Raises CannotRead for a paper that there is not.
    """
    page = named(paper or default(units))
    known = kept.known()
    return page.within(known[printer].margins) if printer in known else page


def size(on: Paper) -> tuple[float, float]:
    """Return width and height of the rectangle, mm: whole centimetres, as large as the frame allows."""
    inner = _cut(on).frame.grown(-4.0)
    return math.floor(inner.width / _STEP) * _STEP, math.floor(inner.height / _STEP) * _STEP


def _cut(on: Paper) -> Paper:
    """Return the page itself; of a roll as much as makes a page of the shape of the A sizes (ISO 216)."""
    return on.cut(math.sqrt(2) * min(on.width, on.height)) if on.roll else on


def files(on: Paper, units: Units, printer: Printer | None = None) -> dict[str, bytes]:
    """Return the print check for a paper as files, by name. Raises CannotBuild where it is too small to hold it."""
    with said_in(units):
        bundle = sheet(on, units, printer.words if printer else "none")
    return formats.write(replace(bundle, correction=printer.correction) if printer else bundle)


def sheet(on: Paper, units: Units, corrected_for: str) -> Bundle:
    """Return the print check for a paper. Raises CannotBuild for one that is too small to hold it."""
    on = _cut(on)
    wide, high = size(on)
    middle = draw.Point((on.frame.left + on.frame.right) / 2, (on.frame.bottom + on.frame.top) / 2)
    box = draw.Bounds(middle.x - wide / 2, middle.y - high / 2, middle.x + wide / 2, middle.y + high / 2)
    inside = box.grown(-_INSIDE)
    facts = f"{on.name}, rectangle {bare(wide, units)} × {show(high, units)}"
    said = (facts, f"Correction made into this print: {corrected_for}.", "Paper is not a gauge: ±0.3 mm.")
    heading = _heading(inside, said)
    room = draw.Bounds(inside.left, inside.bottom, inside.right, min(t.at.y for t in heading.texts) - 6.0)
    how = _how(replace_top(room, room.top - CARD[1] - 6.0), _how_to_read(on, units))
    if inside.width < CARD[0] + 60 or min(text.at.y for text in how.texts) < inside.bottom:
        raise CannotBuild([_too_small(on)])
    writing = (heading, _card(room), _boxes(room, wide, high, units), how)
    layers = (Layer("template", "Print check", (_rectangle(box), *writing)),)
    made = Sheet("print-check", "Print check", on, layers, 1, 1)
    return Bundle("print-check", "Print check", facts, "print check", (made,))


def replace_top(box: draw.Bounds, top: float) -> draw.Bounds:
    """Return a box with another upper edge."""
    return draw.Bounds(box.left, box.bottom, box.right, top)


def _heading(inside: draw.Bounds, said: tuple[str, ...]) -> Group:
    """Return what the sheet is, and of which paper and printer."""
    texts = [Text(draw.Point(inside.left, inside.top - 6.0), "Print check", 5.6, bold=True)]
    y = inside.top - 10.0
    for words in said:
        rows, y = paragraph(words, _LETTERS, inside.width, y)
        texts += [replace(row, at=row.at.moved(inside.left, 0)) for row in rows]
    return Group("calibration-heading", "What it is", texts=tuple(texts))


def other_sheet(read: Readings, on: Paper) -> str:
    """Return the paper whose rectangle such readings would fit, where it is not this one's; or nothing."""
    if _near(read, on):
        return ""
    papers = (named(name) for name in NAMES)
    return next((paper.name for paper in papers if _near(read, paper)), "")


def _near(read: Readings, on: Paper) -> bool:
    wide, high = size(on)
    return abs(read.across / wide - 1) < _FITS and abs(read.up / high - 1) < _FITS


class Judged(Record):
    """What the readings of a print check say, in numbers and words, and what is to be kept of the printer."""

    report: Report
    judgement: Judgement
    other: str = ""
    """The paper whose sheet the readings would fit, where it is not this one."""


def judge(
    on: Paper,
    units: Units,
    *,
    across: float,
    up: float,
    rising: float,
    falling: float,
    width: float | None = None,
    height: float | None = None,
) -> Judged:
    """Judge the readings of the print check for a paper, or of a rectangle of another true `width` or `height`, mm.

    Raises WrongReadings for those that no rectangle gives.
    """
    wide, high = size(on)
    true = (wide if width is None else width, high if height is None else height)
    try:
        readings = Readings(across, up, rising, falling, *true)
        judged = correction.judge(readings)
    except ValueError as error:
        raise WrongReadings(str(error)) from error
    words = report(judged, units)
    other = other_sheet(readings, on)
    if other:
        words += f"\nNOTE: These readings fit the sheet for {other}. If you printed that one, add --paper {other}."
    return Judged(Report(units, (), lambda: as_data(judged), lambda: words), judged, other)


def report(judged: Judgement, units: Units) -> str:
    """Return what the readings say, in words."""
    measured, unsure = judged.measured, judged.uncertainty
    out, most = show(abs(judged.residual), units, "gauge up"), show(correction.MOST_RESIDUAL, units, "gauge")
    rows = [
        f"across  {signed((measured.scale_across - 1) * 100)} % ± {unsure.scale_across * 100:.2f} %",
        f"up      {signed((measured.scale_up - 1) * 100)} % ± {unsure.scale_up * 100:.2f} %",
        f"skew    {signed(measured.skew)}° ± {unsure.skew:.2f}°",
        f"Sides and diagonals agree to {out}; {most} or less is good.",
        "",
        _VERDICTS[judged.verdict].format(reason=judged.reason),
    ]
    return "\n".join(rows)


_VERDICTS: dict[Verdict, str] = {
    "correct": "Sheets can be corrected for this printer’s measured error.",
    "inside reading error": "The print is true as far as a rule can tell. Nothing is corrected.",
    "measure again": "Measure again: {reason}.",
    "refused": "Nothing is corrected: {reason}.",
}
"""What a verdict means for whoever has read the sheet."""


def as_data(judged: Judgement) -> dict[str, object]:
    """Return what the readings say by the names of the JSON report: scales as ratios, skew in degrees, mm."""
    return {
        "scale_across": judged.measured.scale_across,
        "scale_up": judged.measured.scale_up,
        "skew": judged.measured.skew,
        "residual": judged.residual,
        "verdict": judged.verdict,
        "reason": judged.reason,
        "corrects": judged.corrects,
    }


def _too_small(on: Paper) -> Problem:
    return stop(
        "paper",
        "the print check does not fit on {paper}, which is {width} × {height}",
        "print it on A4, Letter or a larger paper",
        paper=on.name,
        width=on.width,
        height=on.height,
    )


def _rectangle(box: draw.Bounds) -> Group:
    """The rectangle with its rulers inside and the ends of both diagonals."""
    strokes = [Stroke(draw.rectangle(*box), marks.EDGE)]
    for mm in range(1, round(max(box.width, box.height))):
        long = 3.0 if mm % 10 == 0 else 2.0 if mm % 5 == 0 else 1.2
        if mm < box.width:
            x = box.left + mm
            strokes.append(Stroke(draw.line((x, box.bottom), (x, box.bottom + long)), marks.NARROW))
        if mm < box.height:
            y = box.bottom + mm
            strokes.append(Stroke(draw.line((box.left, y), (box.left + long, y)), marks.NARROW))
    strokes += _inch_ruler(box)
    reach = math.hypot(box.width, box.height)
    across, up = box.width / reach * 10, box.height / reach * 10
    for x, y, right, above in (
        (box.left, box.bottom, 1, 1),
        (box.right, box.bottom, -1, 1),
        (box.left, box.top, 1, -1),
        (box.right, box.top, -1, -1),
    ):
        strokes.append(Stroke(draw.line((x, y), (x + right * across, y + above * up)), marks.HIDDEN))
    return Group("calibration-rectangle", f"{box.width:g} by {box.height:g} mm", tuple(strokes))


def _inch_ruler(box: draw.Bounds) -> list[Stroke]:
    """Along the top and the right: sixteenths, and sixty-fourths in the first inch."""
    strokes = []
    for count in range(1, math.floor(max(box.width, box.height) / 25.4 * 64) + 1):
        if count > 64 and count % 4:
            continue
        long = next(size for by, size in ((64, 3.0), (32, 2.5), (16, 2.0), (4, 1.5), (1, 1.0)) if count % by == 0)
        at = count * 25.4 / 64
        pen = marks.NARROW if count % 4 == 0 else marks.FINE
        if at < box.width:
            strokes.append(Stroke(draw.line((box.left + at, box.top), (box.left + at, box.top - long)), pen))
        if at < box.height:
            strokes.append(Stroke(draw.line((box.right, box.bottom + at), (box.right - long, box.bottom + at)), pen))
    return strokes


def _card(room: draw.Bounds) -> Group:
    """The outline of a bank card, its corners round."""
    left, top, r = room.left, room.top, CARD_CORNER
    right, bottom = left + CARD[0], top - CARD[1]
    corners = (
        (draw.Point(right, top - r), draw.Point(right - r, top - r), draw.Point(right, bottom + r)),
        (draw.Point(right - r, bottom), draw.Point(right - r, bottom + r), draw.Point(left + r, bottom)),
        (draw.Point(left, bottom + r), draw.Point(left + r, bottom + r), draw.Point(left, top - r)),
        (draw.Point(left + r, top), draw.Point(left + r, top - r), None),
    )
    steps: list[draw.LineTo | draw.ArcTo] = [draw.LineTo(draw.Point(right - r, top))]
    for end, centre, then in corners:
        steps.append(draw.ArcTo(end, centre, anticlockwise=False))
        if then is not None:
            steps.append(draw.LineTo(then))
    outline = draw.Path(draw.Point(left + r, top), tuple(steps), closed=True)
    middle = draw.Point((left + right) / 2, (top + bottom) / 2)
    text = Text(middle, "bank card, 85.60 × 53.98 mm", _LETTERS, "middle")
    return Group("calibration-card", "Outline of a bank card", (Stroke(outline, marks.EDGE),), (text,))


def _boxes(room: draw.Bounds, wide: float, high: float, units: Units) -> Group:
    """The boxes to write the four readings in, each with what it should be."""
    left, y = room.left + CARD[0] + 6, room.top - 3.0
    diagonal = math.hypot(wide, high)
    rows = (
        ("across", "left to right", wide),
        ("up", "bottom to top", high),
        ("rising", "lower left to upper right", diagonal),
        ("falling", "upper left to lower right", diagonal),
    )
    strokes, texts = [], []
    for name, way, true in rows:
        texts.append(Text(draw.Point(left, y - 2.5), name, 3.5, bold=True))
        texts += [Text(draw.Point(left, y - 6.4), way, 1.8), Text(draw.Point(left, y - 9.7), show(true, units), 1.8)]
        strokes.append(Stroke(draw.rectangle(room.right - 26, y - 8.5, room.right, y + 0.5), marks.NARROW))
        y -= 13.0
    return Group("calibration-readings", "Readings", tuple(strokes), tuple(texts))


def _how(box: draw.Bounds, said: tuple[str, ...]) -> Group:
    texts: list[Text] = []
    y = box.top
    for words in said:
        rows, y = paragraph(words, _LETTERS, box.width, y)
        texts += rows
        y -= 2.0
    return Group("calibration-how", "How to read it", texts=tuple(texts)).moved(box.left, 0)


def paragraph(words: str, height: float, room: float, top: float) -> tuple[list[Text], float]:
    """Return words wrapped into `room` from `top` down, and where the next line may start."""
    rows = wrapped(words, height, room)
    texts = [Text(draw.Point(0, top - height * (1.1 + 1.65 * i)), row, height) for i, row in enumerate(rows)]
    return texts, top - height * 1.65 * len(rows)
