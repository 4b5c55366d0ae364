"""The teacher's plan of a class: who makes what, in which order machines are set, from which boards, and the answers.

The plan is made from the numbers of each student's box as data, so that a class of any size is never held as boxes.
Its pages are for reading: tables over the full width, nothing to lay on wood. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from jigs.base import cautions
from jigs.base.cards import Band, Card, Sheets, Text
from jigs.base.drawing import Cell, Table
from jigs.base.lengths import Units
from jigs.base.wording import Words, on_paper, read_out, say
from jigs.box import chain, rack
from jigs.box.chain import PARTS, Box
from jigs.box.stock import Stock, Strip, Woods, rack_of
from jigs.boxfile.sections import BoxFile
from jigs.course import answers, evenings, set_ups, sharing, sleds
from jigs.course.makers import A_ROW, Maker, calls, capital, fine
from jigs.parts.joint import part as joint_part
from jigs.parts.joint.part import LONGS, MEMBERS, SIGNED
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.joint.trial_joint import good_clearance
from jigs.parts.part import numbers_of
from jigs.record import Record
from jigs.trade import fingers, stock
from jigs.trade.stock import Board, Piece

MENU = (5, 7, 9, 11)
"""Counts of fingers and sockets to offer board widths for: odd, since such boards are alike at top and bottom."""
SPARES = 0.25
"""What is cut more than is needed (common practice, no source)."""
FLUSH_GO, FLUSH_STOP = 0.10, 0.20
CLEARANCE_STOP = 0.25
PROUD_GO, DIAGONALS_GO, DIAGONALS_STOP = 0.10, 0.5, 1.0
"""Go and no-go (common practice, no source), mm."""
_MOST_PIECES = 200  # to be shared out between boards; more are bought, not picked from a rack
_MOST_REFUSED = 60  # rows of a list that names every fault


# -- one student ---------------------------------------------------------------------------------------------------


def numbers(made: Box, sheets: Sheets) -> dict[str, Any]:
    """Return what the plan needs of a box that no rule stops and of its pages, as data that JSON holds."""
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
    drill = made.handle and [(2 * one.radius, one.fence, one.stop) for one in made.handle.drillings]
    warned = [problem for problem in made.problems if problem.severity == "warning"]
    said = [(f"{problem.where} {problem.rule}", problem.says(file.units)) for problem in warned]
    return {
        **{**kept, "cut": cut, "pieces": pieces, "units": file.units, "rabbets": rabbets, "drill": drill},
        "parts": [part.name for part in made.parts],
        **{"warnings": said, "holds": sharing.holds(sheets), "shared": sleds.says(sleds.shared_sled(file), file.units)},
    }


_ALL, _ENDS = "sides", "ends"
_SIDES = (_ALL, LONGS, _ENDS)
"""What strips of sides are called: by their kind where the ends are of another wood."""


def _of_sides(strip: Strip, made: Stock) -> str:
    if not made.mixed:
        return _ALL
    return LONGS if strip.pieces[0].name in MEMBERS[LONGS] else _ENDS


# -- the pages -----------------------------------------------------------------------------------------------------


class Refused(Record):
    """A row of the list that gives no box: its number, the name as it can be printed, the column, the reason."""

    row: int
    name: str
    column: str
    reason: str


class Course(Record):
    """A class: its box file, who makes a box, and the rows that were refused."""

    file: BoxFile
    makers: tuple[Maker, ...]
    refused: tuple[Refused, ...] = ()

    @property
    def units(self) -> Units:
        """What the teacher's pages are written in."""
        return self.file.units


CAUTIONS = (cautions.CLASS, cautions.GENERAL)
"""The cautions of a class, whatever is cut."""
_TEACHER = "For the teacher"


