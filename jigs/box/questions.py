"""Questions for a new box file: the fewest that make a box, each with the effect of its answer.

What stands in brackets is tried before it is offered, and an answer is taken only where a box can be made with it: so
no question is ever asked to which there is no answer, and a part that does not fit is not asked for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from itertools import islice

from jigs.base import lengths
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.lengths import Units, show
from jigs.base.rules import Problem
from jigs.base.wording import say, shown
from jigs.box import chain, new
from jigs.box.chain import Box
from jigs.box.new import Value
from jigs.boxfile import change
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.settings import counted
from jigs.record import Record, replace
from jigs.trade import timber


class Question(Record):
    """One thing to ask: the key that it settles, the words, what its answer makes of the box, and what to know."""

    key: str
    words: str
    effect: Callable[[Box], str]
    about: str = ""

    @property
    def section(self) -> str:
        """The section of the box file that the key stands in."""
        return _section(self.key)


def _inside(worked: Box) -> str:
    across, up = (show(size, worked.file.units) for size in worked.inside)
    return f"inside {across} by {up}"


def _wood_of(part: str) -> Callable[[Box], str]:
    """Return what tells the wood of a part by its name in the trade: a maker may call it by another."""

    def effect(worked: Box) -> str:
        said = getattr(getattr(worked.file, part), "species", None)
        return str(said or worked.file.sides.species or "")

    return effect


def _fingers(worked: Box) -> str:
    return _of_joint(worked, "{count}, {finger:gauge} and {socket:gauge} wide; sides {width:gauge} high")


def _height(worked: Box) -> str:
    """Return what the fingers make of the boards, and how deep the box is inside, as far as that is known."""
    return "; ".join(words for words in (_of_joint(worked, _RIPPED), depth_inside(worked)) if words)


_RIPPED = "{count}; sides {width:gauge} high, and so is the box"


def _cutter(worked: Box) -> str:
    return _of_joint(worked, "sides {width:gauge} high; gap {gap:gauge}, spacer {spacer:gauge}")


def _of_joint(worked: Box, words: str) -> str:
    made = worked.numbers
    if made is None:
        return ""
    numbers = {"width": made.width, "gap": made.gap, "spacer": made.short_spacer}
    sizes = {"finger": made.finger, "socket": made.socket}
    return say(words, count=counted(made.count), **numbers, **sizes).read_out(worked.file.units)


def depth_inside(worked: Box) -> str:
    """Return how deep a box is inside, in words; nothing of one without a bottom."""
    if worked.depth_under_plug is not None:
        return say("inside {deep:gauge} deep under the lid’s plug", deep=worked.depth_under_plug).read_out(
            worked.file.units
        )
    if worked.inside_depth is not None:
        return say("inside {deep:gauge} deep", deep=worked.inside_depth).read_out(worked.file.units)
    return ""


def _groove(worked: Box) -> str:
    made, units = worked.groove, worked.file.units
    if made is None:
        return ""
    stopped = " and ".join(made.stopped_kinds)
    where = f"{stopped} are stopped" if stopped else "it runs through everywhere"
    up, fence = show(made.from_bottom, units), show(made.fence, units)
    return f"{up} from the bottom edge; {where}; fence {fence} from the bit’s centre"


def _bottom(worked: Box) -> str:
    made, units = worked.bottom, worked.file.units
    if made is None:
        return ""
    if made.wood is None:
        loose = show(made.groove.cutter - made.tongue, units, "gauge")
        panel = f"panel {show(made.length, units)} by {show(made.seasons.width, units)} in every season"
        return f"{panel}; {loose} thinner than its groove{', by rabbets' if made.has_rabbets else ''}"
    sawn = ", quarter-sawn" if made.wood.rings else ""
    return f"panel {show(made.length, units)} by {show(made.seasons.width, units)} in your shop’s air{sawn}"


def _material(worked: Box) -> str:
    of_sheet = worked.bottom is not None and worked.bottom.wood is None
    return "it does not move with the seasons, and is glued all round; measure it" if of_sheet else ""


def _lid(worked: Box) -> str:
    made, units = worked.lid, worked.file.units
    return f"lid {show(made.length, units)} by {show(made.width, units)}, edge {show(made.edge, units)}" if made else ""


def _handle(worked: Box) -> str:
    made, units = worked.handle, worked.file.units
    if made is None:
        return ""
    return f"blank {show(made.blank_length, units)} long; thinnest section {show(made.holes.least_wood, units)}"


def _holes(worked: Box) -> str:
    made = worked.handle
    if made is None:
        return ""
    return "one through each end, and one in the middle" if made.middle else "one through each end"


def _middle(worked: Box) -> str:
    made = worked.handle
    if made is None or made.middle is None:
        return ""
    if made.arched:
        return "an arch: it opens at the base, and the handle stands on two feet"
    return "an eye: a whole hole, with wood all round"


def _shell(worked: Box) -> str:
    made = worked.shell
    if made is None:
        return ""
    words = say(
        "{lobes} lobes, {width} by {height}; chips {deep} deep",
        lobes=str(made.lobes),
        width=made.width,
        height=made.height,
        deep=made.chip_depth,
    )
    return words.read_out(worked.file.units)


QUESTIONS = (
    Question("title", "What is the box called?", lambda _: ""),
    Question("box.length", "How long is it outside, along the front?", _inside),
    Question("box.width", "How wide outside, front to back?", _inside),
    Question("sides.thickness", "How thick are the sides, the thickest reading?", _inside),
    Question("sides.species", "Which wood are the sides?", _wood_of("sides")),
    Question(
        "box.height",
        "How high should the box be: how wide will its boards be?",
        _height,
        "the boards are ripped to whole fingers, so the box comes out a little lower",
    ),
    Question("joint.finger", "How wide is a finger?", _fingers),
    Question("joint.cutter", "How wide a socket does your cutter make, measured in wood?", _cutter),
    Question("groove.cutter", "How wide is the cutter for the groove of the bottom?", _groove),
    Question("bottom.material", "Is the bottom solid or plywood?", _material),
    Question("bottom.thickness", "How thick is the bottom?", _bottom),
    Question("bottom.species", "Which wood is the bottom?", _wood_of("bottom")),
    Question("lid.thickness", "How thick is the lid?", _lid),
    Question("lid.species", "Which wood is the lid?", _wood_of("lid")),
    Question("handle.holes", "How many holes has the handle?", _holes),
    Question("handle.middle", "What is the hole in the middle?", _middle),
    Question("handle.saw", "Which hole does your hole saw really cut?", _handle),
    Question("shell.width", "How wide is the carved fan shell?", _shell),
)
"""In the order in which a maker knows the answers. What a box can do without is asked for last."""
BOARDS_IN_HAND = Question("box.height", "How wide are the boards you have for the sides?", _height)
"""Asked for the height where there are boards already: the box is as high as they let it be."""

OPTIONAL = {"groove": "a bottom in a groove", "lid": "a lid", "handle": "a handle", "shell": "a carved fan shell"}
"""Sections that a box can do without, in words. Without a groove there is no bottom."""
_NEEDED = ("title", "box", "sides", "joint")
_SIZED = ("lid", "handle", "shell")
_WITH = dict.fromkeys(("groove", "bottom"), ("groove", "bottom"))
_WOODS = ("sides.species", "bottom.species", "lid.species")
_WORDS = ("title", *_WOODS)
_OF_SOLID = ("bottom.species", "bottom.rings")
"""What only a bottom of solid wood has."""


def _applies(key: str, values: Mapping[str, Value]) -> bool:
    """Say whether a key means anything beside the others: plywood has no wood, and two holes have none between."""
    if key in _OF_SOLID:
        return values.get("bottom.material") != "plywood"
    return key != "handle.middle" or str(values.get("handle.holes")) == "3"


_ANSWERS = "the answers"
_MOST_TRIED = 150
"""Ways to complete some answers that are tried before a box of them is given up."""

_USUAL: Mapping[str, tuple[tuple[Value, ...], tuple[Value, ...]]] = {
    "title": (("Recipe box",), ("Recipe box",)),
    "box.length": ((200,), ("7-1/2",)),
    "box.width": ((150,), (5,)),
    "sides.thickness": ((12, 9, 6, 4, 18), ("1/2", "3/8", "1/4", "3/16", "3/4")),
    "sides.species": (("black cherry",), ("black walnut",)),
    "box.height": ((92, 150), ("5-1/2", "7-1/4")),
    "joint.finger": ((10, 8, 6, 5, 4, 3), ("1/2", "3/8", "1/4", "3/16", "1/8")),
    "bottom.material": (("solid",),) * 2,
    "bottom.rings": (("flat", "quarter"),) * 2,
    "groove.cutter": ((6, 5, 4, 3), ("1/4", "3/16", "1/8")),
    "bottom.thickness": ((10, 8, 6, 4), ("3/8", "1/4", "3/16", "1/8")),
    "lid.thickness": ((18, 15, 12, 22, 30), ("3/4", "5/8", "1/2", 1, "1-1/4")),
    "handle.holes": ((2,),) * 2,
    "handle.middle": (("arch", "eye"),) * 2,
    "handle.saw": ((38.6, 32, 25, 19, 51), (1.52, "1-1/4", 1, "3/4", 2)),
    "shell.width": ((60, 45, 30, 20, 15), ("2-1/2", "1-3/4", "1-1/4", 1, "3/4")),
    "shell.lobes": ((7, 5, 4, 3), (7, 5, 4, 3)),
}
"""What is offered where nothing is known, the first that works with the answers so far, in mm and in inches."""
_SHEETS: tuple[tuple[Value, ...], tuple[Value, ...]] = (5.6, 3.6, 8.6), (0.205, 0.17, 0.355)
"""What plywood measures that is sold as 6, 4 and 9 mm, or as 1/4, 3/16 and 3/8 in (common practice, no source)."""
_SHELL_HEIGHTS = (0.67, 0.55, 0.45, 0.37, 0.3)
"""Height of a shell, of its width: of those that fit, the first."""


class Draft(Record):
    """A new box file as far as it has been asked for: the answers, by key, and the sections there are so far."""

    units: Units
    answers: Mapping[str, Value]
    sections: tuple[str, ...] = _NEEDED
    boards: tuple[new.Board, ...] = ()
    """Boards in hand, the rack that the parts come from."""

    def with_part(self, part: str) -> Draft:
        """Return the draft with one more part of the box, which nothing is known of yet."""
        return replace(self, sections=(*self.sections, *_WITH.get(part, (part,))))

    def asks(self, question: Question) -> bool:
        """Say whether a question is to be asked: its part is wanted, and what the part is made of has such a thing."""
        return question.section in self.sections and _applies(question.key, self.answers)

    def with_answer(self, key: str, value: Value) -> Draft:
        """Return the draft with one more answer."""
        return replace(self, answers={**self.answers, key: value})

    def ways(self) -> Iterator[dict[str, Value]]:
        """Yield the answers with usual values for what is still open, the most usual first."""
        keys = [key for question in QUESTIONS for key in _settles(question) if _section(key) in self.sections]
        return islice(self._completed({}, keys), _MOST_TRIED)

    def completed(self, keys: list[str]) -> Iterator[dict[str, Value]]:
        """Yield the answers for some keys with usual values for what is still open, the most usual first."""
        return self._completed({}, keys)

    def _completed(self, values: dict[str, Value], keys: list[str]) -> Iterator[dict[str, Value]]:
        if not keys:
            yield values
            return
        key, *rest = keys
        if not _applies(key, values):
            yield from self._completed(values, rest)
            return
        known = self.answers.get(key)
        for value in _usual(key, values, self.units) if known is None else (known,):
            yield from self._completed({**values, key: value}, rest)


class Made(Record):
    """A draft completed: its values and the box worked out from them, which no rule stops."""

    values: Mapping[str, Value]
    worked: Box
    boards: tuple[new.Board, ...] = ()

    @property
    def text(self) -> str:
        """The file."""
        return new.text(self.worked.file.units, self.values, self.worked, self.boards)


def made(draft: Draft, asked: str = "") -> Made:
    """Return the first way to complete a draft that no rule stops; a warning of the last part makes way for none.

    `asked` is the key that was answered last. Raises CannotRead where its answer can't be read, CannotBuild where it
    is out of its limits or where no box can be made with it.
    """
    warned: Made | None = None
    refused: list[list[Problem]] = []
    for values in draft.ways():
        try:
            worked = new.worked_out(draft.units, values, _ANSWERS, draft.boards)
        except CannotBuild as error:
            refused.append(_without_lines(error.problems))
            if any(problem.where == asked for problem in error.problems):
                break
            continue
        if stops := [problem for problem in worked.problems if problem.severity == "stop"]:
            refused.append(stops)
        elif not _warns(worked, draft.sections[-1]):
            return Made(values, worked, draft.boards)
        else:
            warned = warned or Made(values, worked, draft.boards)
    if warned:
        return warned
    # What is wrong with the answer itself tells most, and then what is wrong with the part it is for.
    own = [problems for problems in refused if all(problem.where == asked for problem in problems)]
    parts = _WITH.get(draft.sections[-1], draft.sections[-1:])
    of_part = [problems for problems in refused if all(_section(problem.where) in parts for problem in problems)]
    said = CannotBuild((own or of_part or refused)[0])
    said.units = draft.units
    raise said


def _warns(worked: Box, part: str) -> bool:
    """Say whether the part that was asked for last brings a warning that another size of it may not bring."""
    return part in _SIZED and any(
        problem.severity == "warning" and _section(problem.where) == part for problem in worked.problems
    )


def _without_lines(problems: list[Problem]) -> list[Problem]:
    """Return problems without the line they stand on: there is no file yet."""
    return [replace(problem, rule=problem.rule.removesuffix(" (line {line})")) for problem in problems]


def answered(draft: Draft, question: Question, answer: str) -> tuple[Draft, str]:
    """Return the draft with an answer, and what it makes of the box.

    Raises CannotRead for an answer that can't be read, CannotBuild where it can't be built.
    """
    changed = draft.with_answer(question.key, _value(question, answer))
    try:
        worked = made(changed, question.key).worked
    except CannotRead as error:
        raise CannotRead(re.sub(rf"^{_ANSWERS}, line \d+: [\w.]+: ", "", str(error))) from None
    except CannotBuild as error:
        error.problems = [_with_what_works(problem, draft, question) for problem in error.problems]
        raise
    return changed, question.effect(worked)


def with_board(draft: Draft, typed: str) -> tuple[Draft, str]:
    """Return the draft with one more board in hand, and what was read: `1500 x 100 x 15 walnut`.

    A board without a wood is of that of the sides; one that ends with `planed` is planed already. Raises CannotRead and
    CannotBuild as `answered` does.
    """
    found = _BOARD.fullmatch(typed.strip())
    if found is None:
        raise CannotRead(f"'{shown(typed, 60)}' is no board; type it as 1500 x 100 x 15, and its wood behind that")
    name, planed, _ = found["wood"].strip().partition("planed")
    wood = timber.trade_name(name.strip(" ,")) if name else str(made(draft).values["sides.species"])
    try:
        length, width, thickness = (lengths.read(found[name], draft.units) for name in ("length", "width", "thickness"))
    except lengths.LengthError as error:
        raise CannotRead(str(error)) from None
    board = new.Board(float(length), float(width), float(thickness), wood, bool(planed))
    changed = replace(draft, boards=(*draft.boards, board))
    try:
        made(changed)
    except CannotBuild as error:
        error.problems = [replace(problem, where=problem.where.rpartition(".")[2]) for problem in error.problems]
        raise
    sizes = (show(size, draft.units, "rough") for size in (board.length, board.width, board.thickness))
    return changed, f"{' by '.join(sizes)}, {wood}{', planed' if planed else ''}"


_BOARD = re.compile(
    r"(?P<length>[^x×*]+)[x×*](?P<width>[^x×*]+)[x×*](?P<thickness>[\d\s./,½¼¾-]+(?:mm|in\b|[\"″])?)(?P<wood>.*)",
    re.IGNORECASE,
)


def _with_what_works(problem: Problem, draft: Draft, question: Question) -> Problem:
    """Return a problem that does not offer a limit of the key with which this box can't be made either."""
    nearest = problem.numbers.get("nearest")
    if not isinstance(nearest, float):
        return problem
    try:
        made(draft.with_answer(question.key, f"{nearest} mm"))
    except CannotBuild:
        return replace(problem, suggestion="the value in brackets works")
    return problem


