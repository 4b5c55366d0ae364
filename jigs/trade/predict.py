"""Will it go together? Closed forms where they exist, and a seeded simulation beside them.

Limits of error are taken as two standard deviations of a normal distribution; where a board seats within the
key's slack is taken as uniform. Any one unit of length.
"""

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from jigs.record import Record, replace
from jigs.trade import fit
from jigs.trade.fit import Spread
from jigs.trade.limits import at_least, finite, positive

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

Method = Literal["one stack", "separately"]

CORNERS = 4
TRIALS = 100_000
SEED = 1


class Joint(Record):
    """A joint as it is meant; of `long_sockets` m there are 2 m parts, one more if `odd`.

    `width` is how far the ripped boards reach from the key when they first butt it (a starter counted in), and
    `positions` how often the stack is cut. Without a width nothing is said of the top edge: the boards are then ripped
    by the joint itself.
    """

    gap: float
    socket: float
    spacer: float
    slack: float
    long_sockets: int
    odd: bool = True
    width: float | None = None
    positions: int = 0


class Errors(Record):
    """How far gap, socket, spacer and the ripped width may be from what is written: limits, plus or minus."""

    gap: float = 0.0
    socket: float = 0.0
    spacer: float = 0.0
    rip: float = 0.0


class Simulated(Record, eq=False):
    """One number a trial: the clearance, and the lowest and highest flush at which the joint closes."""

    clearance: "NDArray[float64]"
    flush_low: "NDArray[float64]"
    flush_high: "NDArray[float64]"

    @property
    def flush_middle(self) -> "NDArray[float64]":
        """The flush with the play shared evenly."""
        return (self.flush_low + self.flush_high) / 2

    @property
    def chance_fails(self) -> float:
        """The share of trials that do not go together, 0 to 1."""
        return float((self.clearance < 0).mean())


class Prediction(Record):
    """What to expect of a joint.

    `clearance` is the mean, `clearance_worst` what is guaranteed with every error at its limit (at the cheeks and at
    the top edge); `flush_low` to `flush_high` is the range without error. The spreads hold worst case (from the joint
    as meant), root sum of squares (two standard deviations) and each source's share of the variance, largest first:
    that is what to measure better first. `drift_sd` is how far mates drift apart over the joint (0 in one stack),
    `chance_fails` runs 0 to 1.
    """

    method: Method
    clearance: float
    clearance_worst: float
    flush_low: float
    flush_high: float
    clearance_spread: Spread
    flush_spread: Spread
    drift_sd: float
    chance_fails: float


def chance_below(limit: float, mean: float, rss: float) -> float:
    """Return the chance that a normal number is under `limit`; `rss` is two standard deviations."""
    if rss == 0:
        return float(mean < limit)
    return math.erfc((mean - limit) / (rss / 2) / math.sqrt(2)) / 2


def of_a_box(chance: float) -> float:
    """Return the chance that one or more of a box's four corners fail, `chance` being that of a corner: 1 - (1 - p)^4.

    The corners are taken as independent. What they have in common (one gap, one cutter) makes it less, never more.
    """
    return 1 - (1 - chance) ** CORNERS


@lru_cache(maxsize=64)
def predict(
    joint: Joint, method: Method, errors: Errors | None = None, trials: int = TRIALS, seed: int = SEED
) -> Prediction:
    """Return what to expect of mates cut in one stack or separately.

    One stack: errors of the steps cancel; clearance = socket - gap at least, all in closed form; the chance
    of failing, at the cheeks or at the top edge, is for boards pushed home every time. Separately: worst
    case and drift are closed forms (see `fit.separate_worst`); mean, spread of the seating and chance come
    from `simulate`. Seating and measuring errors are independent and add, so their variances do too.
    """
    errors = errors or Errors()
    nominal = fit.one_stack(joint.gap, joint.socket, joint.spacer)
    budget = fit.tolerance_budget(errors.gap, errors.socket, errors.spacer)
    if method == "one stack":
        top = top_edge(joint, errors)
        at_cheeks = chance_below(0.0, nominal.clearance, budget.clearance.rss)
        return Prediction(
            method=method,
            clearance=nominal.clearance,
            clearance_worst=min(nominal.clearance - budget.clearance.worst, top.worst),
            flush_low=nominal.flush_low,
            flush_high=nominal.flush_high,
            clearance_spread=budget.clearance,
            flush_spread=budget.flush,
            drift_sd=0.0,
            chance_fails=min(1.0, at_cheeks + top.chance_fails),
        )
    seating = simulate(replace(joint, width=None), method, Errors(), trials, seed)
    worst = fit.separate_worst(nominal.clearance, joint.slack, joint.long_sockets, joint.odd)
    return Prediction(
        method=method,
        clearance=float(seating.clearance.mean()),
        clearance_worst=worst - budget.clearance.worst,
        flush_low=nominal.flush_low,
        flush_high=nominal.flush_high,
        clearance_spread=_add(budget.clearance, nominal.clearance - worst, float(seating.clearance.std())),
        flush_spread=_add(budget.flush, joint.long_sockets * joint.slack / 2, float(seating.flush_middle.std())),
        drift_sd=fit.drift_sd(joint.slack, joint.long_sockets),
        chance_fails=chance_apart(joint, errors, trials, seed),
    )


