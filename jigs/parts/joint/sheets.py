"""The sheets of the indexing sled: its numbers as parts, dimensions and tables."""

from __future__ import annotations

from dataclasses import replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT, worst_first
from jigs.base.wording import Words, say
from jigs.parts.joint import carriage, dry_fit, pictures, trial_joint
from jigs.parts.joint import key as joint_key
from jigs.parts.joint import plate as joint_plate
from jigs.parts.joint.made import Sled, all_cuts, planed_off, shims_at
from jigs.trade import fingers
from jigs.trade.fingers import Span, fingers_between
from jigs.trade.sled import (
    CUTTER_WITHIN,
    GAP_WITHIN,
    HEIGHT_WITHIN,
    RIP_WITHIN,
    SPACER_WITHIN,
    Run,
    RunBoards,
    SledNumbers,
)

STICK_HEIGHT, STICK_SLIM = 18.0, 9.0


def drawings(sled: Sled, *, whole: bool) -> tuple[draw.Drawing, ...]:
    """Return the sheets, in the order they are worked from."""
    on_request = (joint_plate.whole_plate(sled),) if whole else ()
    return (
        joint_plate.plate(sled),
        *on_request,
        joint_key.key_and_spacer(sled),
        carriage.drawing(sled.carriage, sled.numbers, sled.backer, sled.cautions),
        _story_stick(sled),
        _card(sled),
        _test_joint(sled),
    )


# -- story stick ---------------------------------------------------------------------------------------------------


def _story_stick(sled: Sled) -> draw.Drawing:
    n = sled.numbers
    rows = []
    for step in range(max(len(n.long_sockets), len(n.short_sockets))):
        cells: list[draw.Cell] = [str(step + 1)]
        for sockets in (n.long_sockets, n.short_sockets):
            span = sockets[step] if step < len(sockets) else None
            cells += ["–", "–"] if span is None else [span.start, span.end]
        rows.append(tuple(cells))
    table = draw.Table(
        "positions",
        "Sockets from the reference edge",
        ("Step", "Front from", "to", "End from", "to"),
        tuple(rows),
    )
    purpose = (
        "every finger and socket of both mating boards, to lay on them before and after the first cuts; waste is "
        "hatched, numbers are steps, the reference edge is the bottom of the box"
    )
    body: tuple[draw.Item, ...] = (_stick_view(n, sled.kept), table, *_stick_notes(n))
    return draw.Drawing("stick", "story stick", purpose, body, sled.cautions)


def _stick_notes(n: SledNumbers) -> tuple[draw.Notes, ...]:
    """What the stick can't show: a last position that makes no socket."""
    if not n.trims_the_top:
        return ()
    said = (
        f"Cut position {n.positions} as well. It makes no socket: it trims the top fingers of the ends to what the top "
        "sockets of front and back leave. Without it a fin above those sockets can hold the corners open."
    )
    return (draw.Notes("last-position", f"Position {n.positions}, the last", (said,)),)


def _stick_view(n: SledNumbers, kept: bool) -> draw.View:
    """Both boards' edges, one over the other; slimmer where a long one lies along a page turned on its side."""
    width = draw.Dimension(draw.Point(0, 0), draw.Point(n.width, 0), "above", "board kept" if kept else "rip to")
    slim = _sticks(n, STICK_SLIM, width, width)
    check = _stick_check(n)
    return replace(_sticks(n, STICK_HEIGHT, width, check), detail=slim)


def _sticks(n: SledNumbers, high: float, width: draw.Dimension, check: draw.Dimension) -> draw.View:
    upper = 1.8 * high
    top = upper + high
    long = _strip("stick-front", "Front and back", n.long_sockets, n.width, upper, top)
    short = _strip("stick-end", "Ends", n.short_sockets, n.width, 0.0, high)
    width = replace(width, start=draw.Point(0, top), end=draw.Point(n.width, top))
    labels = (
        *_numbered(n.long_sockets, upper + high / 2),
        *_numbered(n.short_sockets, high / 2),
        draw.Label("reference edge", draw.Point(0, -2.3), towards="right"),
    )
    dimensions = (width,) if check.name == width.name else (width, check)
    return draw.View("stick", "Front above, end below", (long, short), dimensions, labels, check=dimensions[-1])


