"""The card that sets the sled on its machine: cutter, gap and key, the checks, and the test joint that ends it."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Beside, Card, Caution, Check, Checks, Hold, Pictures, Readings, Setting, Settings
from jigs.base.wording import Words, say
from jigs.parts.joint import blocks, trial_joint, views
from jigs.parts.joint.carriage import square_over
from jigs.parts.joint.made import Sled
from jigs.trade.sled import CUTTER_WITHIN, GAP_WITHIN, HEIGHT_WITHIN, SPACER_WITHIN

ROUTER = (
    Caution("Cutter", "Unplug to set, measure or clear. Wait until it stands still."),
    Caution("Exit", "The cutter comes out behind the upright: hold the upright’s ends."),
    Caution("Throw", "Feed away from you only. Stop the cutter, then draw back."),
    Caution("Collet", "Push the shank home, draw it back slightly, tighten."),
)
SAW = (
    Caution("Blade", "Unplug to set, measure or clear. Wait until it stands still."),
    Caution("Exit", "The blade comes out behind the upright: hold the upright’s ends."),
    Caution("Throw", "Feed away from you only. Stop the blade, then draw back."),
    Caution("Guard", "Guard and riving knife off? Fit another guard before power."),
)


def card(sled: Sled) -> Card:
    """Return the card."""
    saw = sled.machine == "table saw"
    plan = views.from_above(sled, 1, "From above, before the first cut")
    bands = (
        Pictures((plan, views.at_the_cutter(sled)), least=62.0, most=98.0, shares=(0.58, 0.42)),
        Beside(Settings(tuple(_settings(sled))), Checks(tuple(_checks(sled))), 0.7),
        Hold(_set(sled), "fingers set"),
        Beside(
            Pictures((trial_joint.picture(sled.meant, sled.key_height),), least=44.0, most=46.0),
            Readings(trial_joint.readings(sled.meant, sled.proud)),
            0.44,
        ),
        Hold(_tried(sled), "fingers tried"),
    )
    about = "plate, carriage and blocks of [card:make-sled]"
    place = "Table saw" if saw else "Router table"
    return Card("set-sled", "Set the sled", place, SAW if saw else ROUTER, bands, about, "sled")


def _settings(sled: Sled) -> Iterator[Setting]:
    n = sled.numbers
    yield Setting("cutter", f"{sled.tool.capitalize()}, as it cuts", sled.cutter, CUTTER_WITHIN, "read again at B")
    for turn, run in blocks.runs(sled)[:1]:
        name = "Height over table" if len(n.runs) == 1 else "Over table, run 1"
        high = say("{high:gauge}", high=sled.plate + run.depth)
        yield Setting(f"height-{turn}", name, high, HEIGHT_WITHIN, _block(sled, f"height-{turn}"))
    yield Setting("gap", f"Gap, key to {sled.tool}", n.gap, GAP_WITHIN, f"{_block(sled, 'gap')}, slide")
    high = say("{high:cut}", high=sled.key_height)
    most = say("at most {most:gauge}", most=n.key_height_limit)
    yield Setting("key-height", "Key above plate", high, 0.0, most)
    if not sled.apart or n.short_spacer:
        yield Setting("spacer", "Spacer, for ends", n.short_spacer, SPACER_WITHIN, "callipers")
    if n.board_starter:
        yield Setting("starter", "Starter, for front", n.board_starter, SPACER_WITHIN, "callipers")
    yield Setting(
        "travel", "Travel to stop", sled.stroke, 1.0, "rule, from front" if not sled.apart else "rule, from board"
    )


def _block(sled: Sled, setting: str) -> str:
    return f"block {blocks.letter_of(sled, setting)}"


def _checks(sled: Sled) -> Iterator[Check]:
    n, over = sled.numbers, square_over(sled.units)
    yield Check(f"across key and {sled.tool}", n.over_all - GAP_WITHIN, n.over_all + GAP_WITHIN, 0.01)
    deep = n.runs[0].depth
    yield Check(f"{sled.tool} above plate", deep - HEIGHT_WITHIN, deep + HEIGHT_WITHIN, 0.01)
    square = say("upright square, in {over:cut}", over=over)
    off = n.square_in_100 * over / 100
    if n.clearance > 0:
        yield Check(square, 0.0, _down(off), 0.01)
    else:
        yield Check(square, "no clearance to spend: 0")


def _down(mm: float) -> float:
    """Return a limit rounded towards safety, to what is read."""
    return int(mm * 100) / 100 if mm >= 0.01 else mm


def _set(sled: Sled) -> Words:
    return f"Checks pass, guard on, plate clamped. Unplugged, the {sled.tool} turns free."


def _tried(sled: Sled) -> Words:
    least, most = trial_joint.good_clearance(sled.meant.mating.clearance)
    said = "A to F within “go”; B less A {least:gauge} to {most:gauge}. {then}"
    return say(said, least=least, most=most, then=_then(sled))


def _then(sled: Sled) -> str:
    return "Then cut the boards." if sled.kept else "Only then rip."
