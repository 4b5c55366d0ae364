"""The teacher's plan of a class: who makes what, in which order machines are set, from which boards, and the answers.

The plan is made from the numbers of each student's box as data, so that a class of any size is never held as boxes.
Lengths in mm.
"""

from __future__ import annotations

import dataclasses
import hashlib
import itertools
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from jigs.base import cautions
from jigs.base.drawing import Cell, Drawing, Notes, Table
from jigs.base.lengths import Units, show
from jigs.base.settings import Value
from jigs.base.wording import Words, say
from jigs.box import chain, rack
from jigs.box import order as box_order
from jigs.box.chain import Box
from jigs.box.stock import Stock, Strip, Woods, rack_of
from jigs.boxfile.sections import BoxFile
from jigs.course.class_list import shortened
from jigs.parts.joint import part as joint_part
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.joint.rules import MOST_SPREAD
from jigs.parts.joint.trial_joint import good_clearance
from jigs.trade import fingers, setups, stock
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
_NAME, _WORD = 28, 14  # characters of a name in a table, and of a word of it
_WHOM = 4  # names in one row of a table
_MOST_PIECES = 200  # to be shared out between boards; more are bought, not picked from a rack


# -- one student ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Maker:
    """What the plan knows of one student: a name fit for the sheets, the box as data, its rough pieces."""

    name: str
    data: Mapping[str, Any]

    @property
    def short(self) -> str:
        """The name as it fits a table."""
        return shortened(" ".join(shortened(word, _WORD) for word in self.name.split()), _NAME)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The rough pieces; a strip of sides is one."""
        return tuple(Piece(*piece) for piece in self.data["pieces"])


def numbers(made: Box) -> dict[str, Any]:
    """Return what the plan needs of a box that no rule stops, as data that JSON holds."""
    assert made.numbers is not None, "a box that nothing stops has a joint"
    file, everything = made.file, chain.as_data(made)
    kept = {name: everything[name] for name in ("box", "fingers", "sled", "groove", "bottom", "lid", "handle")}
    pieces = []
    if made.stock:
        pieces += [(_of_sides(s, made.stock), s.length, s.width, s.thickness, s.wood) for s in made.stock.strips]
        pieces += [(p.name, p.length, p.width, p.thickness, p.wood) for p in made.stock.others]
    cut = {
        "machine": file.joint.machine,
        "cutter": file.joint.cutter,
        "finger": file.joint.finger,
        "clearance": file.joint.clearance,
        "proud": file.joint.proud,
        "thickness": file.sides.thickness,
        "projection": made.numbers.projection,
        "groove_cutter": made.groove.cutter if made.groove else None,
        "groove_depth": made.groove.depth if made.groove else None,
        "groove_from_bottom": made.groove.from_bottom if made.groove else None,
        "long": file.box.length + 2 * file.joint.proud,
        "short": file.box.width + 2 * file.joint.proud,
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


# -- set-ups -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Task:
    """One thing that one student cuts, and what the machine is set to for it."""

    who: str
    set_up: setups.SetUp


@dataclass(frozen=True, slots=True)
class Station:
    """What is cut at one machine: how its settings are called, and the tasks in the order of the list."""

    name: str
    title: str
    settings: tuple[str, ...]
    tasks: tuple[Task, ...]

    @property
    def order(self) -> setups.Order:
        """The order of set-ups with the fewest changes."""
        return setups.best_order([task.set_up for task in self.tasks])

    @property
    def changes_by_list(self) -> int:
        """How many settings are made when everybody is served in the order of the list."""
        return setups.changes([task.set_up for task in self.tasks])


def stations(makers: Iterable[Maker]) -> tuple[Station, ...]:
    """Return the stations of a class at which set-ups differ."""
    joints: list[Task] = []
    grooves: list[Task] = []
    bottoms: list[Task] = []
    lids: list[Task] = []
    drilled: list[Task] = []
    for maker in makers:
        joints.append(_joint_task(maker))
        grooves += _groove_tasks(maker)
        bottoms += _rabbet_tasks(maker, "bottom", ("end grain", "long grain"))
        lids += _rabbet_tasks(maker, "lid", ("ends", "sides"))
        if drill := maker.data["drill"]:
            drilled.append(Task(maker.short, tuple(_fine(size) for size in drill)))
    found = (
        Station("fingers", "Fingers", ("cutter", "key and gap", "bit above table"), tuple(joints)),
        Station("grooves", "Grooves", ("cutter", "depth", "fence to centre", "stops, left and right"), tuple(grooves)),
        Station("bottom-rabbets", "Bottom rabbets", ("bit above table", "bit stands out at last"), tuple(bottoms)),
        Station("lid-rabbets", "Lid rabbets", ("bit above table", "bit stands out at last"), tuple(lids)),
        Station("handle-drill", "Handle drill", ("hole saw", "fence to centre", "stop to centre"), tuple(drilled)),
    )
    return tuple(station for station in found if station.tasks)


def _joint_task(maker: Maker) -> Task:
    sled, cut = maker.data["sled"], maker.data["cut"]
    key = (_fine(sled["key"]), *(_fine(gap) for gap in maker.data["fingers"]["pass_gaps"]))
    return Task(maker.short, ((cut["machine"], _fine(cut["cutter"])), key, _fine(cut["projection"])))


def _groove_tasks(maker: Maker) -> list[Task]:
    """Return a task for the longs and one for the ends: those that run through need no stops."""
    made, cut = maker.data["groove"], maker.data["cut"]
    if made is None:
        return []
    tasks = []
    for kind, said in ((LONGS, "front, back"), (SHORTS, "ends")):
        stops = made["stops"].get(MEMBERS[kind][0])
        set_to = (_fine(stops["left"]), _fine(stops["right"])) if stops else None
        shared = (_fine(cut["groove_cutter"]), _fine(cut["groove_depth"]), _fine(made["fence"]))
        tasks.append(Task(f"{maker.short}: {said}", (*shared, set_to)))
    return tasks


def _rabbet_tasks(maker: Maker, part: str, edges: tuple[str, str]) -> list[Task]:
    """Return a task for each pair of opposite edges; the passes before the last are on the student's own sheet."""
    made = maker.data["rabbets"][part]
    if made is None or _fine(made[0]) <= 0:
        return []
    deep, *widths = made
    return [
        Task(f"{maker.short}: {edge}", (_fine(deep), _fine(wide))) for edge, wide in zip(edges, widths, strict=True)
    ]


