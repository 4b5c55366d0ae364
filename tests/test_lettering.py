"""Lettering: widths against another reader of the same font, words that wrap, letters the font lacks."""

from __future__ import annotations

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from jigs.base.errors import CannotBuild
from layout.sheet import lettering
from tests.outside import Check, agree

FONTTOOLS = Check(
    "Lengths, paper, letters", "fontTools reads the same font; ISO 3098: height of a capital", "reference library"
)

PATH = files("font_source_sans_pro") / "files"
words = st.text(st.sampled_from("abcxyzABC 0123456789.,″½×−ÅжΩ"), min_size=1, max_size=30)


@FONTTOOLS.of()
@pytest.mark.parametrize(("bold", "name"), [(False, "SourceSansPro-Regular.ttf"), (True, "SourceSansPro-Bold.ttf")])
def test_widths_and_heights_agree_with_fonttools(bold: bool, name: str) -> None:
    font = TTFont(str(PATH / name))
    letters, advances, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    said = "Gap 9.92 (3/8 −.0044) ½″ Ø Ångström ж Ω"
    expected = sum(advances[letters[ord(letter)]][0] for letter in said) / em * lettering.size(3.5)
    agree(lettering.width(said, 3.5, bold), expected, share=1e-3, unit="mm")
    # ISO 3098 measures letters by the height of a capital.
    agree(font["OS/2"].sCapHeight / em * lettering.size(3.5), 3.5, unit="mm")


@FONTTOOLS.of()
def test_letters_stay_inside_their_reach() -> None:
    font = TTFont(str(PATH / "SourceSansPro-Regular.ttf"))
    em = font["head"].unitsPerEm
    below, above = lettering.reach(2.5)
    for letter in "gjpqy(),;fhklbdt1234567890Ø½":
        glyph = font["glyf"][font.getBestCmap()[ord(letter)]]
        assert -glyph.yMin / em * lettering.size(2.5) <= below + 0.01, letter
        assert glyph.yMax / em * lettering.size(2.5) <= above + 0.01, letter


@given(words, st.floats(5, 60))
def test_wrapped_rows_fit_and_lose_nothing(said: str, room: float) -> None:
    rows = lettering.wrapped(said, 2.5, room)
    assert "".join(rows).replace(" ", "") == said.replace(" ", "")
    for row in rows:
        assert lettering.width(row, 2.5) <= room + 1e-9 or len(row) == 1


@pytest.mark.parametrize("said", ["äöüßéñçøåłőžșțģķ", "ΑΩαω", "Жжёій", "½¼¾⅛⅜⅝⅞⅓⅔", "′″×−±≤≥°→"])
def test_alphabets_the_sheets_need(said: str) -> None:
    lettering.refuse_unknown(said)


@pytest.mark.parametrize(("said", "named"), [("fit 木", "'木' (U+6728)"), ("🙂 box", "'🙂' (U+1F642)")])
def test_a_letter_the_font_lacks_is_named_and_never_a_box(said: str, named: str) -> None:
    with pytest.raises(CannotBuild, match="has no") as refused:
        lettering.refuse_unknown(said)
    assert named in str(refused.value)