def pages(course: Course) -> Sheets:
    """Return the pages of the teacher's plan."""
    return Sheets((
        _page("who", "Who makes what", [*_who(course), *_evenings(course)], "a row for each box, and for each evening"),
        _page("set-ups", "Order of set-ups", set_ups.tables(course.makers), "in the order that changes least"),
        _page("wood", "Wood for the class", _materials(course), "rough sizes; spare pieces are counted in"),
        _page("holds", "Hold points", _hold_points(course), "look and sign before anybody goes on"),
        _page("answers", "Answers", answers.tables(course.makers), "keep this page to yourself"),
        _page("benches", "Go or no-go", _for_the_benches(course), "copy it for each bench", place="At the bench"),
    ))  # fmt: skip


def _page(name: str, title: str, bands: Iterable[Band], about: str, place: str = _TEACHER) -> Card:
    return Card(name, title, place, (), tuple(bands), about, "plan", reading=True)


def _who(course: Course) -> list[Band]:
    rows: list[tuple[Cell, ...]] = []
    for maker in course.makers:
        box, joint, thickness = maker.data["box"], maker.data["fingers"], maker.data["cut"]["thickness"]
        outside = say("{l:cut} × {w:cut} × {h:cut}", l=box["length"], w=box["width"], h=box["height"])
        count = f"{math.ceil(joint['count'] / 2)} + {joint['count'] // 2}"
        finger = say("{f:gauge}", f=joint["finger"])
        rows.append((maker.short, outside, count, finger, say("{t:cut}", t=thickness), None))
    headings = ("Name", "Outside", "Fingers + sockets", "Finger", "Sides", "Glued, day")
    return [
        Table("who", "", headings, tuple(rows)),
        *_refused(course),
        *_warned(course),
        Text("Always", (cautions.CLASS,)),
    ]


def _evenings(course: Course) -> Iterable[Band]:
    return evenings.bands(course.file, course.makers)


def _sleds(course: Course) -> Table:
    """Return which sled each student uses: a row for each sled."""
    called, whose = calls(course.makers), _by_what((tuple(maker.data["shared"]), maker) for maker in course.makers)
    rows = [row for sled, makers in whose.items() for row in _of_each(sled, makers, called)]
    return Table("sleds", "Sleds to make, and who uses them", (*sleds.TOLD_APART, "For", "Made"), tuple(rows))


def _by_what(of: Iterable[tuple[tuple[str, ...], Maker]]) -> dict[tuple[str, ...], list[Maker]]:
    whose: dict[tuple[str, ...], list[Maker]] = {}
    for what, maker in of:
        whose.setdefault(what, []).append(maker)
    return whose


def _of_each(what: Sequence[str], makers: Sequence[Maker], called: Mapping[str, str]) -> Iterable[tuple[Cell, ...]]:
    """Return rows of what is of these students, to be ticked once, with a few names in a row."""
    for start in range(0, len(makers), A_ROW):
        few = ", ".join(called[maker.name] for maker in makers[start : start + A_ROW])
        yield (*what, few, None) if not start else (*("" for _ in what), few, "")


def _refused(course: Course) -> list[Band]:
    """Return the rows of the list that give no box, with their reasons; nothing where there are none."""
    if not course.refused:
        return []
    rows = [(str(one.row), one.name, one.column, one.reason) for one in course.refused[:_MOST_REFUSED]]
    more = len(course.refused) - len(rows)
    rows += [("", "", "", f"and {more} more, which the page for the teacher lists")] if more > 0 else []
    title = "Faulty rows: correct these in the list. Everyone else’s sheets are made."
    return [Table("refused", title, ("Row", "Name", "Column", "Reason"), tuple(rows))]


def _warned(course: Course) -> list[Band]:
    """Return the warnings of all boxes in one table, one rule in a row; nothing where there are none."""
    called = calls(course.makers)
    whose = _by_what(((rule,), maker) for maker in course.makers for rule in dict(maker.data["warnings"]))
    rows: list[tuple[Cell, ...]] = []
    for (rule,), makers in whose.items():
        says = capital(dict(makers[0].data["warnings"])[rule])
        rows += _of_each((says,), makers, called)
    title = "Warnings, with the numbers of the first box named. Talk them over before anything is cut."
    return [Table("warnings", title, ("Warning", "Whose box", "Seen"), tuple(rows))] if rows else []


