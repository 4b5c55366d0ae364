"""The box file: what is read, how each fault is said, and what changing a key leaves alone."""

from __future__ import annotations

import contextlib
import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.base import lengths
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.lengths import Units
from jigs.box import questions
from jigs.boxfile import change, reading
from jigs.boxfile import schema as boxfile_schema
from jigs.course import class_list

SAMPLES = sorted((Path(__file__).parent.parent / "samples").glob("recipe-box*.toml"))
LEAST = """\
[box]
length = 200
width = 150
height = 92
[sides]
thickness = 12
[joint]
finger = 10
cutter = 10.02
"""
"""Nothing but what must be there; what a test appends stands in [joint], from line 10 on."""


def changed(key: str, value: str) -> str:
    return re.sub(rf"^{key} = .*$", f"{key} = {value}", LEAST, flags=re.MULTILINE)


def refused(text: str) -> str:
    with pytest.raises(CannotRead) as error:
        reading.read(text, "b.toml")
    return str(error.value)


# -- what is read --------------------------------------------------------------------------------------------------


def test_what_is_left_out_has_its_default() -> None:
    box = reading.read(LEAST, "b.toml")
    assert (box.title, box.units, box.source) == ("Box", "mm", LEAST)
    assert (box.joint.clearance, box.joint.key_slack, box.joint.proud) == (0.10, 0.10, 0.3)
    assert (box.joint.machine, box.joint.method, box.sides.rings) == ("router table", "one stack", 0.0)
    assert [box.groove, box.bottom, box.lid, box.handle, box.shell, box.stock] == [None] * 6
    air = [(season.temperature, season.humidity) for season in (box.climate.shop, box.climate.dry, box.climate.wet)]
    assert air == [(20, 45), (20, 30), (25, 70)]
    assert (box.print.paper, box.cutters, box.notes) == (None, (), ())


@pytest.mark.parametrize(
    ("units", "written", "mm"),
    [
        ("mm", "9.5", 9.5),
        ("mm", "10", 10.0),
        ("mm", '"3/8 in"', 9.525),
        ("mm", '"9,5"', 9.5),
        ("in", '"3/8"', 9.525),
        ("in", "0.5", 12.7),
        ("in", "0.202", 5.1308),  # by its digits, as in quotes
        ("in", '"0.202"', 5.1308),
        ("in", '"9.5mm"', 9.5),
        ("in", "'3/8\"'", 9.525),
    ],
)
def test_a_bare_length_is_in_the_units_of_the_file(units: str, written: str, mm: float) -> None:
    plain = LEAST.replace("200", '"200 mm"').replace("150", '"150 mm"').replace("92", '"92 mm"')
    plain = (
        plain.replace("= 12", '= "12 mm"').replace("10.02", '"10.02 mm"').replace("finger = 10", f"finger = {written}")
    )
    assert reading.read(f'units = "{units}"\n' + plain, "b.toml").joint.finger == mm


@pytest.mark.parametrize(
    ("units", "temperature", "celsius"),
    [("mm", "21", 21), ("in", "68", 20), ("mm", '"68 F"', 20), ("in", '"20 °C"', 20), ("in", '"77F"', 25)],
)
def test_a_bare_temperature_is_in_the_units_of_the_file(units: str, temperature: str, celsius: float) -> None:
    text = f'units = "{units}"\n[climate]\nshop = {{ temperature = {temperature}, humidity = "45 %" }}\n'
    box = reading.read(text + (LEAST if units == "mm" else re.sub("= ([0-9.]+)", r'= "\1 mm"', LEAST)), "b.toml")
    assert box.climate.shop.temperature == pytest.approx(celsius)
    assert box.climate.shop.humidity == 45


