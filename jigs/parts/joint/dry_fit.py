"""How a joint will close, worked out before wood is touched, and what mistakes cost.

Everything here is read off the pass-by-pass model of the cut, not off the formulas the sled was set by.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.record import Record, replace
from jigs.trade import cut, fit, passes, predict
from jigs.trade.cut import Blank, Board, Mating, Setup
from jigs.trade.passes import Passes
from jigs.trade.predict import Errors, Joint, Method, Prediction
from jigs.trade.sled import errors

_TRY = 0.1
"""The size of mistake that is priced, mm or degrees."""


class Meant(Record):
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
    def chance_apart(self) -> float:
        """The chance that mates fail which are not cut in one stack."""
        return predict.chance_apart(self.joint, self.errors)

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


def percent(chance: float) -> str:
    """Return a chance in words."""
    return "under 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"


class Mistake(Record):
    """A usual mistake and what comes of it in a joint; `costs` is a wasted board or corner, beyond a poorer fit."""

    what: Words
    outcome: Words
    costs: bool = False


def mistakes(meant: Meant) -> Iterator[Mistake]:
    """Yield what the usual mistakes cost in this joint."""
    turned = cut.mate(meant.boards[0], cut.turned(meant.boards[1]))
    no_spacer = meant.short_moved(-meant.short.offset)
    wider = meant.with_cutter(_TRY / 2)
    lost = fit.angular_loss(meant.long.thickness, meant.short.thickness, _TRY)
    yield Mistake("spacer left out", _closes(no_spacer, "closes"), not no_spacer.closes)
    yield from _of_two_stacks(meant)
    yield Mistake("end board turned top for bottom", _turned(turned), True)
    if meant.passes.count > 1:
        creep = passes.copied_widths(meant.joint.socket, meant.setup.cutter, meant.setup.key, 4)
        words = say("sockets grow: the fourth is {wide:gauge}", wide=creep[-1])
        yield Mistake("pushed to both sides of the key in turn", words, True)
    yield Mistake(
        "gap set with a ruler",
        say("within {ruler:gauge}; the clearance is {clearance:gauge}", ruler=0.3, clearance=meant.mating.clearance),
        True,
    )
    out = abs(meant.short_moved(_TRY).flush - meant.mating.flush)
    yield Mistake(say("end {off:gauge} out of line", off=_TRY), say("bottom edges {out:gauge} out", out=out))
    words = say("clearance {clearance:gauge}", clearance=wider.clearance)
    yield Mistake(say("cutter {wider:gauge} wider for the end boards", wider=_TRY / 2), words)
    yield Mistake(f"upright {_TRY:g}° out of square", say("takes {lost:gauge} of clearance", lost=lost))


def costliest(meant: Meant) -> tuple[tuple[Words, Words], ...]:
    """Return the three mistakes that cost most, as rows: those that waste a board before those that spoil the fit."""
    every = sorted(mistakes(meant), key=lambda mistake: not mistake.costs)
    return tuple((mistake.what, mistake.outcome) for mistake in every[:3])


def _of_two_stacks(meant: Meant) -> Iterator[Mistake]:
    """Yield the price of mixing stacks, where there are any."""
    if meant.method == "one stack":
        words = f"{percent(meant.chance_apart)} of corners won’t close"
        yield Mistake("ends of two stacks mated", words, True)


def _turned(mating: Mating) -> Words:
    """Say what comes of an end board turned top for bottom: it closes only where both its edges are alike."""
    if not mating.closes:
        return "does not close"
    if abs(mating.flush) > READ_OUT:
        return say("closes, its edge {off:gauge} out of flush", off=abs(mating.flush))
    return "closes, all that is cut in it upside down"


def _closes(mating: Mating, good: str) -> Words:
    return good if mating.closes else "does not close"
