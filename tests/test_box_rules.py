"""The rules between the keys of a box file: each provoked by a file, with the numbers of the job in its message."""

from __future__ import annotations

import re
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.rules import Problem
from jigs.base.wording import Offer
from jigs.base.wrapping import WIDTH
from jigs.box import chain, report
from jigs.boxfile import change, reading
from tests.boxes import WHOLE_INCHES, WHOLE_METRIC, worked
from tests.test_properties_box import wrong_problems

THIN = {"sides__thickness": "9", "groove__depth": "4.5"}
LOW = {"groove__cutter": "4", "groove__from_bottom": "4.6", "bottom__tongue": "3.8"}


def found(where: str, changes: dict[str, str], text: str = WHOLE_METRIC) -> list[Problem]:
    return [problem for problem in worked(text, **changes).problems if problem.where == where]


CASES = [  # severity, where, changes, what it says, what it suggests
    pytest.param(
        *("stop", "groove.depth", {"sides__thickness": "1", "groove__depth": "0.5", "groove__end_margin": "1"}),
        "a groove 0.5 mm deep does not hold the bottom, whose clearance at each end is 0.5 mm",
        "make the sides thicker",
        id="groove in sides too thin for it",
    ),
    pytest.param(
        *("stop", "groove.end_margin", {"groove__end_margin": "0"}),
        "with no end margin the groove shows as a hole of 6 mm × 6 mm in the fingers of end boards",
        "stop the groove with an end margin of 3.68 mm; or stop it in front and back instead, 21.85 mm from the "
        "bottom edge, with an end margin of 3.68 mm",
        id="28 groove through a finger",
    ),
    pytest.param(
        *("warning", "groove.from_bottom", {"groove__from_bottom": "8"}),
        "the groove will show unless you stop it in all four boards. From 8 mm up it cuts 1.9 mm "
        "into fingers of front and back, 4.1 mm into those of the end boards",
        "start it 11.9 mm from the bottom edge",
        id="29 groove straddles",
    ),
    pytest.param(
        *("warning", "groove.from_bottom", {"groove__from_bottom": "3"}),
        "the wood below the groove will break out: it is 3 mm high, and under 4.5 mm is too little",
        "4.5 mm or more",
        id="30 little wood below",
    ),
    pytest.param(
        *("warning", "groove.depth", {"sides__thickness": "9"}),
        "a groove 6 mm deep weakens the sides: of 9 mm it leaves 3 mm, which is under half",
        "cut it 4.5 mm deep or less",
        id="31 thin wall",
    ),
    pytest.param(
        *("stop", "groove.depth", {"groove__depth": "12"}),
        "a groove 12 mm deep cuts through sides 12 mm thick; it may take half of them",
        "cut the groove 6 mm deep or less, or make the sides 24 mm thick or more",
        id="31 no wall",
    ),
    pytest.param(
        *("stop", "sides.thickness", {"sides__thickness": "0.9", "groove__depth": "2"}),
        "a groove 2 mm deep cuts through sides 0.9 mm thick; it may take half of them",
        "make the sides 4 mm thick or more, or cut a shallower groove in thicker sides",
        id="31 no wall in sides too thin for any groove",
    ),
    pytest.param(
        *("warning", "groove.end_margin", {"groove__end_margin": "1"}),
        "an end margin of 1 mm will break out; the board as cut needs 3.3 mm",
        "from 3.3 mm to 4.06 mm",
        id="32 little end margin",
    ),
    pytest.param(  # reach 9 − 3 − 3 = 3: 1.5 short, clip 6.0, radius 1.5 + 4.5 + √(2 · 1.5 · 4.5) = 9.67
        *(
            "warning",
            "groove.end_margin",
            {**THIN, "joint__proud": "0", "groove__end_margin": "3", "bottom__tongue": "6"},
        ),
        "the bottom’s square corners will not go in: an end margin of 3 mm leaves the groove 1.5 mm short",
        "clip the corners by 6 mm; or round them to a radius of 9.7 mm",
        id="33 clipped corner",
    ),
    pytest.param(
        *("warning", "bottom.tongue", {"bottom__thickness": "5.5", "bottom__tongue": "5.5"}),
        "a tongue 5.5 mm thick will rattle in a groove 6 mm wide: its clearance of 0.50 mm is over 0.30 mm",
        "make the bottom 5.8 mm thick, and the tongue too; or cut the groove 5.7 mm wide",
        id="37 rattles",
    ),
    pytest.param(
        *("stop", "bottom.tongue", {"bottom__tongue": "6.5"}),
        "a tongue 6.5 mm thick does not go into a groove 6 mm wide; it needs a clearance of 0.20 mm",
        "5.8 mm",
        id="37 tongue too thick for the groove",
    ),
    pytest.param(
        *("warning", "bottom.tongue", {"bottom__tongue": "6"}),
        "a tongue 6 mm thick will bind in a groove 6 mm wide: it has no clearance, and finish makes it thicker",
        "5.8 mm",
        id="37 tongue without play",
    ),
    pytest.param(
        *("warning", "bottom.thickness", {"bottom__thickness": "6"}),
        "a bottom 6 mm thick would need rabbets 0.10 mm deep, too shallow to cut; 0.40 mm is the least",
        "plane all of it to 5.8 mm, without rabbets; or use one 6.6 mm thick or more",
        id="rabbets that nobody cuts",
    ),
    pytest.param(  # tongue in the middle of 16: 4.6 − (16 − 3.8)/2 = −1.5
        *("stop", "bottom.thickness", {**LOW, "bottom__thickness": "16"}),
        "the box will stand on its bottom, which hangs 1.5 mm below the bottom edges. It is 16 mm thick, its tongue "
        "3.8 mm, the groove 4.6 mm up",
        "make the bottom 12 mm thick or less, or start the groove 10.45 mm from the bottom edge",
        id="bottom below the sides",
    ),
    pytest.param(  # a fan over a rim of 89.5: 88 − (10 − 5.8)/2 …
        *("stop", "box.height", {"groove__from_bottom": "82", "shell__height": "30", "shell__width": "45"}),
        "the upper face of the bottom is 0.4 mm above the top edge of the sides",
        "take boards ",
        id="bottom above the top edge",
    ),
    pytest.param(  # 89.5 − (74 + 7.9) = 7.6: a plug of 6 and a millimetre is all there is room for
        *("stop", "lid.plug", {"groove__from_bottom": "75", "shell__height": "30", "shell__width": "45"}),
        "the plug, 6 mm deep, will stand on the bottom, for the inside is only 6.6 mm deep",
        "make the plug 5.6 mm deep or less, or take boards 110.3 mm wide or wider, or lower the groove",
        id="plug on the bottom",
    ),
    pytest.param(
        *("warning", "bottom.inside_length", {"bottom__inside_length": "206"}),
        "your reading of the inside is 206 mm, 10 mm off; sides 12 mm thick leave 216 mm of 240 mm",
        "measure it again with the joints closed, or correct box.length if the reading is right",
        id="a reading far off",
    ),
    pytest.param(
        *("stop", "bottom.inside_width", {"bottom__inside_width": "160"}),
        "your reading of the inside is 160 mm, 24 mm off; sides 12 mm thick leave 136 mm of 160 mm",
        "measure it again with the joints closed",
        id="a reading that no box has",
    ),
    pytest.param(  # 1060.6 − 3.8 − 3 = 1053.8 to the stop; 50 and 24 more, twice: 2255.6
        *("warning", "groove", {"box__width": "1060", "box__length": "1000"}),
        "on a fence under 2260 mm the stops have nothing to be clamped to. They stand 1054 mm from the bit’s centre, "
        "and a stop with its clamp takes 74 mm more",
        "use a fence 2260 mm long; or clamp a straight board of that length to the fence",
        id="a fence for stops far out",
    ),
    pytest.param(
        *("stop", "bottom.tongue", {"bottom__thickness": "5"}),
        "a bottom 5 mm thick cannot have a tongue 5.8 mm thick",
        "make the tongue 5 mm thick or less, or leave the tongue to the program",
        id="37 tongue too thick for the bottom",
    ),
    pytest.param(
        *("stop", "groove.from_bottom", {"box__width": "120"}),
        "lowering boards 120.6 mm long puts your hands 60 mm from the bit; 150 mm is the shortest board to lower",
        "start the groove 21.85 mm from the bottom edge, so that it stops in front and back instead; or groove a "
        "longer blank before you crosscut it, and chisel the groove’s ends",
        id="38 short board plunged",
    ),
    pytest.param(
        *("warning", "groove", {}),
        "lowering boards 160.6 mm long puts your hands 80 mm from the bit",
        "hold boards under 200 mm in a carrier",
        id="38 carrier",
    ),
    pytest.param(  # 136 + 2 · 6 = 148: the whole room
        *("warning", "bottom.clearance", {"bottom__clearance": "0"}),
        "in the wettest season the bottom, 148 mm wide, fills its grooves. In wetter air it will open the corners",
        "0.5 mm",
        id="39 no play for the bottom",
    ),
    pytest.param(  # 145.5 · (1 − .00248 · 2.30) / (1 + .00248 · 4.45) − 136 − 6
        *("warning", "bottom", {"bottom__clearance": "2.5"}),
        "in the driest season the bottom hardly holds: slid to one side, its engagement is 1 mm, under 1.5 mm",
        "use quarter-sawn wood, its rings at 90°; or make the clearance 2.08 mm or less; or use a wood that moves less",
        id="41 little is held",
    ),
    pytest.param(
        *("stop", "bottom", {"bottom__clearance": "4.5"}),
        "in the driest season the bottom will drop out: slid to one side, it misses the other groove by 0.9 mm",
        "make the clearance 2.08 mm or less, or use a wood that moves less",
        id="41 drops out",
    ),
    pytest.param(
        *(
            "stop",
            "bottom.clearance",
            {"box__width": "26", "groove__from_bottom": "22", "groove__depth": "2", "bottom__clearance": "7"},
        ),
        "a clearance of 7 mm leaves no bottom: the grooves have room for 6 mm",
        "0.5 mm",
        id="41 nothing is left",
    ),
    pytest.param(
        *("warning", "lid.clearance", {"lid__clearance": "0"}),
        "the lid will jam at a humidity of 70 %: its clearance in the wettest season is 0 mm, under 0.20 mm",
        "make the clearance 0.4 mm",
        id="44 lid jams",
    ),
    pytest.param(
        *("stop", "lid.clearance", {"box__width": "32", "groove__from_bottom": "22", "lid__clearance": "9"}),
        "a clearance of 9 mm leaves no plug in an opening of 8 mm",
        "0.4 mm",
        id="44 no plug is left",
    ),
    pytest.param(  # worked value
        *("note", "lid", {}),
        "the plug’s clearance across the grain reaches 2.7 mm in the driest season; over 2.2 mm is felt as loose",
        "use quarter-sawn wood, its rings at 90°, for a clearance of 1.6 mm; or fit two pads along the grain line "
        "instead of a whole plug",
        id="45 lid is loose",
    ),
    pytest.param(
        *("warning", "lid.crown", {"lid__crown": "9"}),
        "the lid’s edge will chip: it is 3 mm thick and needs 4 mm. Of its 18 mm the plug takes 6 mm, the crown 9 mm",
        "make the crown 8 mm or less",
        id="46 thin edge",
    ),
    pytest.param(
        *("stop", "lid.crown", {"lid__crown": "13"}),
        "no edge is left of the lid, which needs 4 mm. Of its 18 mm the plug takes 6 mm, the crown 13 mm",
        "make the crown 8 mm or less",
        id="46 no edge",
    ),
    pytest.param(
        *("warning", "lid.plug", {"lid__crown": "0", "lid__plug": "15"}),
        "the lid’s edge will chip: it is 3 mm thick and needs 4 mm. Of its 18 mm the plug takes 15 mm, the crown 0 mm",
        "make the lid 19 mm thick or more, or make the plug 14 mm deep",
        id="46 plug takes the lid",
    ),
    pytest.param(
        *("stop", "lid.crown", {"lid__crown": "90"}),
        "a crown of 90 mm over a lid 170 mm wide is no arc: it is more than half the width",
        "make the crown 8 mm or less",
        id="47 no arc",
    ),
    pytest.param(
        *("warning", "lid.overhang", {"lid__overhang": "0"}),
        "an overhang of 0 mm will be gone in the driest season, when the lid is 0.46 mm narrower a side",
        "0.46 mm or more",
        id="45 lid will not stay flush",
    ),
    pytest.param(
        *("stop", "handle.neck", {"handle__neck": "-0.6"}),
        "the holes meet, because the neck between them is −0.6 mm",
        "make the neck 18 mm or more",
        id="50 holes meet",
    ),
    pytest.param(
        *("warning", "handle.neck", {"handle__neck": "1.5", "handle__length": "70"}),
        "a neck of 1.5 mm between the holes may break",
        "make the neck 18 mm or more",
        id="51 thin web",
    ),
    pytest.param(  # the centre 6 outside the end: 1 − acos(−6 / 16) / π = 38 %
        *("warning", "handle.length", {"handle__saw": "32", "handle__length": "44"}),
        "the hole saw will walk in a blank that is trimmed first. Only 38 % of the saw rim is in wood, without a pilot "
        "drill",
        "drill the blank before you trim its ends, or butt a waste block of the same thickness against the end",
        id="52 saw walks",
    ),
    pytest.param(
        *("stop", "handle.length", {"handle__length": "110"}),
        "holes of 38.6 mm with a neck of 24 mm between them do not cut the ends of a handle 110 mm long",
        "make it 62.6 mm to 89.62 mm long",
        id="52 hole inside the end",
    ),
    pytest.param(  # worked value 2.70
        *("stop", "handle.height", {"handle__height": "50"}),
        "the handle will break when you lift the lid. It is 50 mm high, with 2.7 mm of wood over its holes; 3 mm is "
        "needed",
        "make it 51.32 mm high",
        id="54 crest near the hole",
    ),
    pytest.param(
        *("stop", "handle.height", {"handle__height": "46"}),
        "the holes cut through the crest of a handle 46 mm high; 3 mm of wood must stay above them",
        "make it 51.32 mm high",
        id="54 crest crosses the hole",
    ),
    pytest.param(
        *("stop", "handle.crest", {"handle__crest": "0"}),
        "a crest of 0 mm on a handle of 90 mm × 54 mm is flat or no arc",
        "make the crest more than 0, and 23.67 mm or less",
        id="47 flat crest",
    ),
    pytest.param(
        *("note", "handle.saw", {"handle__saw": "38"}),
        "the hole is entered as 38 mm, like a size marked on a hole saw. A saw cuts wider, and the curve comes out "
        "half of that off",
        "drill a hole in scrap, measure it, and enter that size",
        id="55 saw as marked",
    ),
    pytest.param(  # 2 √(7.5² − 2.7²)
        *("warning", "handle.saw", {"handle__saw": "15", "handle__length": "44.4"}),
        "an opening of 13.9 mm × 10.2 mm is too small for a hand, which needs 20 mm × 15 mm",
        "drill holes of 21.67 mm in a handle 54 mm long",
        id="56 fingers do not fit",
    ),
    pytest.param(
        *("warning", "handle.thickness", {"handle__thickness": "12"}),
        "a neck of 24 mm × 12 mm may break across the grain when the lid is knocked",
        "make the handle 14.59 mm thick or more",
        id="56 thin neck",
    ),
    pytest.param(
        *("stop", "handle.base", {"handle__base": "0"}),
        "the holes cut through the base, which has 0 mm of wood under them",
        "4 mm or more",
        id="51 no base",
    ),
    pytest.param(
        *("warning", "handle.base", {"handle__base": "2"}),
        "a base with 2 mm of wood under the holes will break",
        "4 mm or more",
        id="51 thin base",
    ),
    pytest.param(
        *("warning", "handle.length", {"box__length": "60", "box__width": "60", "lid__overhang": "0"}),
        "a handle 90 mm long overhangs a lid 60 mm long",
        "make the handle 60 mm or shorter",
        id="56 handle longer than the lid",
    ),
    pytest.param(  # half angle 49.7°, 30 lobes: 2 · 8 · sin(49.7° / 30)
        *("stop", "shell.lobes", {"shell__lobes": "30"}),
        "the ridges between chips will break out: 8 mm from the pivot they are 0.4 mm wide, under 0.8 mm",
        "carve 17 lobes or fewer",
        id="57 too many lobes",
    ),
    pytest.param(
        *("stop", "shell.chip", {"shell__chip": "9.5", "shell__knife": "45"}),
        "the ridges between chips will break out: chips of 9.5 mm leave them 0.3 mm wide at the outer end, "
        "under 0.8 mm",
        "make the chips 9.03 mm wide or less",
        id="57 chips meet at the outer end",
    ),
    pytest.param(
        *("stop", "shell.width", {"shell__width": "200"}),
        "no fan of 7 lobes is 200 mm wide and 40 mm high",
        "make it 20.34 mm to 78.5 mm wide at this height",
        id="57 no such fan",
    ),
    pytest.param(
        *("stop", "shell.knife", {"shell__knife": "75", "shell__chip": "4"}),
        "with the knife at 75° a chip 4 mm wide is 7.5 mm deep; half of the front’s 12 mm is the limit",
        "the knife at 71° or flatter",
        id="58 chip too deep",
    ),
    pytest.param(  # worked value: 12 − 6 − 3.217
        *("stop", "shell.height", {"shell__width": "120", "shell__height": "75"}),
        "the shell with its border, 78 mm high, reaches over the groove. There the chips leave 2.7 mm of wood, under "
        "3 mm",
        "make it 62.5 mm high or less",
        id="59 over the groove",
    ),
    pytest.param(
        *("warning", "shell.width", {"box__length": "90", "handle__length": "80"}),
        "the shell with its border, 66 mm wide, reaches into the fingers; 60 mm lies between them",
        "make it 54 mm wide or less",
        id="60 into the fingers",
    ),
    pytest.param(
        *("stop", "shell.width", {"box__length": "60"}),
        "the shell with its border is 66 mm × 43 mm, more than the front’s 60.6 mm × 89.5 mm",
        "make it 24 mm wide or less",
        id="60 off the board",
    ),
    pytest.param(  # Wood Handbook FPL-GTR-190, Table 13-5: 89.5 · |.00248 − .00353| · 3 = 0.28
        *("warning", "sides.ends_species", {"sides__ends_species": "sugar maple"}),
        "top edges of black cherry and sugar maple end 0.28 mm out of flush where the boards lose 3 % moisture "
        "before gluing",
        "all four sides from one board",
        id="68 mates of another wood",
    ),
    pytest.param(
        *("warning", "sides.thickness", {"sides__thickness": "0.5", "groove__depth": "0.4"}),
        "the finger of 10 mm is 20 times the thickness of 0.5 mm: the units may be mixed",
        "check both",
        id="71 units mixed",
    ),
    pytest.param(
        *("stop", "box.width", {"box__width": "20"}),
        "two sides 12 mm thick leave no inside in a box 20 mm wide outside",
        "make the box 34 mm or more, or make these sides 5 mm or thinner",
        id="72 no inside",
    ),
    pytest.param(
        *("warning", "box.length", {"box__length": "700"}),
        "boards of 700 mm stand on end",
        "make the upright 420 mm high or more",
        id="73 tall on end",
    ),
    pytest.param(
        *("stop", "groove.from_bottom", {"groove__from_bottom": "88"}),
        "a groove from 88 mm to 94 mm above the bottom edge does not fit on boards 89.5 mm wide",
        "start it 79 mm or less from the bottom edge, or make the boards wider",
        id="groove above the box",
    ),
    pytest.param(
        *("stop", "lid.species", {"lid__species": "{wood} of no tree"}),
        "'{wood} of no tree' is not in the table of woods",
        "",
        id="wood with braces in its name",
    ),
]