@pytest.mark.parametrize("written", ["0.57", '"0,57"', '"0.57"'])
def test_a_humidity_up_to_1_is_a_fraction_and_said_to_be(written: str) -> None:
    box = reading.read(LEAST + f"[climate]\nwet = {{ temperature = 25, humidity = {written} }}\n", "b.toml")
    assert box.climate.wet.humidity == 57
    (note,) = box.notes
    assert (note.severity, note.where) == ("note", "climate.wet.humidity")
    assert note.says("mm") == f"{written.strip(chr(34))} is read as 57 %"


@pytest.mark.parametrize(("written", "degrees"), [('"flat"', 0), ('"Quarter"', 90), ("30", 30), ('"45°"', 45)])
def test_rings_are_named_or_an_angle(written: str, degrees: float) -> None:
    text = LEAST.replace("[joint]", f"rings = {written}\n[joint]")
    assert reading.read(text, "b.toml").sides.rings == degrees


@given(st.sampled_from(["mm", "in"]), st.floats(3, 60, allow_nan=False), st.booleans())
def test_a_length_written_in_either_unit_reads_back(units: Units, mm: float, bare: bool) -> None:
    written = lengths.bare(mm, units, "gauge") if bare else f'"{lengths.show(mm, units)}"'
    text = f'title = "x"\nunits = "{units}"\n' + re.sub("= ([0-9.]+)", r'= "\1 mm"', LEAST)
    try:
        read = reading.read(text.replace('finger = "10 mm"', f"finger = {written}"), "b.toml").joint.finger
    except CannotBuild:  # rounded to just outside of the limits
        assert min(abs(mm - 3), abs(mm - 60)) <= lengths.ROUNDING[units]
    else:
        assert abs(read - mm) <= float(lengths.ROUNDING[units]) + 1e-9


# -- how faults are said -------------------------------------------------------------------------------------------

