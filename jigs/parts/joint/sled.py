"""The indexing sled: its settings and its numbers. Its rules are in `rules`, its sheets in `sheets`."""

from __future__ import annotations

from typing import Annotated, Any

from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units, round_down, round_up
from jigs.base.rules import Problem
from jigs.base.settings import Angle, Choice, Count, Flag, Length
from jigs.base.wording import say
from jigs.parts.joint import sheets as joint_sheets
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.made import Sled
from jigs.parts.joint.rules import STOPS, WARNINGS, Asked, Form, joint_of
from jigs.trade import sled as arithmetic
from jigs.trade.cut import Blank, Setup
from jigs.trade.passes import KeySide, Machine
from jigs.trade.predict import Method
from jigs.trade.sled import Ends, SledNumbers


@jig(
    "sled",
    title="Indexing sled",
    summary="cuts finger joints of any finger width",
    example="--finger 10 --cutter 10.02 --board 90 --thickness 12",
    sources=(
        "Fingers, gap, key and spacer are derived in `jigs/trade/fingers.py`, `sled.py` and `fit.py`. "
        "Tolerances and limits of the shop: common practice, no source."
    ),
)
def sled(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    cutter: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)],
    board: Annotated[float, Length("width of the board in hand", 6, 1200)],
    thickness: Annotated[float, Length("thickness of the sides, the thickest reading", 0.4, 60)],
    clearance: Annotated[float, Length("socket less finger", 0, 1)] = 0.10,
    key_slack: Annotated[float, Length("play of a socket on the key", 0, 2)] = 0.10,
    proud: Annotated[float, Length("fingers left long, to be planed off", 0, 3)] = 0.3,
    machine: Annotated[Machine, Choice("machine", ("router table", "table saw"))] = "router table",
    key_side: Annotated[KeySide, Choice("side of the cutter the key is on", ("right", "left"))] = "right",
    layout: Annotated[Ends, Choice("how the parts fall on the board", ("rip", "keep", "centre"))] = "rip",
    parts: Annotated[int | None, Count("fingers and sockets across the board", 3, 400)] = None,
    passes: Annotated[int | None, Count("passes that make one socket", 1, 120)] = None,
    length: Annotated[float | None, Length("longest board stood on end", 10, 2000)] = None,
    boards_in_stack: Annotated[int, Count("boards cut together", 2, 12)] = 4,
    backer: Annotated[float | None, Length("thickness of the backing board", 2, 60)] = None,
    plate: Annotated[float, Length("thickness of the plate", 3, 30, inches=6.35)] = 6.0,
    margin: Annotated[float, Length("run before and after the cut", 10, 100, inches=19.05)] = 20.0,
    key: Annotated[float | None, Length("key in hand, measured", 0.5, 62)] = None,
    spacer: Annotated[float | None, Length("spacer in hand, measured", 0.5, 62)] = None,
    key_height: Annotated[float | None, Length("key above the plate", 0.1, 60)] = None,
    cutting_edge: Annotated[float | None, Length("length of the cutting edge", 1, 100)] = None,
    thinnest: Annotated[float | None, Length("thinnest reading of the sides", 0.4, 60)] = None,
    ends_thickness: Annotated[float | None, Length("thickness of the ends, if another", 0.4, 60)] = None,
    edges_out: Annotated[float, Length("bottom edges of the stack out of line by", 0, 5)] = 0.0,
    method: Annotated[Method, Choice("how the mates are cut", ("one stack", "separately"))] = "one stack",
    form: Annotated[Form, Choice("what stays on the table", ("fixed plate", "moving plate"))] = "fixed plate",
    guided: Annotated[bool, Flag("the carriage has a guide of its own")] = False,
    out_of_parallel: Annotated[float, Angle("key out of parallel with the travel", 0, 5)] = 0.0,
    blade: Annotated[float, Length("diameter of the saw blade", 100, 500, inches=254.0)] = 250.0,
    bevel: Annotated[float, Angle("bevel of the saw's teeth", 0, 45)] = 0.0,
    clamp_reach: Annotated[float | None, Length("thickest stack the clamps take", 10, 500)] = None,
    whole: Annotated[bool, Flag("draw the whole plate, over several pages if need be")] = False,
    units: Units = "mm",
) -> Plan:
    """Plate, key, spacer, carriage, story stick and setting card of an indexing sled for finger joints."""
    return _plan(Asked(**{name: value for name, value in locals().items() if name != "units"}), units)


