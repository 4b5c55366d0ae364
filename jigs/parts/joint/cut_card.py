"""The card of cutting the fingers: the stack, which ends go together, the order, what mistakes cost."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Order, Pictures, Setting, Settings, Text
from jigs.base.lengths import round_up
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.joint import batches, blocks, dry_fit, views
from jigs.parts.joint.made import Sled, ripped_to
from jigs.parts.joint.warnings import TALL_BOARD
from jigs.trade import fingers
from jigs.trade.passes import Cut
from jigs.trade.sled import CUTTER_WITHIN, HEIGHT_WITHIN, RIP_WITHIN

CLAMPS_OVER = 25.0
"""Clamps stand so high above the cut at the least, mm (common practice, no source)."""
_CUTS = 4
"""So many cuts of a socket are set one by one."""
_AWAY = (
    "Stack the boards flat on stickers, a weight on top, wrapped in film.",
    "Back again, dry fit first. A joint that has closed up lies a day in the shop.",
)


def card(sled: Sled, *, in_box: bool) -> Card:
    """Return the card; in a box its corners have numbers."""
    several = bool(sled.shims) or len(sled.numbers.runs) > 1
    plan = views.from_above(sled, 2, "From above, position 2: new sockets stand on the key", 42.0 if several else 60.0)
    bands = (
        Pictures((plan, views.on_the_key(sled)), least=50.0, most=92.0, shares=(0.58, 0.42)),
        Beside(Settings(tuple(_settings(sled)), "For this cut"), _together(sled, in_box), 0.55 if several else 0.5),
        Order(tuple(_order(sled)), "Order of cutting"),
        Beside(_mistakes(sled), Text("Away for a week?", _AWAY), 0.48),
    )
    about = "one board after the other" if sled.apart else "all in one stack, two batches"
    place = "Table saw" if sled.machine == "table saw" else "Router table"
    return Card("cut-fingers", "Cut the fingers", place, tuple(_cautions(sled)), bands, about, "sled")


def _cautions(sled: Sled) -> Iterator[Caution]:
    yield Caution("Exit", f"The {sled.tool} comes out behind the upright: hold the upright’s ends.")
    yield Caution("Throw", f"Feed away from you only. Stop the {sled.tool} before you draw back.")
    if sled.shims and sled.machine == "router table":
        yield Caution("Grab", "Make the cuts of a socket in the order printed, or the bit grabs.")
    if sled.machine == "router table" and sled.key_side == "left":
        yield Caution("Pull", "The cut pulls the boards off the key: clamp them for every cut.")
    elif sled.length is not None and sled.length > TALL_BOARD + READ_OUT:
        yield Caution("Tip", "Tall boards can tip the carriage: try clamp and headroom first.")
    yield Caution("Clamp", f"Hold no board by hand. Lift nothing over a turning {sled.tool}.")


# -- what is set ---------------------------------------------------------------------------------------------------


def _settings(sled: Sled) -> Iterator[Setting]:
    n = sled.numbers
    yield from _widths(sled)
    yield Setting("positions", "Positions", str(n.positions), using="last trims" if n.trims_the_top else "")
    over = round_up(n.cut_depth + CLAMPS_OVER, sled.units)
    yield Setting("clamps", "Clamp above", say("{over:cut}", over=over))
    yield from _cuts(sled)
    for turn, run in blocks.runs(sled)[1:]:
        boards = "" if all(one.boards == "all boards" for one in n.runs) else f", {run.boards}"
        using = f"block {blocks.letter_of(sled, f'height-{turn}')}"
        high = say("{high:gauge}", high=sled.plate + run.depth)
        yield Setting(f"height-{turn}", f"Run {turn}{boards}", high, HEIGHT_WITHIN, using)


def _widths(sled: Sled) -> Iterator[Setting]:
    """What the boards are ripped to before, or that they are not."""
    n = sled.numbers
    if sled.kept:
        yield Setting("width", "Kept, not ripped", _gauge(n.width), RIP_WITHIN)
        return
    if rip := ripped_to(n, n.width + sled.spare, sled.units):
        yield Setting("rip", "Rip boards to", _gauge(rip), RIP_WITHIN)


def _gauge(mm: float) -> Words:
    return say("{mm:gauge}", mm=mm)


def _left_at_the_top(sled: Sled) -> Iterator[Words]:
    """What a board that keeps its width ends in at the top, where that is a part of its own."""
    left = sled.numbers.leftover
    if not sled.kept or not sled.numbers.ends_unlike:
        return
    with_nick, with_sliver = ("front", "ends") if left.nick_on == "long" else ("ends", "front")
    parts = [f"a top finger of {{sliver:cut}} on {with_sliver}"] if left.sliver > fingers.TOUCH else []
    parts += [f"a top socket of {{nick:cut}} on {with_nick}"] if left.nick > fingers.TOUCH else []
    yield say(f"The boards end in {' and '.join(parts)}.", sliver=left.sliver, nick=left.nick)


def _cuts(sled: Sled) -> Iterator[Setting]:
    """The cuts of a socket in their order, where there are several; of many the first two and the last."""
    if not sled.shims:
        return
    made = sled.cuts
    shown = made if len(made) <= _CUTS else (*made[:2], made[-1])
    for cut in shown:
        yield Setting(f"cut-{cut.turn}", f"Cut {cut.turn}, gap", cut.gap, CUTTER_WITHIN, _shims(cut))


def _shims(cut: Cut) -> str:
    """Say how many shims lie between key and wood for a cut."""
    if not cut.shims:
        return "no shim"
    return "1 shim" if cut.shims + cut.far == 1 else f"{cut.shims} of {cut.shims + cut.far} shims"


def _together(sled: Sled, in_box: bool) -> draw.Table:
    """Which ends are cut together; of boards that are cut one by one, what each stands against."""
    if sled.apart:
        rows: list[tuple[draw.Cell, ...]] = [
            ("front, back", "key" if not sled.numbers.board_starter else "starter"),
            ("ends", "spacer"),
        ]
        return draw.Table("boards", "One by one", ("board", "first against"), tuple(rows))
    seen = batches.facing(sled.key_side)
    made: list[tuple[draw.Cell, ...]] = []
    for batch, (corners, ends) in batches.ENDS.items():
        for boards, end, face in zip(("front, back", "both ends"), ends, seen[batch], strict=True):
            made.append((corners if in_box else batch, boards, end, face))
    headings = ("corners" if in_box else "batch", "boards", "end down", "face to you")
    return draw.Table("batches", "Ends cut, from outside", headings, tuple(made))


# -- order ---------------------------------------------------------------------------------------------------------


def _order(sled: Sled) -> Iterator[Words]:
    n, side, apart = sled.numbers, sled.key_side, sled.apart
    if apart:
        yield "Power off. Stand a board and its backing at the upright, edges to the key."
        yield from _against(sled, "front or back", "an end")
        yield f"Push {side} and down. Clamp both to the upright. Spacer out."
    else:
        yield "Power off. Stand all on the plate, bottom edges to the key, as on [card:set-sled]."
        yield from _against(sled, "front, back", "ends and backing")
        yield f"Push {side} and down. Clamp the stack, then to the upright. Spacer out."
    yield "Power on, feed to the stop, power off. Draw back once it stands still."
    if sled.shims:
        yield (
            f"Make all {len(sled.cuts)} cuts of a socket before you step on: unclamp, lift, {_next_shim(sled)}, set "
            "down, push, clamp, cut."
        )
    yield "Undo the clamps at the upright. New socket on the key; push, clamp, cut."
    if n.trims_the_top:
        yield f"Cut position {n.positions} too: no socket, but it trims a fin that holds corners open."
    yield from _deeper(sled, "all boards")
    if apart:
        yield "Turn the board end for end, bottom edge to the key; cut. Then the next board, the gap untouched."
    else:
        yield "Mark ends A. Turn all end for end, backing too, bottom to the key. Cut B."
    yield from _deeper(sled, "front and back")
    yield from _deeper(sled, "ends")
    yield from _left_at_the_top(sled)
    if sled.spare > READ_OUT and not sled.kept:
        words = "Plane to {width:gauge} by hand, never saw: no strip stays above a top socket."
        yield say(words, width=n.width)


def _next_shim(sled: Sled) -> str:
    """What is moved between two cuts of a socket: a bit with its key on the left makes the far cut first."""
    first, second = sled.cuts[:2]
    if second.shims < first.shims:
        return "move one shim to the far side of the key"
    return "move one shim from the far side of the key to the near side"


def _against(sled: Sled, longs: str, shorts: str) -> Iterator[Words]:
    """What stands against what for the first cut."""
    key = "key" if not sled.shims else "shim" if sled.cuts[0].shims else "bare key"
    if sled.numbers.board_starter:
        yield f"Against the {key}: starter, spacer. Against the starter: {longs}; the spacer: {shorts}."
    else:
        yield f"Against the {key}: {longs}, spacer. Against the spacer: {shorts}."


def _deeper(sled: Sled, boards: str) -> Iterator[Words]:
    """How the runs after the first one are cut, by all boards or by some of them alone."""
    made = [turn for turn, run in enumerate(sled.numbers.runs, start=1) if turn > 1 and run.boards == boards]
    if not made:
        return
    runs = f"Run {made[0]}" if len(made) == 1 else f"Runs {made[0]} to {made[-1]}"
    if boards == "all boards":
        yield f"{runs}: raise the {sled.tool}, cut all positions again. Lower it before the other ends."
        return
    gone = "front and back" if boards == "ends" else "end boards"
    yield f"{runs}: raise the {sled.tool}. Cut {boards} again at both ends, without {gone}."


# -- mistakes ------------------------------------------------------------------------------------------------------


def _mistakes(sled: Sled) -> draw.Table:
    return draw.Table(
        "mistakes", "The three costliest mistakes", ("mistake", "what comes of it"), dry_fit.costliest(sled.meant)
    )
