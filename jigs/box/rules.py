"""The rules of the box as a whole: its sizes, its climate, its boards, and what lies between its parts."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, at_its_step, get, note, stop, warn
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
from jigs.trade.stock import is_sheet

LEAST_UNDER_PLUG = 1.0
"""With less under it a plug stands on the bottom before the lid is down (common practice, no source), mm."""
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
                "two sides {thickness} thick leave no inside in a box {outside} long outside"
                if name == "length"
                else "two sides {thickness} thick leave no inside in a box {outside} wide outside",
                ("make the box {wider} or more", "make these sides {thinner} or thinner"),
                outside=outside,
                thickness=thick,
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
            "your reading of the inside is {reading}, {off} off; sides {thickness} thick leave {works} of {outside}",
            ("measure it again with the joints closed", f"correct box.{name} if the reading is right"),
            reading=reading,
            off=abs(reading - drawn),
            thickness=taken,
            outside=outside,
            works=at_least(drawn),
        )


# -- stock ---------------------------------------------------------------------------------------------------------


def _rack_is_short(made: Stock) -> Iterator[Problem]:
    missing = made.plan.missing if made.plan else ()
    if not missing:
        return
    sizes: dict[str, float | str] = {}
    for n, piece in enumerate(missing):
        sizes |= {f"l{n}": piece.length + 2 * made.trim, f"w{n}": piece.width, f"t{n}": piece.thickness}
        sizes |= {f"of{n}": f" of {piece.wood}" if piece.wood else ""}
    boards = [
        f"{{l{n}:rough up}} × {{w{n}:rough up}} × {{t{n}:{'gauge' if is_sheet(piece.wood) else 'cut up'}}}{{of{n}}} "
        f"for the {made.called(piece.name)}"
        for n, piece in enumerate(missing)
    ]
    yield get(
        "stock.boards",
        f"the rack has no board of {'; '.join(boards)}",
        ("get one of that size or larger" if len(missing) == 1 else "get boards of these sizes or larger")
        + (", of plywood just as thick" if any(is_sheet(piece.wood) for piece in missing) else ""),
        **sizes,
    )


def _grain_is_broken(made: Stock) -> Iterator[Problem]:
    if len(made.strips) > 1 and not made.mixed and not made.kinds_missing:
        wood = made.strips[0].wood
        of_wood = " of {wood}" if wood else ""
        yield get(
            "stock.boards",
            f"no board{of_wood} holds all four sides in a row, {{length:rough up}} × {{width:rough up}} × "
            "{thickness:cut up}, so the grain runs round {corners} of the corners",
            "get one of that size or larger for three corners",
            corners="two" if len(made.strips) == 2 else "none",
            wood=wood,
            length=made.whole_length,
            width=made.strips[0].width,
            thickness=made.strips[0].thickness,
        )


def _ends_of_another_thickness(made: Stock) -> Iterator[Problem]:
    if made.mixed and len(made.woods) == 1:
        yield at_its_step(
            note(
                "sides.ends_thickness",
                "the end boards are not as thick as front and back, so the grain runs round no corner",
                "plane all four sides to one thickness for grain round three corners",
            )
        )


def _sides_of_two_woods(made: Stock) -> Iterator[Problem]:
    if len(made.woods) > 1:
        sides, ends = (wood or "a wood without a name" for wood in made.woods)
        yield at_its_step(
            note(
                "sides.ends_species",
                "front and back are {sides}, the end boards {ends}, so the grain runs round no corner",
                "take one wood for all four sides for grain round three corners",
                sides=sides,
                ends=ends,
            )
        )


def _one_wood_from_boards_of_several(made: Stock) -> Iterator[Problem]:
    """Find sides whose wood is not named, and that would come from boards of several."""
    names = {strip.name for strip in made.strips if strip.wood is None}
    opened = made.plan.boards if made.plan else ()
    woods = [b.board.wood for b in opened if b.board.wood and names & {piece.name for piece in b.pieces}]
    if len(set(woods)) > 1:
        yield warn(
            "sides.species",
            "the wood of the sides has no name, and the plan saws them from boards of {woods}; they will not match",
            "name the wood of the sides",
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
                    "the table of woods has no {wood}, so no part of {meant} will come from this board",
                    'write "{meant}" if that is its wood',
                    wood=board.species,
                    meant=meant[0],
                )


# -- between parts -------------------------------------------------------------------------------------------------


def depth_is_left(file: BoxFile, height: float, pitch: float, bottom: Bottom, lid: Lid | None) -> Iterator[Problem]:
    """Find a bottom above the top edge, and a plug that stands on the bottom. A higher box is one of `pitch` more."""
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
    ways: tuple[str, ...] = ("take boards {higher} wide or wider", "lower the groove")
    if depth <= 0:
        said = "the upper face of the bottom is {over} above the top edge of the sides"
        yield stop("box.height", said, ways, **numbers)
    elif lid is None:
        said = "the sides rise only {depth} above the bottom"
        yield warn("box.height", said, ways, **numbers)
    else:
        said = "the plug, {plug} deep, will stand on the bottom, for the inside is only {depth} deep"
        fits = depth - LEAST_UNDER_PLUG >= lid_rules.LEAST_PLUG + READ_OUT
        where, ways = ("lid.plug", ("make the plug {most} deep or less", *ways)) if fits else ("box.height", ways)
        yield stop(where, said, ways, **numbers)


def longer_than_lid(handle: Handle, made: Lid) -> Iterator[Problem]:
    """Find a handle that does not stand on its lid."""
    if handle.length > made.length:
        yield warn(
            "handle.length",
            "a handle {length} long overhangs a lid {lid} long",
            "make the handle {works} or shorter",
            length=handle.length,
            lid=made.length,
            works=at_most(made.length),
        )
