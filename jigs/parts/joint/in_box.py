"""The joint as it stands in a box: what it says in JSON, report and cover. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from jigs.base.cards import Sheets
from jigs.base.catalogue import find
from jigs.base.kinds import Value
from jigs.base.lazily import lazily
from jigs.base.settings import made_of
from jigs.base.wording import Words, say
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.made import ripped_to
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, cut_length, sled_settings, thicknesses
from jigs.parts.joint.settings import SledSettings, counted
from jigs.parts.part import Piece, Row
from jigs.trade import fit, predict
from jigs.trade.sled import SledNumbers

with lazily():  # a box is checked without its cards
    from jigs.parts.joint import card, sled

_FINGERS = "count fingers sockets finger socket pitch clearance rip_width nearest_widths passes pass_gaps steps sliver"
_SLED = "gap key spacer slack cut_depth over_all"


def facts(numbers: SledNumbers, meant: Meant) -> dict[str, object]:
    """Return the numbers of the joint by the names of the JSON report."""
    everything, joint, apart = sled.as_data(numbers), meant.joint, meant.chance_apart
    worst = fit.separate_worst(numbers.clearance, numbers.slack, joint.long_sockets, joint.odd)
    within = {"flush_low": numbers.fit.flush_low, "flush_high": numbers.fit.flush_high}
    chances = {"chance_fails": apart, "chance_box_fails": predict.of_a_box(apart)}
    return {
        "fingers": {name: everything[name] for name in _FINGERS.split()},
        "sled": {name: everything[name] for name in _SLED.split()},
        "fit": {
            "one_stack": {"clearance_min": numbers.fit.clearance} | within,
            "separately": {"clearance_worst": worst, "drift_sd": fit.drift_sd(joint.slack, joint.long_sockets)}
            | chances,
        },
    }


def rows_of_fingers(numbers: SledNumbers) -> Iterator[Row]:
    """Yield the rows of the report on the fingers."""
    last = "; the last trims the top fingers of the end boards" if numbers.trims_the_top else ""
    yield "count", f"{counted(numbers.count)}, in {numbers.positions} positions of the stack{last}"
    yield "finger", say("{finger:gauge}", finger=numbers.finger)
    yield "socket", say("{socket:gauge}", socket=numbers.socket)
    yield "clearance", say("{clearance:gauge}", clearance=numbers.clearance)
    yield "plane to", say("{width:gauge}", width=numbers.width)
    if numbers.passes.count > 1:
        yield "passes", say(f"{numbers.passes.count}, each shifted by {{shift:gauge}}", shift=numbers.passes.shift)


def rows_of_sled(numbers: SledNumbers) -> Iterator[Row]:
    """Yield the rows of the report on the sled that cuts them."""
    yield "gap", say("{gap:gauge}", gap=numbers.gap)
    yield "key", say("{key:gauge}", key=numbers.key)
    yield "spacer", say("{spacer:gauge}", spacer=numbers.short_spacer)
    yield "cut depth", say("{depth:gauge}", depth=numbers.cut_depth)
    yield "across", say("{over:gauge} across key and cutter", over=numbers.over_all)


def set_to(file: BoxFile, made: SledNumbers) -> Words:
    """Return what the sled is set to, and the fingers it cuts, in a line."""
    gaps = {f"gap{i}": size for i, size in enumerate(made.passes.gaps)}
    listed = ", ".join(f"{{{name}:gauge}}" for name in gaps)
    starter = "; starter {starter:gauge}" if made.board_starter else ""
    rip = ripped_to(made, file.box.height, file.units)
    kept = file.joint.layout != "rip"
    board = "boards kept {width:gauge} wide" if kept else "plane last to {width:gauge}"
    board = "rip to {rip:gauge}, " + board if rip and not kept else board
    words = (
        f"{'gap' if len(gaps) == 1 else 'gaps, near cut to far cut,'} {listed}; key {{key:gauge}}, play on it "
        f"{{slack:gauge}}; spacer {{spacer:gauge}}{starter}; across key and cutter {{over:gauge}}; cut depth "
        f"{{deep:gauge}}; {counted(made.count)}, {{finger:gauge}} and {{socket:gauge}} wide; {made.positions} "
        f"positions; {board}"
    )
    sled = {"key": made.key, "slack": made.slack, "spacer": made.short_spacer, "starter": made.board_starter}
    cut = {"over": made.over_all, "deep": made.cut_depth}
    return say(words, **sled, **cut, finger=made.finger, socket=made.socket, width=made.width, rip=rip, **gaps)


def pieces(file: BoxFile, numbers: SledNumbers) -> Iterator[Piece]:
    """Yield the sides as they are cut, in pairs: fingers stand proud at both ends."""
    sides = file.sides
    woods = {LONGS: sides.species, SHORTS: sides.ends_species or sides.species}
    for kind, outside in ((LONGS, file.box.length), (SHORTS, file.box.width)):
        sizes = cut_length(file, outside), numbers.width, thicknesses(file)[kind]
        yield Piece(" and ".join(MEMBERS[kind]), 2, *sizes, woods[kind])


def sheets(file: BoxFile, given: Mapping[str, Value] | None = None) -> Sheets:
    """Return the cards and templates of the sled that cuts the joint of a box; `given` are its settings if not its own.

    Raises CannotBuild.
    """
    whole = find("sled").settings(given or sled_settings(file), file.units)
    asked: SledSettings = made_of(SledSettings, whole)
    return card.in_box(sled.made(asked, file.units), whole=asked.whole)
