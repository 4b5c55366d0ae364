"""The reference boxes M, in mm, and N, in inches, whose every number is worked out by hand in the tests."""

from __future__ import annotations

import functools
from pathlib import Path

from jigs.box import chain
from jigs.boxfile import change, reading

SAMPLES = [Path(__file__).parent.parent / "samples" / name for name in ("recipe-box.toml", "recipe-box-inch.toml")]
METRIC = """[box]
length = 240
width = 160
height = 90
[sides]
thickness = 12
[joint]
finger = 10
cutter = 10
"""
WHOLE_METRIC = """title = "Box M"
[box]
length = 240
width = 160
height = 90
[sides]
thickness = 12
species = "black cherry"
[joint]
finger = 10
cutter = 10
[groove]
cutter = 6
depth = 6
from_bottom = 12
end_margin = 3.8
[bottom]
thickness = 10
tongue = 5.8
clearance = 0.5
[lid]
thickness = 18
plug = 6
overhang = 5
crown = 6
clearance = 0.4
[handle]
saw = 38.6
length = 90
height = 54
thickness = 22
base = 6
neck = 24
crest = 5
[shell]
lobes = 7
width = 60
height = 40
bulge = 0.25
border = 3
knife = 65
chip = 3
[stock]
kerf = 3.2
trim = 15
boards = [
  { length = 2400, width = 100, thickness = 15 },
  { length = 600, width = 180, thickness = 21 },
  { length = 400, width = 65, thickness = 25 },
]
"""
WHOLE_INCHES = """title = "Box N"
units = "in"
[box]
length = "9 1/2"
width = "6 1/2"
height = "3 1/2"
[sides]
thickness = "1/2"
species = "black walnut"
[joint]
finger = "1/2"
cutter = 0.500
clearance = 0.004
key_slack = 0.004
proud = "1/64"
[groove]
cutter = "1/4"
depth = "1/4"
from_bottom = "3/16"
end_margin = "11/64"
[bottom]
thickness = "3/8"
tongue = 0.240
clearance = 0.020
[lid]
thickness = "3/4"
plug = "1/4"
overhang = "3/16"
crown = "1/4"
clearance = "1/64"
[handle]
saw = 1.52
length = "3 1/2"
height = "2 1/8"
thickness = "7/8"
base = "1/4"
neck = "7/8"
crest = "3/16"
[shell]
lobes = 8
width = "2 1/2"
height = "1 3/4"
bulge = 0.30
border = "1/8"
knife = 60
chip = "1/8"
[climate]
shop = { temperature = "20 C", humidity = 45 }
dry = { temperature = "20 C", humidity = 30 }
wet = { temperature = "25 C", humidity = 70 }
[stock]
kerf = "1/8"
trim = "1/2"
"""


@functools.cache
def worked(text: str = METRIC, **changes: str) -> chain.Box:
    """Return a box worked out, with other values for some keys: `sides__thickness="9"`."""
    values = {name.replace("__", "."): value for name, value in changes.items()}
    return chain.work_out(reading.read(change.set_values(text, values) if values else text, "box.toml"))