def offered(draft: Draft, question: Question) -> str:
    """Return what is offered as the answer to a question: one that works."""
    return str(made(draft).values[question.key])


def room_for(draft: Draft, part: str) -> JigleafError | None:
    """Return why a part has no room in the box of the answers, or None where it has."""
    try:
        made(draft.with_part(part))
    except JigleafError as error:
        return error
    return None


def sizes_of(file: BoxFile, part: str) -> dict[str, str]:
    """Return usual sizes for a part that a box lacks, by their keys: those that bring no error and fewest warnings.

    A bottom brings its groove. Raises CannotRead for what is no such part, CannotBuild where none has room.
    """
    parts = [name for name in _WITH.get(part, (part,)) if getattr(file, name, None) is None]
    keys = [key for question in QUESTIONS for key in _settles(question) if _section(key) in parts and key not in _WOODS]
    if not keys:
        raise CannotRead(f"{shown(part)}: is no part that can be added to {file.name}")
    tried: list[tuple[int, dict[str, str]]] = []
    refused: list[list[Problem]] = []
    for values in islice(Draft(file.units, {}, tuple(parts)).completed(keys), _MOST_TRIED):
        typed = {key: str(value) for key, value in values.items()}
        told = chain.work_out(change.box_with(file.source, typed, file.name)).problems
        own = [problem for problem in told if _section(problem.where) in parts]
        if stops := [problem for problem in own if problem.severity == "stop"]:
            refused.append(stops)
            continue
        tried.append((100 * sum(problem.severity == "stop" for problem in told) + len(own), typed))
        if not tried[-1][0]:
            break
    if not tried:
        raise CannotBuild(refused[0])
    return min(tried, key=lambda one: one[0])[1]


