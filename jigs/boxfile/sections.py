"""The sections of a box file and their keys: what each is, its limits, its default.

Each key is one line. The range check, its message, the JSON Schema and the comments of a new file come from that line.
The kinds of values are in `kinds`. A key whose default is None is worked out where it is left out. A section whose
default is None is a part that is then not made.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr

from jigs.base import safe_names
from jigs.base.lengths import Units
from jigs.base.rules import Problem, note
from jigs.boxfile.kinds import (
    Angle,
    Count,
    Humidity,
    Length,
    Number,
    Rings,
    Temperature,
    Words,
)
from jigs.trade.passes import Machine

Method = Literal["one stack", "separately"]


@dataclass(frozen=True, slots=True)
class Reading:
    """What a value needs to know of the file it stands in."""

    units: Units
    source: str
    data: Mapping[str, Any]
    name: str = ""


# -- the sections --------------------------------------------------------------------------------------------------


def _title(section: type) -> str:
    """Return what the schema calls a section."""
    return section.__name__.removesuffix("Section")


class Section(BaseModel):
    """A section of the box file. Lengths in mm, angles in degrees, temperatures in °C, humidities in %."""

    model_config = ConfigDict(extra="forbid", frozen=True, model_title_generator=_title)


class BoxSection(Section):
    """Outside sizes of the finished box, and the boards in hand."""

    length: Annotated[float, Length("outside length along the front", 10, 2000)]
    width: Annotated[float, Length("outside width along the ends", 10, 2000)]
    height: Annotated[float, Length("width of the boards in hand", 6, 1200)]


class SidesSection(Section):
    """The four sides."""

    thickness: Annotated[float, Length("thickness of the sides, the thickest reading", 0.4, 60)]
    species: Annotated[str | None, Words("wood of the sides")] = None
    ends_species: Annotated[str | None, Words("wood of the two ends, where it is another")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class JointSection(Section):
    """The finger joint, and how it is cut."""

    finger: Annotated[float, Length("finger width", 3, 60)]
    cutter: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)]
    clearance: Annotated[float, Length("socket less finger", 0, 1)] = 0.10
    key_slack: Annotated[float, Length("play of a socket on the key", 0, 2)] = 0.10
    proud: Annotated[float, Length("fingers left long, to be planed off", 0, 3)] = 0.3
    machine: Annotated[Machine, Field(description="router table or table saw")] = "router table"
    method: Annotated[Method, Field(description="one stack, or long and short sides separately")] = "one stack"


class GrooveSection(Section):
    """The groove that holds the bottom."""

    cutter: Annotated[float, Length("groove the bit makes, measured in wood", 0.8, 30)]
    depth: Annotated[float | None, Length("depth of the groove", 0.4, 40)] = None
    from_bottom: Annotated[float | None, Length("lower side of the groove to the bottom edge", 0, 600)] = None
    end_wood: Annotated[float | None, Length("end of a stopped groove to the end of the board as cut", 0, 60)] = None


class BottomSection(Section):
    """The bottom panel, of solid wood, free to move in its groove."""

    thickness: Annotated[float, Length("thickness of the bottom", 1, 60)]
    tongue: Annotated[float | None, Length("thickness of its tongue in the groove", 0.4, 30)] = None
    clearance: Annotated[float | None, Length("play left across the grain in the wettest air", 0, 10)] = None
    inside_length: Annotated[float | None, Length("inside along the front, measured in the dry box", 5, 2000)] = None
    inside_width: Annotated[float | None, Length("inside along the ends, measured in the dry box", 5, 2000)] = None
    species: Annotated[str | None, Words("wood of the bottom; left out, that of the sides")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class LidSection(Section):
    """The lid, with a plug that drops into the box."""

    thickness: Annotated[float, Length("thickness of the lid, plug and crown included", 1, 80)]
    plug: Annotated[float | None, Length("how far the plug reaches into the box", 1, 60)] = None
    overhang: Annotated[float | None, Length("lid over the box on every side", 0, 60)] = None
    crown: Annotated[float | None, Length("rise of the crown (0 for a flat lid)", 0, 500)] = None
    clearance: Annotated[float | None, Length("gap left across the grain in the wettest air", 0, 10)] = None
    species: Annotated[str | None, Words("wood of the lid; left out, that of the sides")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class HandleSection(Section):
    """The handle, cut with a hole saw."""

    saw: Annotated[float, Length("hole the saw really cuts", 5, 200)]
    length: Annotated[float | None, Length("length of the handle", 10, 600)] = None
    height: Annotated[float | None, Length("height of the handle", 5, 300)] = None
    thickness: Annotated[float | None, Length("thickness of the handle", 3, 100)] = None
    foot: Annotated[float | None, Length("wood under the holes", 0, 100)] = None
    neck: Annotated[float | None, Length("wood between the holes", -100, 300)] = None
    crest: Annotated[float | None, Length("rise of the arched top", 0, 200)] = None


class ShellSection(Section):
    """The fan shell, carved on the front."""

    lobes: Annotated[int, Count("lobes of the fan", 2, 60)]
    width: Annotated[float, Length("width of the shell", 5, 600)]
    height: Annotated[float, Length("height of the shell", 5, 600)]
    bulge: Annotated[float | None, Number("rise of a lobe over its chord", 0.01, 0.5)] = None
    border: Annotated[float | None, Length("border outside the lobes", 0, 50)] = None
    knife: Annotated[float | None, Angle("knife to the surface", 10, 85)] = None
    chip: Annotated[float | None, Length("widest chip", 0.2, 30)] = None


class Air(Section):
    """The air in a season: temperature and relative humidity."""

    temperature: Annotated[float, Temperature("temperature", -30, 60)]
    humidity: Annotated[float, Humidity("relative humidity", 5, 98)]


class Climate(Section):
    """The air the box is made in, and the driest and wettest it will meet."""

    shop: Annotated[Air, Field(description="in the shop, on the day")] = Air(temperature=20, humidity=45)
    dry: Annotated[Air, Field(description="in the driest month at home")] = Air(temperature=20, humidity=30)
    wet: Annotated[Air, Field(description="in the wettest month")] = Air(temperature=25, humidity=70)


class RackBoard(Section):
    """A board in the rack."""

    length: Annotated[float, Length("length of the board", 10, 10000)]
    width: Annotated[float, Length("width of the board", 3, 2000)]
    thickness: Annotated[float, Length("thickness of the board", 0.4, 300)]
    count: Annotated[int, Count("boards of this size", 1, 1000)] = 1
    species: Annotated[str | None, Words("wood of the board; left out, it may be used for any")] = None
    name: Annotated[str | None, Words("what you call the board", 24)] = None


class StockSection(Section):
    """The boards in the rack, and what sawing takes."""

    boards: Annotated[tuple[RackBoard, ...], Field(description="the boards in the rack")] = ()
    kerf: Annotated[float | None, Length("what a saw cut takes", 0.3, 10)] = None
    trim: Annotated[float | None, Length("what is cut off the end of a board", 0, 300)] = None


class PrintSection(Section):
    """What the sheets are printed on."""

    paper: Annotated[str | None, Words("A4, A3, Letter, Tabloid, both")] = None
    printer: Annotated[str | None, Words("the printer whose errors are known")] = None


class MeasuredCutter(Section):
    """A cutter measured in wood, to pick from when another finger is asked for."""

    finger: Annotated[float, Length("finger it is for", 3, 60)]
    cutter: Annotated[float, Length("socket it makes, measured in wood", 0.8, 60)]


class BoxFile(Section):
    """A box file, checked key by key. Rules between keys are the box's own, not the file's."""

    title: Annotated[str, Words("what the box is called")] = "Box"
    units: Annotated[Units, Field(description="what a bare number means: mm or in")] = "mm"
    box: BoxSection
    sides: SidesSection
    joint: JointSection
    groove: GrooveSection | None = None
    bottom: BottomSection | None = None
    lid: LidSection | None = None
    handle: HandleSection | None = None
    shell: ShellSection | None = None
    climate: Climate = Climate()
    stock: StockSection | None = None
    print: PrintSection = PrintSection()
    cutters: tuple[MeasuredCutter, ...] = ()

    _source: str = PrivateAttr("")
    _name: str = PrivateAttr("")
    _notes: tuple[Problem, ...] = PrivateAttr(())

    @property
    def source(self) -> str:
        """The text it was read from, as it was."""
        return self._source

    @property
    def stem(self) -> str:
        """The name that files made from it start with: its own name, without what a file name can't hold."""
        return safe_names.stem(Path(self._name).stem, "box")

    @property
    def settings(self) -> dict[str, Any]:
        """What makes the box: everything but the paper, and the cutters that were only there to pick from."""
        return self.model_dump(exclude={"print", "cutters"})

    @property
    def notes(self) -> tuple[Problem, ...]:
        """What was read another way than it was written."""
        return self._notes

    def model_post_init(self, context: Any, /) -> None:
        """Keep the text it was read from."""
        if isinstance(context, Reading):
            self._source, self._name = context.source, context.name
            self._notes = tuple(_fractions_read(context.data, self.climate))


def _fractions_read(data: Mapping[str, Any], climate: Climate) -> Iterator[Problem]:
    """Find the humidities that were written as a fraction of 1."""
    for season, air in data.get("climate", {}).items():
        written = air["humidity"]
        percent = getattr(climate, season).humidity
        if "%" not in str(written) and percent != float(str(written).strip().replace(",", ".")):
            yield note(
                f"climate.{season}.humidity",
                "{written} is read as {percent} %",
                written=str(written),
                percent=f"{percent:g}",
            )
