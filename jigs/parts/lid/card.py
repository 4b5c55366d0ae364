"""The card of the lid's plug: the measured opening, the rabbets set by set, the plug measured before the last cut.

What is done to the lid at the bench, its crown, is for the card that it is done on.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Band, Card, Caution, Check, Checks, Hold, Order, Sheets
from jigs.base.wording import Words, say
from jigs.parts import rabbeting
from jigs.parts.lid import crown
from jigs.parts.lid.part import Lid
from jigs.parts.rabbeting import WITHIN, Rabbets, Stage, stages
from jigs.trade import groove
from jigs.trade.lid import rabbet_settings

_BY_HAND = (
    Caution("Blade", "Clamp the lid. Push the plane away, both hands behind the blade."),
    Caution("Saw", "Clamp the templates to saw them out. Keep fingers clear."),
)


def of(made: Lid, bench: str = "finish") -> Sheets:
    """Return the card of a lid's plug, and the pair of templates of its crown.

    `bench` is the card that the crown is planed on.
    """
    return Sheets((card(made),), crown.templates(made, bench))


def alone(made: Lid) -> Sheets:
    """Return the pages of a lid without its box: its crown has a card of its own."""
    at_the_bench = finish_bands(made)
    if not at_the_bench:
        return of(made)
    bands = (*crown.pictures(made), *at_the_bench)
    about = say("crown {rise:cut} high, after the plug", rise=made.crown)
    bench = Card("lid-bench", "Lid at the bench", "Bench", _BY_HAND, bands, about, "lid")
    return Sheets((card(made), bench), crown.templates(made, "lid-bench"))


def finish_bands(made: Lid, *, with_steps: bool = True) -> tuple[Band, ...]:
    """Return what is done to a lid at the bench: its crown, planed flat by flat. A flat lid has none.

    Without its steps where they stand in one order of work with those of the handle: `crown.steps` are these.
    """
    return crown.bands(made, with_steps=with_steps)


def rabbets(made: Lid) -> Rabbets:
    """Return the rabbets that leave the plug."""
    heights = groove.depth_passes(made.plug_depth, made.deepest_pass)
    sides = _stages("sides", made.width, made.plug.width, made.bit)
    every = (*_stages("ends", made.length, made.plug_length, made.bit), *sides)
    return Rabbets("lid", made.thickness, heights, made.bit, every, both_faces=False, units=made.units)


def _stages(edges: str, lid: float, plug: float, bit: float) -> tuple[Stage, ...]:
    found = rabbet_settings(lid=lid, plug_width=plug, cutter=bit)
    return stages(edges, [one.exposed for one in found], [one.plug for one in found])


def card(made: Lid) -> Card:
    """Return the card of the plug."""
    cut = rabbets(made)
    above = rabbeting.from_above(cut, made.width, made.length, "From above: ends first, inside face down")
    bands: tuple[Band, ...] = (
        *rabbeting.pictures(cut, above, 72.0),
        *rabbeting.set_and(cut, _measured(made, cut), 0.62),
        Hold(_before_power(made), "plug set"),
        Order(tuple(_steps(made, cut))),
        Hold(_before_the_last(made, cut), "plug tried"),
        Order(tuple(_last(made, cut))),
    )
    about = say(
        "lid cut square to {long:cut} × {wide:cut} × {thick:cut}, still flat",
        long=made.length, wide=made.width, thick=made.thickness,
    )  # fmt: skip
    return Card("lid", "Lid plug", "Router table", rabbeting.CAUTIONS, bands, about, "lid")


def _sides(cut: Rabbets) -> tuple[Stage, ...]:
    return tuple(stage for stage in cut.stages if stage.edges == "sides")


def _measured(made: Lid, cut: Rabbets) -> Checks:
    """Return what is measured: the opening before anything is set, then the plug on its way."""
    ends = [stage for stage in cut.stages if stage.edges == "ends"]
    sides, within = _sides(cut), WITHIN.mm
    rows = [
        Check("opening, with the grain", made.along, within=within),
        Check("opening, across the grain", made.across, within=within),
        Check("plug, both ends cut", ends[-1].piece, within=within),
    ]
    if len(sides) > 1:
        rows.append(Check("plug, before the last setting", sides[-2].piece, within=within))
    return Checks(tuple(rows), "Measure")


def _before_power(made: Lid) -> Words:
    return say("Bit {bit:gauge} tight in its collet; fence, guard, featherboards on.", bit=made.bit)


def _steps(made: Lid, cut: Rabbets) -> Iterator[Words]:
    """Yield the cuts that can be mended: all but the last of the sides."""
    several = any(stage.of > 1 for stage in cut.stages)
    yield f"Opening off? Change each {'last ' if several else ''}setting by half of it: larger, less out."
    yield "Unplugged, turn an edge of the bit away from the fence: set the block to it."
    first = "Scrap first. Both ends: each setting, narrow first," if several else "Scrap first. Both ends"
    yield _joined(first, rabbeting.at_heights(cut), ".")
    if len(_sides(cut)) > 1:
        yield "Both sides so too, but for the last setting. Measure the plug across."
        words = "Wider than {reads:gauge}? Last setting: bit out by half of that more; narrower, less."
        yield say(words, reads=_sides(cut)[-2].piece)
    else:
        yield say(
            "Cut the setting of the sides in scrap and measure its rabbet: {wide:gauge} wide.", wide=made.rabbets[1]
        )


def _joined(before: str, words: Words, after: str) -> Words:
    if isinstance(words, str):
        return before + words + after
    return say(before + words.sentence + after, **words.numbers)


def _before_the_last(made: Lid, cut: Rabbets) -> Words:
    sides = _sides(cut)
    if len(sides) > 1:
        words = "Plug measured; the bit is {out:gauge} out, or as corrected."
        return say(words, out=sides[-1].exposed)
    return say("The scrap’s rabbet is {sides:gauge} wide.", sides=made.rabbets[1])


def _last(made: Lid, cut: Rabbets) -> Iterator[Words]:
    at = " at the last setting" if len(_sides(cut)) > 1 else ""
    yield say(f"Cut both sides{at}: the plug measures {{plug:gauge}} across.", plug=made.plug.width)
    words = "Ease its edges. Try the lid: clearance {gap:gauge} across in all, {play:cut} along."
    yield say(words, gap=made.plug.gap_now, play=made.play)
