"""The rules of the box as a whole: its sizes, its climate, its boards, and what lies between its parts."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, get, note, stop, warn
from jigs.base.usual import UNNAMED_WOOD, Usual
from jigs.base.wording import at_least, at_most
from jigs.box.stock import Stock
from jigs.boxfile.sections import BoxFile
from jigs.parts.bottom.part import Bottom
from jigs.parts.handle.part import Handle
from jigs.parts.joint.part import LONGS, SHORTS, thicknesses
from jigs.parts.lid import rules as lid_rules
from jigs.parts.lid.part import Lid
from jigs.trade import timber

LEAST_UNDER_PLUG = 1.0
"""With less under it a plug stands on the bottom before the lid lies on the rim (common practice, no source), mm."""
LEAST_INSIDE = 10.0
"""The least inside that is offered for one that the sides fill (common practice, no source), mm."""
INSIDE_WITHIN = Usual(2, 1 / 16)
"""What the inside of a box may be off its drawn size before the reading is doubted (common practice, no source)."""


# -- box and climate -----------------------------------------------------------------------------------------------
def inside_is_left(file: BoxFile) -> Iterator[Problem]:
    """Find sides too thick for the box."""
    for name, outside, kind in (("length", file.box.length, SHORTS), ("width", file.box.width, LONGS)):
        thick = thicknesses(file)[kind]
        inside = outside - 2 * thick
        if inside <= 0:
            yield stop(
                f"box.{name}",
                "{outside} outside less two sides of {thickness} leaves an inside of {inside}",
                ("{wider} or more", "sides of {thinner} or less"),
                outside=outside,
                thickness=thick,
                inside=inside,
                wider=at_least(2 * thick + LEAST_INSIDE),
                thinner=at_most((outside - LEAST_INSIDE) / 2, _key_of(file, kind)),
            )


def _key_of(file: BoxFile, kind: str) -> str:
    """Return the key that says how thick these sides are."""
    return "sides.ends_thickness" if kind == SHORTS and file.sides.ends_thickness is not None else "sides.thickness"


def inside_as_measured(file: BoxFile) -> Iterator[Problem]:
    """Find readings of the dry-assembled box that the sides can't give, or hardly."""
    bottom, thick = file.bottom, thicknesses(file)
    if bottom is None:
        return
    ways = (
        ("length", file.box.length, bottom.inside_length, thick[SHORTS]),
        ("width", file.box.width, bottom.inside_width, thick[LONGS]),
    )
    for name, outside, reading, taken in ways:
        drawn = outside - 2 * taken
        if reading is None or drawn <= 0 or abs(reading - drawn) <= INSIDE_WITHIN.size(file.units) + READ_OUT:
            continue
        yield (stop if reading >= outside else warn)(
            f"bottom.inside_{name}",
            "the inside is measured as {reading}, {off} off the {drawn} that sides of {thickness} leave of {outside}",
            ("{works}", "what the closed joints measure; where that is so far off, correct box." + name),
            reading=reading,
            off=abs(reading - drawn),
            drawn=drawn,
            thickness=taken,
            outside=outside,
            works=at_least(drawn),
        )


# -- stock ---------------------------------------------------------------------------------------------------------
def _rack_is_short(made: Stock) -> Iterator[Problem]:
    for piece in made.plan.missing if made.plan else ():
        of_wood = " of {wood}" if piece.wood else ""
        yield get(
            "stock.boards",
            "the rack has no board" + of_wood + " left for {name}: it takes one of {length} by {width} by {thickness}",
            "get one of that size or larger",
            name=piece.name,
            wood=piece.wood,
            length=piece.length + 2 * made.trim,
            width=piece.width,
            thickness=piece.thickness,
        )


def _grain_is_broken(made: Stock) -> Iterator[Problem]:
    if len(made.strips) > 1 and not made.mixed:
        wood = made.strips[0].wood
        of_wood = " of {wood}" if wood else ""
        yield get(
            "stock.boards",
            "the rack has no board"
            + of_wood
            + " that holds all four sides in a row, {length} by {width} by {thickness}: the grain runs round {corners} "
            "of the corners",
            "get one of that size or larger",
            corners="two" if len(made.strips) == 2 else "none",
            wood=wood,
            length=made.whole_length,
            width=made.strips[0].width,
            thickness=made.strips[0].thickness,
        )


