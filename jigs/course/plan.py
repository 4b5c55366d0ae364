"""The teacher's plan of a class: who makes what, in which order machines are set, from which boards, and the answers.

The plan is made from the numbers of each student's box as data, so that a class of any size is never held as boxes.
Lengths in mm.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from jigs.base import cautions
from jigs.base.drawing import Cell, Drawing, Notes, Table
from jigs.base.kinds import Value
from jigs.base.lengths import Units, show
from jigs.base.wording import Words, say
from jigs.box import chain, rack
from jigs.box import order as box_order
from jigs.box.chain import PARTS, Box
from jigs.box.stock import Stock, Strip, Woods, rack_of
from jigs.boxfile.sections import BoxFile
from jigs.course import answers, set_ups
from jigs.course.makers import A_ROW, Maker, fine
from jigs.parts.joint import part as joint_part
from jigs.parts.joint import steps as joint_steps
from jigs.parts.joint.part import LONGS, MEMBERS
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.joint.trial_joint import good_clearance
from jigs.parts.part import numbers_of
from jigs.trade import fingers, stock
from jigs.trade.stock import Board, Piece

SHARED = ("plate", "key", "carriage")
"""The sheets of the sled that do not depend on one student's boards: drawn once for all who use it."""
BOARD_STEP: Mapping[Units, float] = {"mm": 50.0, "in": 2 * 25.4}
LENGTH_STEP: Mapping[Units, float] = {"mm": 250.0, "in": 10 * 25.4}
"""A shared sled is made for boards up to the next step, so that one who comes late doesn't change it."""
_WIDEST, _LONGEST = 1200.0, 2000.0  # the largest boards a sled is drawn for, mm
MENU = (5, 7, 9, 11)
"""Counts of parts to offer board widths for: odd, since such boards are alike at top and bottom."""
SPARES = 0.25
"""What is cut more than is needed (common practice, no source)."""
FLUSH_GO, FLUSH_STOP = 0.10, 0.20
CLEARANCE_STOP = 0.25
PROUD_GO, DIAGONALS_GO, DIAGONALS_STOP = 0.10, 0.5, 1.0
"""Go and no-go (common practice, no source), mm."""
_MOST_PIECES = 200  # to be shared out between boards; more are bought, not picked from a rack


# -- one student ---------------------------------------------------------------------------------------------------


def numbers(made: Box) -> dict[str, Any]:
    """Return what the plan needs of a box that no rule stops, as data that JSON holds."""
    assert made.numbers is not None, "a box that nothing stops has a joint"
    file, everything = made.file, chain.as_data(made)
    sections = ("box", "fingers", "sled", *(kind.name for kind in PARTS if kind.answers))
    kept = {name: everything[name] for name in sections}
    pieces = []
    if made.stock:
        pieces += [(_of_sides(s, made.stock), s.length, s.width, s.thickness, s.wood) for s in made.stock.strips]
        pieces += [(p.name, p.length, p.width, p.thickness, p.wood) for p in made.stock.others]
    cut = {
        **numbers_of(file.joint, "machine cutter finger clearance proud"),
        **numbers_of(made, "thickness=file.sides.thickness projection=numbers.projection"),
        **{f"groove_{name}": getattr(made.groove, name, None) for name in ("cutter", "depth", "from_bottom")},
        "long": joint_part.cut_length(file, file.box.length),
        "short": joint_part.cut_length(file, file.box.width),
    }
    rabbets = {
        "bottom": (made.bottom.rabbet_depths[0], *reversed(made.bottom.rabbet_widths)) if made.bottom else None,
        "lid": (made.lid.plug_depth, *made.lid.rabbets) if made.lid else None,
    }
    drill = made.handle and (2 * made.handle.radius, made.handle.hole_height, made.handle.stop)
    said = [problem.says(file.units) for problem in made.problems if problem.severity == "warning"]
    return {
        **{**kept, "cut": cut, "pieces": pieces, "units": file.units, "rabbets": rabbets, "drill": drill},
        **{"warnings": said, "holds": box_order.holds(made), "shared": sled_line(shared_sled(file), file.units)},
    }


_ALL, _ENDS = "sides", "ends"
_SIDES = (_ALL, LONGS, _ENDS)
"""What strips of sides are called: by their kind where the ends are of another wood."""


def _of_sides(strip: Strip, made: Stock) -> str:
    if not made.mixed:
        return _ALL
    return LONGS if strip.pieces[0].name in MEMBERS[LONGS] else _ENDS


