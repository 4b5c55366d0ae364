"""A card as a page or two, front and back: header, cautions, bands, foot, in a frame that A4 and Letter both hold."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import cards
from jigs.base.drawing import Bounds
from jigs.record import Record
from layout.pages import bands
from layout.pages.bands import PAD, Laid
from layout.pages.ink import BODY, LABEL, TITLE, Ink, height_of, wrapped
from layout.pages.lay import laid
from layout.pages.voice import Voice
from layout.sheet import lettering, marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Group

WIDTH, HEIGHT = 180.0, 259.0
"""The live area of a card on A4 and on Letter, mm: 20 to file at the left, at the right on the back."""
HEADER, FOOT = 16.0, 8.0
NUMBER = 18.0
_BAR, _HAZARD = 6.6, 3.0
"""Width of the black bar of the cautions, and from the hazard to its words, mm."""


class Head(Record):
    """What the header of a page says: the number in black, the title and what is below it, job and revision."""

    number: str
    title: str
    below: str
    job: str
    revision: str
    about: str = ""
    codes: tuple[str, ...] = ()


class Side(Record):
    """One page of a card before it has its place in a print job: what is on it but for the foot."""

    groups: tuple[Group, ...]
    back: bool = False


def sides(card: cards.Card, head: Head, voice: Voice, box: Bounds, hand: Hand = ORDINARY) -> list[Side]:
    """Return the pages of a card, its marks in the axes of a page whose live area is `box`."""
    family = card.jig or card.name
    shown = bands.shown_by(voice, card)
    on = bands.Setting(voice, f"{family}-{card.name}", family, shown, head.codes, box.width < bands.NARROW, laid, hand)
    cautions = [CautionBand(card.cautions, box.width, on)] if card.cautions else []
    found = [*cautions, *(laid(band, box.width, on) for band in card.bands)]
    if head.codes and not any(isinstance(band, cards.Code) for band in bands.flat(card.bands)):
        found.append(laid(cards.Code("These pages’ settings: scan them to make the pages again."), box.width, on))
    shares = _shared_out(found, box.height - HEADER - FOOT)
    return [Side(tuple(_drawn(part, head, box, on, number)), number % 2 == 1) for number, part in enumerate(shares)]


def _shared_out(laid: Sequence[Laid], room: float) -> list[list[Laid]]:
    """Return the bands page by page: as many as a page holds, one that goes on parted between rows or steps."""
    pages: list[list[Laid]] = [[]]
    left = room
    waiting = list(laid)
    over = sum(band.least for band in laid) - room
    if 0 < over <= (gives := sum(band.gives for band in laid)):
        return [[Squeezed(band, band.gives * over / gives) if band.gives else band for band in laid]]
    while waiting:
        band = waiting.pop(0)
        if band.least <= left + 1e-6:
            pages[-1].append(band)
            left -= band.least
            continue
        halves = band.split(left) if left > 0.25 * room or not pages[-1] else None
        if halves:
            pages[-1].append(halves[0])
            waiting.insert(0, halves[1])
        elif not pages[-1]:  # higher than a page, and in one piece: it is drawn as high as the page is
            pages[-1].append(band)
        else:
            waiting.insert(0, band)
        if waiting:
            pages.append([])
            left = room
    return pages


class Squeezed(Laid):
    """A band that is drawn less high than it asks for."""

    def __init__(self, band: Laid, by: float) -> None:
        self.band = band
        self.least = self.most = band.least - by

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the band in the room that it is left."""
        return self.band.drawn(box, name)


def _drawn(laid: Sequence[Laid], head: Head, box: Bounds, on: bands.Setting, number: int) -> list[Group]:
    """Return one page: its header and its bands, each as high as its share."""
    frame = Ink(f"{on.prefix}-frame", "Frame")
    frame.box(box, marks.EDGE)
    groups = [_header(head, box, on.prefix, number)]
    spare = box.height - HEADER - FOOT - sum(band.least for band in laid)
    wishes = [band.most - band.least for band in laid]
    total = sum(wishes)
    y = box.top - HEADER
    for place, (band, wish) in enumerate(zip(laid, wishes, strict=True)):
        high = band.least + (spare * min(1.0, wish / total) if spare > 0 and total > spare else max(0.0, wish))
        if spare <= 0:
            high = band.least
        floor = max(y - high, box.bottom + FOOT)
        groups += band.drawn(Bounds(box.left, floor, box.right, y), f"{on.prefix}-{number + 1}-{place + 1}")
        frame.line((box.left, floor), (box.right, floor))
        y = floor
    frame.line((box.left, box.bottom + FOOT), (box.right, box.bottom + FOOT))
    return [frame.group(), *groups]