def _ends_of_another_thickness(made: Stock) -> Iterator[Problem]:
    if made.mixed and len(made.woods) == 1:
        yield note(
            "sides.ends_thickness",
            "the ends are not as thick as front and back: they are sawn from strips of their own, and the grain runs "
            "round no corner",
            "sides and ends of one thickness, for grain round three corners",
        )


def _sides_of_two_woods(made: Stock) -> Iterator[Problem]:
    if len(made.woods) > 1:
        sides, ends = (wood or "a wood without a name" for wood in made.woods)
        yield note(
            "sides.ends_species",
            "front and back are of {sides} and the ends of {ends}: they are sawn from strips of their own, and the "
            "grain runs round no corner",
            "one wood for all four sides, for grain round three corners",
            sides=sides,
            ends=ends,
        )


def _one_wood_from_boards_of_several(made: Stock) -> Iterator[Problem]:
    """Find sides whose wood is not named, and that would come from boards of several."""
    names = {strip.name for strip in made.strips if strip.wood is None}
    opened = made.plan.boards if made.plan else ()
    woods = [b.board.wood for b in opened if b.board.wood and names & {piece.name for piece in b.pieces}]
    if len(set(woods)) > 1:
        yield warn(
            "sides.species",
            "the wood of the sides has no name, and they would be sawn from boards of {woods}: they will not match",
            "name their wood here",
            woods=" and ".join(dict.fromkeys(woods)),
        )


STOCK: Rules[Stock] = Rules(
    (),
    (
        _rack_is_short,
        _grain_is_broken,
        _sides_of_two_woods,
        _ends_of_another_thickness,
        _one_wood_from_boards_of_several,
    ),
)


def boards_of_no_known_wood(file: BoxFile) -> Iterator[Problem]:
    """Find boards whose wood is no name of the table and much like that of a part, which so never comes from them.

    A wood that is like none of the box, such as plywood, is a wood of its own.
    """
    parts = (file.sides.species, file.sides.ends_species, file.bottom and file.bottom.species)
    used = {wood for wood in (*parts, file.lid and file.lid.species) if wood}
    for number, board in enumerate(file.stock.boards if file.stock else (), 1):
        try:
            timber.species(board.species or UNNAMED_WOOD)
        except timber.UnknownSpeciesError as error:
            if meant := [name for name in error.near if name in used]:
                yield warn(
                    f"stock.boards[{number}].species",
                    "{wood} is no name in the table of woods: no part of {meant} comes from this board",
                    'write "{meant}" if that is its wood',
                    wood=board.species,
                    meant=meant[0],
                )


# -- between parts -------------------------------------------------------------------------------------------------


def depth_is_left(file: BoxFile, height: float, pitch: float, bottom: Bottom, lid: Lid | None) -> Iterator[Problem]:
    """Find a bottom above the rim, and a plug that stands on the bottom. A higher box is one of `pitch` more."""
    depth = height - bottom.upper_face
    plug = lid.plug_depth if lid else 0.0
    if depth - plug >= LEAST_UNDER_PLUG - READ_OUT:
        return
    numbers = {
        "depth": max(depth, 0.0),
        "over": abs(depth),
        "plug": plug,
        "most": at_most(depth - LEAST_UNDER_PLUG, "lid.plug"),
        "higher": at_least(file.box.height + plug + LEAST_UNDER_PLUG - depth + pitch, "box.height"),
    }
    ways: tuple[str, ...] = ("boards of {higher} or more", "a lower groove")
    if depth <= 0:
        said = "the bottom's upper face comes out {over} above the rim"
        yield stop("box.height", said, ways, **numbers)
    elif lid is None:
        said = "over the bottom the sides rise only {depth}"
        yield warn("box.height", said, ways, **numbers)
    else:
        said = "a plug of {plug} stands on the bottom: the inside is {depth} deep"
        fits = depth - LEAST_UNDER_PLUG >= lid_rules.LEAST_PLUG + READ_OUT
        where, ways = ("lid.plug", ("a plug of {most} at most", *ways)) if fits else ("box.height", ways)
        yield stop(where, said, ways, **numbers)


def longer_than_lid(handle: Handle, made: Lid) -> Iterator[Problem]:
    """Find a handle that does not stand on its lid."""
    if handle.length > made.length:
        yield warn(
            "handle.length",
            "a handle of {length} stands out over a lid of {lid}",
            "at most {works}",
            length=handle.length,
            lid=made.length,
            works=at_most(made.length),
        )