def _stick_check(n: SledNumbers) -> draw.Dimension:
    """From the first socket's start to the last one's: a whole number of pitches."""
    first, last = n.long_sockets[0], n.long_sockets[-1]
    if len(n.long_sockets) == 1:
        return draw.Dimension(draw.Point(first.start, 0), draw.Point(first.end, 0), "below", "socket")
    name = f"{len(n.long_sockets) - 1} × pitch"
    return draw.Dimension(draw.Point(first.start, 0), draw.Point(last.start, 0), "below", name)


def _strip(name: str, title: str, sockets: tuple[Span, ...], width: float, bottom: float, top: float) -> draw.Part:
    """One board's edge seen on its face: fingers plain, sockets hatched, the reference edge heavy at the left."""
    waste = tuple(draw.rectangle(span.start, bottom, span.end, top) for span in sockets)
    plain = tuple(draw.rectangle(span.start, bottom, span.end, top) for span in fingers_between(width, sockets))
    reference = draw.Line(draw.line((0, bottom - 3), (0, top + 3)), draw.Kind.REFERENCE)
    return draw.Part(name, title, (*draw.lines(waste + plain), reference), hatched=waste)


def _numbered(sockets: tuple[Span, ...], middle: float) -> list[draw.Label]:
    """Number every socket, in letters that go into it; where none do, every fifth one, beside the board."""
    digits = len(str(len(sockets)))
    narrowest = min(span.width for span in sockets)
    height = next((h for h in (3.5, 2.5, 1.8) if digits * 0.76 * h + 1.4 <= narrowest), None)
    if height is None:
        fifths = [(i, span) for i, span in enumerate(sockets, start=1) if i in (1, len(sockets)) or i % 5 == 0]
        return [draw.Label(str(i), draw.Point(span.middle, middle), towards="above") for i, span in fifths]
    return [
        draw.Label(str(i), draw.Point(span.middle, middle), leader=False, height=height)
        for i, span in enumerate(sockets, start=1)
    ]


# -- setting card --------------------------------------------------------------------------------------------------


def _card(sled: Sled) -> draw.Drawing:
    purpose = "every setting in the order it is made, with what to set it with and how near it must be; how to cut"
    body = (
        _settings(sled),
        _calliper(sled),
        pictures.sled_from_above(sled.machine, sled.key_side),
        _cutting(sled),
        _bias(sled),
        _warnings(sled),
        dry_fit.joint_picture(sled.meant),
        dry_fit.expectation_table(sled.meant),
        dry_fit.budget_picture(sled.meant),
        dry_fit.mistakes_table(sled.meant),
    )
    return draw.Drawing("card", "setting card and order of cutting", purpose, body, (*sled.cautions, cautions.PAPER))


def _test_joint(sled: Sled) -> draw.Drawing:
    return trial_joint.drawing(sled.meant, sled.proud, sled.cautions)


