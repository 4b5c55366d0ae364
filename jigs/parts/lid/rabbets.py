"""The sheet of the rabbets that leave the plug of a lid: setting strips, passes and their order. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts import fence_pictures
from jigs.parts.lid.part import Lid
from jigs.trade import groove, lid
from jigs.trade.lid import RabbetSetting

_BAR = 11.0
"""Length of a setting strip, mm; its width is what counts."""


@dataclass(frozen=True, slots=True)
class RabbetBit:
    """The straight bit that cuts the rabbets, and what it takes in one pass, mm."""

    cutter: float
    deepest: float


def drawing(made: Lid, bit: RabbetBit) -> draw.Drawing:
    """Return the sheet."""
    purpose = "set-ups of bit and fence for the four rabbets that leave the plug, cut while the lid is still flat"
    settings = _settings(made, bit)
    pictures = fence_pictures.rabbets_from_above(one.air for edge in settings for one in edge)
    body: tuple[draw.Item, ...] = (
        _passes(made, bit, settings),
        *pictures,
        _strips(made),
        _rabbet_notes(made, bit, settings),
    )
    here = (cautions.GENERAL, cautions.JIG, cautions.RABBET, cautions.PAPER)
    return draw.Drawing("rabbets", "lid rabbets", purpose, body, here, jig="lid")


def _strips(made: Lid) -> draw.View:
    """Two strips as wide as the rabbets, to set the fence with."""
    parts, labels, dimensions = [], [], []
    for number, (name, wide) in enumerate(zip(("ends", "sides"), made.rabbets, strict=True)):
        low = -number * (_BAR + 3.0)
        side: draw.Side = "below" if number else "above"
        outline = draw.rectangle(0, low, wide, low + _BAR)
        parts.append(draw.Part(f"strip-{name}", f"Strip for the rabbets of the {name}", draw.lines([outline])))
        dimensions.append(draw.Dimension(draw.Point(0, low), draw.Point(wide, low), side, "strip"))
        labels.append(draw.Label(name, draw.Point(wide / 2, low + _BAR / 2), towards="right"))
    title = "Setting strips, planed to these widths"
    return draw.View("strips", title, tuple(parts), tuple(dimensions), tuple(labels), check=dimensions[0])


Settings = tuple[tuple[RabbetSetting, ...], tuple[RabbetSetting, ...]]
"""The settings for both ends, and those for both sides, in the order they are made."""


def _settings(made: Lid, bit: RabbetBit) -> Settings:
    return (
        lid.rabbet_settings(lid=made.length, plug_width=made.plug_length, cutter=bit.cutter),
        lid.rabbet_settings(lid=made.width, plug_width=made.plug.width, cutter=bit.cutter),
    )


def _passes(made: Lid, bit: RabbetBit, settings: Settings) -> draw.Table:
    """Return every setting in its order: where the fence stands, how high the bit, and what the plug measures then."""
    turns = {
        f"turn{number}": height
        for number, height in enumerate(groove.depth_passes(made.plug_depth, bit.deepest), start=1)
    }
    heights = ", then ".join(f"{{{turn}}}" for turn in turns)
    every = [(edges, one) for edges, of in zip(("both ends", "both sides"), settings, strict=True) for one in of]
    rows: list[tuple[draw.Cell, ...]] = [
        (str(number), edges, one.exposed, _from_the_fence(one.fence), one.plug)
        for number, (edges, one) in enumerate(every, start=1)
    ]
    title = say(f"Settings in their order for a bit of {{cutter}}, each {heights} high", cutter=bit.cutter, **turns)
    headings = ("No.", "Cut", "Bit stands out", "Its centre from the fence", "Plug then")
    return draw.Table("passes", title, headings, tuple(rows))


def _from_the_fence(off: float) -> Words:
    if abs(off) < 1e-6:
        return "at the fence's face"
    return say("{off} in front" if off > 0 else "{off} behind", off=abs(off))


def _rabbet_notes(made: Lid, bit: RabbetBit, settings: Settings) -> draw.Notes:
    said: tuple[Words, ...] = (
        "Inside face on the table, edge on the fence. Turn the bit until one edge points straight away from the fence; "
        "between the fence's face and a block held there goes a block as wide as the bit stands out. The strips are "
        "those of the last settings.",
        "One setting at every height named and on both edges, then the next. The rabbet grows from the edge inward: so "
        "the bit cuts only on its side away from the fence, against the feed.",
        *_free_of_the_fence(settings),
        *_measured(settings[1]),
        say("Try each setting in scrap first: the bit was measured as {cutter}.", cutter=bit.cutter),
    )
    numbered = (_joined(f"{number}. ", words) for number, words in enumerate(said, start=1))
    return draw.Notes("rabbet-notes", "How to set and cut", tuple(numbered))


def _joined(before: str, words: Words) -> Words:
    return before + words if isinstance(words, str) else say(before + words.sentence, **words.numbers)


def _free_of_the_fence(settings: Settings) -> tuple[Words, ...]:
    """Say what holds where the bit stands out further than it is wide."""
    every = [one for edge in settings for one in edge]
    free = [str(number) for number, one in enumerate(every, start=1) if one.air > READ_OUT]
    if not free:
        return ()
    at = "setting " + " and ".join(free) if len(free) < 3 else "settings " + ", ".join(free)
    words = (
        f"At {at} the bit stands wholly in front of the fence, up to {{air}} off it, in what the settings before have "
        "cut. Never begin with a wide one: the strip left between bit and fence would be cut with the feed and thrown. "
        "Close the opening of the fence, keep the guard over the bit."
    )
    return (say(words, air=max(one.air for one in every)),)


def _measured(sides: tuple[RabbetSetting, ...]) -> tuple[Words, ...]:
    """Say when the plug is measured across, what it reads then, and what to do where it does not."""
    last = sides[-1]
    if len(sides) == 1:
        words = (
            "The sides take one setting: prove it on scrap first. The rabbet must be {wide} wide; move the fence by "
            "what it is off. Then the plug measures {plug} across."
        )
        return (say(words, wide=last.exposed, plug=last.plug),)
    words = (
        "Before the last setting of the sides measure the plug across: it must be {reads}. Where it is wider, let "
        "the bit stand out further at the last setting by half of the difference; where it is narrower, less far by "
        "half of it. Then it comes to {plug}."
    )
    return (say(words, reads=sides[-2].plug, plug=last.plug),)