UNREADABLE = {
    "unknown key": (LEAST + "fingr = 3\n", "line 10: joint.fingr: unknown key; did you mean 'finger' or 'fingers'?"),
    "key of a section": ("finger = 3\n" + LEAST, "line 1: finger: unknown key; it belongs in [joint] or in [cutters]"),
    "key of the top": (LEAST + "title = 'x'\n", "line 10: joint.title: unknown key; it belongs at the top of the file"),
    "key of another": (LEAST + "kerf = 3\n", "line 10: joint.kerf: unknown key; it belongs in [stock]"),
    "unknown section": (
        LEAST + "\n[handel]\nsaw=1\n",
        "line 11: handel: unknown section; did you mean 'handle' or",
    ),
    "control characters": (LEAST + '"\\u001b[31m" = 1\n', "line 10: joint.�[31m: unknown key; there are: finger, "),
    "missing key": (
        LEAST.replace("finger = 10\n", ""),
        "line 7: joint.finger: missing; [joint] needs it (finger width)",
    ),
    "missing section": (LEAST[:-37], "b.toml: joint: this section is missing; it needs finger and cutter"),
    "no section": ("lid = 3\n" + LEAST, "line 1: lid: must be a section with keys, not a number"),
    "no list": (LEAST + "[stock]\nboards = 3\n", "line 11: stock.boards: must be a list, not a number"),
    "true": (changed("finger", "true"), "line 8: joint.finger: must be a length such as 9.5, "),
    "nan": (changed("finger", "nan"), "not nan"),
    "infinite": (changed("finger", "-inf"), "not -inf"),
    "digits without end": (changed("finger", "1" + "0" * 1500), "line 8: joint.finger: must be a length such as"),
    "huge text": (changed("finger", f'"1{"0" * 20}"'), "is far too large for a length"),
    "list": (changed("finger", "[1]"), "not a list"),
    "date": (changed("finger", "2024-01-01"), "not a date or time"),
    "blank": (changed("finger", '""'), "line 8: joint.finger: '' is empty; write a length"),
    "blank in a fraction": (
        changed("finger", '"3 /8"'),
        "joint.finger: '3 /8' has a blank before the stroke; write 3/8",
    ),
    "choice": (LEAST + 'machine = "saw"\n', "line 10: joint.machine: must be 'router table' or 'table saw', not 'saw'"),
    "units": ('units = "cm"\n' + LEAST, "line 1: units: must be 'mm' or 'in', not 'cm'"),
    "no words": ("title = 3\n" + LEAST, "line 1: title: must be text in quotes, not a number"),
    "empty words": ("title = ' '\n" + LEAST, "line 1: title: is empty"),
    "long words": (f"title = '{'x' * 81}'\n" + LEAST, "line 1: title: has 81 characters, where it may have 80"),
    "words in two lines": ('title = """a\nb"""\n' + LEAST, "line 1: title: has a line break"),
    "no whole number": (
        LEAST + "[shell]\nlobes = 2.5\n",
        "line 11: shell.lobes: 2.5 can't be read; write a whole number",
    ),
    "ratio": (
        LEAST + "[shell]\nbulge = '1 mm'\n",
        "line 11: shell.bulge: '1 mm' can't be read; write a number such as",
    ),
    "angle": (LEAST + "[shell]\nknife = '1 rad'\n", "line 11: shell.knife: '1 rad' can't be read; write degrees"),
    "rings": (LEAST + "[bottom]\nrings = 'round'\n", "line 11: bottom.rings: 'round' can't be read; write \"flat\""),
    "temperature": (
        LEAST + "[climate]\nshop = {temperature = '20 K', humidity = 45}\n",
        "line 11: climate.shop.temperature: '20 K' can't be read; write a temperature such as \"20 C\"",
    ),
    "humidity": (
        LEAST + "[climate.shop]\ntemperature = 20\nhumidity = '45 mm'\n",
        "line 12: climate.shop.humidity: '45 mm' can't be read; write a humidity such as 45",
    ),
    "in a list": (
        LEAST
        + "[stock]\nboards = [\n{length = 99, width = 9, thickness = 9},\n{length = 99, width = 9},\n]\nkerf = 'x'\n",
        "line 11: stock.boards[2].thickness: missing; [stock.boards] needs it (thickness of the board)",
    ),
    "after a list": (
        LEAST + "[stock]\nboards = [\n# x\n]\n\nkerf = 'x'\n",
        "line 15: stock.kerf: 'x' has no number in it",
    ),
    "in the second of many": (
        LEAST + "[[cutters]]\nfinger = 8\ncutter = 8\n[[cutters]]\nfinger = 'x'\ncutter = 8\n",
        "line 14: cutters[2].finger: 'x' has no number in it",
    ),
    "fraction without quotes": (
        changed("finger", "3/8  # of an inch"),
        'line 8, column 11: this is neither a number nor text in quotes; write finger = "3/8"',
    ),
    "inch mark in quotes": (changed("finger", '"3/8""'), "write finger = '3/8\"'"),
    "no value": (LEAST + "proud =\n", "line 10, column 8: this is neither a number nor text in quotes"),
    "key twice": (LEAST + "finger = 3\n", "line 10, column 11: this key stands twice"),
    "section twice": (LEAST + "[box]\n", "line 10, column 5: the section [box] stands twice"),
    "open quote": (LEAST + 'machine = "x\n', "line 10, column 13: the closing quote is missing"),
    "open bracket": (LEAST + "[lid", "line 10, column 5: expected ']'"),
}


@pytest.mark.parametrize("case", UNREADABLE)
def test_what_cannot_be_read_is_said_with_its_line(case: str) -> None:
    text, message = UNREADABLE[case]
    assert message in refused(text)
    assert refused(text).startswith("b.toml")
    assert refused(text.replace("\n", "\r\n")) == refused(text)  # as Windows writes it


