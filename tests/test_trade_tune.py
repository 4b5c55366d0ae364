"""Tuning against worked values, fed back into the model of the cut, and an independent error library."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from jigs.record import replace
from jigs.trade.cut import Blank, Mating, Setup, cut, mate, ripped
from jigs.trade.tune import Contradiction, Mount, Pivot, Readings, Wanted, remedies, slack_needed, tune, widths_expected
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)
CUT_AGAIN = Check(
    "Fit of a joint, tuning",
    "joints cut one by one, and again with what tuning told; every extreme seating tried",
    "independent derivation",
)
UNCERTAINTIES = Check("Fit of a joint, tuning", "packages uncertainties, scipy and shapely", "reference library")

TJ1 = Readings(finger=9.97, socket=10.02, flush_high=0.18, flush_low=0.13, proud=0.8)
TJ2_IN = Readings(finger=0.492, socket=0.502, flush_high=-0.003, flush_low=-0.013, proud=0.005, error=0.001)


@BY_HAND.of(tune)
@pytest.mark.parametrize(
    ("readings", "wanted", "changes"),
    [
        pytest.param(TJ1, Wanted(0.1, 0.3), (-0.05, -0.18, -0.5), id="TJ1"),
        pytest.param(TJ2_IN, Wanted(0.004, 0.015), (0.006, 0.011, 0.010), id="TJ2_in"),
    ],
)
def test_worked_changes(readings: Readings, wanted: Wanted, changes: tuple[float, float, float]) -> None:
    found = tune(readings, wanted)
    agree((found.gap_change, found.spacer_change, found.height_change), changes, 1e-9, unit="")
    assert found.refused == ()
    assert found.contradictions == ()
    agree((found.clearance_expected, found.flush_expected), (wanted.clearance, 0), 1e-9, unit="")


@CUT_AGAIN.of(tune)
@given(over=st.floats(-0.3, 0.3))
def test_too_tight_by_x_brings_the_key_nearer_by_x(over: float) -> None:
    found = tune(Readings(finger=9.9, socket=10 + over), Wanted(clearance=0.1))
    agree((found.gap_change, found.spacer_change), (over, over / 2), unit="mm")
    assert (found.height_change, found.flush, found.flush_expected) == (None, None, None)


# --- fed back into the model of the cut ---


def joint(setup: Setup, spacer: float, seats: list[float]) -> tuple[float, float, Mating]:
    """Cut 11 parts in one stack; return the widest finger between sockets, a socket and the mating."""
    seatings = [seat for seat in seats for _ in setup.shims]
    long, short = cut(setup, [Blank(200, 12), Blank(200, 12, spacer)], seatings, 6)
    top = min(long.sockets[5].start, short.sockets[5].end)  # ripped after jointing
    widest = max(span.width for span in long.fingers[1:6])
    return widest, long.sockets[1].width, mate(ripped(long, top), ripped(short, top))


@st.composite
def test_joints(draw: st.DrawFn) -> tuple[Setup, float, list[float]]:
    """A joint with every error within limits: loose by -0.2 to 0.4, spacer 0.5 off, seated up to 0.1 short.

    The edge is seated as loosely as any socket: a thin spacer then leaves no sliver that counts as a finger.
    """
    gap = draw(st.floats(4, 15))
    shift = draw(st.sampled_from([0.0, 1.5]))
    cutter = gap + draw(st.floats(-0.2, 0.4)) - shift
    setup = Setup(gap + shift, cutter, cutter - 0.1, (shift, 0.0) if shift else (0.0,))
    seats = draw(st.lists(st.floats(0, 0.1), min_size=5, max_size=5))
    return setup, gap + draw(st.floats(-0.5, 0.5)), [max(seats), *seats]


test_joints.__test__ = False  # type: ignore[attr-defined]  # a strategy, not a test


@CUT_AGAIN.of(tune)
@given(case=test_joints(), wanted=st.floats(0.02, 0.2))
def test_exact_readings_lead_to_the_fit_wanted(case: tuple[Setup, float, list[float]], wanted: float) -> None:
    setup, spacer, seats = case
    finger, socket, now = joint(setup, spacer, seats)
    found = tune(
        Readings(finger, socket, flush_high=now.flush_high, flush_low=now.flush_low, error=0.0),
        Wanted(clearance=wanted),
    )
    after = replace(setup, gap=setup.gap + found.gap_change)
    *_, then = joint(after, spacer + found.spacer_change, seats)
    agree(then.clearance, wanted, 1e-9, unit="mm")
    agree(then.flush, 0, 1e-9, unit="mm")
    assert found.contradictions == () or now.clearance < 0  # a tight joint has no flush to push to


@CUT_AGAIN.of(tune)
@given(case=test_joints(), wanted=st.floats(0.02, 0.2), by_clearance=st.booleans())
def test_rounded_readings_lead_inside_the_stated_uncertainty(
    case: tuple[Setup, float, list[float]], wanted: float, by_clearance: bool
) -> None:
    setup, spacer, seats = case
    finger, socket, now = joint(setup, spacer, seats)

    def rounded(length: float) -> float:
        return round(length / 0.02) * 0.02

    readings = Readings(
        finger=None if by_clearance else rounded(finger),
        socket=None if by_clearance else rounded(socket),
        clearance=rounded(max(0.0, now.clearance)) if by_clearance else None,
        flush_high=rounded(now.flush_high),
        flush_low=rounded(now.flush_low),
        error=0.01,
    )
    found = tune(readings, Wanted(clearance=wanted))
    if found.tight:
        assert now.clearance <= 0.02 + 1e-9
        return
    assert found.flush is not None
    assert found.flush_expected is not None
    gap = 0.0 if "gap" in found.refused else found.gap_change
    thicker = 0.0 if "spacer" in found.refused else found.spacer_step.value
    *_, then = joint(replace(setup, gap=setup.gap + gap), spacer + thicker, seats)
    assert abs(then.clearance - found.clearance_expected) <= found.clearance.error.worst + 1e-9
    assert abs(then.flush - found.flush_expected) <= found.flush.error.worst + 1e-9
    assert abs(found.clearance_expected - wanted) <= found.gap.error.worst + 1e-9


# --- what the readings are worth ---


@UNCERTAINTIES.of(tune)
def test_errors_agree_with_linear_error_propagation() -> None:
    # outside check: the package `uncertainties`, each reading with the standard deviation 0.02
    finger, socket, high, low = (ufloat(value, 0.02) for value in (9.97, 10.02, 0.18, 0.13))
    gap = socket - finger - 0.1
    found = tune(TJ1)
    agree(found.gap.error.rss, gap.std_dev, unit="mm")
    agree(found.spacer.error.rss, (gap / 2 - (high + low) / 2).std_dev, unit="mm")
    agree(found.gap.error.worst, 0.04, unit="mm")
    agree(found.spacer.error.worst, 0.04, unit="mm")
    # read by flush alone, gap and flush hang together: the spacer is told by one reading
    alone = tune(replace(TJ1, finger=None, socket=None))
    gap = high - low - 0.1
    agree(alone.gap.error.rss, gap.std_dev, unit="mm")
    agree(alone.spacer.error.rss, (gap / 2 - (high + low) / 2).std_dev, unit="mm")
    agree(dict(alone.spacer.error.shares), {"flush_low": 1, "flush_high": 0}, unit="of it")


@BY_HAND.of(tune)
def test_what_lies_inside_the_measuring_error_is_refused_but_stated() -> None:
    found = tune(replace(TJ1, socket=10.05, proud=0.31))
    assert found.refused == ("gap", "height")
    agree((found.gap_change, found.height_change), (-0.02, -0.01), unit="mm")
    agree(found.spacer_change, -0.165, unit="mm")
    # the gap stays, so the spacer only takes out the flush there is
    agree(found.spacer_step.value, -0.155, unit="mm")
    agree((found.clearance_expected, found.flush_expected), (0.08, 0), 1e-9, unit="mm")


def test_a_change_of_just_the_error_is_refused() -> None:
    assert "gap" in tune(Readings(finger=9.90, socket=10.04), Wanted(0.10)).refused
    assert "gap" not in tune(Readings(finger=9.90, socket=10.05), Wanted(0.10)).refused


@BY_HAND.of(tune)
@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param(
            Readings(finger=9.9, socket=10.0, clearance=0.3),
            Contradiction(("socket - finger", "clearance"), 0.1, 0.3, 0.06),
            id="clearance is not socket less finger: out of square, or widths misread",
        ),
        pytest.param(
            Readings(finger=9.9, socket=10.0, flush_high=0.1, flush_low=-0.1),
            Contradiction(("socket - finger", "flush_high - flush_low"), 0.1, 0.2, 0.08),
            id="flush range is not socket less finger",
        ),
        pytest.param(
            Readings(clearance=0.1, flush_high=0.1, flush_low=-0.1),
            Contradiction(("clearance", "flush_high - flush_low"), 0.1, 0.2, 0.06),
            id="flush range is not the play",
        ),
        pytest.param(
            Readings(finger=9.9, socket=9.95, flush_high=-0.1, flush_low=0.0),
            Contradiction(("flush_high", "flush_low"), -0.1, 0.0, 0.04),
            id="pushed up it stands lower",
        ),
    ],
)
def test_contradictions(readings: Readings, expected: Contradiction) -> None:
    (found,) = tune(readings).contradictions
    assert found.readings == expected.readings
    agree((found.first, found.second, found.allowed), (expected.first, expected.second, expected.allowed), unit="mm")


def test_readings_within_their_errors_do_not_contradict() -> None:
    assert tune(Readings(9.9, 10.0, 0.14, 0.06, -0.04)).contradictions == ()
    # a tight joint cannot show play: 0 is what it should read
    assert tune(Readings(finger=10.1, socket=10.0, clearance=0.0)).contradictions == ()


def test_no_play_only_says_that_it_is_tight() -> None:
    assert tune(Readings(clearance=0.01)).tight
    assert not tune(Readings(clearance=0.03)).tight
    assert not tune(Readings(finger=10, socket=10, clearance=0.0)).tight


# --- what to do ---


def done(
    readings: Readings, mount: Mount, pivot: Pivot | None = None, wanted: Wanted | None = None
) -> list[tuple[str, str, str, float]]:
    steps = remedies(tune(readings, wanted), readings, mount, wanted=wanted, pivot=pivot)
    return [(step.part, step.action, step.face, round(step.amount, 6)) for step in steps]


TIGHT = Readings(finger=10.0, socket=10.05)  # by 0.05
LOOSE = Readings(finger=9.8, socket=9.95)  # by 0.05
THICKER, THINNER = [("spacer", "shim", "", 0.025)], [("spacer", "plane", "", 0.025)]  # follow the gap by half


@BY_HAND.of(remedies)
@pytest.mark.parametrize(
    ("readings", "mount", "expected"),
    [
        pytest.param(TIGHT, "clamped plate", [("plate", "move", "toward", 0.05), *THINNER], id="tight, plate moves"),
        pytest.param(LOOSE, "clamped plate", [("plate", "move", "away", 0.05), *THICKER], id="loose, plate moves"),
        pytest.param(
            replace(TIGHT, slack=0.1),
            "screwed plate",
            [("key", "shim", "near", 0.05), *THINNER],
            id="tight, plate fixed",
        ),
        pytest.param(
            replace(LOOSE, slack=0.1),
            "screwed plate",
            [("key", "plane", "near", 0.05), ("key", "shim", "far", 0.05), *THICKER],
            id="loose, plate fixed: the slack grows and is shimmed back",
        ),
        pytest.param(
            replace(TIGHT, slack=0.08),
            "screwed plate",
            [("key", "shim", "near", 0.05), *THINNER],
            id="slack just enough",
        ),
        pytest.param(
            replace(TIGHT, slack=0.07),
            "screwed plate",
            [("key", "plane", "far", 0.08), ("key", "shim", "near", 0.05), *THINNER],
            id="too little slack for the shim: far face first",
        ),
        pytest.param(
            Readings(finger=9.9, socket=10, slack=0.01),
            "clamped plate",
            [("key", "plane", "far", 0.09)],
            id="binding key",
        ),
        pytest.param(
            Readings(finger=9.9, socket=10, slack=0.5),
            "clamped plate",
            [("key", "shim", "far", 0.4)],
            id="rocking key",
        ),
        pytest.param(
            TJ1,
            "clamped plate",
            [("plate", "move", "toward", 0.05), ("spacer", "plane", "", 0.18), ("cutter", "lower", "", 0.5)],
            id="TJ1",
        ),
        pytest.param(
            Readings(finger=9.9, socket=10, flush_high=-0.1, flush_low=-0.2, proud=0.1),
            "clamped plate",
            [("spacer", "shim", "", 0.15), ("cutter", "raise", "", 0.2)],
            id="short proud, fingers low",
        ),
    ],
)
def test_remedies(readings: Readings, mount: Mount, expected: list[tuple[str, str, str, float]]) -> None:
    assert done(readings, mount) == expected


@BY_HAND.of(remedies)
@pytest.mark.parametrize(
    ("readings", "wanted", "pivot", "nudge"),
    [
        pytest.param(LOOSE, Wanted(), Pivot(400, 600), 0.075, id="0.05 at 600 over 400"),
        pytest.param(TJ2_IN, Wanted(0.004, 0.015), Pivot(16, 24), 0.009, id="0.006 at 24 over 16"),
    ],
)
def test_worked_nudges(readings: Readings, wanted: Wanted, pivot: Pivot, nudge: float) -> None:
    assert done(readings, "pivot", pivot, wanted)[0] == ("plate", "nudge", "away", nudge)


@BY_HAND.of(slack_needed)
def test_a_shim_needs_its_own_slack_and_a_little_more() -> None:
    agree(slack_needed(0.05), 0.08, unit="mm")


@CUT_AGAIN.of(remedies)
@given(case=test_joints(), mount=st.sampled_from(["clamped plate", "screwed plate"]), slack=st.floats(0.0, 0.5))
def test_remedies_leave_a_key_that_slides_and_does_not_rock(
    case: tuple[Setup, float, list[float]], mount: Mount, slack: float
) -> None:
    finger, socket, _ = joint(*case)
    readings = Readings(finger=finger, socket=socket, slack=slack)
    for step in remedies(tune(readings), readings, mount):
        if step.part == "key":
            slack += step.amount if step.action == "plane" else -step.amount
            assert slack >= 0.03 - 1e-6
    assert slack <= 0.12 + 1e-6


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: tune(Readings()), "finger and socket, clearance, or flush_high and flush_low"),
        (lambda: tune(Readings(finger=9.9)), "one of these must be read"),
        (lambda: tune(Readings(clearance=0.1, flush_high=0.1)), "flush_high, flush_low: give both"),
        (lambda: tune(Readings(clearance=-0.1)), "clearance is -0.1; it must be at least 0"),
        (lambda: tune(Readings(clearance=0.1, error=-0.1)), "error is -0.1; it must be at least 0"),
        (lambda: tune(Readings(finger=0, socket=10)), "finger is 0"),
        (lambda: tune(Readings(clearance=float("nan"))), "clearance is nan"),
        (lambda: remedies(tune(LOOSE), LOOSE, "pivot"), "pivot: needed"),
        (lambda: remedies(tune(LOOSE), LOOSE, "pivot", pivot=Pivot(0, 600)), "to_key is 0"),
        (lambda: slack_needed(-0.1), "shim is -0.1"),
    ],
)
def test_impossible_readings_are_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


def test_two_flush_readings_tell_both_play_and_flush() -> None:
    found = tune(Readings(flush_high=0.18, flush_low=0.13))
    assert found.flush is not None
    assert (found.clearance.value, found.flush.value) == pytest.approx((0.05, 0.155))


def test_a_play_of_just_the_error_may_be_none() -> None:
    assert tune(Readings(clearance=0.02, error=0.02)).tight


def test_a_slack_that_is_right_within_the_error_stays() -> None:
    # eighths are exact in floats: an eighth too much, and readings good to an eighth
    readings = Readings(finger=9.9, socket=10, slack=0.25, error=0.125)
    assert done(readings, "clamped plate", wanted=Wanted(slack=0.125)) == []


def test_a_plate_that_moves_has_no_use_for_a_pivot() -> None:
    assert done(LOOSE, "clamped plate", Pivot(400, 600))[0] == ("plate", "move", "away", 0.05)


@pytest.mark.parametrize(
    ("readings", "message"),
    [
        (Readings(clearance=-0.1, error=0.0), "clearance is -0.1; it must be at least 0"),
        (Readings(clearance=0.1, flush_low=0.1), "flush_high, flush_low: give both"),
    ],
)
def test_readings_that_say_nothing_are_named(readings: Readings, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        tune(readings)


def test_a_nudge_needs_a_place() -> None:
    with pytest.raises(ValueError, match="to_nudge is 0; it must be more than 0"):
        remedies(tune(LOOSE), LOOSE, "pivot", pivot=Pivot(400, 0))


@CUT_AGAIN.of(widths_expected)
@given(case=test_joints(), wanted=st.floats(0.02, 0.2))
def test_the_widths_expected_are_those_that_are_cut(case: tuple[Setup, float, list[float]], wanted: float) -> None:
    setup, spacer, seats = case
    finger, socket, _ = joint(setup, spacer, seats)
    for readings in (
        Readings(finger, socket),
        Readings(finger, clearance=socket - finger) if socket > finger else None,
    ):
        if readings is None or (readings.clearance is not None and readings.clearance <= readings.error):
            continue  # too tight to show any
        found = tune(readings, Wanted(clearance=wanted))
        expected = widths_expected(found, readings)
        assert expected is not None
        after, same, _ = joint(replace(setup, gap=setup.gap + found.gap.made), spacer, seats)
        agree((expected.finger, expected.socket), (after, same), 1e-9, unit="mm")


@BY_HAND.of(widths_expected)
def test_widths_are_known_where_one_of_them_was_read() -> None:
    def widths(readings: Readings) -> tuple[float, ...] | None:
        found = widths_expected(tune(readings), readings)
        return None if found is None else (found.finger, found.socket, found.error)

    # the key goes 0.05 nearer, to the clearance of 0.10
    agree(widths(Readings(9.97, 10.02)), (9.92, 10.02, 0.02), unit="mm")
    # a finger read to 0.02, and a play read to 0.02, are a socket to 0.04
    agree(widths(Readings(finger=9.97, clearance=0.05)), (9.92, 10.02, 0.04), unit="mm")
    agree(widths(Readings(socket=10.02, clearance=0.05)), (9.92, 10.02, 0.02), unit="mm")
    # left alone, the finger stays
    agree(widths(Readings(9.97, 10.05)), (9.97, 10.05, 0.02), unit="mm")
    assert widths(Readings(clearance=0.1)) is None
    assert widths(Readings(finger=9.97, clearance=0.0)) is None
