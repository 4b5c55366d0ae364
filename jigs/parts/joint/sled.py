"""The indexing sled: its settings and its numbers. Its rules are in `rules`, its sheets in `sheets`."""

from __future__ import annotations

from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.lazily import lazily
from jigs.base.lengths import Units, round_down, round_up
from jigs.base.rules import Problem
from jigs.base.wording import say
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.made import Sled
from jigs.parts.joint.rules import STOPS
from jigs.parts.joint.settings import SledSettings, joint_of
from jigs.parts.joint.warnings import WARNINGS
from jigs.parts.part import numbers_of
from jigs.trade import sled as arithmetic
from jigs.trade.cut import Blank, Setup
from jigs.trade.sled import SledNumbers

with lazily():  # its numbers are asked for without its cards
    from jigs.parts.joint import card as joint_card


@jig(
    "sled",
    title="Indexing sled",
    summary="cuts finger joints of any finger width",
    from_box="board=file.box.height length=longest",
)
def sled(asked: SledSettings, units: Units) -> Plan:
    """Plate, key, spacer, carriage, story sticks and cards of an indexing sled for finger joints.

    Example: --finger 10 --cutter 10.02 --board 90 --thickness 12

    Sources: Fingers, gap, key and spacer are derived in `jigs/trade/fingers.py`, `sled.py` and `fit.py`. Tolerances
    and limits of the shop: common practice, no source.
    """
    drawn = made(asked, units)
    title = say("Indexing sled for {finger:gauge} fingers", finger=drawn.numbers.finger)
    return Plan(title, as_data(drawn.numbers), joint_card.of(drawn, whole=asked.whole), drawn.problems)


def made(asked: SledSettings, units: Units) -> Sled:
    """Return the sled with nothing left open. Raises CannotBuild where a rule stops it."""
    numbers, problems = work_out(asked)
    return Sled(
        numbers=numbers,
        cutter=asked.cutter,
        plate=asked.plate,
        margin=asked.margin,
        thickness=asked.thickness,
        ends_thickness=asked.ends_thickness or asked.thickness,
        boards_in_stack=asked.boards_in_stack,
        key_height=key_height(asked, numbers, units),
        machine=asked.machine,
        key_side=asked.key_side,
        problems=problems,
        proud=asked.proud,
        meant=meant(asked, numbers),
        spare=asked.board - numbers.width,
        units=units,
        layout=asked.layout,
        length=asked.length,
    )


def work_out(asked: SledSettings) -> tuple[SledNumbers, tuple[Problem, ...]]:
    """Apply the rules and return the numbers with what to know of them. Raises CannotBuild where a rule stops it."""
    _stop_at([problem for rule in STOPS for problem in rule(asked)])
    numbers = _numbers(asked)
    problems = tuple(problem for rule in WARNINGS for problem in rule(asked, numbers))
    _stop_at([problem for problem in problems if problem.severity == "stop"])
    return numbers, problems


def key_height(asked: SledSettings, numbers: SledNumbers, units: Units) -> float:
    """Return how far the key stands above the plate: about as high as wide, round, and never above its limit."""
    if asked.key_height is not None:
        return asked.key_height
    limit = numbers.key_height_limit
    square = round_up(min(numbers.key, limit), units)
    return square if square <= limit else round_down(limit, units) or limit


def _stop_at(problems: list[Problem]) -> None:
    if problems:
        raise CannotBuild(problems)


def _numbers(asked: SledSettings) -> SledNumbers:
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
        count=asked.count,
        pass_count=asked.passes,
        blade=asked.blade if asked.machine == "table saw" else None,
    )


def meant(asked: SledSettings, numbers: SledNumbers) -> Meant:
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


def as_data(numbers: SledNumbers) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    fingers = "count fingers=finger_count sockets=socket_count finger socket pitch clearance rip_width nearest_widths"
    passes = "passes=passes.count pass_gaps=passes.gaps steps=positions sliver=leftover.sliver"
    rest = f"{passes} gap key spacer slack cut_depth over_all"
    nearest = {"nearest_widths": [width for _, width in numbers.nearest_widths]}
    runs = [numbers_of(run, "depth boards") for run in numbers.runs]
    return numbers_of(numbers, f"{fingers} {rest}") | nearest | {"runs": runs}
