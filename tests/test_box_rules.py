"""The rules between the keys of a box file: each provoked by a file, with the numbers of the job in its message."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.rules import Problem
from jigs.base.wording import Offer
from jigs.box import chain, report
from jigs.boxfile import change, reading
from tests.boxes import WHOLE_INCHES, WHOLE_METRIC, worked

THIN = {"sides__thickness": "9", "groove__depth": "4.5"}
LOW = {"groove__cutter": "4", "groove__from_bottom": "4.6", "bottom__tongue": "3.8"}


def found(where: str, changes: dict[str, str], text: str = WHOLE_METRIC) -> list[Problem]:
    return [problem for problem in worked(text, **changes).problems if problem.where == where]


CASES = [  # severity, where, changes, what it says, what it suggests
    pytest.param(
        *("stop", "groove.depth", {"sides__thickness": "1", "groove__depth": "0.5", "groove__end_wood": "1"}),
        "a groove 0.5 mm deep does not hold a bottom with a play of 0.5 mm at each end",
        "thicker sides",
        id="groove in sides too thin for it",
    ),
    pytest.param(
        *("stop", "groove.end_wood", {"groove__end_wood": "0"}),
        "runs through the fingers of the ends and shows as a hole of 6 mm by 6 mm",
        "stop it with end wood of 3.68 mm",
        id="28 groove through a finger",
    ),
    pytest.param(
        *("warning", "groove.from_bottom", {"groove__from_bottom": "8"}),
        "from 8 mm to 14 mm lies 1.9 mm in fingers of front and back and 4.05 mm in those of the ends: all four",
        "a height of 11.9 mm",
        id="29 groove straddles",
    ),
    pytest.param(
        *("warning", "groove.from_bottom", {"groove__from_bottom": "3"}),
        "the wood below the groove is 3 mm high",
        "4.5 mm or more",
        id="30 little wood below",
    ),
    pytest.param(
        *("warning", "groove.depth", {"sides__thickness": "9"}),
        "a groove 6 mm deep leaves a wall of 3 mm of 9 mm",
        "at most 4.5 mm deep",
        id="31 thin wall",
    ),
    pytest.param(
        *("stop", "groove.depth", {"groove__depth": "12"}),
        "a groove 12 mm deep goes through sides of 12 mm",
        "at most 6 mm",
        id="31 no wall",
    ),
    pytest.param(
        *("stop", "sides.thickness", {"sides__thickness": "0.9", "groove__depth": "2"}),
        "a groove 2 mm deep goes through sides of 0.9 mm",
        "4 mm or thicker",
        id="31 no wall in sides too thin for any groove",
    ),
    pytest.param(
        *("warning", "groove.end_wood", {"groove__end_wood": "1"}),
        "end wood of 1 mm on the board as cut will break out",
        "from 3.3 mm to 4.06 mm",
        id="32 little end wood",
    ),
    pytest.param(  # reach 9 − 3 − 3 = 3: 1.5 short, clip 6.0, radius 1.5 + 4.5 + √(2 · 1.5 · 4.5) = 9.67
        *(
            "warning",
            "groove.end_wood",
            {**THIN, "joint__proud": "0", "groove__end_wood": "3", "bottom__tongue": "6"},
        ),
        "with end wood of 3 mm the round end of the groove is 1.5 mm short of a square panel corner",
        "clip the panel's corners by 6 mm, or round them to a radius of 9.67 mm",
        id="33 clipped corner",
    ),
    pytest.param(
        *("warning", "bottom.tongue", {"bottom__thickness": "5.5", "bottom__tongue": "5.5"}),
        "a tongue of 5.5 mm has a play of 0.5 mm in a groove of 6 mm and rattles",
        "a bottom of 5.8 mm and a tongue as thick, or a groove of 5.7 mm",
        id="37 rattles",
    ),
    pytest.param(
        *("stop", "bottom.tongue", {"bottom__tongue": "6.5"}),
        "a tongue of 6.5 mm does not go into a groove of 6 mm",
        "5.8 mm",
        id="37 tongue too thick for the groove",
    ),
    pytest.param(
        *("warning", "bottom.tongue", {"bottom__tongue": "6"}),
        "a tongue of 6 mm in a groove of 6 mm has no play: it binds, and finish makes it thicker",
        "5.8 mm",
        id="37 tongue without play",
    ),
    pytest.param(
        *("warning", "bottom.thickness", {"bottom__thickness": "6"}),
        "a bottom of 6 mm is 0.2 mm thicker than its tongue of 5.8 mm: nobody cuts rabbets so shallow",
        "plane all of it to 5.8 mm, without rabbets; or take one of 6.6 mm or more",
        id="rabbets that nobody cuts",
    ),
    pytest.param(  # tongue in the middle of 16: 4.6 − (16 − 3.8)/2 = −1.5
        *("stop", "bottom.thickness", {**LOW, "bottom__thickness": "16"}),
        "a groove 4.6 mm from the bottom edge hangs 1.5 mm below the sides: the box stands on it",
        "a bottom of 12 mm at most, or a groove 10.45 mm from the bottom edge",
        id="bottom below the sides",
    ),
    pytest.param(  # a fan over a rim of 89.5: 88 − (10 − 5.8)/2 …
        *("stop", "box.height", {"groove__from_bottom": "82", "shell__height": "30", "shell__width": "45"}),
        "the bottom's upper face comes out 0.4 mm above the rim",
        "boards of ",
        id="bottom above the rim",
    ),
    pytest.param(  # 89.5 − (74 + 7.9) = 7.6: a plug of 6 and a millimetre is all there is room for
        *("stop", "lid.plug", {"groove__from_bottom": "75", "shell__height": "30", "shell__width": "45"}),
        "a plug of 6 mm stands on the bottom: the inside is 6.6 mm deep",
        "a plug of 5.6 mm at most, or boards of 110.3 mm or more, or a lower groove",
        id="plug on the bottom",
    ),
    pytest.param(
        *("warning", "bottom.inside_length", {"bottom__inside_length": "206"}),
        "the inside is measured as 206 mm, 10 mm off the 216 mm that sides of 12 mm leave of 240 mm",
        "216 mm; or what the closed joints measure; where that is so far off, correct box.length",
        id="a reading far off",
    ),
    pytest.param(
        *("stop", "bottom.inside_width", {"bottom__inside_width": "160"}),
        "the inside is measured as 160 mm, 24 mm off the 136 mm",
        "136 mm; or what",
        id="a reading that no box has",
    ),
    pytest.param(  # 1060.6 − 3.8 − 3 = 1053.8 to the stop; 50 and 24 more, twice: 2255.6
        *("warning", "groove", {"box__width": "1060", "box__length": "1000"}),
        "the stops stand 1053.8 mm from the cutter's centre; with a stop of 50 mm and a clamp of 24 mm the fence must "
        "reach 1127.8 mm on each side of it, which takes a fence of 2260 mm",
        "a fence as long, or a straight board as long clamped to the fence",
        id="a fence for stops far out",
    ),
    pytest.param(
        *("stop", "bottom.tongue", {"bottom__thickness": "5"}),
        "a bottom of 5 mm has no tongue of 5.8 mm",
        "at most 5 mm",
        id="37 tongue too thick for the bottom",
    ),
    pytest.param(
        *("stop", "groove.from_bottom", {"box__width": "120"}),
        "boards of 120.6 mm are too short to be lowered onto a bit, which is 60.3 mm from each hand",
        "21.85 mm from the bottom, where front and back are the ones to be stopped; or groove a longer stick",
        id="38 short board plunged",
    ),
    pytest.param(
        *("warning", "groove", {}),
        "lowering boards of 160.6 mm, under 200 mm, puts your hands 80 mm from the bit",
        "hold them in a carrier",
        id="38 carrier",
    ),
    pytest.param(  # 136 + 2 · 6 = 148: the whole room
        *("warning", "bottom.clearance", {"bottom__clearance": "0"}),
        "in the wettest air the bottom of 148 mm fills its grooves",
        "0.5 mm",
        id="39 no play for the bottom",
    ),
    pytest.param(  # 145.5 · (1 − .00248 · 2.30) / (1 + .00248 · 4.45) − 136 − 6
        *("warning", "bottom", {"bottom__clearance": "2.5"}),
        "in the driest air, slid to one side, the bottom is held by 1.09 mm on the other, where 1.5 mm is wanted",
        "quarter-sawn wood, its rings at 90°; or a clearance of 2.08 mm or less; or a wood that moves less",
        id="41 little is held",
    ),
    pytest.param(
        *("stop", "bottom", {"bottom__clearance": "4.5"}),
        ": it drops out",
        "a clearance of 2.08 mm or less, or a wood that moves less",
        id="41 drops out",
    ),
    pytest.param(
        *(
            "stop",
            "bottom.clearance",
            {"box__width": "26", "groove__from_bottom": "22", "groove__depth": "2", "bottom__clearance": "7"},
        ),
        "a play of 7 mm leaves nothing of the 6 mm",
        "0.5 mm",
        id="41 nothing is left",
    ),
    pytest.param(
        *("warning", "lid.clearance", {"lid__clearance": "0"}),
        "a plug with a gap of 0 mm in the wettest air locks at a humidity of 70 %",
        "a gap of 0.4 mm",
        id="44 lid jams",
    ),
    pytest.param(
        *("stop", "lid.clearance", {"box__width": "32", "groove__from_bottom": "22", "lid__clearance": "9"}),
        "a gap of 9 mm leaves no plug in an opening of 8 mm",
        "0.4 mm",
        id="44 no plug is left",
    ),
    pytest.param(  # worked value
        *("note", "lid", {}),
        "in the driest air the plug has a gap of 2.64 mm across the grain",
        "quarter-sawn wood, its rings at 90°; or two pads along",
        id="45 lid is loose",
    ),
    pytest.param(
        *("warning", "lid.crown", {"lid__crown": "9"}),
        "a lid of 18 mm with a plug of 6 mm and a crown of 9 mm has an edge of 3 mm",
        "a crown of 8 mm at most",
        id="46 thin edge",
    ),
    pytest.param(
        *("stop", "lid.crown", {"lid__crown": "13"}),
        "has an edge of −1 mm",
        "a crown of 8 mm at most",
        id="46 no edge",
    ),
    pytest.param(
        *("warning", "lid.plug", {"lid__crown": "0", "lid__plug": "15"}),
        "a crown of 0 mm has an edge of 3 mm",
        "a lid of 19 mm or thicker, or a plug of 14 mm",
        id="46 plug takes the lid",
    ),
    pytest.param(
        *("stop", "lid.crown", {"lid__crown": "90"}),
        "a crown of 90 mm over a lid 170 mm wide is more than half of it, and no arc",
        "at most 8 mm",
        id="47 no arc",
    ),
    pytest.param(
        *("warning", "lid.overhang", {"lid__overhang": "0"}),
        "an overhang of 0 mm is gone in the driest air, when the lid is 0.46 mm narrower on each side",
        "0.46 mm or more",
        id="45 lid will not stay flush",
    ),
    pytest.param(
        *("stop", "handle.neck", {"handle__neck": "-0.6"}),
        "the holes meet: the neck between them is −0.6 mm",
        "a neck of 18 mm or more",
        id="50 holes meet",
    ),
    pytest.param(
        *("warning", "handle.neck", {"handle__neck": "1.5", "handle__length": "70"}),
        "the web between the holes is 1.5 mm",
        "18 mm or more",
        id="51 thin web",
    ),
    pytest.param(  # the centre 6 outside the end: 1 − acos(−6 / 16) / π = 38 %
        *("warning", "handle.length", {"handle__saw": "32", "handle__length": "44"}),
        "only 38% of the saw's rim is in wood and its pilot drill in none: the saw will walk",
        "drill the blank before its ends are trimmed, or butt a waste block of the same thickness to the end",
        id="52 saw walks",
    ),
    pytest.param(
        *("stop", "handle.length", {"handle__length": "110"}),
        "a handle 110 mm long is not cut by holes of 38.6 mm with a neck of 24 mm",
        "from 62.6 mm to 89.62 mm",
        id="52 hole inside the end",
    ),
    pytest.param(  # worked value 2.70
        *("stop", "handle.height", {"handle__height": "50"}),
        "a handle 50 mm high has 2.7 mm of wood over its holes, and under 3 mm it breaks when the lid is lifted",
        "a height of 51.32 mm",
        id="54 crest near the hole",
    ),
    pytest.param(
        *("stop", "handle.height", {"handle__height": "46"}),
        "of wood over its holes: they break through",
        "a height of 51.32 mm",
        id="54 crest crosses the hole",
    ),
    pytest.param(
        *("stop", "handle.crest", {"handle__crest": "0"}),
        "a crest of 0 mm over a handle of 90 mm by 54 mm is flat or no arc",
        "more than 0, and at most 23.67 mm",
        id="47 flat crest",
    ),
    pytest.param(
        *("note", "handle.saw", {"handle__saw": "38"}),
        "given as exactly 38 mm, the size marked on the saw",
        "measure the hole",
        id="55 saw as marked",
    ),
    pytest.param(  # 2 √(7.5² − 2.7²)
        *("warning", "handle.saw", {"handle__saw": "15", "handle__length": "44.4"}),
        "fingers go into an opening of 13.99 mm by 10.2 mm",
        "a hole of 21.67 mm in a handle 54 mm long",
        id="56 fingers do not fit",
    ),
    pytest.param(
        *("warning", "handle.thickness", {"handle__thickness": "12"}),
        "a neck of 24 mm by 12 mm may break",
        "a thickness of 14.59 mm or more",
        id="56 thin neck",
    ),
    pytest.param(
        *("stop", "handle.foot", {"handle__foot": "0"}),
        "the holes come out at the foot, with 0 mm of wood",
        "4 mm or more",
        id="51 no foot",
    ),
    pytest.param(
        *("warning", "handle.foot", {"handle__foot": "2"}),
        "2 mm of wood under the holes will break",
        "4 mm or more",
        id="51 thin foot",
    ),
    pytest.param(
        *("warning", "handle.length", {"box__length": "60", "box__width": "60", "lid__overhang": "0"}),
        "a handle of 90 mm stands out over a lid of 60 mm",
        "at most 60 mm",
        id="56 handle longer than the lid",
    ),
    pytest.param(  # half angle 49.7°, 30 lobes: 2 · 8 · sin(49.7° / 30)
        *("stop", "shell.lobes", {"shell__lobes": "30"}),
        "between chips that start 8 mm from the pivot a ridge of 0.46 mm is left, where 0.8 mm holds",
        "at most 17 lobes",
        id="57 too many lobes",
    ),
    pytest.param(
        *("stop", "shell.chip", {"shell__chip": "9.5", "shell__knife": "45"}),
        "at the rim chips of 9.5 mm leave a ridge of 0.34 mm",
        "chips of 9.03 mm or less",
        id="57 chips meet at the rim",
    ),
    pytest.param(
        *("stop", "shell.width", {"shell__width": "200"}),
        "no fan of 7 lobes is 200 mm wide and 40 mm high",
        "for this height a width from",
        id="57 no such fan",
    ),
    pytest.param(
        *("stop", "shell.knife", {"shell__knife": "75", "shell__chip": "4"}),
        "with the knife at 75° a chip 4 mm wide is 7.46 mm deep in a front of 12 mm",
        "the knife at 71° or flatter",
        id="58 chip too deep",
    ),
    pytest.param(  # worked value: 12 − 6 − 3.217
        *("stop", "shell.height", {"shell__width": "120", "shell__height": "75"}),
        "a shell 78 mm high with its border reaches over the groove, where the chips leave 2.78 mm of wood",
        "at most 62.5 mm high",
        id="59 over the groove",
    ),
    pytest.param(
        *("warning", "shell.width", {"box__length": "90", "handle__length": "80"}),
        "a shell 66 mm wide with its border reaches into the fingers",
        "at most 54 mm wide",
        id="60 into the fingers",
    ),
    pytest.param(
        *("stop", "shell.width", {"box__length": "60"}),
        "with its border the shell is 66 mm by 43 mm, and the front 60.6 mm by 89.5 mm",
        "at most 24 mm wide",
        id="60 off the board",
    ),
    pytest.param(  # Wood Handbook FPL-GTR-190, Table 13-5: 89.5 · |.00248 − .00353| · 3 = 0.28
        *("warning", "sides.ends_species", {"sides__ends_species": "sugar maple"}),
        "sides of black cherry and ends of sugar maple come out 0.28 mm apart at the top",
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
        "20 mm outside less two sides of 12 mm leaves an inside of −4 mm",
        "34 mm or more, or sides of 5 mm or less",
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
        "a groove from 88 mm to 94 mm is not on boards of 89.5 mm",
        "at most 79 mm",
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


def test_a_front_too_thin_for_any_chip() -> None:
    """Half of 0.41 mm is 0.205 mm; a chip so deep at 10° is 2 · 0.205 / tan 10° = 2.325 mm wide."""
    text = change.without_section(change.without_section(WHOLE_METRIC, "groove"), "bottom")
    [problem] = found("shell.chip", {"sides__thickness": "0.41", "shell__knife": "65", "shell__chip": "3"}, text)
    assert problem.suggests("mm") == "chips of 2.32 mm or less, with the knife at 10°"


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
    rules = ("marked on the saw", "no arc", "apart at the top")
    told = [p for p in found(where, changes) if p.severity == severity and any(rule in p.rule for rule in rules)]
    assert told == []


CLIMATES = [
    pytest.param('wet = { temperature = "25 C", humidity = 85 }', "warning", "climate", "17.8 % is outside the 6"),
    pytest.param('shop = { temperature = "20 C", humidity = 80 }', "warning", "climate.shop", "16.0 % moisture"),
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
        assert problem.suggests("mm") == "-20 °C or more"
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
    assert "a rabbet of {rest} to rest on" in told[0][1]
    assert told[0][2].startswith("leave the wood, before it is cut")


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
        ("groove.end_wood", "0", "works"),
        ("groove.end_wood", "1", "least"),
        ("groove.end_wood", "4.5", "most"),
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
        ("handle.foot", "2", "least"),
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
            "is not on boards of 89.5 mm",
            "81.55 mm, or wider boards",
            id="a height at which short boards are stopped",
        ),
        pytest.param(  # with a tongue of 5.8 the next rule would say that the bottom has none
            "bottom.tongue",
            {"bottom__tongue": "7", "bottom__thickness": "5"},
            "does not go into a groove of 6 mm",
            "a groove of 7.2 mm, or leave the tongue to be worked out",
            id="a tongue that the bottom does not have",
        ),
        pytest.param(
            "groove",
            {"box__width": "120", "box__length": "120", "handle__length": "80", "shell__width": "60"},
            "boards of 120.6 mm are too short",
            "groove a longer stick before it is crosscut, and finish the ends with a chisel",
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
    assert (told.severity, told.says("mm")) == ("warning", "over the bottom the sides rise only 0.6 mm")


@pytest.mark.parametrize(
    ("length", "count", "says"),
    [  # a strip of two sides takes 240.6 + 3.2 + 160.6 and two trims of 15: 434.4
        (435, 2, "the grain runs round two of the corners"),
        (434, 9, "the grain runs round none of the corners"),
        (200, 9, "the rack has no board of black cherry left for front, right end, back, left end"),
    ],
)
def test_boards_too_short_for_all_sides(length: int, count: int, says: str) -> None:
    rack = f"boards = [{{ length = {length}, width = 100, thickness = 15, count = {count} }}]"
    made = worked(re.sub(r"boards = \[.*?\n\]", rack, WHOLE_METRIC, flags=re.DOTALL))
    [problem] = [p for p in made.problems if p.where == "stock.boards" and says in p.says("mm")]
    assert problem.severity == "warning"
    assert "by 94.5 mm by 15 mm" in problem.says("mm")
    assert problem.suggests("mm") == "get one of that size or larger"


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
    "groove.end_wood": (0, 60),
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
    "handle.foot": (0, 100),
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
    assert all(len(row) <= report.WIDTH for row in report.check(made).splitlines())
    assert all(problem["says"] for problem in data["problems"])
    if made.stopped:
        assert any(problem["suggestion"] for problem in data["problems"] if problem["severity"] == "stop")
