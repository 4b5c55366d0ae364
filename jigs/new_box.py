"""A new box file: every section and key with a value that works, and what each is."""

from __future__ import annotations

from jigs.boxfile import BoxFile, help_of, model_at
from jigs.lengths import Units

_Row = tuple[str, str, str]
"""A key and its value in a file in mm and in a file in inches; a key after a # is only shown."""
_STARTING: dict[str, tuple[_Row, ...]] = {
    "": (("title", '"Recipe box"', '"Recipe box"'), ("units", '"mm"', '"in"')),
    "box": (("length", "200", "7.5"), ("width", "150", "5"), ("height", "92", "5.5")),
    "sides": (
        ("thickness", "12", '"1/2"'),
        ("species", '"black cherry"', '"black walnut"'),
        ("#ends_species", '"black cherry"', '"black walnut"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "joint": (
        ("finger", "10", '"1/2"'),
        ("cutter", "10.02", "0.500"),
        ("#clearance", "0.10", "0.004"),
        ("#key_slack", "0.10", "0.004"),
        ("#proud", "0.3", '"1/64"'),
        ("#machine", '"router table"', '"router table"'),
        ("#method", '"one stack"', '"one stack"'),
    ),
    "groove": (
        ("cutter", "6", '"1/4"'),
        ("depth", "6", '"1/4"'),
        ("from_bottom", "12", '"3/16"'),
        ("#end_wood", "3.8", '"11/64"'),
    ),
    "bottom": (
        ("thickness", "10", '"3/8"'),
        ("#tongue", "5.8", "0.240"),
        ("#clearance", "0.5", "0.020"),
        ("#species", '"black cherry"', '"sugar maple"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "lid": (
        ("thickness", "18", '"3/4"'),
        ("plug", "6", '"1/4"'),
        ("overhang", "5", '"3/16"'),
        ("crown", "6", '"1/4"'),
        ("#clearance", "0.4", '"1/64"'),
        ("#species", '"black cherry"', '"black walnut"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "handle": (
        ("saw", "38.6", "1.52"),
        ("length", "90", '"3-1/2"'),
        ("height", "54", '"2-1/8"'),
        ("thickness", "22", '"7/8"'),
        ("foot", "6", '"1/4"'),
        ("neck", "24", '"7/8"'),
        ("crest", "5", '"3/16"'),
    ),
    "shell": (
        ("lobes", "7", "8"),
        ("width", "60", '"2-1/2"'),
        ("height", "40", '"1-3/4"'),
        ("bulge", "0.25", "0.30"),
        ("border", "3", '"1/8"'),
        ("knife", "65", "65"),
        ("chip", "3", '"1/8"'),
    ),
    "climate": (
        ("shop", '{ temperature = "20 C", humidity = 45 }', '{ temperature = "68 F", humidity = 45 }'),
        ("dry", '{ temperature = "20 C", humidity = 30 }', '{ temperature = "68 F", humidity = 30 }'),
        ("wet", '{ temperature = "25 C", humidity = 70 }', '{ temperature = "77 F", humidity = 70 }'),
    ),
    "stock": (
        (
            "boards",
            "[{ length = 1500, width = 100, thickness = 15, count = 1 }]",
            '[{ length = 48, width = 6, thickness = "5/8", count = 1 }]',
        ),
        ("kerf", "3.2", '"1/8"'),
        ("trim", "15", '"1/2"'),
    ),
    "print": (("paper", '"A4"', '"Letter"'), ("#printer", '"school office"', '"school office"')),
    "cutters": (("#finger", "8", '"3/8"'), ("#cutter", "7.97", "0.374")),
}
_PREFACE = """\
# A box file. Change the numbers, then run: jigleaf check FILE
#
# A length is a number in the units below, or in quotes with its own: "9.5 mm", "3/8 in".
# Take the # from the front of a line to set that value yourself; without it it is worked out.
# A section you have no use for may go, all but [box], [sides] and [joint].
"""


def starting_text(units: Units) -> str:
    """Return a box file to start from: every section and key, with what each is and, as a comment, what may be said."""
    return "\n".join([_PREFACE, *(_starting_section(name, units) for name in _STARTING)])


def _starting_section(name: str, units: Units) -> str:
    """Return a section of a new file."""
    model = model_at((name,)) if name else BoxFile
    assert model is not None
    rows = []
    if name:
        about = (model.__doc__ or "").rstrip(".")
        rows.append(f"# [[{name}]]  # {about}" if name == "cutters" else f"[{name}]  # {about}")
    for key, *literals in _STARTING[name]:
        shown = key.removeprefix("#")
        written = f"{'# ' if key != shown else ''}{shown} = {literals[units == 'in']}"
        rows.append(f"{written:26}  # {help_of(model.model_fields[shown])}")
    return "\n".join([*rows, ""])