def _fine(value: float) -> float:
    """Return a setting to a thousandth of a mm: no machine is set finer."""
    return round(value, 3)


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
        *answers(course),
    )


def _who(course: Course) -> Drawing:
    rows: list[tuple[Cell, ...]] = []
    for maker in course.makers:
        data = maker.data
        rows.append(
            (
                maker.short,
                say("{l} × {w} × {h}", l=data["box"]["length"], w=data["box"]["width"], h=data["box"]["height"]),
                str(data["fingers"]["count"]),
                data["fingers"]["finger"],
                data["cut"]["thickness"],
                None,
            )
        )
    table = Table(
        "who", "Who makes what", ("Name", "Outside", "Parts", "Finger", "Thick", "Box glued, day"), tuple(rows)
    )
    return Drawing("who", "who makes what", "one row for each box of the class", (table, _sleds(course)), CAUTIONS)


def _sleds(course: Course) -> Table:
    """Return which sled each student uses: a row for each sled."""
    whose: dict[str, list[str]] = {}
    for maker in course.makers:
        whose.setdefault(maker.data["shared"], []).append(maker.short)
    rows: list[tuple[Cell, ...]] = [
        (sled if not start else "", "; ".join(names[start : start + _WHOM]), None if not start else "")
        for sled, names in whose.items()
        for start in range(0, len(names), _WHOM)
    ]
    return Table("sleds", "Sleds to make, and who uses them", ("Sled", "For", "Made"), tuple(rows))


def _warned(course: Course) -> tuple[Drawing, ...]:
    """Return the warnings of all boxes in one table; nothing where there are none."""
    whose: dict[str, list[str]] = {}
    for maker in course.makers:
        for warning in maker.data["warnings"]:
            whose.setdefault(warning, []).append(maker.short)
    if not whose:
        return ()
    rows: list[tuple[Cell, ...]] = [
        (warning if not start else "", "; ".join(names[start : start + _WHOM]), None if not start else "")
        for warning, names in whose.items()
        for start in range(0, len(names), _WHOM)
    ]
    table = Table("warnings", "Warnings", ("What", "Whose box", "Seen"), tuple(rows))
    purpose = "what the rules warn of, to be talked over before anything is cut"
    return (Drawing("warnings", "warnings of the boxes", purpose, (table,), CAUTIONS),)