@pytest.mark.parametrize(("severity", "where", "changes", "says", "suggests"), CASES)
def test_a_box_file_provokes(severity: str, where: str, changes: dict[str, str], says: str, suggests: str) -> None:
    problems = found(where, changes)
    assert any(
        problem.severity == severity and says in problem.says("mm") and suggests in problem.suggests("mm")
        for problem in problems
    ), [(problem.severity, problem.says("mm"), problem.suggests("mm")) for problem in problems]


@pytest.mark.parametrize(("severity", "where", "changes", "says", "suggests"), CASES)
def test_what_is_told_is_short(severity: str, where: str, changes: dict[str, str], says: str, suggests: str) -> None:
    """Of the parts that this file's rules are about: sentences and ways out of 20 words at most, a length being one."""
    del severity, says, suggests
    for problem in found(where, changes):
        if where.partition(".")[0] in ("groove", "bottom", "lid", "handle", "shell"):
            told = [*problem.rule.split(". "), *problem.ways]
            words = [re.sub(r"[×%]", "", re.sub(r"{[^}]*}", "9", sentence)).split() for sentence in told]
            assert max(map(len, words)) <= 20, told


@pytest.mark.parametrize(("severity", "where", "changes", "says", "suggests"), CASES)
def test_each_way_out_works_as_it_is_typed(
    severity: str, where: str, changes: dict[str, str], says: str, suggests: str
) -> None:
    """Whatever else is told of the file too: drawn at random, a third of the rules is not met in hundreds of files."""
    if any("{" in value for value in changes.values()):
        return  # a wood's name with braces reads like a sentence that lacks its numbers
    told = worked(WHOLE_METRIC, **changes).problems
    text = change.set_values(WHOLE_METRIC, {name.replace("__", "."): value for name, value in changes.items()})
    assert wrong_problems(tomllib.loads(text), told) == []