def _widths(course: Course) -> Table:
    """Return the menu of board widths for each cutter."""
    joints: dict[tuple[float, float, float], Mapping[str, Any]] = {}
    for maker in course.makers:
        found = maker.data["fingers"]
        joints.setdefault((fine(maker.data["cut"]["cutter"]), fine(found["finger"]), fine(found["socket"])), found)
    rows = tuple(
        tuple(
            say("{v:gauge}", v=value)
            for value in (
                cutter,
                finger,
                *(fingers.rip_width(count, joint["finger"], joint["socket"]) for count in MENU),
            )
        )
        for (cutter, finger, _), joint in sorted(joints.items())
    )
    headings = ("Cutter", "Finger", *(f"{math.ceil(count / 2)} + {count // 2}" for count in MENU))
    title = "Widths for other heights, of whole fingers and sockets"
    return Table("widths", title, headings, rows)


# -- materials -----------------------------------------------------------------------------------------------------


def _materials(course: Course) -> list[Band]:
    pieces = [(maker, piece) for maker in course.makers for piece in maker.pieces]
    rack_of_it = [_from_rack(course, pieces)] if pieces else []
    return [_totals(course, [piece for _, piece in pieces]), *rack_of_it, _widths(course)]


_Sizes = Mapping[float, Sequence[Piece]]


def _totals(course: Course, pieces: Sequence[Piece]) -> Table:
    """Return what wood is needed: a row for each kind of piece, wood and thickness, and the test pieces after it."""
    groups: dict[tuple[str, str, float], dict[float, list[Piece]]] = {}
    for piece in pieces:
        of_one = groups.setdefault((piece.name, piece.wood or "any wood", fine(piece.thickness)), {})
        of_one.setdefault(fine(piece.width), []).append(piece)
    rows = [_total(course.units, *kind, sizes) for kind, sizes in sorted(groups.items())]
    unit = "m³" if course.units == "mm" else "board ft"
    headings = ("Piece", "Thick", "Pieces of each width", "Spare", "Longest", f"All, {unit}")
    return Table("wood", "Rough pieces", headings, (*rows, *_test_pieces(course)))


def _total(units: Units, name: str, wood: str, thickness: float, sizes: _Sizes) -> tuple[Cell, ...]:
    spares, amount = 0, 0.0
    for width, members in sizes.items():
        spare = math.ceil(len(members) * SPARES) if name in _SIDES else 0
        length = sum(piece.length for piece in members) + spare * max(piece.length for piece in members)
        by = stock.cubic_metres if units == "mm" else stock.board_feet
        spares, amount = spares + spare, amount + by(length=length, width=width, thickness=thickness)
    longest = max(piece.length for members in sizes.values() for piece in members)
    counted = {width: len(members) for width, members in sizes.items()}
    said = f"{amount:.4f}" if units == "mm" else f"{amount:.2f}"
    thick = say("{t:cut}", t=thickness)
    return f"{name}, {wood}", thick, _counted(counted), str(spares or "–"), _needed(longest, units), said


def _counted(of: Mapping[float, int]) -> Words:
    """Return how many there are of each width: `4 of 165, 3 of 170`."""
    fields = {f"w{i}": width for i, width in enumerate(sorted(of))}
    return say(", ".join(f"{of[width]} of {{{name}:cut}}" for name, width in fields.items()), **fields)


def _test_pieces(course: Course) -> list[tuple[Cell, ...]]:
    """Return the test pieces: as many for each student as the student's own card says."""
    seen: dict[float, dict[float, int]] = {}
    for maker in course.makers:
        widths = seen.setdefault(fine(maker.data["cut"]["thickness"]), {})
        width = fine(maker.data["fingers"]["rip_width"])
        widths[width] = widths.get(width, 0) + rack.trial_pieces()
    long = _rough(rack.TEST_PIECE.size(course.units))
    return [
        ("test pieces", say("{t:cut}", t=thickness), _counted(widths), "–", long, "–")
        for thickness, widths in sorted(seen.items())
    ]


