"""The sheet of the key, the spacer and the blocks they are set with."""

from __future__ import annotations

from dataclasses import replace

from jigs.base import drawing as draw
from jigs.base.lengths import round_down, round_up
from jigs.base.wording import Words, letters, say
from jigs.parts.joint.made import Sled, all_cuts
from jigs.parts.joint.plate import end_blocks, shims_from_above
from jigs.trade.sled import CUTTER_WITHIN

SPACER_HEIGHT, GRIP = 50.0, 20.0
KEY_END = 60.0
BLOCK_HEIGHT, BLOCK_ROOM = 18.0, 24.0
BLOCK_ROW = 125.0


def key_and_spacer(sled: Sled) -> draw.Drawing:
    """Return the sheet of the key, the spacer and the blocks they are set with."""
    body: tuple[draw.Item, ...] = (
        _key_section(sled),
        _key_plan(sled),
        _spacer_view(sled),
        *_shims_in_place(sled),
        *_block_views(sled),
        _block_table(sled),
        _blocks_in_words(sled),
    )
    purpose = "the key with its height against the cut, the spacer, and gauge blocks to set them with"
    return draw.Drawing("key", "key, spacer and gauge blocks", purpose, body, sled.cautions)


def _key_plan(sled: Sled) -> draw.View:
    """The key from above; where the page can't hold it half of it, and where not even that fits one end."""
    half, end_drawn = sled.key_length / 2, round_up(KEY_END, sled.units)
    full = _key_view(sled, -half, "Key from above", "key length")
    middle = _key_view(sled, 0.0, "Key from above, half of it; the other half is alike", "half the key length")
    end = _key_view(
        sled,
        half - min(half, end_drawn),
        say("Key from above, one end; its length is {all}", all=sled.key_length),
        "this much",
    )
    return replace(full, detail=replace(middle, detail=end))


def _key_view(sled: Sled, start: float, title: Words, name: str) -> draw.View:
    """The key from `start` to its end, measured from its middle."""
    right, key = sled.key_length / 2, sled.numbers.key
    outline = draw.Part("key-plan", "Key from above", draw.lines([draw.rectangle(start, 0, right, key)]))
    length = draw.Dimension(draw.Point(start, 0), draw.Point(right, 0), "below", name)
    width = draw.Dimension(draw.Point(start, 0), draw.Point(start, key), "left")
    return draw.View("key-plan", title, (outline,), (length, width), check=length)


def _key_section(sled: Sled) -> draw.View:
    return replace(_section(sled, 10.0), detail=_section(sled, 2.0))


def _section(sled: Sled, beyond: float) -> draw.View:
    """Key and cutter looking along the feed, with the plate going on so far `beyond` hole and key."""
    depth, high = sled.numbers.cut_depth, sled.key_height
    seat = sled.plate / 2
    hole = sled.hole
    face, back = sorted((sled.key_face, sled.key_back))
    inner, outer = -sled.hand * (hole + beyond), sled.key_back + sled.hand * beyond
    left_piece = sorted((inner, -sled.hand * hole))
    right_piece = (
        (sled.hand * hole, 0),
        (sled.key_face, 0),
        (sled.key_face, -seat),
        (sled.key_back, -seat),
        (sled.key_back, 0),
        (outer, 0),
        (outer, -sled.plate),
        (sled.hand * hole, -sled.plate),
    )
    key = draw.rectangle(face, -seat, back, high)
    plate = [draw.rectangle(left_piece[0], -sled.plate, left_piece[1], 0), draw.polygon(*right_piece)]
    cutter = draw.Part(
        "section-cutter",
        "Cutter at its height",
        (draw.Line(draw.rectangle(-sled.cutter / 2, -sled.plate, sled.cutter / 2, depth), draw.Kind.NEIGHBOUR),),
    )
    parts = (
        draw.Part("section-plate", "Plate, cut across", draw.lines(plate), hatched=tuple(plate)),
        draw.Part("section-key", "Key, cut across", draw.lines([key]), hatched=(key,)),
        cutter,
    )
    left_side: draw.Side = "left" if sled.hand > 0 else "right"
    right_side: draw.Side = "right" if sled.hand > 0 else "left"
    cut_edge = -sled.hand * sled.cutter / 2
    dimensions = (
        draw.Dimension(draw.Point(cut_edge, 0), draw.Point(cut_edge, depth), left_side, "cut"),
        draw.Dimension(draw.Point(sled.key_back, 0), draw.Point(sled.key_back, high), right_side, "stands"),
        draw.Dimension(draw.Point(outer, -sled.plate), draw.Point(sled.near_edge, depth), right_side, "above table"),
        draw.Dimension(draw.Point(sled.near_edge, depth), draw.Point(sled.key_face, high), "above", "gap"),
        draw.Dimension(draw.Point(face, high), draw.Point(back, high), "above", "key"),
    )
    # Beside "stands" a second dimension would make the view too wide for an upright page.
    words = say("key {all} high in all, {seat} of it in the seat", all=high + seat, seat=seat)
    label = draw.Label(words, draw.Point((face + back) / 2, -seat / 2), towards="below")
    return draw.View("section", "Key and cutter, looking along the feed", parts, dimensions, (label,))


