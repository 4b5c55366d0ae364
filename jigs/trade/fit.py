"""How a finger joint closes: clearance, flush, and what errors of the shop do to both.

Flush v is how far the short end sits towards the top of the long side: v > 0, the short's bottom edge is
recessed; v < 0, it sticks out. Clearance is the total play between the cheeks; below 0 the joint does not
close. Formulas hold in any one unit.
"""

import math

from jigs.record import Record
from jigs.trade.limits import at_least, finite, not_negative, positive, under, within


class Fit(Record):
    """The play of a joint: it closes for every flush v from `flush_low` to `flush_high`, clearance apart.

    Where the clearance is below 0, low is above high: no v closes it.
    """

    clearance: float
    flush_low: float
    flush_high: float

    @property
    def flush_middle(self) -> float:
        """The flush with the play shared evenly between both cheeks."""
        return (self.flush_low + self.flush_high) / 2


class Spread(Record):
    """What limits of error add up to: all at their worst at once, and root sum of squares (independent).

    `shares` gives each source's part of the variance, largest first; they sum to 1 (all 0 without error).
    """

    worst: float
    rss: float
    shares: tuple[tuple[str, float], ...]


class Budget(Record):
    """The tolerance budget of mates cut in one stack: spread of the clearance and of the flush."""

    clearance: Spread
    flush: Spread


def one_stack(gap: float, socket: float, spacer: float) -> Fit:
    """Return the fit of mates cut in one stack, or of any mates whose steps are exact.

    Long sockets begin at x = gap + i * pitch, short ones at y = x - spacer. With the short shifted by v the
    cheek gaps are y + v + socket - x = socket - spacer + v on the top side of each long finger, and
    spacer - gap - v on its bottom side. Both are 0 or more for v in [spacer - socket, spacer - gap]. In one
    stack errors of the steps cancel, and the joint can only come out looser than this, never tighter.
    """
    positive(gap=gap, socket=socket)
    finite(spacer=spacer)
    return Fit(socket - gap, spacer - socket, spacer - gap)


def centred_spacer(gap: float, socket: float) -> float:
    """Return the spacer that lets the joint close flush with the play shared evenly: (gap + socket)/2."""
    positive(gap=gap, socket=socket)
    return (gap + socket) / 2


def separate_worst(clearance: float, slack: float, long_sockets: int, odd: bool) -> float:
    """Return the least clearance of mates cut apart, with every seating anywhere within the key's `slack`.

    Step i of the long falls short of the full pitch by e_i, of the short by e'_i, both in [0, slack]. With
    D_i = sum(e'_j - e_j) for j <= i, the gaps add up to clearance - max D_i + min(D_j + e'_(j+1)). A top
    cheek exists for i = 0 ... m-1, a bottom cheek for j = 0 ... m-1 when the count of both is odd (the
    short then has m + 1 sockets) and j = 0 ... m-2 when it is even. Longs pushed one way and shorts the
    other way gives the worst: **clearance - (m - 1) slack for odd counts, clearance - (m - 2) slack for
    even ones** (m >= 2; with one of each there is one cheek and nothing adds up). Raises ValueError for a
    slack below 0 or m under 1.
    """
    finite(clearance=clearance)
    _require_slack(slack, long_sockets)
    return clearance - max(0, long_sockets - (1 if odd else 2)) * slack


def drift_sd(slack: float, long_sockets: int) -> float:
    """Return the standard deviation of the drift between mates cut apart after `long_sockets` steps.

    Each board's step error is uniform on [0, slack], variance slack**2/12; the drift D_m is the difference of
    two sums of m of them: slack * sqrt(m / 6).
    """
    _require_slack(slack, long_sockets)
    return slack * math.sqrt(long_sockets / 6)


def angular_loss(thickness_long: float, thickness_short: float, degrees: float) -> float:
    """Return the clearance lost when the carriage face is out of square to the key by `degrees`.

    The cheeks slant; each mate's cheek runs over its partner's thickness, so the worst is
    (thickness_long + thickness_short) * tan(degrees).
    """
    positive(thickness_long=thickness_long, thickness_short=thickness_short)
    return (thickness_long + thickness_short) * _tangent(degrees)


def floor_lean(thickness: float, degrees: float) -> float:
    """Return how far a socket floor runs out over the thickness of a board leaning by `degrees`: T tan."""
    positive(thickness=thickness)
    return thickness * _tangent(degrees)


def steepest_angle(clearance: float, thickness_long: float, thickness_short: float, share: float) -> float:
    """Return the angle in degrees whose `angular_loss` eats `share` of the clearance.

    0 for a clearance of 0 or less: there is nothing to spend. Raises ValueError for a share outside 0 to 1.
    """
    positive(thickness_long=thickness_long, thickness_short=thickness_short)
    finite(clearance=clearance)
    within(0, 1, share=share)
    if clearance <= 0:
        return 0.0
    return math.degrees(math.atan(share * clearance / (thickness_long + thickness_short)))


def spread(limits: dict[str, float], effects: dict[str, float]) -> Spread:
    """Add up limits of error: |effect| * limit of each source, straight and as root sum of squares.

    `effects` is how far the result moves for one unit of each source. Raises ValueError for a limit below 0.
    """
    not_negative(**limits)
    moves = {name: abs(effects[name]) * limit for name, limit in limits.items()}
    rss = math.hypot(*moves.values())
    shares = {name: (move / rss) ** 2 if rss else 0.0 for name, move in moves.items()}
    ranked = sorted(shares.items(), key=lambda entry: -entry[1])
    return Spread(sum(moves.values()), rss, tuple(ranked))


def tolerance_budget(gap_error: float, socket_error: float, spacer_error: float) -> Budget:
    """Return the budget of mates cut in one stack from the limits of error of gap, socket and spacer.

    clearance = socket - gap, flush = spacer - (gap + socket)/2: the coefficients are -1, 1 and 1, -1/2, -1/2.
    """
    limits = {"gap": gap_error, "socket": socket_error, "spacer": spacer_error}
    clearance = spread(limits, {"gap": -1.0, "socket": 1.0, "spacer": 0.0})
    flush = spread(limits, {"gap": -0.5, "socket": -0.5, "spacer": 1.0})
    return Budget(clearance, flush)


def _tangent(degrees: float) -> float:
    not_negative(degrees=degrees)
    under(90, degrees=degrees)
    return math.tan(math.radians(degrees))


def _require_slack(slack: float, long_sockets: int) -> None:
    not_negative(slack=slack)
    at_least(1, long_sockets=long_sockets)
