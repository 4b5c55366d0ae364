"""From a measured test joint to what to move, shim or plane, and how far it can be trusted.

Signs: gap_change + moves the key away from the cutter, spacer_change + makes the spacer thicker,
height_change + raises the cutter. Flush + is the short's end recessed at the bottom. Defaults are mm.
"""

from typing import Literal

from jigs.record import Record, values
from jigs.trade.fingers import TOUCH
from jigs.trade.fit import Spread, spread
from jigs.trade.limits import finite, not_negative, positive

Setting = Literal["gap", "spacer", "height"]
Mount = Literal["clamped plate", "screwed plate", "pivot"]

LEAST_SLACK = 0.03
"""mm: with less slack than this the socket does not slide over the key."""


class Readings(Record):
    """What was measured on the test joint; None is "not read". Each reading is within `error` of the truth.

    `finger` and `socket`: their widths (the widest finger decides, if they differ). `clearance`: how far the
    closed joint slides. `flush_high`, `flush_low`: the short pushed up and pushed down. `proud`: how far
    fingers stand out. `slack`: cutter less key (with one pass, how far a socket rocks on the key).
    """

    finger: float | None = None
    socket: float | None = None
    clearance: float | None = None
    flush_high: float | None = None
    flush_low: float | None = None
    proud: float | None = None
    slack: float | None = None
    error: float = 0.02


class Wanted(Record):
    """What the joint should be: clearance, fingers proud, slack on the key. Flush is wanted at 0."""

    clearance: float = 0.10
    proud: float = 0.30
    slack: float = 0.10


class Contradiction(Record):
    """Two readings of one length that cannot both be right: they differ by more than is `allowed`."""

    readings: tuple[str, str]
    first: float
    second: float
    allowed: float


class Estimate(Record):
    """A length worked out from readings, and what they may be wrong by together."""

    value: float
    error: Spread

    @property
    def refused(self) -> bool:
        """Whether it cannot be told from nothing: no larger than all its errors at their worst."""
        return abs(self.value) <= self.error.worst + TOUCH

    @property
    def made(self) -> float:
        """What is really changed: nothing where the change is refused."""
        return 0.0 if self.refused else self.value


class Tuning(Record):
    """The changes, and the joint they start from. None where nothing was read to tell it from.

    `gap`, `spacer` and `height` are what the readings say, whether or not that can be told from a misreading;
    those that cannot are `refused` and should not be made. `spacer_step` is the change of the spacer to make
    for the gap as it will be: it differs from `spacer` only when the gap is refused. With `tight` the clearance
    read is none: the joint is tighter than the readings say by an unknown amount.
    """

    gap: Estimate
    spacer: Estimate
    height: Estimate | None
    spacer_step: Estimate
    clearance: Estimate
    flush: Estimate | None
    tight: bool
    contradictions: tuple[Contradiction, ...]

    @property
    def gap_change(self) -> float:
        """How far the key moves from the cutter."""
        return self.gap.value

    @property
    def spacer_change(self) -> float:
        """How much thicker the spacer becomes, once the gap is changed."""
        return self.spacer.value

    @property
    def height_change(self) -> float | None:
        """How far the cutter goes up."""
        return None if self.height is None else self.height.value

    @property
    def refused(self) -> tuple[Setting, ...]:
        """The changes that lie inside the measuring error."""
        steps: dict[Setting, Estimate | None] = {
            "gap": self.gap,
            "spacer": self.spacer_step,
            "height": self.height,
        }
        return tuple(name for name, step in steps.items() if step is not None and step.refused)

    @property
    def clearance_expected(self) -> float:
        """The clearance once the changes not refused are made, within the error of `clearance`."""
        return self.clearance.value - self.gap.made

    @property
    def flush_expected(self) -> float | None:
        """The flush once the changes not refused are made, within the error of `flush`."""
        if self.flush is None:
            return None
        return self.flush.value + self.spacer_step.made - self.gap.made / 2


class Remedy(Record):
    """One thing to do. `amount` is above 0.

    `face` says which face of the key ("near": towards the cutter, or "far"), or which way to move a plate
    ("away": key from cutter, or "toward"); "" for spacer and cutter.
    """

    part: Literal["key", "plate", "spacer", "cutter"]
    action: Literal["move", "nudge", "shim", "plane", "raise", "lower"]
    face: Literal["near", "far", "away", "toward", ""]
    amount: float