def test_a_front_too_thin_for_any_chip() -> None:
    """Half of 0.41 mm is 0.205 mm; a chip so deep at 10° is 2 · 0.205 / tan 10° = 2.325 mm wide."""
    text = change.without_section(change.without_section(WHOLE_METRIC, "groove"), "bottom")
    [problem] = found("shell.chip", {"sides__thickness": "0.41", "shell__knife": "65", "shell__chip": "3"}, text)
    assert problem.suggests("mm") == "make the chips 2.32 mm wide or less, with the knife at 10°"


@pytest.mark.parametrize(
    ("severity", "where", "changes"),
    [  # just within the limit
        pytest.param("note", "handle.saw", {}, id="55 measured saw"),
        pytest.param("stop", "lid.crown", {"lid__crown": "84", "lid__thickness": "80"}, id="47 nearly half a circle"),
        pytest.param("stop", "handle.crest", {"handle__crest": "44"}, id="47 nearly half a circle over the handle"),
        # Wood Handbook FPL-GTR-190, Table 13-5: 89.5 · |.00248 − .0023| · 3 = 0.048, under half the clearance of 0.1
        pytest.param("warning", "sides.ends_species", {"sides__ends_species": "black oak"}, id="68 nearly alike"),
    ],
)
def test_nothing_is_told_within_the_limit(severity: str, where: str, changes: dict[str, str]) -> None:
    rules = ("marked on a hole saw", "no arc", "out of flush")
    told = [p for p in found(where, changes) if p.severity == severity and any(rule in p.rule for rule in rules)]
    assert told == []


