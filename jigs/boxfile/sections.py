"""The sections of a box file and their keys: what each is, its limits, its usual size.

A jig that belongs to a box takes the same sections, so a setting is declared here once. A key whose default is None is
worked out where it is left out. A section whose default is None is a part that is then not made. Lengths in mm, angles
in degrees, temperatures in °C, humidities in %.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal, get_args

from jigs.base import safe_names, usual
from jigs.base.kinds import (
    Angle,
    Choice,
    Count,
    Flag,
    Humidity,
    Length,
    Number,
    PathData,
    Rings,
    Temperature,
    WoodName,
    Words,
)
from jigs.base.lengths import Units
from jigs.base.rules import Problem, note
from jigs.base.settings import Section, section
from jigs.trade.passes import KeySide, Machine
from jigs.trade.sled import Ends

Method = Literal["one stack", "separately"]
Form = Literal["fixed plate", "moving plate"]
Material = Literal["solid", "plywood"]
Middle = Literal["arch", "eye"]

BoardWidth = Annotated[float, Length("width of the boards in hand", 6, 1200)]
FingerWidth = Annotated[float, Length("finger width", 3, 60)]
Clearance = Annotated[float, Length("clearance of the joint: socket less finger", 0, 1)]
Proud = Annotated[float, Length("fingers left long, to be planed off", 0, 3)]
SidesThickness = Annotated[float, Length("thickness of the sides, the thickest reading", 0.4, 60)]
GrooveWidth = Annotated[float, Length("groove the bit makes, measured in wood", 0.8, 30)]
GrooveDepth = Annotated[float | None, Length("depth of the groove", 0.4, 40)]
GrooveHeight = Annotated[float | None, Length("lower side of the groove to the bottom edge", 0, 600)]
EndMargin = Annotated[float | None, Length("end margin: a stopped groove to the end of the board as cut", 0, 60)]
BottomThickness = Annotated[float, Length("thickness of the bottom", 1, 60)]
DeepestPass = Annotated[float, Length("what the bit takes in one pass", 0.5, 12)]
RabbetBit = Annotated[float, Length("bit that cuts the rabbets, measured", 3, 60)]
RingsAngle = Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)]


@section
class BoxSection(Section):
    """Outside sizes of the finished box, and the boards in hand."""

    length: Annotated[float, Length("outside length along the front", 10, 2000)]
    width: Annotated[float, Length("outside width along the end boards", 10, 2000)]
    height: BoardWidth


@section
class Thicknesses(Section):
    """How thick the four sides are."""

    thickness: SidesThickness
    ends_thickness: Annotated[float | None, Length("thickness of the end boards", 0.4, 60)] = None
    thinnest: Annotated[float | None, Length("thinnest reading of the sides", 0.4, 60)] = None


@section
class SidesSection(Thicknesses):
    """The four sides."""

    species: Annotated[str | None, WoodName("wood of the sides")] = None
    ends_species: Annotated[str | None, WoodName("wood of the two end boards, where it is another")] = None
    rings: RingsAngle = 0.0


@section
class JointSection(Section):
    """The finger joint, and how it is cut."""

    finger: FingerWidth
    cutter: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)]
    clearance: Clearance = usual.CLEARANCE.default
    key_slack: Annotated[float, Length("play of a socket on the key", 0, 2)] = usual.KEY_SLACK.default
    proud: Proud = usual.PROUD.default
    machine: Annotated[Machine, Choice("machine", get_args(Machine))] = "router table"
    method: Annotated[Method, Choice("how the mates are cut", get_args(Method))] = "one stack"
    key_side: Annotated[KeySide, Choice("side of the cutter the key is on", get_args(KeySide))] = "right"
    layout: Annotated[
        Ends, Choice("rip the board to whole fingers, keep its width, or centre them", get_args(Ends))
    ] = "rip"
    fingers: Annotated[int | None, Count("number of fingers on front and back", 2, 200)] = None
    passes: Annotated[int | None, Count("passes that make one socket", 1, 120)] = None
    boards_in_stack: Annotated[int, Count("boards cut together", 2, 12)] = 4
    backer: Annotated[float | None, Length("thickness of the backing board", 2, 60)] = None
    plate: Annotated[float, Length("thickness of the plate", 3, 30)] = usual.PLATE.default
    margin: Annotated[float, Length("run before and after the cut", 10, 100)] = usual.RUN.default
    key: Annotated[float | None, Length("key in hand, measured", 0.5, 62)] = None
    spacer: Annotated[float | None, Length("spacer in hand, measured", 0.5, 62)] = None
    key_height: Annotated[float | None, Length("key above the plate", 0.1, 60)] = None
    cutting_edge: Annotated[float | None, Length("length of the cutting edge", 1, 100)] = None
    edges_out: Annotated[float, Length("bottom edges of the stack out of flush by", 0, 5)] = 0.0
    form: Annotated[Form, Choice("what stays on the table", get_args(Form))] = "fixed plate"
    guided: Annotated[bool, Flag("the carriage has a guide of its own")] = False
    out_of_parallel: Annotated[float, Angle("key out of parallel with the travel", 0, 5)] = 0.0
    blade: Annotated[float, Length("diameter of the saw blade", 100, 500)] = usual.BLADE.default
    bevel: Annotated[float, Angle("bevel of the saw's teeth", 0, 45)] = 0.0
    clamp_reach: Annotated[float | None, Length("thickest stack the clamps take", 10, 500)] = None
    whole: Annotated[bool, Flag("draw the whole plate, over several pages if need be")] = False


@section
class GrooveSection(Section):
    """The groove that holds the bottom."""

    cutter: GrooveWidth
    depth: GrooveDepth = None
    from_bottom: GrooveHeight = None
    end_margin: EndMargin = None
    deepest_pass: DeepestPass = usual.PASS_DEPTH.default


@section
class Panel(Section):
    """A bottom panel of solid wood, free to move in its groove, or of plywood, glued in it."""

    material: Annotated[Material, Choice("solid wood, or plywood or another sheet", get_args(Material))] = "solid"
    thickness: BottomThickness
    tongue: Annotated[float | None, Length("thickness of its tongue in the groove", 0.4, 30)] = None
    clearance: Annotated[
        float, Length("clearance across the grain in the wettest season; of plywood, both ways", 0, 10)
    ] = usual.BOTTOM_CLEARANCE.default
    bit: Annotated[float | None, Length("bit that cuts its rabbets, measured", 3, 60)] = None
    species: Annotated[str | None, WoodName("wood of the bottom; left out, that of the sides")] = None
    rings: RingsAngle = 0.0


@section
class BottomSection(Panel):
    """The bottom panel: of solid wood, free to move in its groove, or of plywood, glued in it."""

    inside_length: Annotated[float | None, Length("inside along the front, measured in the dry box", 5, 2000)] = None
    inside_width: Annotated[float | None, Length("inside along the end boards, measured in the dry box", 5, 2000)] = (
        None
    )


@section
class LidSection(Section):
    """The lid, with a plug that drops into the box."""

    thickness: Annotated[float, Length("thickness of the lid, plug and crown included", 1, 80)]
    plug: Annotated[float | None, Length("how far the plug reaches into the box", 1, 60)] = None
    overhang: Annotated[float, Length("overhang of the lid beyond the box on every side", 0, 60)] = (
        usual.LID_OVERHANG.default
    )
    crown: Annotated[float | None, Length("rise of the crown (0 for a flat lid)", 0, 500)] = None
    clearance: Annotated[float, Length("clearance across the grain in the wettest season", 0, 10)] = (
        usual.LID_CLEARANCE.default
    )
    play: Annotated[float, Length("clearance along the grain", 0, 10)] = usual.LID_PLAY.default
    bit: RabbetBit = usual.RABBET_BIT.default
    deepest_pass: DeepestPass = usual.PASS_DEPTH.default
    species: Annotated[str | None, WoodName("wood of the lid; left out, that of the sides")] = None
    rings: RingsAngle = 0.0


@section
class HandleSection(Section):
    """The handle, cut with a hole saw."""

    saw: Annotated[float, Length("hole the saw really cuts", 5, 200)]
    holes: Annotated[int, Count("holes in a row: 2, one through each end, or 3 with one in the middle", 2, 3)] = 2
    middle: Annotated[Middle, Choice("hole in the middle of three", get_args(Middle))] = "arch"
    middle_saw: Annotated[float | None, Length("hole that a second saw cuts in the middle", 5, 200)] = None
    middle_height: Annotated[float | None, Length("centre of the middle hole above the base", -200, 300)] = None
    length: Annotated[float | None, Length("length of the handle", 10, 600)] = None
    height: Annotated[float | None, Length("height of the handle", 5, 300)] = None
    thickness: Annotated[float, Length("thickness of the handle", 3, 100)] = usual.HANDLE_THICKNESS.default
    base: Annotated[float, Length("base: the wood under the holes", 0, 100)] = usual.HANDLE_BASE.default
    neck: Annotated[float, Length("neck: the wood between the holes", -100, 300)] = usual.HANDLE_NECK.default
    crest: Annotated[float, Length("rise of the arched top", 0, 200)] = usual.HANDLE_CREST.default
    countersink: Annotated[float, Length("screw heads sunk into the lid", 0, 30)] = usual.COUNTERSINK.default
    bite: Annotated[float, Length("how far the screws go into the handle", 2, 120)] = usual.BITE.default
    shank: Annotated[float, Length("shank of the screws", 1.5, 10)] = usual.SHANK.default
    root: Annotated[float, Length("root of the screws, between the threads", 1, 8)] = usual.ROOT.default
    screws: Annotated[int, Count("screws: 2, or 4, two of them side by side", 2, 4)] = 2
    across: Annotated[bool, Flag("the handle lies across the grain of the lid")] = False


@section
class ShellSection(Section):
    """The fan shell, carved on the front."""

    lobes: Annotated[int, Count("lobes of the fan", 2, 60)]
    width: Annotated[float, Length("width of the shell", 5, 600)]
    height: Annotated[float, Length("height of the shell", 5, 600)]
    bulge: Annotated[float, Number("rise of a lobe above its chord", 0.01, 0.5)] = usual.SHELL_BULGE
    border: Annotated[float, Length("border outside the lobes", 0, 50)] = usual.SHELL_BORDER.default
    knife: Annotated[float, Angle("knife to the surface", 10, 85)] = usual.SHELL_KNIFE
    chip: Annotated[float, Length("widest chip", 0.2, 30)] = usual.SHELL_CHIP.default


Side = Literal["front", "back", "left end", "right end"]


@section
class PatternSection(Section):
    """A pattern of your own, carved on a side."""

    width: Annotated[float, Length("width of the pattern", 5, 600)]
    side: Annotated[Side, Choice("side that it is carved on", get_args(Side))] = "front"
    across: Annotated[float, Length("how far it stands right of the middle of its side", -600, 600)] = 0.0
    up: Annotated[float, Length("how far it stands above the middle of what is free", -600, 600)] = 0.0
    chip: Annotated[float, Length("widest chip along its lines", 0.2, 30)] = usual.PATTERN_CHIP.default
    knife: Annotated[float, Angle("knife to the surface", 10, 85)] = usual.SHELL_KNIFE
    outline: Annotated[str, PathData("its lines, as 'jigleaf pattern' writes them")]


@section
class Air(Section):
    """The air in a season: temperature and relative humidity."""

    temperature: Annotated[float, Temperature("temperature", -30, 60)]
    humidity: Annotated[float, Humidity("relative humidity", 5, 98)]


@section
class Climate(Section):
    """The air the box is made in, and the driest and wettest it will meet."""

    shop: Annotated[Air, "in the shop on the day"] = Air(temperature=20.0, humidity=45.0)
    dry: Annotated[Air, "in the driest season at home"] = Air(temperature=20.0, humidity=30.0)
    wet: Annotated[Air, "in the wettest season at home"] = Air(temperature=25.0, humidity=70.0)


@section
class RackBoard(Section):
    """A board in the rack."""

    length: Annotated[float, Length("length of the board", 10, 10000)]
    width: Annotated[float, Length("width of the board", 3, 2000)]
    thickness: Annotated[float, Length("thickness of the board", 0.4, 300)]
    planed: Annotated[bool, Flag("whether both faces are planed already: it need be no thicker than the part")] = False
    count: Annotated[int, Count("boards of this size", 1, 1000)] = 1
    species: Annotated[str | None, WoodName("wood of the board; left out, it may be used for any")] = None
    name: Annotated[str | None, Words("what you call the board", 24)] = None
    price: Annotated[float | None, Number("what one of these boards costs", 0, 1_000_000)] = None


@section
class WoodPrice(Section):
    """What a wood costs: a cubic metre of it in a file in mm, a board foot in inches."""

    species: Annotated[str, WoodName("the wood")]
    price: Annotated[float, Number("price of a cubic metre, or of a board foot in inches", 0, 1_000_000)]


@section
class StockSection(Section):
    """The boards in the rack, and what sawing takes."""

    boards: Annotated[tuple[RackBoard, ...], "the boards in the rack"] = ()
    kerf: Annotated[float, Length("what a saw cut takes", 0.3, 10)] = usual.KERF.default
    trim: Annotated[float, Length("what is cut off the end of a board", 0, 300)] = usual.TRIM.default
    currency: Annotated[str | None, Words("the word for the money of the prices", 12)] = None
    prices: Annotated[tuple[WoodPrice, ...], "what each wood costs"] = ()


@section
class Minutes(Section):
    """How long an operation takes: setting the machine, and the work on one box, in minutes."""

    set: Annotated[float, Number("minutes to set the machine", 0, 600)]
    work: Annotated[float, Number("minutes of work on one box", 1, 3000)]


@section
class HoursSection(Section):
    """How long the work takes, in minutes: what a class is planned with (usual values: common practice, no source)."""

    evening: Annotated[float, Number("minutes of an evening of the class", 30, 1440)] = 150
    set_out: Annotated[float, Number("minutes of it to set out and clear up", 0, 240)] = 20
    saws: Annotated[int, Count("table saws of the class", 1, 50)] = 1
    routers: Annotated[int, Count("router tables of the class", 1, 50)] = 1
    drills: Annotated[int, Count("drill presses of the class", 1, 50)] = 1
    sled: Annotated[Minutes, "making the sled"] = Minutes(set=20, work=150)
    wood: Annotated[Minutes, "planing, ripping and crosscutting"] = Minutes(set=20, work=15)
    joint: Annotated[Minutes, "cutting the joints, with a test joint"] = Minutes(set=30, work=20)
    groove: Annotated[Minutes, "cutting the groove"] = Minutes(set=15, work=8)
    bottom: Annotated[Minutes, "fitting the bottom"] = Minutes(set=15, work=15)
    shell: Annotated[Minutes, "carving the shell"] = Minutes(set=0, work=120)
    glue: Annotated[Minutes, "gluing up"] = Minutes(set=0, work=40)
    lid: Annotated[Minutes, "making the lid"] = Minutes(set=20, work=25)
    handle: Annotated[Minutes, "drilling and shaping the handle"] = Minutes(set=15, work=20)
    finish: Annotated[Minutes, "sanding and finishing"] = Minutes(set=0, work=75)


@section
class PrintSection(Section):
    """What the sheets are printed on."""

    paper: Annotated[str | None, Words("A4, A3, Letter, Tabloid, both")] = None
    printer: Annotated[str | None, Words("the printer whose measured error is corrected for")] = None


@section
class MeasuredCutter(Section):
    """A cutter measured in wood, to pick from when another finger is asked for."""

    finger: Annotated[float, Length("finger it is for", 3, 60)]
    cutter: Annotated[float, Length("socket it makes, measured in wood", 0.8, 60)]


@section
class BoxFile(Section):
    """A box file, checked key by key. Rules between keys are the box's own, not the file's."""

    title: Annotated[str, Words("what the box is called")] = "Box"
    units: Annotated[Units, Choice("what a bare number means: mm or in", get_args(Units))] = "mm"
    box: BoxSection
    sides: SidesSection
    joint: JointSection
    groove: GrooveSection | None = None
    bottom: BottomSection | None = None
    lid: LidSection | None = None
    handle: HandleSection | None = None
    shell: ShellSection | None = None
    pattern: PatternSection | None = None
    climate: Climate = Climate()
    stock: StockSection | None = None
    hours: HoursSection = HoursSection()
    print: PrintSection = PrintSection()
    cutters: tuple[MeasuredCutter, ...] = ()

    source: ClassVar[str] = ""
    """The text it was read from, as it was; set by `reading`."""
    name: ClassVar[str] = ""
    """What messages call it; set by `reading`."""
    given: ClassVar[frozenset[str]] = frozenset()
    """The keys that stand in it, each as `section.key`; set by `reading`."""
    notes: ClassVar[tuple[Problem, ...]] = ()
    """What was read another way than it was written; set by `reading`."""

    @property
    def stem(self) -> str:
        """The name that files made from it start with: its own name, without what a file name can't hold."""
        return safe_names.stem(Path(self.name).stem, "box")

    @property
    def settings(self) -> dict[str, Any]:
        """What makes the box: not the paper, nor the time it takes, nor cutters that were only there to pick from."""
        return {name: value for name, value in asdict(self).items() if name not in ("print", "cutters", "hours")}


def remember(file: BoxFile, source: str, name: str, given: frozenset[str], notes: tuple[Problem, ...] = ()) -> BoxFile:
    """Return the file, which from now on knows the text it was read from."""
    for key, value in (("source", source), ("name", name), ("given", given), ("notes", notes)):
        object.__setattr__(file, key, value)
    return file


def fractions_read(data: Mapping[str, Any], climate: Climate) -> Iterator[Problem]:
    """Find the humidities that were written as a fraction of 1."""
    for season, air in data.get("climate", {}).items():
        written = air["humidity"]
        percent = getattr(climate, season).humidity
        if "%" not in str(written) and percent != float(str(written).strip().replace(",", ".")):
            yield note(
                f"climate.{season}.humidity",
                "{written} is read as {percent} %",
                "write {percent} to say so, or add % to what you mean",
                written=str(written),
                percent=f"{percent:g}",
            )