Combination = dict[str, float]  # how much of each reading goes into a result

WAYS_TO_READ_CLEARANCE: tuple[Combination, ...] = (  # best first: widths can be read when nothing moves
    {"socket": 1.0, "finger": -1.0},
    {"clearance": 1.0},
    {"flush_high": 1.0, "flush_low": -1.0},
)
FLUSH: Combination = {"flush_high": 0.5, "flush_low": 0.5}


def tune(readings: Readings, wanted: Wanted | None = None) -> Tuning:
    """Return the changes that bring a test joint to the fit wanted, in full, not by halves.

    finger = gap and the socket is the cutter's, so clearance = socket - finger is met by gap_change =
    clearance now - wanted. The flush now, v = spacer - (gap + socket)/2, moves to 0 with spacer_change = -v
    + gap_change/2 (with no flush read: gap_change/2, which keeps what flush there is). height_change =
    wanted - read proud. It is taken from the widths, else as it was read, else from the two flush
    readings.

    A change no larger than what its readings may add up to is refused. Raises ValueError when the clearance
    cannot be told from the readings, when only one of two flush readings is given, or for readings that are
    not finite lengths.
    """
    wanted = wanted or Wanted()
    values = _read(readings)
    way = _clearance_way(values)
    flush_way = FLUSH if FLUSH.keys() <= values.keys() else {}

    def estimate(way: Combination, constant: float = 0.0) -> Estimate:
        return Estimate(_total(way, values) + constant, _error(way, readings))

    clearance = estimate(way)
    gap = estimate(way, -wanted.clearance)
    spacer = estimate(_sum((way, 0.5), (flush_way, -1.0)), -wanted.clearance / 2)
    return Tuning(
        gap=gap,
        spacer=spacer,
        height=estimate({"proud": -1.0}, wanted.proud) if "proud" in values else None,
        spacer_step=estimate(_sum((flush_way, -1.0))) if gap.refused else spacer,
        clearance=clearance,
        flush=estimate(flush_way) if flush_way else None,
        tight="finger" not in way and clearance.value <= readings.error,
        contradictions=_contradictions(values, readings),
    )


class Pivot(Record):
    """A sled that turns about a point: from there to the line through key and cutter, and to the nudge."""

    to_key: float
    to_nudge: float


def remedies(
    tuning: Tuning,
    readings: Readings,
    mount: Mount,
    *,
    wanted: Wanted | None = None,
    pivot: Pivot | None = None,
) -> tuple[Remedy, ...]:
    """Return what to do, in order, for everything that `tuning` does not refuse.

    Key glued to a clamped plate: move the plate. A sled on a pivot: nudge = gap_change * to_nudge / to_key.
    Key glued to a screwed plate: a shim of x on its near face brings the gap down by x and takes x of slack,
    planing does the reverse. Whatever the slack then is, too little (under 0.03) is cured first by planing
    the far face to the slack wanted, too much by a shim there; neither changes the finger. Raises ValueError
    for a pivot missing or not above 0.
    """
    wanted = wanted or Wanted()
    steps = _gap_remedy(tuning, mount, pivot)
    if readings.slack is not None:
        slack = readings.slack + (tuning.gap.made if mount == "screwed plate" else 0.0)
        if slack < LEAST_SLACK - TOUCH:
            steps.insert(0, _remedy("key", "plane", "far", wanted.slack - slack))
        elif slack - wanted.slack > readings.error:
            steps.append(_remedy("key", "shim", "far", slack - wanted.slack))
    if thicker := tuning.spacer_step.made:
        steps.append(_remedy("spacer", "shim" if thicker > 0 else "plane", "", thicker))
    if tuning.height is not None and (up := tuning.height.made):
        steps.append(_remedy("cutter", "raise" if up > 0 else "lower", "", up))
    return tuple(steps)


def slack_needed(shim: float) -> float:
    """Return the slack (mm) the key must have before a `shim` goes on its near face: the shim + 0.03."""
    positive(shim=shim)
    return shim + LEAST_SLACK