OUT_OF_LIMITS = {
    "too small": (
        changed("finger", "2"),
        "joint.finger",
        "finger width must be from 3 mm to 60 mm; it is 2 mm",
        "3 mm",
    ),
    "negative": (changed("length", "-5"), "box.length", "must be from 10 mm to 2000 mm; it is −5 mm (line 2)", "10 mm"),
    "1e9": (
        changed("finger", "1e9"),
        "joint.finger",
        "it is 1000000000 mm (line 8)",
        "the nearest that works is 60 mm",
    ),
    "in inches": ('units = "in"\n' + LEAST, "joint.finger", "from 0.119 in to 2.362 in", "2.362 in"),
    "count": (LEAST + "[shell]\nlobes = 1\nwidth = 60\nheight = 40\n", "shell.lobes", "from 2 to 60; it is 1", "is 2"),
    "angle": (LEAST + "[bottom]\nthickness = 9\nrings = 91\n", "bottom.rings", "from 0° to 90°; it is 91°", "is 90°"),
    "humidity": (
        LEAST + "[climate]\nshop = {temperature = 20, humidity = '0.5 %'}\n",
        "climate.shop.humidity",
        "relative humidity must be from 5 % to 98 %; it is 0.5 % (line 11)",
        "the nearest that works is 5 %",
    ),
    "temperature": (
        LEAST + "[climate]\nshop = {temperature = '500 F', humidity = 45}\n",
        "climate.shop.temperature",
        "temperature must be from -30 °C to 60 °C; it is 260 °C",
        "the nearest that works is 60 °C",
    ),
}


@pytest.mark.parametrize("case", OUT_OF_LIMITS)
def test_what_is_out_of_its_limits_names_them_and_the_nearest(case: str) -> None:
    text, where, says, suggests = OUT_OF_LIMITS[case]
    with pytest.raises(CannotBuild) as error:
        reading.read(text, "b.toml")
    (problem,) = [problem for problem in error.value.problems if problem.where == where]
    assert problem.severity == "stop"
    assert says in problem.says(error.value.units)
    assert suggests in problem.suggests(error.value.units)


def test_everything_that_is_wrong_is_said_at_once_in_the_order_of_the_file() -> None:
    said = refused('units = "mm"\n[box]\nlength = -5\nhieght = 9\nwidth = 9000\n[sides]\nthickness = "thick"\n')
    assert [row.split(": ")[1] for row in said.splitlines()] == [
        "joint", "box.height", "box.length", "box.hieght", "box.width", "sides.thickness",
    ]  # fmt: skip
    assert (
        "line 3: box.length: Outside length along the front must be from 10 mm to 2000 mm; it is −5 mm. The n" in said
    )