CLIMATES = [
    pytest.param('wet = { temperature = "25 C", humidity = 85 }', "warning", "climate", "17.8 % lies outside the 6"),
    pytest.param(
        'shop = { temperature = "20 C", humidity = 80 }', "warning", "climate.shop", "moisture is 16.0 % in the shop"
    ),
    pytest.param('wet = { temperature = "25 C", humidity = 20 }', "stop", "climate", "the wrong way round"),
    pytest.param('dry = { temperature = "-25 C", humidity = 30 }', "stop", "climate.dry.temperature", "at -25 °C"),
    pytest.param('shop = { temperature = "20 C", humidity = 0.45 }', "note", "climate.shop.humidity", "read as 45 %"),
]


@pytest.mark.parametrize(("season", "severity", "where", "says"), CLIMATES)
def test_a_climate_provokes(season: str, severity: str, where: str, says: str) -> None:
    made = worked(f"{WHOLE_METRIC}[climate]\n{season}\n")
    [problem] = [problem for problem in made.problems if problem.where == where]
    assert problem.severity == severity
    assert says in problem.says("mm")
    if where == "climate.dry.temperature":
        assert problem.suggests("mm") == "enter -20 °C or more"
        assert isinstance(problem.numbers["least"], Offer)
    if severity == "stop":
        data = chain.as_data(made)
        assert (data["movement"], data["bottom"], data["lid"]) == (None, None, None)
        assert data["handle"]
        assert data["groove"]