def usual_text(units: Units) -> str:
    """Return the file of all that is offered: what who answers nothing gets, with every part that has room."""
    draft = Draft(units, {})
    for question in QUESTIONS:
        if question.section in OPTIONAL and question.section not in draft.sections:
            draft = draft.with_part(question.section)
        if draft.asks(question):
            draft, _ = answered(draft, question, offered(draft, question))
    return made(draft).text


def brought_by(part: str) -> tuple[str, ...]:
    """Return the sections that come with a part: a bottom has its groove."""
    return _WITH.get(part, (part,))


class Asked(Record):
    """A question as a form asks it: the answer that holds, what it does, what was typed and refused, and why."""

    question: Question
    answer: str
    effect: str = ""
    refused: JigleafError | None = None


class Form(Record):
    """All questions at once: those that are to be asked, why a part has no room, and the box that they make."""

    asked: tuple[Asked, ...]
    no_room: Mapping[str, JigleafError]
    made: Made


def form(units: Units, typed: Mapping[str, str], without: Collection[str] = ()) -> Form:
    """Return the questions with what was typed for some, by key, and what is offered for the others.

    A part that is not `without` is asked for where it has room. An answer that can't be taken is left at what is
    offered. What an answer does is said of the box that all of them make.
    """
    filled, asked, no_room, settled = _Filled(Draft(units, {})), list[Asked](), dict[str, JigleafError](), set[str]()
    for question in QUESTIONS:
        part = question.section
        if part in OPTIONAL and part not in settled and part not in without:
            try:
                filled = _Filled(filled.draft.with_part(part))
            except JigleafError as refused:
                no_room[part] = refused
        settled.add(part)
        if filled.draft.asks(question):
            filled, one = filled.asked(question, typed.get(question.key, ""))
            asked.append(one)
    worked = filled.made.worked
    told = tuple(replace(one, effect=one.question.effect(worked)) for one in asked)
    return Form(told, no_room, filled.made)


