"""How a joint will close, worked out before wood is touched: as a picture, as numbers, and what mistakes cost.

Everything here is read off the pass-by-pass model of the cut, not off the formulas the sled was set by.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.base import drawing as draw
from jigs.base.wording import Words, say
from jigs.trade import cut, fit, passes, predict
from jigs.trade.cut import Blank, Board, Mating, Setup
from jigs.trade.passes import Passes
from jigs.trade.predict import Errors, Joint, Method, Prediction
from jigs.trade.sled import errors

PICTURED = 9
"""Parts that are drawn; the rest of a long joint is alike."""
_PART, _HIGH, _WIDEST = 11.0, 16.0, 2.4
"""Sizes of the picture: a part, its height, and how wide the widest gap is drawn, mm."""
_TRY = 0.1
"""The size of mistake that is priced, mm or degrees."""


@dataclass(frozen=True)
class Meant:
    """The joint as it is meant: the sled, the boards, and how mates are cut. Lengths in mm."""

    setup: Setup
    long: Blank
    short: Blank
    joint: Joint
    passes: Passes
    method: Method = "one stack"
    positions: int | None = None
    """Positions of the stack; None: as many as reach wood."""

    @property
    def errors(self) -> Errors:
        """What a careful shop holds in this joint."""
        return errors(self.passes.count)

    @property
    def square_loss(self) -> float:
        """The clearance lost to a carriage as far out of square as it may be."""
        angle = fit.steepest_angle(self.joint.socket - self.joint.gap, self.long.thickness, self.short.thickness, 0.4)
        return fit.angular_loss(self.long.thickness, self.short.thickness, angle)

    @property
    def boards(self) -> tuple[Board, Board]:
        """A long and a short cut in one stack, without error."""
        return self._cut(self.long, self.short)

    @property
    def mating(self) -> Mating:
        """The two put together, without error."""
        return cut.mate(*self.boards)

    @property
    def prediction(self) -> Prediction:
        """What to expect with the errors of a careful shop."""
        return predict.predict(self.joint, self.method, self.errors)

    @property
    def apart(self) -> Prediction:
        """The same of mates that are not cut in one stack."""
        return predict.predict(self.joint, "separately", self.errors)

    def short_moved(self, off: float) -> Mating:
        """Return the mating with the short's edge this far off in the stack."""
        return cut.mate(*self._cut(self.long, replace(self.short, offset=self.short.offset + off)))

    def with_cutter(self, wider: float) -> Mating:
        """Return the mating of a long cut as meant with a short cut by a cutter that is wider."""
        setup = replace(self.setup, cutter=self.setup.cutter + wider)
        return cut.mate(self.boards[0], cut.cut(setup, [self.short], steps=self.positions)[0])

    def _cut(self, *blanks: Blank) -> tuple[Board, Board]:
        long, short = cut.cut(self.setup, blanks, steps=self.positions)
        return long, short


# -- the picture ---------------------------------------------------------------------------------------------------


def joint_picture(meant: Meant) -> draw.View:
    """Return the closed joint, gaps exaggerated and labelled with their true size."""
    mating = meant.mating
    gaps = [cheek.gap for cheek in mating.cheeks[: PICTURED - 1]]
    widest = max((abs(gap) for gap in gaps), default=0.0) or 1.0
    parts: list[draw.Part] = []
    labels: list[draw.Label] = []
    x = 0.0
    for i in range(len(gaps) + 1):
        shape = draw.rectangle(x, 0, x + _PART, _HIGH)
        front = i % 2 == 0
        name = f"closed-{'front' if front else 'end'}-{i // 2 + 1}"
        title = "Finger of the front" if front else "Finger of the end"
        parts.append(draw.Part(name, title, draw.lines([shape]), hatched=() if front else (shape,)))
        x += _PART
        if i < len(gaps):
            drawn = _WIDEST * max(0.0, gaps[i]) / widest
            if i < 2:
                words = say("gap {gap}" if gaps[i] >= 0 else "tight by {gap}", gap=abs(gaps[i]))
                labels.append(draw.Label(words, draw.Point(x + drawn / 2, _HIGH - 2), towards="above"))
            x += drawn
    edge = draw.Part(
        "closed-reference", "Reference edge", (draw.Line(draw.line((0, -3), (0, _HIGH + 3)), draw.Kind.REFERENCE),)
    )
    labels += [
        draw.Label("front", draw.Point(_PART / 2, 3), towards="below"),
        draw.Label("end", draw.Point(1.7 * _PART, 3), towards="below"),
    ]
    every = len(mating.cheeks) + 1
    some = f"the first {PICTURED} of {every} parts" if every > PICTURED else f"its {every} parts"
    title = f"The joint closed, {some} from the bottom edge; gaps drawn {_WIDEST / widest:.0f} times too wide"
    return draw.View("closed", title, (*parts, edge), labels=tuple(labels), to_scale=False)