def shared_sled(file: BoxFile) -> dict[str, Value]:
    """Return the settings of the sled for all whose joint is cut alike: boards are rounded up to the next step."""
    settings = joint_part.sled_settings(file)
    board, length = (float(settings[name] or 0) for name in ("board", "length"))
    return settings | {
        "board": min(_up(board, BOARD_STEP[file.units]), max(board, _WIDEST)),
        "length": min(_up(length, LENGTH_STEP[file.units]), max(length, _LONGEST)),
    }


def sled_line(settings: Mapping[str, Value], units: Units) -> str:
    """Return the settings of a shared sled in a line, for the title block."""
    said = [
        f"{name} {show(float(settings[name] or 0), units)}" for name in ("finger", "cutter", "clearance", "thickness")
    ]
    board, length = (show(float(settings[name] or 0), units) for name in ("board", "length"))
    return "; ".join([*said, f"for boards up to {board} wide and {length} long"])


def _up(value: float, step: float) -> float:
    return math.ceil(value / step - 1e-9) * step


# -- the sheets ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Course:
    """A class: its box file, and who makes a box."""

    file: BoxFile
    makers: tuple[Maker, ...]

    @property
    def units(self) -> Units:
        """What the teacher's sheets are written in."""
        return self.file.units


CAUTIONS = (cautions.GENERAL, cautions.CLASS)
"""The cautions of a class, whatever is cut."""


def drawings(course: Course) -> tuple[Drawing, ...]:
    """Return the sheets of the teacher's plan."""
    return (
        _who(course),
        *_warned(course),
        _set_ups(course),
        _widths(course),
        _materials(course),
        _hold_points(course),
        _card(course),
        *_answers(course),
    )


def _who(course: Course) -> Drawing:
    rows: list[tuple[Cell, ...]] = []
    for maker in course.makers:
        box, joint, thickness = maker.data["box"], maker.data["fingers"], maker.data["cut"]["thickness"]
        outside = say("{l} × {w} × {h}", l=box["length"], w=box["width"], h=box["height"])
        rows.append((maker.short, outside, str(joint["count"]), joint["finger"], thickness, None))
    headings = ("Name", "Outside", "Parts", "Finger", "Thick", "Box glued, day")
    table = Table("who", "Who makes what", headings, tuple(rows))
    return Drawing("who", "who makes what", "one row for each box of the class", (table, _sleds(course)), CAUTIONS)


def _sleds(course: Course) -> Table:
    """Return which sled each student uses: a row for each sled."""
    rows = _whose((maker.data["shared"], maker) for maker in course.makers)
    return Table("sleds", "Sleds to make, and who uses them", ("Sled", "For", "Made"), rows)


def _whose(of: Iterable[tuple[str, Maker]]) -> tuple[tuple[Cell, ...], ...]:
    """Return rows of what is of which students, each to be ticked, with a few names in a row."""
    whose: dict[str, list[str]] = {}
    for what, maker in of:
        whose.setdefault(what, []).append(maker.short)
    return tuple(
        (what if not start else "", "; ".join(names[start : start + A_ROW]), None if not start else "")
        for what, names in whose.items()
        for start in range(0, len(names), A_ROW)
    )


def _warned(course: Course) -> tuple[Drawing, ...]:
    """Return the warnings of all boxes in one table; nothing where there are none."""
    rows = _whose((warning, maker) for maker in course.makers for warning in maker.data["warnings"])
    if not rows:
        return ()
    table = Table("warnings", "Warnings", ("What", "Whose box", "Seen"), rows)
    purpose = "what the rules warn of, to be talked over before anything is cut"
    return (Drawing("warnings", "warnings of the boxes", purpose, (table,), CAUTIONS),)


def _set_ups(course: Course) -> Drawing:
    purpose = "set each machine in this order: the least is changed between one set-up and the next"
    return Drawing("set-ups", "order of set-ups", purpose, tuple(set_ups.tables(course.makers)), CAUTIONS)