def _set_ups(course: Course) -> Drawing:
    body: list[Table | Notes] = []
    said: list[Words] = []
    for station in stations(course.makers):
        body.append(_set_up_table(station, course.units))
        best = station.order
        how = "no order needs fewer" if best.best else f"no order needs fewer than {best.at_least}"
        said.append(
            f"{station.title}: {best.changes} settings in this order, {station.changes_by_list} if each was served in "
            f"the order of the list; {how}. The first set-up counts as {len(station.settings)}."
        )
    said.append(
        "Change only what the column Change names; the rest stands as it is. Sign when the set-up is proved on scrap."
    )
    notes = Notes("set-up-notes", "What it saves", tuple(said))
    purpose = "set each machine in this order: the least is changed between one set-up and the next"
    return Drawing("set-ups", "order of set-ups", purpose, (*body, notes), CAUTIONS)


def _set_up_table(station: Station, units: Units) -> Table:
    whom: dict[setups.SetUp, list[str]] = {}
    for task in station.tasks:
        whom.setdefault(task.set_up, []).append(task.who)
    rows: list[tuple[Cell, ...]] = []
    before: setups.SetUp | None = None
    for number, one in enumerate(station.order.set_ups, 1):
        anew = [n for n, a, b in zip(station.settings, one, before or (), strict=False) if a != b]
        change = ", ".join(anew) if before else "everything"
        names = whom[one]
        cells = tuple(_setting(value, units) for value in one)
        rows.append((str(number), change, *cells, "; ".join(names[:_WHOM]), None))
        for start in range(_WHOM, len(names), _WHOM):
            rows.append((f"{number}", "the same", *("" for _ in cells), "; ".join(names[start : start + _WHOM]), ""))
        before = one
    headings = ("No.", "Change", *(_capital(name) for name in station.settings), "For", "Signed")
    return Table(station.name, station.title, headings, tuple(rows))


def _setting(value: object, units: Units) -> Cell:
    """Return what one setting of a machine says in a table."""
    match value:
        case None:
            return "no stops"
        case float():
            return value
        case (str(machine), float(cutter)):
            return cutter if machine == "router table" else say(f"{{cutter}} on the {machine}", cutter=cutter)
        case tuple():
            return say(
                "\u00a0/\u00a0".join(f"{{v{i}}}" for i in range(len(value))),
                **{f"v{i}": v for i, v in enumerate(value)},
            )
        case _:
            return str(value)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _widths(course: Course) -> Drawing:
    """Return the menu of board widths for each cutter."""
    joints: dict[tuple[float, float, float], Mapping[str, Any]] = {}
    for maker in course.makers:
        found = maker.data["fingers"]
        joints.setdefault((_fine(maker.data["cut"]["cutter"]), _fine(found["finger"]), _fine(found["socket"])), found)
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
        size = _fine(piece.thickness), _fine(piece.width)
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
        size = (_fine(maker.data["cut"]["thickness"]), _fine(maker.data["fingers"]["rip_width"]))
        seen[size] = seen.get(size, 0) + 1
    for (thickness, width), students in sorted(seen.items()):
        pieces = rack.trial_pieces() * students
        rows.append((thickness, width, rack.TEST_PIECE.size(course.units), str(pieces)))
    title = f"Test pieces, {rack.trial_pieces()} for each box, beside the rough pieces and planed with the sides"
    return Table("test-pieces", title, ("Thick", "Width", "Length", "Pieces"), tuple(rows))


# -- hold points and card ------------------------------------------------------------------------------------------

HOLD_POINTS = {
    "cutter set": "Cutter set",
    "fingers set": "Gap set",
    "fingers tried": "Test joint",
    "groove set": "Groove set",
    "groove tried": "Groove in scrap",
    "tongue set": "Bottom set",
    "tongue tried": "Tongue in scrap",
    "plug set": "Lid set",
    "plug tried": "Lid's last cut",
    "holes set": "Hole saw set",
}
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


# -- answers -------------------------------------------------------------------------------------------------------

_TOPICS: tuple[tuple[str, str, str], ...] = (
    ("joint", "Joint", "Finger=fingers.finger, Socket=fingers.socket, Pitch=fingers.pitch, Rip to=fingers.rip_width"),
    ("sled", "Sled", "Gap=sled.gap, Key=sled.key, Spacer=sled.spacer, Over all=sled.over_all"),
    ("boards", "Cut and boards", "Above table=cut.projection, Front and back=cut.long, Ends=cut.short"),
    ("inside", "inside", "Inside length=box.inside_length, Inside width=box.inside_width"),
    ("groove", "Groove", "Fence=groove.fence, End wood=groove.end_wood, At most=groove.end_wood_max"),
    ("bottom", "bottom", "Length=bottom.length, Width=bottom.width, Driest=bottom.width_dry, Wettest=bottom.width_wet"),
    ("lid", "Lid", "Length=lid.length, Width=lid.width, Plug length=lid.plug_length, Plug width=lid.plug_width"),
    ("crown", "its crown and gap", "Radius=lid.crown_radius, Edge=lid.edge, Gap now=lid.gap_shop, Driest=lid.gap_dry"),
    (
        "handle",
        "Handle",
        "Hole centres=handle.centre_offset, Crest radius=handle.crest_radius, Blank=handle.blank_length",
    ),
)
"""Tables of answers: name, title, and the columns, heading=section.key. Two in mm stand in one."""