def _from_rack(course: Course, pieces: Sequence[tuple[Maker, Piece]]) -> Table | Text:
    """Return which boards of the rack to open for whom, or why that can't be said."""
    listed = course.file.stock
    if listed is None or not listed.boards:
        return Text("The rack", ("The box file lists no boards. Buy what the table says.",))
    if len(pieces) > _MOST_PIECES:
        many = f"{len(pieces)} pieces are too many to share out between single boards. Buy what the table says."
        return Text("The rack", (many,))
    kerf, trim = listed.kerf, listed.trim
    woods, called = Woods(), calls(course.makers)
    boards = rack_of(course.file, woods)
    whose = [
        Piece(f"{called[m.name]}: {p.name}", _net(p, trim), p.width, p.thickness, woods(p.wood)) for m, p in pieces
    ]
    plan = stock.cutting_plan(whose, boards, kerf=kerf, trim=trim, effort=20 * len(whose))
    rows: list[tuple[Cell, ...]] = [
        (
            rack.full_name(opened.board),
            opened.board.wood or "",
            _rough(opened.board.length),
            _across(opened.board),
            ", ".join(p.name for p in opened.pieces),
            _left(opened.offcut, course.units),
        )
        for opened in plan.boards
    ]
    return _of_the_rack([*rows, *_to_buy(plan.missing, trim, course.units)])


def _of_the_rack(rows: Sequence[tuple[Cell, ...]]) -> Table:
    """Return the table of the boards; a wood that is the only one stands in its title."""
    headings, title = ("Board", "Wood", "Long", "Wide × thick", "Pieces, in the order of cutting", "Offcut"), "The rack"
    woods = [wood for wood in dict.fromkeys(str(row[1]) for row in rows) if wood]
    if len(woods) > 1:
        return Table("rack", title, headings, tuple(rows))
    title = ", ".join([title, *woods])
    return Table("rack", title, (headings[0], *headings[2:]), tuple((row[0], *row[2:]) for row in rows))


def _to_buy(missing: Sequence[Piece], trim: float, units: Units) -> list[tuple[Cell, ...]]:
    """Return the pieces that no board has room for, those of one width and thickness in a row."""
    groups: dict[tuple[str, str, float, float], list[Piece]] = {}
    for piece in missing:
        alike = piece.name.rpartition(": ")[2], piece.wood or "", fine(piece.width), fine(piece.thickness)
        groups.setdefault(alike, []).append(piece)
    rows: list[tuple[Cell, ...]] = []
    for (kind, wood, *_), members in groups.items():
        names = ", ".join(piece.name.rpartition(": ")[0] for piece in members)
        lengths = [piece.length + 2 * trim for piece in members]
        rows.append(("to buy", wood, _long(lengths, units), _across(members[0]), f"{kind}: {names}", ""))
    return rows


def _long(lengths: Sequence[float], units: Units) -> Words:
    """Return lengths in the order of the names beside them; one that is everybody's is said once."""
    needed = [read_out(_needed(length, units), units, on_paper) for length in lengths]
    if len(needed) > 1 and len(set(needed)) == 1:
        return f"{len(needed)} of {needed[0]}"
    return ", ".join(needed)


def _net(piece: Piece, trim: float) -> float:
    """Return a piece's length without the trims, which the plan takes off its boards itself."""
    return piece.length - 2 * trim if piece.name in _SIDES else piece.length


def _across(board: Board | Piece) -> Words:
    return say("{w:cut}\u00a0×\u00a0{t:cut}", w=board.width, t=board.thickness)


_WHOLE: Mapping[Units, float] = {"mm": 1.0, "in": 25.4 / 8}
"""What rough lengths are said in."""


def _rough(mm: float) -> Words:
    return say("{v:rough}", v=mm)