def _widths(course: Course) -> Drawing:
    """Return the menu of board widths for each cutter."""
    joints: dict[tuple[float, float, float], Mapping[str, Any]] = {}
    for maker in course.makers:
        found = maker.data["fingers"]
        joints.setdefault((fine(maker.data["cut"]["cutter"]), fine(found["finger"]), fine(found["socket"])), found)
    rows = tuple(
        (cutter, finger, *(fingers.rip_width(count, joint["finger"], joint["socket"]) for count in MENU))
        for (cutter, finger, _), joint in sorted(joints.items())
    )
    headings = ("Cutter", "Finger", *(f"{count} parts" for count in MENU))
    table = Table("widths", "Rip to one of these widths", headings, rows)
    notes = Notes("widths-notes", "How to use it", (
        "These widths have whole fingers only. Who wants another height picks from the row of the cutter.",
        "Rip while the wood is long, once gap and cutter have been measured on the test joint.",
    ))  # fmt: skip
    return Drawing("widths", "menu of board widths", "the widths that whole fingers fill", (table, notes), CAUTIONS)


# -- materials -----------------------------------------------------------------------------------------------------


def _materials(course: Course) -> Drawing:
    pieces = [(maker, piece) for maker in course.makers for piece in maker.pieces]
    body: list[Table | Notes] = []
    if pieces:
        body += [_totals(course, [piece for _, piece in pieces]), _from_rack(course, pieces)]
    body.append(_test_pieces(course))
    purpose = "wood for everybody, rough sizes, with what is cut to spare"
    return Drawing("materials", "wood for the class", purpose, tuple(body), CAUTIONS)


def _totals(course: Course, pieces: Sequence[Piece]) -> Table:
    groups: dict[tuple[str, str, float, float], list[Piece]] = {}
    for piece in pieces:
        size = fine(piece.thickness), fine(piece.width)
        groups.setdefault((piece.name, piece.wood or "any wood", *size), []).append(piece)
    metric = course.units == "mm"
    rows: list[tuple[Cell, ...]] = []
    for (name, of_it, thickness, width), members in sorted(groups.items()):
        spare = math.ceil(len(members) * SPARES) if name in _SIDES else 0
        longest = max(piece.length for piece in members)
        length = sum(piece.length for piece in members) + spare * longest
        volume = stock.cubic_metres(length=length, width=width, thickness=thickness)
        feet = stock.board_feet(length=length, width=width, thickness=thickness)
        wood = f"{volume:.4f}" if metric else f"{feet:.2f}"
        rows.append((f"{name}, {of_it}", thickness, width, str(len(members)), str(spare), longest, wood))
    unit = "m³" if metric else "board ft"
    return Table(
        "wood", "Rough pieces", ("Piece", "Thick", "Width", "For use", "Spare", "Longest", f"All, {unit}"), tuple(rows)
    )


def _from_rack(course: Course, pieces: Sequence[tuple[Maker, Piece]]) -> Table | Notes:
    """Return which boards of the rack to open for whom, or why that can't be said."""
    listed = course.file.stock
    if listed is None or not listed.boards:
        return Notes("rack", "The rack", ("The box file lists no boards in [stock]: buy what the table says.",))
    if len(pieces) > _MOST_PIECES:
        many = f"{len(pieces)} pieces are too many to be shared out between single boards: buy what the table says."
        return Notes("rack", "The rack", (many,))
    kerf, trim = listed.kerf, listed.trim
    woods = Woods()
    boards = rack_of(course.file, woods)
    whose = [Piece(f"{m.short}: {p.name}", _net(p, trim), p.width, p.thickness, woods(p.wood)) for m, p in pieces]
    plan = stock.cutting_plan(whose, boards, kerf=kerf, trim=trim, effort=20 * len(whose))
    rows: list[tuple[Cell, ...]] = [
        (rack.full_name(opened.board), _size(opened.board), ", ".join(p.name for p in opened.pieces), opened.offcut)
        for opened in plan.boards
    ]
    for piece in plan.missing:
        gross = dataclasses.replace(piece, length=piece.length + 2 * trim)
        rows.append(("to buy", _size(gross), piece.name, ""))
    return Table(
        "rack", "From the boards in the rack", ("Board", "Size", "Pieces, in cutting order", "Offcut"), tuple(rows)
    )


def _net(piece: Piece, trim: float) -> float:
    """Return a piece's length without the trims, which the plan takes off its boards itself."""
    return piece.length - 2 * trim if piece.name in _SIDES else piece.length


def _size(board: Board | Piece) -> Words:
    of_wood = ", {wood}" if board.wood else ""
    return say("{l} × {w} × {t}" + of_wood, l=board.length, w=board.width, t=board.thickness, wood=board.wood)