def _tables(course: Course) -> list[Table]:
    """Return the tables of answers, those without rows left out."""
    topics = list(_TOPICS)
    if course.units == "mm":
        pairs = itertools.zip_longest(topics[::2], topics[1::2])
        topics = [(a[0], f"{a[1]}, {b[1]}", f"{a[2]}, {b[2]}") if b else a for a, b in pairs]
    made = []
    for name, title, columns in topics:
        pairs_of = [column.rsplit("=", 1) for column in columns.split(", ")]
        rows = [row for maker in course.makers if (row := _answer_row(maker, [key for _, key in pairs_of]))]
        headings = ("Name", *(heading for heading, _ in pairs_of))
        if rows:
            made.append(Table(f"answers-{name}", _capital(title), headings, tuple(rows)))
    return made


def _answer_row(maker: Maker, keys: Sequence[str]) -> tuple[Cell, ...] | None:
    """Return one row of a table; None where the box has nothing of what it is about."""
    cells: list[Cell] = []
    for key in keys:
        section, _, name = key.partition(".")
        value = (maker.data[section] or {}).get(name)
        cells.append("none" if value is None else float(value))
    return (maker.short, *cells) if any(cell != "none" for cell in cells) else None


def answers(course: Course) -> tuple[Drawing, ...]:
    """Return the teacher's sheet with every number, and the one on which each student works one out."""
    tables = _tables(course)
    asked = [(maker, _exercise(maker)) for maker in course.makers]
    solved = Table("solved", "What each was asked", ("Name", "Work out", "Answer"),
                   tuple((maker.short, task.asks, task.answer) for maker, task in asked))  # fmt: skip
    blank = Table("work-out", "Work it out", ("Name", "Work out", "From", "Your answer"),
                  tuple((maker.short, task.asks, task.given, None) for maker, task in asked))  # fmt: skip
    how = Notes("how", "How", tuple(f"{name}: {rule}." for name, rule in _RULES.items()))
    return (
        Drawing("answers", "answers, for the teacher", "every number of every box", (*tables, solved), CAUTIONS),
        Drawing("work-out", "work one out yourself", "hand it round: each works out one number of their own box",
                (blank, how), CAUTIONS),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Exercise:
    """One number that a student works out: what, from what, and the answer."""

    asks: str
    given: Words
    answer: Cell


_RULES = {
    "Rip to": "fingers of the front times finger, plus sockets of the front times socket",
    "Spacer": "half of finger and socket together",
    "Over all": "key, gap and cutter laid side by side",
    "Inside length": "outside length less the sides twice",
    "Fence": "from the fence to the cutter's centre: lower side of the groove plus half the cutter",
}


def _exercise(maker: Maker) -> Exercise:
    """Return the exercise of a student: which one depends on the name alone, so that nobody's changes with the list."""
    data, cut = maker.data, maker.data["cut"]
    joint, sled = data["fingers"], data["sled"]
    front = (math.ceil(joint["count"] / 2), joint["count"] // 2)
    made: list[Callable[[], Exercise]] = [
        lambda: Exercise("Rip to", say(f"{front[0]} fingers of {{f}}, {front[1]} sockets of {{s}}",
                                       f=joint["finger"], s=joint["socket"]), joint["rip_width"]),
        lambda: Exercise("Spacer", say("finger {f}, socket {s}", f=joint["finger"], s=joint["socket"]), sled["spacer"]),
        lambda: Exercise("Over all", say("key {k}, gap {g}, cutter {c}", k=sled["key"], g=sled["gap"], c=cut["cutter"]),
                         sled["over_all"]),
        lambda: Exercise("Inside length", say("outside {l}, sides {t}", l=data["box"]["length"], t=cut["thickness"]),
                         data["box"]["inside_length"]),
    ]  # fmt: skip
    if data["groove"]:
        made.append(
            lambda: Exercise(
                "Fence",
                say("lower side {z}, cutter {c}", z=cut["groove_from_bottom"], c=cut["groove_cutter"]),
                data["groove"]["fence"],
            )
        )
    return made[hashlib.sha256(maker.name.encode()).digest()[0] % len(made)]()