def test_a_plug_wider_than_any_lid_is_told() -> None:
    """No overhang makes room for it: only drier wood does."""
    air = 'shop = { temperature = "0 C", humidity = 98 }'
    home = "\n".join(f'{season} = {{ temperature = "0 C", humidity = 5 }}' for season in ("dry", "wet"))
    made = worked(
        f"{WHOLE_METRIC}[climate]\n{air}\n{home}\n",
        box__width="2000",
        box__length="2000",
        lid__species="White oak, overcup",
    )
    told = [(p.severity, p.rule, p.suggests("mm")) for p in made.problems if p.where == "lid.overhang"]
    assert [one[0] for one in told] == ["stop"]
    assert "rabbets of {rest:cut down}" in told[0][1]
    assert told[0][2].startswith("leave the wood in air as humid as the home’s")


@pytest.mark.parametrize("value", ["-9.5", "0", '""', '"wide"', "1e9", '"3 /0"', "true", '"9,5,1"'])
def test_what_is_no_size_names_its_key(value: str) -> None:
    text = WHOLE_METRIC.replace("cutter = 6\n", f"cutter = {value}\n")
    with pytest.raises((CannotBuild, CannotRead)) as refusal:
        reading.read(text, "box.toml")
    assert "groove.cutter" in refusal.value.says("mm")