def _needed(mm: float, units: Units) -> Words:
    """Return a rough length that is needed: never less."""
    return _rough(math.ceil(mm / _WHOLE[units] - 1e-6) * _WHOLE[units])


def _left(mm: float, units: Units) -> Words:
    """Return a rough length that is left over: never more."""
    return _rough(math.floor(mm / _WHOLE[units] + 1e-6) * _WHOLE[units])


# -- hold points and card ------------------------------------------------------------------------------------------

HOLD_POINTS = {**SIGNED, **{hold: title for kind in PARTS for hold, title in kind.signed.items()}}
"""What is signed, by the name of the hold; one that is not listed is called by its name."""
HOLDS_A_TABLE = 8


def _hold_points(course: Course) -> list[Band]:
    """Return the sleds to make, and who is to be signed for at which hold, in the order of the cards."""
    had: dict[str, int] = {}
    for maker in course.makers:
        for card, name in maker.data["holds"]:
            had[name] = max(had.get(name, 0), int(card) if card.isdigit() else 0)
    names = sorted(had, key=lambda name: had[name])  # those of one card stay in its order
    bands: list[Band] = []
    each = math.ceil(len(names) / math.ceil(len(names) / HOLDS_A_TABLE)) if names else 1
    for first in range(0, len(names), each):
        points = names[first : first + each]
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (maker.short, *(None if any(of == name for _, of in maker.data["holds"]) else "–" for name in points))
            for maker in course.makers
        )
        title = "Sign before they switch on, or cut on" if not first else "Sign, later holds"
        headings = ("Name", *(_with_card(course, name) for name in points))
        bands.append(Table(f"hold-{first // each + 1}", title, headings, rows))
    return [*bands, _sleds(course)]


def _with_card(course: Course, name: str) -> str:
    """Return a hold point with the card it stands on, where that is the same for everybody who has it."""
    title = HOLD_POINTS.get(name, capital(name))
    found = {card for maker in course.makers for card, of in maker.data["holds"] if of == name}
    return f"{title}, card\u00a0{found.pop()}" if len(found) == 1 else title


def _for_the_benches(course: Course) -> list[Band]:
    return [*_go_or_not(course), *answers.exercises(course.makers)]


def _go_or_not(course: Course) -> tuple[Table, Text]:
    rows: list[tuple[Cell, ...]] = []
    asked = sorted({(m.data["cut"]["clearance"], m.data["cut"]["proud"]) for m in course.makers})
    for clearance, proud in asked:
        one = len(asked) == 1
        least, most = good_clearance(clearance)
        stop = say("below 0 or above {m:gauge}", m=max(CLEARANCE_STOP, most))
        name = "Clearance of the joint"
        rows.append((name if one else say(f"{name}, {{c:gauge}}", c=clearance), _from_to(least, most), stop, None))
        name = "Fingers proud"
        go = _from_to(max(0.0, proud - PROUD_GO), proud + PROUD_GO)
        rows.append((name if one else say(f"{name}, {{p:gauge}}", p=proud), go, "below the face", None))
    for name, go_at, stop_at in (
        ("Bottom edges out of flush", FLUSH_GO, FLUSH_STOP),
        ("Diagonals differ by", DIAGONALS_GO, DIAGONALS_STOP),
    ):
        rows.append((name, say("up to {g:gauge}", g=go_at), say("above {s:gauge}", s=stop_at), None))
    table = Table("card", "Go or no-go", ("Measure", "Go", "No-go", "It reads"), tuple(rows))
    words = (
        "At no-go, stop. Between go and no-go, tell the teacher before you cut on.",
        "Measure with callipers, never off paper.",
        say(
            "Use no board with a knot in the fingers, or more than {spread:gauge} off the thickness of its mates.",
            spread=MOST_SPREAD,
        ),
        "If you leave the boards for a week, wrap them on stickers. Cut joints move with the air.",
    )
    return table, Text("", words)


def _from_to(least: float, most: float) -> Words:
    return say("{least:gauge} to {most:gauge}", least=least, most=most)