def _header(head: Head, box: Bounds, prefix: str, number: int) -> Group:
    ink = Ink(f"{prefix}-header", "Header")
    low = box.top - HEADER
    wide = NUMBER if len(head.number) < 4 else NUMBER + 6.0
    ink.box(Bounds(box.left, low, box.left + wide, box.top), marks.BAR)
    size = 10.0 if len(head.number) < 2 else 7.0
    ink.write((box.left + wide / 2, low + HEADER / 2 - size / 2), head.number, size, "middle", bold=True, white=True)
    left, right = box.left + wide + 4.0, box.right - PAD
    job = _short(head.job, LABEL, 62.0, bold=True)
    beside = max(lettering.width(job, LABEL, True), lettering.width(head.revision, LABEL))
    room = right - left - beside - 5.0
    title = head.title + (", back" if number == 1 else f", page {number + 1}" if number > 1 else "")
    size = next((s for s in (TITLE, BODY) if lettering.width(title, s, True) <= room), LABEL)
    ink.write((left, low + 7.9), _short(title, size, room, bold=True), size, bold=True)
    ink.write((left, low + 2.4), _short(head.below, LABEL, right - left - 26.0), LABEL)
    ink.write((right, low + 9.6), job, LABEL, "end", bold=True)
    ink.write((right, low + 2.4), head.revision, LABEL, "end")
    ink.line((box.left, low), (box.right, low))
    return ink.group()


def _short(words: str, height: float, room: float, *, bold: bool = False) -> str:
    """Return words cut off with an ellipsis where they are wider than the room."""
    if lettering.width(words, height, bold) <= room:
        return words
    while words and lettering.width(f"{words}…", height, bold) > room:
        words = words[:-1]
    return f"{words.rstrip()}…"


def foot(box: Bounds, units: str, place: str, prefix: str, mark: str) -> Group:
    """Return the foot of a card: that it is not to scale, its units, where it belongs, its own mark."""
    ink = Ink(f"{prefix}-foot", "Foot")
    y = box.bottom + FOOT / 2 - LABEL / 2
    warning = "Not to scale: lay nothing on this page"
    ink.write((box.left + PAD, y), warning, LABEL, bold=True)
    clear = box.left + PAD + lettering.width(warning, LABEL, True) + 3.0 + lettering.width(units, LABEL) / 2
    ink.write((max((box.left + box.right) / 2, clear), y), units, LABEL, "middle")
    said = " · ".join(words for words in (place, f"mark {mark}" if mark else "") if words)
    ink.write((box.right - PAD, y), said, LABEL, "end")
    return ink.group()


class CautionBand(Laid):
    """The dangers of the operation beside a black bar: the hazard first and bold."""

    def __init__(self, cautions: Sequence[cards.Caution], width: float, on: bands.Setting) -> None:
        said = [(on.voice.said(caution.hazard), on.voice.said(caution.words)) for caution in cautions]
        self.hazard = max(lettering.width(hazard, BODY, True) for hazard, _ in said)
        room = width - _BAR - 2 * PAD - self.hazard - _HAZARD
        self.rows = [(hazard, wrapped(words, BODY, room)) for hazard, words in said]
        deep = sum(height_of(rows, BODY, 1.7) for _, rows in self.rows)
        self.word = "DANGER"
        self.least = self.most = max(deep + 3.2, lettering.width(self.word, BODY, True) + 4.0)

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the cautions."""
        ink = Ink(name, "Cautions")
        bands.bar(ink, Bounds(box.left, box.bottom, box.left + _BAR, box.top), self.word)
        left = box.left + _BAR + PAD
        deep = sum(height_of(rows, BODY, 1.7) for _, rows in self.rows)
        y = (box.top + box.bottom + deep) / 2 - 0.2
        for hazard, rows in self.rows:
            ink.write((left, y - BODY * 1.15), hazard, BODY, bold=True)
            y = ink.rows(left + self.hazard + _HAZARD, y, rows, BODY, 1.7)
        return [ink.group()]