def budget_picture(meant: Meant) -> draw.View:
    """Return which measurement the error of clearance and of flush comes from, as bars with numbers."""
    prediction = meant.prediction
    parts: list[draw.Part] = []
    labels: list[draw.Label] = []
    y = 0.0
    for what, spread in (("clearance", prediction.clearance_spread), ("flush", prediction.flush_spread)):
        words = say(f"{what} ±{{worst}} at worst, ±{{rss}} likely", worst=spread.worst, rss=spread.rss)
        labels.append(draw.Label(words, draw.Point(40, y), leader=False))
        for source, share in spread.shares:
            if share < 0.005:
                continue
            y -= 7.5
            bar = draw.rectangle(24, y - 2, 24 + max(50 * share, 0.3), y + 2)
            parts.append(draw.Part(f"bar-{what}-{source}", f"{source}: {share:.0%}", draw.lines([bar]), hatched=(bar,)))
            labels.append(draw.Label(source, draw.Point(11, y), leader=False))
            labels.append(draw.Label(f"{share:.0%}", draw.Point(24 + 50 * share + 7, y), leader=False))
        y -= 12.0
    return draw.View(
        "budget",
        "What the error comes from: measure the longest bar better",
        tuple(parts),
        labels=tuple(labels),
        to_scale=False,
    )


# -- the numbers ---------------------------------------------------------------------------------------------------


def expectation_table(meant: Meant) -> draw.Table:
    """Return how the joint closes, in numbers."""
    mating, prediction = meant.mating, meant.prediction
    gaps = [cheek.gap for cheek in mating.cheeks]
    rows: list[tuple[draw.Cell, ...]] = [
        ("Clearance", say("{value}", value=mating.clearance)),
        ("Gap at a cheek", _spread(min(gaps), max(gaps))),
        ("Bottom edges out", say("{low} to {high}", low=mating.flush_low, high=mating.flush_high)),
        ("Top edges out", say("{value}", value=mating.top_step)),
        (
            "Top fingers",
            say("{front} and {end}", front=mating.last_fingers[0], end=mating.last_fingers[1]),
        ),
        ("All errors at worst", say("{value}", value=prediction.clearance_worst)),
        ("… and face not square", say("{value}", value=prediction.clearance_worst - meant.square_loss)),
        ("Corners that will not close", percent(prediction.chance_fails)),
        ("Boxes with such a corner", percent(predict.of_a_box(prediction.chance_fails))),
    ]
    return draw.Table("closing", f"Closed, cut {_how(meant.method)}", ("", "Value"), tuple(rows))


def _how(method: Method) -> str:
    return "in one stack" if method == "one stack" else method


def _spread(low: float, high: float) -> Words:
    return say("{low}", low=low) if high - low < 0.005 else say("{low} to {high}", low=low, high=high)


def percent(chance: float) -> str:
    """Return a chance in words."""
    return "under 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"


def mistakes_table(meant: Meant) -> draw.Table:
    """Return what the usual mistakes cost in this joint."""
    turned = cut.mate(meant.boards[0], cut.turned(meant.boards[1]))
    no_spacer = meant.short_moved(-meant.short.offset)
    wider = meant.with_cutter(_TRY / 2)
    lost = fit.angular_loss(meant.long.thickness, meant.short.thickness, _TRY)
    rows: list[tuple[draw.Cell, ...]] = [
        (
            say("an end {off} out of line in the stack", off=_TRY),
            say("bottom edges {out} out", out=abs(meant.short_moved(_TRY).flush - meant.mating.flush)),
        ),
        *_of_two_stacks(meant),
        ("an end turned top for bottom", _closes(turned, "closes, its groove at the top")),
        ("the spacer left out", _closes(no_spacer, "closes")),
        (
            say("a cutter {wider} wider for the ends", wider=_TRY / 2),
            say("clearance {clearance}", clearance=wider.clearance),
        ),
        (f"the face {_TRY:g} degrees out of square", say("takes {lost} of clearance", lost=lost)),
        (
            "the gap set with a ruler",
            say("within {ruler} at best: the clearance is {clearance}", ruler=0.3, clearance=meant.mating.clearance),
        ),
    ]
    if meant.passes.count > 1:
        creep = passes.copied_widths(meant.joint.socket, meant.setup.cutter, meant.setup.key, 4)
        rows.append(
            ("pushed to both sides of the key in turn", say("sockets grow: the fourth is {wide}", wide=creep[-1]))
        )
    return draw.Table("mistakes", "What a mistake costs", ("Mistake", "What comes of it"), tuple(rows))


def _of_two_stacks(meant: Meant) -> list[tuple[draw.Cell, ...]]:
    """The price of mixing stacks, where there are any."""
    if meant.method != "one stack":
        return []
    return [("ends of two stacks mated", f"{percent(meant.apart.chance_fails)} of the corners will not close")]


def _closes(mating: Mating, good: str) -> Words:
    return good if mating.closes else "does not close"