def _spacer_view(sled: Sled) -> draw.View:
    """The spacer from its end. Its foot is cut away where the cutter would shave it."""
    n = sled.numbers
    relief = round_up(max(0.0, n.spacer - n.finger) + 0.5, sled.units)
    foot = round_up(n.cut_depth + 1.0, sled.units)
    high = round_up(max(SPACER_HEIGHT, foot + GRIP), sled.units)
    at = sled.hand
    shape = [(0, foot), (-at * relief, foot), (-at * relief, 0), (-at * n.short_spacer, 0)]
    # The side that looks at the cutter is drawn at 0: left of the wood where the key is on the right.
    outline = draw.polygon(*[(-x, y) for x, y in shape], (at * n.short_spacer, high), (0, high))
    part = draw.Part("spacer", "Spacer from its end", draw.lines([outline]))
    left, right = sorted((0.0, at * n.short_spacer))
    dimensions = (
        draw.Dimension(draw.Point(left, high), draw.Point(right, high), "above"),
        draw.Dimension(
            draw.Point(at * n.short_spacer, 0),
            draw.Point(at * n.short_spacer, high),
            "right" if at > 0 else "left",
            "height",
        ),
        draw.Dimension(draw.Point(0, foot), draw.Point(at * relief, 0), "left" if at > 0 else "right", "foot"),
    )
    label = draw.Label(
        say("{long} long; foot cut back {relief} on the side of the cutter", long=_spacer_length(sled), relief=relief),
        draw.Point(at * n.short_spacer / 2, high * 0.6),
        towards="right" if at > 0 else "left",
    )
    return draw.View("spacer", "Spacer for the ends", (part,), dimensions, (label,), check=dimensions[1])


def _spacer_length(sled: Sled) -> float:
    """How long the spacer is along the feed: ends and backing board butt it, front and back stand before it."""
    shorts = sled.boards_in_stack // 2 * sled.ends_thickness
    most = shorts + sled.backer
    return max(shorts, round_down(most, sled.units))


def _shims_in_place(sled: Sled) -> tuple[draw.View | draw.Notes, ...]:
    """The near end of the key with the shims where they lie for the nearest cut, and what they are made like."""
    if not sled.shims:
        return ()
    end, low = -sled.key_length / 2, -sled.key_length / 2 + min(sled.key_length / 2, round_up(KEY_END, sled.units))
    face, back = sorted((sled.key_face, sled.key_back))
    shims = draw.lines([draw.rectangle(min(faces), end, max(faces), low) for faces in shims_from_above(sled)])
    near_block = end_blocks(sled)[0]
    parts = (
        draw.Part("shim-key", "Key, its near end", draw.lines([draw.rectangle(face, end, back, low)])),
        draw.Part("shim", "Shims between key and wood", shims),
        replace(near_block, name="shim-block"),
    )
    far = sled.shimmed[0]
    thick = draw.Dimension(
        draw.Point(far, low), draw.Point(sled.key_face, low), "above", "shim" if sled.shims == 1 else "shims"
    )
    long = draw.Dimension(draw.Point(back, end - sled.end_block), draw.Point(back, end), "right", "block")
    labels = (
        draw.Label(
            "cutter on this side", draw.Point(far, (end + low) / 2), towards="left" if sled.hand > 0 else "right"
        ),
    )
    view = draw.View("shims", "Shims in place, from above", parts, (thick, long), labels, check=thick)
    return view, _shims_in_words(sled)