@pytest.mark.parametrize("written", ['"9 17/32"', '"9-17/32"', '"9,53125"', "9.53125"])
def test_a_size_as_the_shop_writes_it(written: str) -> None:
    read = reading.read(WHOLE_INCHES.replace('length = "9 1/2"', f"length = {written}"), "box.toml")
    assert read.box.length == pytest.approx(9.53125 * 25.4)


@pytest.mark.parametrize(
    ("key", "value", "works"),
    [
        ("groove.end_margin", "0", "works"),
        ("groove.end_margin", "1", "least"),
        ("groove.end_margin", "4.5", "most"),
        ("groove.from_bottom", "8", "works"),
        ("groove.from_bottom", "3", "least"),
        ("groove.depth", "8", "most"),
        ("bottom.tongue", "6.5", "works"),
        ("bottom.tongue", "5.2", "works"),
        ("bottom.tongue", "6", "works"),
        ("bottom.thickness", "40", "thinner"),
        ("bottom.thickness", "6", "tongue"),
        ("bottom.thickness", "6.2", "thicker"),
        ("bottom.inside_length", "300", "works"),
        ("bottom.inside_width", "120", "works"),
        ("bottom.clearance", "0", "works"),
        ("lid.clearance", "0", "works"),
        ("lid.crown", "13", "lower"),
        ("lid.overhang", "0", "least"),
        ("handle.neck", "-0.6", "least"),
        ("handle.length", "110", "longest"),
        ("handle.height", "46", "works"),
        ("handle.thickness", "12", "works"),
        ("handle.base", "2", "least"),
        ("shell.lobes", "30", "fewer"),
        ("shell.chip", "9.5", "works"),
        ("shell.width", "200", "widest"),
        ("shell.knife", "80", "steepest"),
    ],
)
def test_what_is_suggested_works(key: str, value: str, works: str) -> None:
    """Who takes the nearest value that works, as it is read out, is not told the same again."""
    text = change.set_values(WHOLE_METRIC, {"shell.knife": "45"})
    told = [p for p in worked(text, **{key.replace(".", "__"): value}).problems if p.where == key]
    chosen = next(problem for problem in told if works in problem.numbers)
    suggested = chosen.numbers[works]
    suggested = suggested.value if isinstance(suggested, Offer) else suggested
    assert isinstance(suggested, float | int)
    taken = f"{suggested:.2f}" if isinstance(suggested, float) else str(suggested)
    after = worked(text, **{key.replace(".", "__"): taken}).problems
    assert chosen.rule not in {problem.rule for problem in after}


