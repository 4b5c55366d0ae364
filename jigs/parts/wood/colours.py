"""What colour a wood is drawn in: rough, of our own choosing, from memory; wood varies from board to board and darkens.

A colour stands for a whole family, as the table of woods has it, "Ash" for all its ashes; a wood that looks otherwise
than its family has one of its own. None is so dark that a black line or word could not be seen on its darkest face.
"""

from __future__ import annotations

import functools
import re

from jigs.base.drawing import Colour
from jigs.trade import timber

ROUGH = "Colours are rough; wood varies and darkens."
"""What is said wherever they are printed."""
PLAIN = Colour(224, 218, 206)
"""Of a wood that is not named, or not in the table: plywood too."""
MADE_OUT = 3.0
"""The contrast of what must be made out and is no text: WCAG 2.1, SC 1.4.11."""
COLOURS: dict[str, Colour] = {
    "Alder": Colour(221, 173, 130),
    "Andiroba": Colour(198, 135, 105),
    "Apitong": Colour(188, 125, 100),
    "Apple": Colour(214, 160, 126),
    "Ash": Colour(226, 208, 172),
    "Ash, black": Colour(205, 182, 146),
    "Aspen": Colour(243, 235, 213),
    "Baldcypress": Colour(226, 193, 136),
    "Balsa": Colour(246, 236, 220),
    "Basswood": Colour(247, 236, 216),
    "Beech": Colour(227, 184, 146),
    "Birch": Colour(240, 217, 173),
    "Birch, sweet": Colour(222, 186, 140),
    "Buckeye": Colour(245, 238, 215),
    "Butternut": Colour(204, 164, 118),
    "Catalpa": Colour(206, 184, 148),
    "Cedar": Colour(231, 198, 148),
    "Cedar, western red": Colour(193, 131, 96),
    "Cedar, yellow": Colour(243, 221, 142),
    "Cherry": Colour(206, 138, 92),
    "Chestnut": Colour(200, 162, 115),
    "Cottonwood": Colour(237, 227, 205),
    "Douglas-fir": Colour(228, 168, 116),
    "Elm": Colour(206, 172, 128),
    "Fir": Colour(241, 225, 192),
    "Greenheart": Colour(166, 158, 94),
    "Hackberry": Colour(229, 215, 167),
    "Hemlock": Colour(227, 203, 166),
    "Hickory": Colour(222, 184, 134),
    "Holly": Colour(250, 248, 238),
    "Honeylocust": Colour(214, 142, 94),
    "Iroko": Colour(191, 145, 76),
    "Khaya": Colour(198, 124, 90),
    "Larch": Colour(215, 155, 100),
    "Limba": Colour(229, 206, 144),
    "Locust": Colour(196, 174, 88),
    "Madrone": Colour(220, 156, 130),
    "Magnolia": Colour(222, 218, 170),
    "Mahogany": Colour(191, 113, 82),
    "Maple": Colour(246, 228, 194),
    "Maple, red": Colour(239, 209, 180),
    "Oak": Colour(210, 176, 128),
    "Obeche": Colour(244, 232, 184),
    "Okoume": Colour(224, 170, 146),
    "Persimmon": Colour(230, 214, 194),
    "Pine": Colour(245, 217, 152),
    "Pine, loblolly": Colour(238, 194, 122),
    "Pine, longleaf": Colour(238, 194, 122),
    "Pine, shortleaf": Colour(238, 194, 122),
    "Pine, slash": Colour(238, 194, 122),
    "Ramin": Colour(243, 231, 194),
    "Red oak": Colour(220, 168, 132),
    "Redcedar": Colour(204, 122, 110),
    "Redwood": Colour(188, 112, 86),
    "Sassafras": Colour(212, 182, 126),
    "Spanish-cedar": Colour(205, 136, 104),
    "Spruce": Colour(246, 229, 186),
    "Sweetgum": Colour(204, 144, 116),
    "Sycamore": Colour(232, 203, 176),
    "Tamarack": Colour(218, 164, 106),
    "Tanoak": Colour(206, 162, 130),
    "Teak": Colour(191, 142, 84),
    "Tupelo": Colour(222, 208, 178),
    "Walnut": Colour(156, 112, 82),
    "White oak": Colour(214, 183, 134),
    "Willow": Colour(200, 162, 136),
    "Yellow-poplar": Colour(213, 213, 152),
}
"""The colours of a long-grained face in full light, by the first part of its name in the table or by all of it."""


def colour_of(name: str | None) -> Colour:
    """Return the colour of a wood by any of its names; `PLAIN` for none, and for what is no one wood of the table."""
    if name is None:
        return PLAIN
    try:
        listed = timber.species(name).listed
    except timber.UnknownSpeciesError:
        return PLAIN
    return COLOURS.get(listed) or COLOURS.get(family(listed), PLAIN)


def family(listed: str) -> str:
    """Return the family of a wood from its name in the table: "Red oak" of "Red oak: water, laurel, willow"."""
    return re.split("[,:]", listed)[0]


def contrast(one: Colour, other: Colour) -> float:
    """Return the contrast ratio of two colours by WCAG 2.1, from 1 to 21."""
    low, high = sorted(_luminance(colour) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


@functools.lru_cache(maxsize=512)
def _luminance(colour: Colour) -> float:
    """Return the relative luminance of WCAG 2.1."""
    parts = (part / 255 for part in colour)
    red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