def _settings(sled: Sled) -> draw.Table:
    n, over = sled.numbers, carriage.square_over(sled.units)
    play = "Play of a socket on the key" + (", thickest shim in" if sled.thickest_shim else "")
    rows: list[tuple[draw.Cell, ...]] = [
        ("Cutter, as it cuts in scrap", sled.cutter, CUTTER_WITHIN, "callipers in a scrap groove"),
        *_heights(sled),
        ("Gap, key to cutting edge", n.gap, GAP_WITHIN, "gauge block, cutter turned by hand, plate slid"),
        ("Across cutter and key", n.over_all, GAP_WITHIN, "callipers"),
        (play, n.slack, GAP_WITHIN, "feeler, in the first socket"),
        ("Spacer for the ends", n.short_spacer, SPACER_WITHIN, "callipers"),
        (say("Face square to key, over {over}", over=over), n.square_in_100 * over / 100, "–", "try square"),
        (
            "Key stands above the plate",
            sled.key_height,
            "–",
            say("callipers; boards ride on a key above {most}", most=n.key_height_limit),
        ),
        _width_row(sled),
        (
            f"Positions of {'the stack' if sled.meant.method == 'one stack' else 'every board'}",
            str(n.positions),
            "–",
            _last_position(n) or "count them",
        ),
    ]
    if n.board_starter:
        rows.insert(5 + len(n.runs), ("Starter for front and back", n.board_starter, SPACER_WITHIN, "callipers"))
    face = next(i for i, row in enumerate(rows) if row[-1] == "try square")
    rows[face + 1 : face + 1] = _pass_rows(sled)
    numbered = tuple((str(i), *row) for i, row in enumerate(rows, start=1))
    return draw.Table("settings", "Settings, in this order", ("", "Setting", "Value", "Within", "Set with"), numbered)


def _heights(sled: Sled) -> list[tuple[draw.Cell, ...]]:
    """The height of the cutter, run by run."""
    made = sled.numbers.runs
    return [
        (f"Cutter above the table{_of_run(made, turn)}", sled.plate + run.depth, HEIGHT_WITHIN, "gauge block")
        for turn, run in enumerate(made, start=1)
    ]


def _of_run(made: tuple[Run, ...], turn: int) -> str:
    return f", run {turn}, {made[turn - 1].boards}" if len(made) > 1 else ""


def _width_row(sled: Sled) -> tuple[draw.Cell, ...]:
    """What the boards are ripped to, or that they are not, with what is left at their top."""
    n = sled.numbers
    if not sled.kept:
        return ("Rip boards to", n.width, RIP_WITHIN, _how_to_rip(sled))
    return ("Board kept, not ripped", n.width, "–", _left_at_the_top(n))


def _left_at_the_top(n: SledNumbers) -> Words:
    left = n.leftover
    if not n.ends_unlike:
        return "–"
    with_nick, with_sliver = (
        ("front and back", "the ends") if left.nick_on == "long" else ("the ends", "front and back")
    )
    parts = [f"top finger of {with_sliver} {{sliver}}"] if left.sliver > fingers.TOUCH else []
    parts += [f"top socket of {with_nick} {{nick}}"] if left.nick > fingers.TOUCH else []
    return say("; ".join(parts), sliver=left.sliver, nick=left.nick)


def _how_to_rip(sled: Sled) -> Words:
    left = planed_off(sled.numbers, sled.units)
    measured = 4 + len(sled.numbers.runs)
    if sled.spare <= READ_OUT:
        return "nothing: the joint takes all of the board"
    if sled.spare <= left:
        return "hand plane, when the joints are cut"
    words = f"saw fence, {{left}} over, once 1 to {measured} are measured; hand plane, when the joints are cut"
    return say(words, left=left)


def _deeper_runs(sled: Sled, boards: RunBoards) -> tuple[Words, ...]:
    """How the runs after the first one are cut, by all boards or by some of them alone."""
    said: list[Words] = []
    for turn, run in enumerate(sled.numbers.runs, start=1):
        if turn == 1 or run.boards != boards:
            continue
        high = sled.plate + run.depth
        if boards == "all boards":
            words = (
                "Run {turn}: raise the cutter to {high} above the table. Cut all {count} positions again, as before, "
            )
            words += "the boards still clamped as they are. Lower it again before the other ends are cut."
        else:
            gone = "front and back" if boards == "ends" else "the ends"
            words = "Run {turn}: raise the cutter to {high} above the table. Cut both ends of "
            words += (
                f"{'every end board' if boards == 'ends' else boards} again, all {{count}} positions, without {gone}."
            )
        said.append(say(words, turn=str(turn), high=high, count=str(sled.numbers.positions)))
    return tuple(said)