@pytest.mark.parametrize(
    ("where", "changes", "says", "works"),
    [
        pytest.param(  # 79, the highest by the wood above it, lies in a finger of the ends, which are too short for it
            "groove.from_bottom",
            {"box__width": "120", "groove__from_bottom": "88"},
            "does not fit on boards 89.5 mm wide",
            "start it 81.55 mm from the bottom edge, or make the boards wider",
            id="a height at which short boards are stopped",
        ),
        pytest.param(  # with a tongue of 5.8 the next rule would say that the bottom has none
            "bottom.tongue",
            {"bottom__tongue": "7", "bottom__thickness": "5"},
            "does not go into a groove 6 mm wide",
            "cut the groove 7.2 mm wide, or leave the tongue to the program",
            id="a tongue that the bottom does not have",
        ),
        pytest.param(
            "groove",
            {"box__width": "120", "box__length": "120", "handle__length": "80", "shell__width": "60"},
            "150 mm is the shortest board to lower",
            "groove a longer blank before you crosscut it, and chisel the groove’s ends",
            id="no height helps boards that are too short",
        ),
    ],
)
def test_what_another_rule_would_refuse_is_not_suggested(
    where: str, changes: dict[str, str], says: str, works: str
) -> None:
    [problem] = [p for p in found(where, changes) if says in p.says("mm")]
    assert (problem.severity, problem.suggests("mm")) == ("stop", works)


def test_higher_boards_make_room_over_the_bottom_and_under_the_plug() -> None:
    """What is suggested for the height is typed as it is read out: rip widths go in steps, so it is enough or more."""
    small = {"shell__height": "24", "shell__width": "36", "shell__knife": "45"}
    for height, plug in (("82", "6"), ("80.4", "1.2")):
        deep = small | {"groove__from_bottom": height, "lid__plug": plug}
        told = [p for p in worked(WHOLE_METRIC, **deep).problems if p.severity == "stop" and "higher" in p.numbers]
        assert [p.where for p in told] == ["box.height"]
        higher = told[0].numbers["higher"]
        assert isinstance(higher, Offer)
        after = worked(WHOLE_METRIC, **deep, box__height=f"{higher.value:.2f}")
        assert not [p for p in after.problems if "higher" in p.numbers]
        assert after.depth_under_plug is not None
        assert after.depth_under_plug >= 1.0 - 0.01


