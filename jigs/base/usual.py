"""The usual sizes of the shop, in the units of whoever asks: what a file or a command leaves out is taken from here.

Each can be set to anything else in the box file or by an option.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from jigs.base.lengths import Units


class Usual(NamedTuple):
    """A usual size, as the shop says it in mm and in inches."""

    mm: float
    inches: float

    def size(self, units: Units) -> float:
        """Return the size, in mm, for those who work in these units."""
        size = self.mm if units == "mm" else round(self.inches * 25.4, 9)
        return float(size)  # an int would be read out without its unit

    @property
    def default(self) -> Any:
        """The usual size as the default of a setting: it is read in the units of whoever asks."""
        return self


UNNAMED_WOOD = "red oak"
"""A wood that is not named is taken to move like this, which moves more than most (common practice, no source)."""
CLEARANCE, KEY_SLACK, PROUD = Usual(0.1, 0.004), Usual(0.1, 0.004), Usual(0.3, 1 / 64)
"""Socket less finger, play of a socket on the key, and fingers left long (common practice, no source)."""
PLATE, RUN = Usual(6, 1 / 4), Usual(20, 3 / 4)
"""Plate of a sled, and how far it runs before and after the cut (common practice, no source)."""
BLADE = Usual(250, 10)
"""Diameter of a saw blade (common practice, no source)."""
SIDES, BOTTOM = Usual(12, 1 / 2), Usual(10, 3 / 8)
"""Thickness of the sides of a box and of its bottom (common practice, no source)."""
LID_AT_SCREWS, COUNTERSINK, BITE = Usual(18, 3 / 4), Usual(3, 1 / 8), Usual(15, 5 / 8)
"""A lid where a handle is screwed on, how far the heads are sunk, how far screws go in (common practice, no source)."""
SHANK, ROOT = Usual(4, 0.164), Usual(2.8, 0.115)
"""A No. 8 screw: its shank, and between its threads (values from memory; measure your own)."""
WEEK_OF_DRYING = 3.0
"""Moisture, in %, that boards may lose between cutting and gluing when a week passes (common practice, no source)."""
GROOVE_DEPTH = 1 / 2
"""Depth of a groove, of the thickness of the sides (common practice, no source)."""
PASS_DEPTH = Usual(3, 1 / 8)
"""What a small bit takes in one pass (common practice, no source)."""
RABBET_BIT = Usual(12, 1 / 2)
"""The bit that a shop has for a rabbet (common practice, no source)."""
TONGUE_PLAY = Usual(0.2, 0.008)
"""Play of a tongue in the thickness of its groove (common practice, no source)."""
LEAST_RABBET = Usual(0.4, 1 / 64)
"""The shallowest rabbet that is cut; a bottom that needs less is planed all over (common practice, no source)."""
OFF_THE_TABLE = Usual(0.5, 1 / 64)
"""How far a bottom stays above the bottom edges, or the box stands on it (common practice, no source)."""
BOTTOM_CLEARANCE, BOTTOM_PLAY = Usual(0.5, 0.020), Usual(0.5, 1 / 64)
"""Play of the bottom across the grain in the wettest air, and at each end along it (common practice, no source)."""
SHEET_SLIP = Usual(0.1, 0.004)
"""With so much clearance in the thickness of its groove a sheet needs no rabbets (common practice, no source)."""
LID_PLUG, LID_CROWN = 1 / 3, 1 / 3
"""Plug and crown, of the thickness of the lid (common practice, no source)."""
LID_OVERHANG, LID_CLEARANCE, LID_PLAY = Usual(5, 3 / 16), Usual(0.4, 1 / 64), Usual(0.6, 1 / 32)
"""Lid over the box, gap across the grain in the wettest air, play along it (common practice, no source)."""
HANDLE_THICKNESS, HANDLE_CREST = Usual(22, 7 / 8), Usual(5, 3 / 16)
HANDLE_BASE, HANDLE_NECK = Usual(6, 1 / 4), Usual(24, 7 / 8)
"""A handle to lift a recipe box by (common practice, no source)."""
HANDLE_CENTRES_INSIDE = 0.7
"""How far a hole's centre is inside the end, of its radius: three quarters of the rim are in wood (no source)."""
STOP_BLOCK = Usual(50, 2)
"""A stop along the fence (common practice, no source)."""
CLAMP_PAD, HANDLE_SPARE = Usual(12, 1 / 2), Usual(5, 3 / 16)
"""Half a clamp's pad, and what is left beside a hole (common practice, no source)."""
SHELL_BULGE, SHELL_KNIFE = 0.25, 65.0
SHELL_BORDER, SHELL_CHIP = Usual(3, 1 / 8), Usual(3, 1 / 8)
"""Lobes, knife, border and chips of a shell carved in hardwood (common practice, no source)."""
PATTERN_CHIP = Usual(1.5, 1 / 16)
"""The widest chip along the lines of a pattern (common practice, no source)."""
SHELL_HINGE = Usual(8, 5 / 16)
"""Where the rib chips of a shell start, from its pivot; at most a quarter of the ribs (common practice, no source)."""
CARVING_MARGIN = 3.0
"""What carving keeps from fingers, groove and edges (common practice, no source), mm."""
KERF, TRIM = Usual(3.2, 1 / 8), Usual(15, 1 / 2)
"""What a saw cut takes, and what is cut off each end of a board (common practice, no source)."""
PLANING = Usual(1.5, 1 / 16)
"""What planing takes off each face of a rough board or of a stick sawn open (common practice, no source)."""
ROUGH_LENGTH, ROUGH_WIDTH = Usual(25, 1), Usual(5, 3 / 16)
"""What a rough piece is longer and wider than the part (common practice, no source)."""


LEAST_WEB = 4.0
"""Thinner wood beside a hole breaks (common practice, no source), mm."""