class Widths(Record):
    """Finger and socket of the joint once the changes are made; `error` is how wrong the socket may be read."""

    finger: float
    socket: float
    error: float


def widths_expected(tuning: Tuning, readings: Readings) -> Widths | None:
    """Return how wide finger and socket will be once the changes that are not refused are made.

    No change of the sled alters what the cutter takes, so the socket stays as it was read, or is the finger that was
    read + the clearance; finger = socket - clearance expected. None where neither was read, or where the finger alone
    was and the joint is tighter than it shows: a clearance says how much they differ, and not what they are.
    """
    if readings.socket is not None:
        socket, error = readings.socket, readings.error
    elif readings.finger is not None and not tuning.tight:
        socket, error = readings.finger + tuning.clearance.value, readings.error + tuning.clearance.error.worst
    else:
        return None
    return Widths(socket - tuning.clearance_expected, socket, error)


def _gap_remedy(tuning: Tuning, mount: Mount, pivot: Pivot | None) -> list[Remedy]:
    change = tuning.gap.made
    direction: Literal["away", "toward"] = "away" if change > 0 else "toward"
    if mount == "pivot":
        if pivot is None:
            raise ValueError("pivot: needed for a sled that turns about one")
        positive(to_key=pivot.to_key, to_nudge=pivot.to_nudge)
    if not change:
        return []
    if mount == "screwed plate":
        return [_remedy("key", "plane" if change > 0 else "shim", "near", change)]
    if pivot is not None and mount == "pivot":
        return [_remedy("plate", "nudge", direction, change * pivot.to_nudge / pivot.to_key)]
    return [_remedy("plate", "move", direction, change)]


def _remedy(
    part: Literal["key", "plate", "spacer", "cutter"],
    action: Literal["move", "nudge", "shim", "plane", "raise", "lower"],
    face: Literal["near", "far", "away", "toward", ""],
    change: float,
) -> Remedy:
    return Remedy(part, action, face, abs(change))


def _read(readings: Readings) -> dict[str, float]:
    """Return the readings that were taken, by name, once they are known to be lengths."""
    given = {name: value for name, value in values(readings).items() if value is not None}
    error = given.pop("error")
    finite(**given)
    positive(**{name: given[name] for name in ("finger", "socket") if name in given})
    not_negative(error=error, clearance=given.get("clearance", 0.0))
    if ("flush_high" in given) != ("flush_low" in given):
        raise ValueError("flush_high, flush_low: give both; push the end board up for one and down for the other")
    return given


def _clearance_way(values: dict[str, float]) -> Combination:
    for way in WAYS_TO_READ_CLEARANCE:
        if way.keys() <= values.keys():
            return way
    raise ValueError("finger and socket, clearance, or flush_high and flush_low: one of these must be read")


def _total(way: Combination, values: dict[str, float]) -> float:
    return sum(part * values[name] for name, part in way.items())


def _sum(*terms: tuple[Combination, float]) -> Combination:
    """Add combinations, each times its factor."""
    total: Combination = {}
    for way, factor in terms:
        for name, part in way.items():
            total[name] = total.get(name, 0.0) + factor * part
    return total


def _error(way: Combination, readings: Readings) -> Spread:
    return spread(dict.fromkeys(way, readings.error), way)


def _contradictions(values: dict[str, float], readings: Readings) -> tuple[Contradiction, ...]:
    """Compare every two ways to the clearance. A joint shows none below 0: tight widths stand for 0."""
    found = []
    if "flush_high" in values:
        high, low, allowed = values["flush_high"], values["flush_low"], 2 * readings.error
        if low - high > allowed + TOUCH:
            found.append(Contradiction(("flush_high", "flush_low"), high, low, allowed))
    ways = [way for way in WAYS_TO_READ_CLEARANCE if way.keys() <= values.keys()]
    for place, way in enumerate(ways):
        for other in ways[place + 1 :]:
            first, second = max(0.0, _total(way, values)), max(0.0, _total(other, values))
            allowed = _error(way, readings).worst + _error(other, readings).worst
            if abs(first - second) > allowed + TOUCH:
                found.append(Contradiction((_named(way), _named(other)), first, second, allowed))
    return tuple(found)


def _named(way: Combination) -> str:
    return " - ".join(way)