class _Filled:
    """A draft and what it makes, which holds on as long as nothing but what is offered is answered."""

    def __init__(self, draft: Draft, known: Made | None = None) -> None:
        self.draft, self.made = draft, made(draft) if known is None else known

    def asked(self, question: Question, typed: str) -> tuple[_Filled, Asked]:
        """Return the draft with the answer to a question, and the question with it."""
        refused = None
        if typed.strip():
            try:
                changed, _ = answered(self.draft, question, typed)
                return _Filled(changed), Asked(question, typed)
            except JigleafError as error:
                refused = error
        offer = self.made.values[question.key]
        kept = _Filled(self.draft.with_answer(question.key, offer), self.made)
        return kept, Asked(question, str(offer), refused=refused)


def _settles(question: Question) -> tuple[str, ...]:
    """Return the keys that a question settles, in the order in which they are chosen.

    A bottom is quarter-sawn only where none holds that is not, and of a material before that; with the width of a shell
    go its height and lobes.
    """
    return _SETTLED.get(question.key, (question.key,))


_SETTLED: Mapping[str, tuple[str, ...]] = {
    "groove.cutter": ("bottom.material", "bottom.rings", "groove.cutter"),
    "bottom.material": (),
    "shell.width": ("shell.width", "shell.height", "shell.lobes"),
}