def _shims_in_words(sled: Sled) -> draw.Notes:
    n, several = sled.numbers, sled.shims > 1
    which = f"{sled.shims} shims, all planed together to" if several else "One shim, planed to"
    wide = abs(sled.shimmed[0] - sled.shimmed[1])
    return draw.Notes(
        "shims-how",
        "Shims" if several else "Shim",
        (
            say(
                which + " {thick}, {long} long and {high} high: as long and as high as the key, so that the boards "
                "do not ride on it. Wax it.",
                thick=n.passes.shift,
                long=sled.key_length,
                high=sled.key_height,
            ),
            say(
                f"{'They lie' if several else 'It lies'} loose beside the key, held by the wood that is pushed home. "
                "Screw a block to the plate tight against each end of the key, {wide} wide, {block} long and as "
                "high as the key: so no shim runs along with the boards.",
                wide=wide,
                block=sled.end_block,
            ),
            f"For every socket: {all_cuts(sled.cuts)}.",
            "Whatever the front butts, the spacer butts: at the first cut both stand against "
            f"{'the shim' if sled.cuts[0].shims else 'the bare key'}.",
        ),
    )


def _block_sizes(sled: Sled) -> list[tuple[str, float]]:
    n = sled.numbers
    sizes = [("gap, key to cutting edge", n.gap), ("key", n.key), ("spacer", n.short_spacer)]
    if n.board_starter:
        sizes.append(("starter for the front and back", n.board_starter))
    if sled.shims:
        sizes.append((_shim_block(sled), n.passes.shift))
    sizes += [
        ("socket goes on this", n.socket - CUTTER_WITHIN),
        ("socket does not go on this", n.socket + sled.meant.errors.socket),
    ]
    several = len(n.runs) > 1
    for turn, run in enumerate(n.runs, start=1):
        of = f", run {turn}" if several else ""
        sizes += [(f"depth of cut{of}", run.depth), (f"cutter above the table{of}", sled.plate + run.depth)]
    return sizes


def _shim_block(sled: Sled) -> str:
    """Name the block that is a shim: with one, the cut at which it lies between key and wood."""
    if sled.shims > 1:
        return f"shims, {sled.shims} alike"
    [turn] = [cut.turn for cut in sled.cuts if cut.shims]
    return f"shim for cut {turn}"


def _block_views(sled: Sled) -> list[draw.View]:
    """The blocks side by side, each with its size, in rows that any page can hold."""
    rows: list[list[tuple[str, str, float, float]]] = []
    x = 0.0
    for number, (name, size) in enumerate(_block_sizes(sled)):
        if not rows or x + size > BLOCK_ROW:
            rows.append([])
            x = 0.0
        rows[-1].append((letters(number), name, x, size))
        x += size + BLOCK_ROOM
    return [_block_row(row) for row in rows]


_BY_TURNS: tuple[draw.Side, draw.Side] = ("above", "below")


def _block_row(row: list[tuple[str, str, float, float]]) -> draw.View:
    """One row of blocks: letter, what for, where it stands, how wide it is."""
    parts = tuple(
        draw.Part(
            f"block-{letter.lower()}",
            f"Block {letter}: {name}",
            draw.lines([draw.rectangle(x, 0, x + size, BLOCK_HEIGHT)]),
        )
        for letter, name, x, size in row
    )
    # By turns above and below: a number is wider than most blocks and must not reach over its neighbour's.
    widths = tuple(
        draw.Dimension(draw.Point(x, high), draw.Point(x + size, high), side, letter)
        for i, (letter, _, x, size) in enumerate(row)
        for side, high in [(_BY_TURNS[i % 2], BLOCK_HEIGHT * (1 - i % 2))]
    )
    first, last = row[0][0], row[-1][0]
    which = f"Gauge blocks {first} to {last}" if first != last else f"Gauge block {first}"
    return draw.View(f"blocks-{first.lower()}", f"{which}; the width is what counts", parts, widths)


def _blocks_in_words(sled: Sled) -> draw.Notes:
    return draw.Notes(
        "blocks-how",
        "Wood of the blocks",
        (
            say(
                "Every block is a strip of hard, even wood, the grain along it, as thick as the width drawn, {high} "
                "wide and {long} long. Plane it, measure it with callipers at three places, write its letter on it.",
                high=round_up(19.0, sled.units),
                long=round_up(76.0, sled.units),
            ),
        ),
    )


def _block_table(sled: Sled) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        (letters(number), name, size, None) for number, (name, size) in enumerate(_block_sizes(sled))
    ]
    return draw.Table("blocks", "Gauge blocks", ("Block", "For", "Plane it to", "It really measures"), tuple(rows))