HOSTILE = {
    "keys": (LEAST + "\n".join(f"k{number} = 1" for number in range(80_000)), "80009 lines, where a box file may have"),
    "fewer keys": (LEAST + "\n".join(f"k{number} = 1" for number in range(4_900)), "b.toml: and 4850 more"),
    "sections": ("\n".join(f"[s{number}]" for number in range(4_900)), "b.toml: and 4853 more"),
    "one long line": (f'title = "{"x" * 900_000}"\n' + LEAST, "line 1: has 900010 characters, where a line may have"),
    "one long text": (f'title = """{("x" * 1000 + chr(10)) * 900}"""\n' + LEAST, "title: has 900899 characters, where"),
    "one long list": (LEAST + "[stock]\nboards = [\n" + "{},\n" * 4_900 + "]\n", "b.toml: and 14650 more"),
    "deep lists": ("a = " + "[" * 900 + "]" * 900, "b.toml: lists or tables are nested too deep"),
    "deep tables": ("a = " + "{a=" * 450 + "1" + "}" * 450, "b.toml: lists or tables are nested too deep"),
    "dotted key": (f"a{'.a' * 900} = 1", "line 1: has 900 dots, where a line may have"),
    "many dotted keys": (f"a{'.a' * 90} = 1\n" * 200, "b.toml has far more dots in its lines than a box file may have"),
    "more than a megabyte": ("# " * 600_000, "b.toml has more than 1 MB"),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_what_is_no_box_file_at_all_is_refused_in_few_words(case: str) -> None:
    text, message = HOSTILE[case]
    said = refused(text)
    assert message in said
    assert len(said) < 20_000


@given(st.text(max_size=200) | st.lists(st.sampled_from("[]{}=\"'#\n.,1ax \\é"), max_size=60).map("".join))
def test_no_text_does_more_than_be_refused(text: str) -> None:
    for whole in (text, LEAST + text):
        with contextlib.suppress(JigleafError):
            reading.read(whole, "b.toml")


def test_a_path_that_holds_no_text(tmp_path: Path) -> None:
    latin, large = tmp_path / "latin.toml", tmp_path / "large.toml"
    latin.write_bytes(b"[box]\n# caf\xe9\n")
    large.write_bytes(b"#" * 1_000_001)
    for path, message in {
        tmp_path: "is a folder",
        tmp_path / "none.toml": "there is no such file",
        tmp_path / "x\0y": "no file can have that name",
        latin: "line 2: not UTF-8",
        large: "more than 1 MB",
    }.items():
        with pytest.raises(CannotRead, match=re.escape(message)):
            reading.load(path)


def test_a_file_with_a_mark_of_byte_order_is_read(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(LEAST, encoding="utf-8-sig")
    assert reading.load(path).box.length == 200


# -- changing a key ------------------------------------------------------------------------------------------------


def test_a_changed_key_leaves_everything_else_as_it_was() -> None:
    text = "# ours\n[joint]\nfinger = 10   # the wide one\ncutter = 10\n\n# next\n[lid]\nthickness = 18"
    new = change.set_values(text, {"joint.finger": "1/4", "joint.proud": 0.5, "handle.saw": 38.6, "lid.plug": 6})
    assert new == (
        '# ours\n[joint]\nfinger = "1/4"   # the wide one\ncutter = 10\nproud = 0.5\n\n# next\n'
        "[lid]\nthickness = 18\nplug = 6\n\n[handle]\nsaw = 38.6\n"
    )


def test_a_value_is_changed_where_it_may_stand() -> None:
    """In a section, or in one of its sections; never where there is none, nor one that the key can't hold."""
    file = reading.read(LEAST, "box.toml")
    made = change.changed(file, {"joint.finger": 9.0, "climate.dry.temperature": -20.0})
    assert made is not None
    assert (made.joint.finger, made.climate.dry.temperature) == (9.0, -20.0)
    assert made.climate.wet == file.climate.wet
    for key, value in (
        ("joint.finger", 1.0),
        ("joint.toe", 9.0),
        ("joint.finger.tip", 9.0),
        ("climate.dry.temperature", -31.0),
        ("handle.saw", 38.0),
    ):
        assert change.changed(file, {key: value}) is None


@pytest.mark.parametrize(
    "text", [LEAST, "joint.finger = 3\nlid = {plug = 3}\n", *(path.read_text() for path in SAMPLES)]
)
@given(
    st.dictionaries(
        st.sampled_from(["joint.finger", "lid.plug", "title", "climate.dry.humidity", "print.paper", "sides.rings"]),
        st.floats(0, 99) | st.sampled_from(["1/4", 'a "quoted" é', "x # y", "'"]),
    )
)
def test_changed_keys_are_there_and_every_comment_still_is(text: str, values: dict[str, str | float]) -> None:
    new = change.set_values(text, values)
    expected: dict[str, Any] = tomllib.loads(text)
    for name, value in values.items():
        *sections, key = name.split(".")
        table = expected
        for section in sections:
            table = table.setdefault(section, {})
        table[key] = value
    assert tomllib.loads(new) == expected
    assert [line for line in new.splitlines() if line.startswith("#")] == [
        line for line in text.splitlines() if line.startswith("#")
    ]


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("joint.fingr", "joint.fingr: unknown key; did you mean 'finger' or 'fingers'?"),
        ("jiont.finger", "jiont: unknown section; did you mean 'joint'"),
        ("joint", "is a section; name one of its keys"),
        ("joint.finger.x", "joint.finger holds a value"),
        ("stock.boards", "holds a list"),
        ("cutters.finger", "holds a list"),
        ("", "unknown key; there are: title"),
    ],
)
def test_what_no_box_file_has_cannot_be_set(name: str, message: str) -> None:
    with pytest.raises(CannotRead, match=re.escape(message)):
        change.set_values(LEAST, {name: 1})