def work_out(asked: Asked) -> tuple[SledNumbers, tuple[Problem, ...]]:
    """Apply the rules and return the numbers with what to know of them. Raises CannotBuild where a rule stops it."""
    _stop_at([problem for rule in STOPS for problem in rule(asked)])
    numbers = _numbers(asked)
    problems = tuple(problem for rule in WARNINGS for problem in rule(asked, numbers))
    _stop_at([problem for problem in problems if problem.severity == "stop"])
    return numbers, problems


def _plan(asked: Asked, units: Units) -> Plan:
    numbers, problems = work_out(asked)
    made = Sled(
        numbers=numbers,
        cutter=asked.cutter,
        plate=asked.plate,
        margin=asked.margin,
        thickness=asked.thickness,
        ends_thickness=asked.ends_thickness or asked.thickness,
        boards_in_stack=asked.boards_in_stack,
        key_height=_key_height(asked, numbers, units),
        machine=asked.machine,
        key_side=asked.key_side,
        problems=problems,
        proud=asked.proud,
        meant=meant(asked, numbers),
        spare=asked.board - numbers.width,
        units=units,
        layout=asked.layout,
    )
    title = say("Indexing sled for {finger} fingers", finger=numbers.finger)
    return Plan(title, as_data(numbers), joint_sheets.drawings(made, whole=asked.whole), problems)


def _key_height(asked: Asked, numbers: SledNumbers, units: Units) -> float:
    """Return how far the key stands above the plate: about as high as wide, round, and never above its limit."""
    if asked.key_height is not None:
        return asked.key_height
    limit = numbers.key_height_limit
    square = round_up(min(numbers.key, limit), units)
    return square if square <= limit else round_down(limit, units) or limit


def _stop_at(problems: list[Problem]) -> None:
    if problems:
        raise CannotBuild(problems)


def _numbers(asked: Asked) -> SledNumbers:
    return arithmetic.sled_numbers(
        finger=asked.finger,
        cutter=asked.cutter,
        clearance=asked.clearance,
        slack=asked.key_slack,
        board=asked.board,
        thickness=asked.thickness,
        ends_thickness=asked.ends_thickness,
        proud=asked.proud,
        plate=asked.plate,
        margin=asked.margin,
        board_length=asked.length or 1.0,  # where it is not known the least fence is high enough
        boards_in_stack=asked.boards_in_stack,
        backer=asked.backer,
        spacer=asked.spacer,
        key=asked.key,
        ends=asked.layout,
        count=asked.parts,
        pass_count=asked.passes,
        blade=asked.blade if asked.machine == "table saw" else None,
    )


def meant(asked: Asked, numbers: SledNumbers) -> Meant:
    """Return the joint that the sled is to cut, for the dry fit."""
    gaps = numbers.passes.gaps
    return Meant(
        setup=Setup(numbers.gap, asked.cutter, numbers.key, tuple(gaps[-1] - gap for gap in gaps)),
        long=Blank(numbers.width, asked.thickness, numbers.board_starter),
        short=Blank(numbers.width, asked.ends_thickness or asked.thickness, numbers.short_spacer),
        joint=joint_of(numbers),
        passes=numbers.passes,
        method=asked.method,
        positions=numbers.positions,
    )


def as_data(numbers: SledNumbers) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    return {
        "count": numbers.count,
        "finger": numbers.finger,
        "socket": numbers.socket,
        "pitch": numbers.pitch,
        "clearance": numbers.clearance,
        "rip_width": numbers.rip_width,
        "nearest_widths": [width for _, width in numbers.nearest_widths],
        "passes": numbers.passes.count,
        "pass_gaps": list(numbers.passes.gaps),
        "steps": numbers.positions,
        "sliver": numbers.leftover.sliver,
        "gap": numbers.gap,
        "key": numbers.key,
        "spacer": numbers.spacer,
        "slack": numbers.slack,
        "cut_depth": numbers.cut_depth,
        "over_all": numbers.over_all,
        "runs": [{"depth": run.depth, "boards": run.boards} for run in numbers.runs],
    }