def test_a_box_without_a_lid_that_is_hardly_deep_is_warned() -> None:
    text = change.without_section(change.without_section(WHOLE_METRIC, "lid"), "handle")
    text = change.without_section(text, "shell")
    [told] = [
        p
        for p in worked(text, groove__from_bottom="81").problems
        if p.where == "box.height" and p.severity == "warning"
    ]
    assert (told.severity, told.says("mm")) == ("warning", "the sides rise only 0.6 mm above the bottom")


@pytest.mark.parametrize(
    ("length", "count", "says"),
    [  # a strip of two sides takes 240.6 + 3.2 + 160.6 and two trims of 15: 434.4
        (435, 2, "842 mm × 95 mm × 15 mm, so the grain runs round two of the corners"),
        (434, 9, "842 mm × 95 mm × 15 mm, so the grain runs round none of the corners"),
        (200, 9, "the rack has no board of 842 mm × 90 mm × 15 mm of black cherry for the strip of the sides; "),
    ],
)
def test_boards_too_short_for_all_sides(length: int, count: int, says: str) -> None:
    rack = f"boards = [{{ length = {length}, width = 100, thickness = 15, count = {count} }}]"
    made = worked(re.sub(r"boards = \[.*?\n\]", rack, WHOLE_METRIC, flags=re.DOTALL))
    [problem] = [p for p in made.problems if p.where == "stock.boards" and says in p.says("mm")]
    assert problem.severity == "warning"
    assert ("for three corners" in problem.suggests("mm")) == ("grain" in says)


def test_a_bottom_wants_a_groove() -> None:
    text = re.sub(r"\[groove\][^[]*", "", WHOLE_METRIC)
    made = worked(text)
    assert made.stopped
    assert made.bottom is None
    assert made.shell  # nothing is behind it
    [problem] = [problem for problem in made.problems if problem.where == "bottom"]
    assert "needs a groove" in problem.says("mm")


def test_what_the_two_reference_boxes_are_told() -> None:
    """Nothing stops them, and all that warns is the carrier for the short ends that box M stops."""
    for text, warned in ((WHOLE_METRIC, {"groove"}), (WHOLE_INCHES, set())):
        made = worked(text)
        assert not made.stopped
        assert {problem.where for problem in made.problems if problem.severity == "warning"} == warned


KEYS = {
    "box.length": (10, 2000),
    "box.width": (10, 2000),
    "box.height": (6, 1200),
    "sides.thickness": (0.4, 60),
    "joint.finger": (3, 60),
    "joint.cutter": (0.8, 60),
    "groove.cutter": (0.8, 30),
    "groove.depth": (0.4, 40),
    "groove.from_bottom": (0, 600),
    "groove.end_margin": (0, 60),
    "bottom.thickness": (1, 60),
    "bottom.tongue": (0.4, 30),
    "bottom.clearance": (0, 10),
    "bottom.inside_length": (5, 2000),
    "bottom.inside_width": (5, 2000),
    "lid.thickness": (1, 80),
    "lid.plug": (1, 60),
    "lid.overhang": (0, 60),
    "lid.crown": (0, 500),
    "lid.clearance": (0, 10),
    "handle.saw": (5, 200),
    "handle.length": (10, 600),
    "handle.height": (5, 300),
    "handle.base": (0, 100),
    "handle.neck": (-100, 300),
    "handle.crest": (0, 200),
    "shell.width": (5, 600),
    "shell.height": (5, 600),
    "shell.bulge": (0.01, 0.5),
    "shell.border": (0, 50),
    "shell.knife": (10, 85),
    "shell.chip": (0.2, 30),
}
"""Lengths a file may hold, in mm: every one of them is worked out or refused with a reason, never with a traceback."""


@given(
    st.dictionaries(st.sampled_from(sorted(KEYS)), st.floats(0, 1), max_size=12),
    st.sampled_from([2, 3, 7, 60]),
    st.sampled_from([WHOLE_METRIC, WHOLE_INCHES]),
)
def test_any_file_within_its_limits_is_answered(shares: dict[str, float], lobes: int, text: str) -> None:
    values: dict[str, str] = {"shell.lobes": str(lobes)}
    for key, share in shares.items():
        least, most = KEYS[key]
        size = round(least + share**3 * (most - least), 3)
        values[key] = f"{size}" if key in ("shell.bulge", "shell.knife") else f"{size} mm"
    made = chain.work_out(reading.read(change.set_values(text, values), "box.toml"))
    data = chain.as_data(made)
    assert all(len(row) <= WIDTH for row in report.check(made).splitlines())
    assert all(problem["says"] for problem in data["problems"])
    if made.stopped:
        assert any(problem["suggestion"] for problem in data["problems"] if problem["severity"] == "stop")