def test_a_value_where_a_section_should_be_is_not_written_over() -> None:
    with pytest.raises(CannotRead, match="in the file joint is a number, not a section"):
        change.set_values("joint = 3\n", {"joint.finger": 1})


# -- the new file, the samples, the schema -------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_file_reads_back_as_it_is_and_with_every_key_set(units: Units) -> None:
    text = questions.usual_text(units)
    assert reading.read(text, "new").units == units
    every = reading.read(re.sub(r"^# (?=\w+ = )", "", text, flags=re.MULTILINE), "new")
    # What is known once it was measured is named in words: in a new file there is nothing to be shown.
    measured = {"print.printer", "joint.cutting_edge", "joint.clamp_reach", "bottom.bit", "stock.currency"}
    unset = re.compile(r"hours\.\w+\.(set|work)|pattern\.\w+|handle\.middle_\w+")
    more = {key for key in class_list.keys() if unset.fullmatch(key)}  # noqa: SIM118 - a function
    assert set(class_list.keys()) - set(every.given) == measured | more
    assert every.joint.clearance == pytest.approx(0.10, abs=0.002)
    assert "key printer" in text


def test_both_samples_hold_the_cards() -> None:
    """A recipe card is 6 × 4 in, 152.4 × 101.6 mm (common practice, no source)."""
    inside = {}
    for path in SAMPLES:
        box = reading.load(path)
        inside[path.stem] = [side - 2 * box.sides.thickness for side in (box.box.length, box.box.width)]
        assert box.notes == ()
    assert inside == {"recipe-box": [176, 126], "recipe-box-inch": [pytest.approx(165.1), pytest.approx(101.6)]}
    assert inside["recipe-box"][0] - 152.4 > 20  # lying, with a finger at each end
    assert inside["recipe-box-inch"][0] - 152.4 > 10  # standing


def documents() -> dict[str, Any]:
    texts = {path.name: path.read_text() for path in SAMPLES} | {"least": LEAST, "new": questions.usual_text("in")}
    return {name: tomllib.loads(text) for name, text in texts.items()}


def test_the_schema_takes_what_is_read_and_refuses_what_is_not() -> None:
    """Held against the JSON Schema validator of another house, where there is one."""
    validators = pytest.importorskip("jsonschema")
    validator = validators.Draft202012Validator(boxfile_schema.schema())
    validator.check_schema(boxfile_schema.schema())
    for name, document in documents().items():
        assert not list(validator.iter_errors(document)), name
    for text in (
        "fingr = 3",
        "proud = true",
        "machine = 'saw'",
        "[shell]\nlobes = 2.5",
        "proud = -0.1",
        "[lid]\nplug = 3",
    ):
        assert list(validator.iter_errors(tomllib.loads(f"{LEAST}{text}\n"))), text


def test_the_schema_says_what_every_key_is() -> None:
    schema = json.loads(json.dumps(boxfile_schema.schema(), allow_nan=False))
    sections = [schema, *schema["$defs"].values()]
    assert len(sections) == 19
    for section in sections:
        assert section["additionalProperties"] is False
        for key, described in section["properties"].items():
            assert described.get("description") or "$ref" in described or described["type"] == "array", key
            assert described.get("default", "") is not None, key
    assert schema["required"] == ["box", "sides", "joint"]
    finger = schema["$defs"]["JointSection"]["properties"]["finger"]
    assert [kind["type"] for kind in finger["anyOf"]] == ["number", "string"]
    assert finger["description"] == "finger width, 3 to 60 mm"