def _test_pieces(course: Course) -> Table:
    """Return the test pieces: as many for each student as the student's own sheets say."""
    rows: list[tuple[Cell, ...]] = []
    seen: dict[tuple[float, float], int] = {}
    for maker in course.makers:
        size = (fine(maker.data["cut"]["thickness"]), fine(maker.data["fingers"]["rip_width"]))
        seen[size] = seen.get(size, 0) + 1
    for (thickness, width), students in sorted(seen.items()):
        pieces = rack.trial_pieces() * students
        rows.append((thickness, width, rack.TEST_PIECE.size(course.units), str(pieces)))
    title = f"Test pieces, {rack.trial_pieces()} for each box, beside the rough pieces and planed with the sides"
    return Table("test-pieces", title, ("Thick", "Width", "Length", "Pieces"), tuple(rows))


# -- hold points and card ------------------------------------------------------------------------------------------

HOLD_POINTS = {**joint_steps.SIGNED, **{hold: title for kind in PARTS for hold, title in kind.signed.items()}}
"""What is signed, by the name of the hold in the order of work."""
HOLDS_A_TABLE = 3


def _hold_points(course: Course) -> Drawing:
    tables = []
    had = {name for maker in course.makers for _, name in maker.data["holds"]}
    names = [name for name in HOLD_POINTS if name in had]
    every = [names[first : first + HOLDS_A_TABLE] for first in range(0, len(names), HOLDS_A_TABLE)]
    for number, points in enumerate(every, 1):
        rows: tuple[tuple[Cell, ...], ...] = tuple((maker.short, *(None for _ in points)) for maker in course.makers)
        title = "Sign before they go on" if number == 1 else "Sign before they go on, later"
        headings = tuple(_with_step(course, name) for name in points)
        tables.append(Table(f"hold-{number}", title, ("Name", *headings), rows))
    purpose = "nobody switches on, or makes a last cut, before the teacher has looked and signed here"
    return Drawing("hold-points", "hold points", purpose, tuple(tables), CAUTIONS)


def _with_step(course: Course, name: str) -> str:
    """Return a hold point with its step in the order of work, where that is the same for everybody who has it."""
    found = {step for maker in course.makers for step, of in maker.data["holds"] if of == name}
    return f"{HOLD_POINTS[name]}, step {found.pop()}" if len(found) == 1 else HOLD_POINTS[name]


def _card(course: Course) -> Drawing:
    rows: list[tuple[Cell, ...]] = []
    asked = sorted({(m.data["cut"]["clearance"], m.data["cut"]["proud"]) for m in course.makers})
    for clearance, proud in asked:
        name = "Play of the joint" if len(asked) == 1 else say("Play, clearance {c}", c=clearance)
        least, most = good_clearance(clearance)
        rows.append((name, _from_to(least, most), say("under 0 or over {m}", m=max(CLEARANCE_STOP, most)), None))
        name = "Fingers proud" if len(asked) == 1 else say("Fingers proud, {p}", p=proud)
        rows.append((name, _from_to(max(0.0, proud - PROUD_GO), proud + PROUD_GO), "below the face", None))
    rows.append(("Bottom edges out of line", say("up to {g}", g=FLUSH_GO), say("over {s}", s=FLUSH_STOP), None))
    rows.append(("Diagonals differ", say("up to {g}", g=DIAGONALS_GO), say("over {s}", s=DIAGONALS_STOP), None))
    table = Table("card", "Go and no-go", ("Measure", "Go", "Stop and ask", "It reads"), tuple(rows))
    notes = Notes("card-notes", "Between go and stop", (
        "Say so before you cut on: the test joint's sheet tells what to move. Read with callipers, never off paper.",
        say(
            "A board with a knot within the fingers, or over {spread} off the thickness of its mates, does not go on.",
            spread=MOST_SPREAD,
        ),
        "Who misses a week keeps the boards stickered and wrapped: cut joints move with the air.",
    ))  # fmt: skip
    return Drawing("card", "go and no-go card", "copy it for each bench", (table, notes), CAUTIONS)


def _from_to(least: float, most: float) -> Words:
    return say("{least} to {most}", least=least, most=most)


def _answers(course: Course) -> tuple[Drawing, ...]:
    """Return the teacher's sheet with every number, and the one on which each student works one out."""
    solved, blank, how = answers.exercises(course.makers)
    body = (*answers.tables(course.makers, course.units), solved)
    asks = "hand it round: each works out one number of their own box"
    return (
        Drawing("answers", "answers, for the teacher", "every number of every box", body, CAUTIONS),
        Drawing("work-out", "work one out yourself", asks, (blank, how), CAUTIONS),
    )