def _further_cuts(sled: Sled) -> tuple[Words, ...]:
    """How the other cuts of the same socket are made, where there are several."""
    if not sled.shims:
        return ()
    said = all_cuts(sled.cuts)
    climbs = " In any other order a later cut runs with the feed." if sled.machine == "router table" else ""
    return (
        f"{said[0].upper()}{said[1:]}. Between two cuts undo only the clamps at the face, lift the stack, move one "
        f"shim to the other side of the key, set the stack down at the same place, push it to the {sled.key_side} and "
        f"clamp it again.{climbs}",
    )


def _last_position(n: SledNumbers) -> str:
    return (
        "the last trims the top fingers of the ends: cut it before the top edges are planed" if n.trims_the_top else ""
    )


def _pass_rows(sled: Sled) -> list[tuple[draw.Cell, ...]]:
    if not sled.shims:
        return []
    return [
        (f"Cut {cut.turn} of each socket, gap to the wood", cut.gap, CUTTER_WITHIN, f"callipers; {shims_at(cut)}")
        for cut in sled.cuts
    ]


def _calliper(sled: Sled) -> draw.View:
    """Callipers across cutter and key, end on."""
    n, high = sled.numbers, sled.key_height
    ends = sorted((-sled.near_edge, sled.key_back))
    cutter = draw.Part(
        "calliper-cutter", "Cutter", (draw.Line(draw.rectangle(-sled.cutter / 2, 0, sled.cutter / 2, n.cut_depth)),)
    )
    face, back = sorted((sled.key_face, sled.key_back))
    key = draw.Part(
        "calliper-key",
        "Key",
        (draw.Line(draw.rectangle(face, 0, back, high)),),
        hatched=(draw.rectangle(face, 0, back, high),),
    )
    plate = draw.Part("calliper-plate", "Plate", (draw.Line(draw.line((ends[0] - 14, 0), (ends[1] + 14, 0))),))
    over_all = draw.Dimension(draw.Point(ends[0], n.cut_depth), draw.Point(ends[1], high), "above", "over all")
    gap = draw.Dimension(draw.Point(sled.near_edge, 0), draw.Point(sled.key_face, 0), "below", "gap")
    return draw.View("calliper", "Check with callipers", (cutter, key, plate), (over_all, gap), check=over_all)


def _bias(sled: Sled) -> draw.Notes:
    n = sled.numbers
    return draw.Notes(
        "bias",
        "Which way to push",
        (
            f"Push the boards to the {sled.key_side}, away from the cutter, until wood touches the face of the key "
            "that looks at the cutter (or the shim on it): for the first cut and for every cut. Then the width of the "
            "key drops out.",
            *_fingers_from_gap(sled),
            say(
                "Pushed the other way fingers come out {thin} instead of {finger}, and the joint {loose} loose.",
                thin=n.finger - n.slack,
                finger=n.finger,
                loose=n.clearance + n.slack,
            ),
            say(
                "Front and back butt the key; ends and backing board butt the spacer. All boards bottom edge to the "
                "key. Clearance {clearance}; flush from {low} to {high}.",
                clearance=n.clearance,
                low=n.fit.flush_low,
                high=n.fit.flush_high,
            ),
        ),
    )


def _fingers_from_gap(sled: Sled) -> tuple[Words, ...]:
    n, shim = sled.numbers, sled.thickest_shim
    if not shim:
        return (say("Every finger is the gap: {gap}.", gap=n.gap),)
    return (
        say(
            "Every finger is the gap less the thickest shim: {gap} − {shim} = {finger}.",
            gap=n.gap,
            shim=shim,
            finger=n.finger,
        ),
        "All cuts of a socket are made before the boards step on. A shim that is not between key and wood lies on the "
        "far side of the key: the socket stays filled, and the boards can't rock.",
    )


def _cutting(sled: Sled) -> draw.Notes:
    """The order of cutting, step by step: what is clamped to what, and when it is let go."""
    apart = sled.meant.method != "one stack"
    steps = (*(_set_one_board if apart else _set_the_stack)(sled), *_cut_and_step_on(sled, apart))
    return draw.Notes("cutting", "Order of cutting", (*steps, *(_next_board if apart else _turn_the_stack)(sled)))