def _section(key: str) -> str:
    return key.split(".", maxsplit=1)[0]


def _usual(key: str, values: Mapping[str, Value], units: Units) -> tuple[Value, ...]:
    """Return what may be offered for a key, the most usual first; `values` are those of the keys before."""
    if key == "joint.cutter":  # the cutter that is meant for a finger is as wide, until it has been measured
        return (values["joint.finger"],)
    if key in _WOODS[1:]:
        return (values["sides.species"],)
    if key == "bottom.thickness" and values["bottom.material"] == "plywood":
        return _SHEETS[units == "in"]
    if key == "shell.height":
        return tuple(_share(values["shell.width"], share, units) for share in _SHELL_HEIGHTS)
    return _USUAL[key][units == "in"]


def _share(size: Value, share: float, units: Units) -> Value:
    """Return a share of a length to a whole mm or a 16th of an inch; of what is no length a mm, which is none."""
    try:
        mm = float(lengths.read(str(size), units))
    except lengths.LengthError:
        return 1
    if units == "mm":
        return round(mm * share)
    return new.length(round(mm * share / 25.4 * 16) / 16 * 25.4, "in").strip('"')


def _value(question: Question, answer: str) -> Value:
    """Return an answer as the file is to hold it: a plain number as a number, anything else as words."""
    plain = re.fullmatch(r"[+-]?[0-9]+(\.[0-9]+)?", answer.strip(), re.ASCII)
    if question.key in _WOODS:
        return timber.trade_name(answer)
    if question.key in _WORDS or not plain:
        return answer
    return float(answer) if plain[1] else int(answer)