@lru_cache(maxsize=64)
def chance_apart(joint: Joint, errors: Errors, trials: int = TRIALS, seed: int = SEED) -> float:
    """Return the chance that mates cut separately fail, as `predict` does; most ask for nothing else of them.

    Cut apart they drift: the boards are ripped by the joint they make.
    """
    return simulate(replace(joint, width=None), "separately", errors, trials, seed).chance_fails


class TopEdge(Record):
    """The room at the top edge: as meant (infinite where nothing is said of it), at worst, the chance of none."""

    room: float
    worst: float
    chance_fails: float


def top_edge(joint: Joint, errors: Errors) -> TopEdge:
    """Return the room that boards of one stack have at the top edge.

    Above the last socket that was cut, both boards are whole. After P positions the long's wood begins there at
    P (gap + socket); the short's top, its spacer lower by as much as the play allows (spacer - socket), must stay under
    it: **room = P (gap + socket) + socket - spacer - width**. Gap, socket, spacer and width are independent, so the
    room is as normal as they are: P, P + 1, -1 and -1 of them.
    """
    if joint.width is None:
        return TopEdge(math.inf, math.inf, 0.0)
    count = joint.positions
    room = count * (joint.gap + joint.socket) + joint.socket - joint.spacer - joint.width
    limits = {"gap": errors.gap, "socket": errors.socket, "spacer": errors.spacer, "rip": errors.rip}
    off = fit.spread(limits, {"gap": count, "socket": count + 1, "spacer": -1.0, "rip": -1.0})
    return TopEdge(room, room - off.worst, chance_below(0.0, room, off.rss))


def simulate(
    joint: Joint, method: Method, errors: Errors | None = None, trials: int = TRIALS, seed: int = SEED
) -> Simulated:
    """Cut and mate `joint` `trials` times with random seatings and measuring errors; same seed, same numbers.

    With D the drift between the mates after each step and e' the short's next seating (see
    `fit.separate_worst`): flush_low = spacer - socket + max D over the top cheeks, flush_high = spacer -
    gap + min(D + e') over the bottom cheeks. In one stack both boards share each seating, so D stays 0. Wood that is
    left on both boards above the last position is one more bottom cheek (see `top_edge`).
    Time and draws grow as trials times sockets, memory as trials alone. Raises ValueError for less than one
    trial.
    """
    import numpy as np  # noqa: PLC0415 - slow to load, and only the simulation needs it

    errors = errors or Errors()
    _require(joint, trials)
    random = np.random.default_rng(seed)
    gap = random.normal(joint.gap, errors.gap / 2, trials)
    socket = random.normal(joint.socket, errors.socket / 2, trials)
    spacer = random.normal(joint.spacer, errors.spacer / 2, trials)
    drift, highest, seated = np.zeros(trials), np.zeros(trials), np.zeros(trials)
    lowest = np.full(trials, np.inf)
    bottom_cheeks = joint.long_sockets if joint.odd else joint.long_sockets - 1
    short = np.empty(trials)
    long = short if method == "one stack" else np.empty(trials)
    for step in range(joint.long_sockets):  # all in the same room: new room for each step takes longer than the sums
        np.maximum(highest, drift, out=highest)
        random.random(out=short)
        short *= joint.slack
        if long is not short:
            random.random(out=long)
            long *= joint.slack
        drift += short
        if step < bottom_cheeks:
            np.minimum(lowest, drift, out=lowest)
        drift -= long
        if step < joint.positions - 1:
            seated += long
    low, high = spacer - socket + highest, spacer - gap + lowest
    if joint.width is not None:
        width = random.normal(joint.width, errors.rip / 2, trials)
        top = joint.positions * (gap + socket) - seated
        high = np.where(top < width, np.minimum(high, top - width), high)
    return Simulated(high - low, low, high)


def _add(measured: Spread, seating_worst: float, seating_sd: float) -> Spread:
    """Add the seating to a spread of measuring errors, as a source of its own."""
    rss = math.hypot(measured.rss, 2 * seating_sd)
    parts = {name: share * measured.rss**2 for name, share in measured.shares}
    parts["seating"] = (2 * seating_sd) ** 2
    shares = {name: part / rss**2 if rss else 0.0 for name, part in parts.items()}
    ranked = sorted(shares.items(), key=lambda entry: -entry[1])
    return Spread(measured.worst + seating_worst, rss, tuple(ranked))


def _require(joint: Joint, trials: int) -> None:
    positive(gap=joint.gap, socket=joint.socket)
    finite(spacer=joint.spacer)
    fit.drift_sd(joint.slack, joint.long_sockets)  # refuses a slack below 0 and a joint without sockets
    if joint.long_sockets < 2 and not joint.odd:
        raise ValueError("long_sockets 1: an even joint needs at least 2, or no cheek bounds the play")
    at_least(1, trials=trials)