def _set_the_stack(sled: Sled) -> tuple[Words, ...]:
    key, butt = _butted(sled)
    return (
        "1. Power off, the carriage drawn back to you, its face at the near end of the key. Stand the boards on "
        "the plate before the face, bottom edges to the key; from the cutter towards you: front, back, ends, "
        f"backing board. Front and back go {butt}, ends and backing board against the spacer, "
        f"which stands against {key}.",
        f"2. Push all of them to the {sled.key_side} and down on the plate, and clamp the boards to one another, well "
        "above the cut. From now on they are one stack and that clamp stays on. Clamp the stack to the face with two "
        "more clamps. Take the spacer away.",
    )


def _set_one_board(sled: Sled) -> tuple[Words, ...]:
    key, butt = _butted(sled)
    return (
        "1. Power off, the carriage drawn back to you, its face at the near end of the key. Stand one board on "
        "the plate before the face, the backing board behind it, bottom edges to the key. Front and back go "
        f"{butt}; an end board goes against the spacer, which stands against {key}.",
        f"2. Push both to the {sled.key_side} and down on the plate. Clamp them to the face with two clamps, well "
        "above the cut. Take the spacer away.",
    )


def _butted(sled: Sled) -> tuple[str, str]:
    """What the spacer stands against at the first cut, and how front and back stand."""
    key = "the shim on the key" if sled.cuts[0].shims else "the key"
    return key, f"against {key}" if not sled.numbers.board_starter else f"against {key}, with the starter between"


def _cut_and_step_on(sled: Sled, apart: bool) -> tuple[Words, ...]:
    n, side, last = sled.numbers, sled.key_side, _last_position(sled.numbers)
    what = "board" if apart else "stack"
    undone = "Undo the clamps" if apart else "Undo only the two clamps at the face"
    return (
        say(
            "3. Both hands on the outer ends of the carriage: feed it away from you, {stroke} to a stop clamped on "
            "the plate. The key runs into the slot and under the carriage; the cutter comes out under the exit "
            "block. Stop the cutter, wait until it stands, draw the carriage back.",
            stroke=sled.stroke,
        ),
        *_further_cuts(sled),
        f"4. {undone}. Lift the {what}, step it over to the {side} and set it down with the socket just cut on the "
        f"key. Push it to the {side}, clamp it to the face again and cut. {n.positions} positions in "
        f"all{'; ' + last if last else ''}.",
    )


def _turn_the_stack(sled: Sled) -> tuple[Words, ...]:
    return (
        *_deeper_runs(sled, "all boards"),
        "5. Mark the ends that were cut together: only they are mates. Undo the stack, turn every board and the "
        "backing board end for end, bottom edges again to the key, and begin again at 1.",
        *_deeper_runs(sled, "front and back"),
        *_deeper_runs(sled, "ends"),
    )


def _next_board(sled: Sled) -> tuple[Words, ...]:
    return (
        *_deeper_runs(sled, "all boards"),
        "5. Turn the board end for end, its bottom edge again to the key, and begin again at 1; then the next board. "
        "The gap stays as it is until the last one is cut.",
        *_deeper_runs(sled, "front and back"),
        *_deeper_runs(sled, "ends"),
        "6. Plane the top edges when the joints are cut, and leave no strip above a top socket: it would hold the "
        "corner open.",
    )


def _warnings(sled: Sled) -> draw.Notes:
    said: list[Words] = []
    for problem in worst_first(sled.problems):
        said.append(say(f"{problem.severity.capitalize()}, {problem.where}: {problem.rule}.", **problem.numbers))
        if problem.ways:
            said.append(say(f"– {problem.instead}.", **problem.numbers))
    return draw.Notes("warnings", "What to know before cutting", tuple(said) or ("Nothing more.",))
