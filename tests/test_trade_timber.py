"""What woods are called: each by its name in the trade, and by that of the table."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import timber

ROWS = st.sampled_from(timber.all_species())


def refused(said: str) -> timber.UnknownSpeciesError | None:
    """Return why a name is not taken, or None where it is."""
    try:
        timber.species(said)
    except timber.UnknownSpeciesError as error:
        return error
    return None


@given(ROWS, st.sampled_from([str, str.upper, str.lower, lambda said: f"  {said.replace(' ', '  ')} "]))
def test_what_is_printed_of_a_wood_reads_back_as_it(row: timber.Species, spelt: object) -> None:
    assert callable(spelt)
    assert timber.species(spelt(row.name)) is row
    assert timber.trade_name(row.name) == row.name


def test_no_two_woods_are_printed_alike_and_none_has_its_family_first() -> None:
    printed = [row.name for row in timber.all_species()]
    assert len(set(printed)) == len(printed)
    assert [name for name in printed if re.fullmatch(r"[A-Z][\w -]+, [\w -]+", name)] == []


@given(ROWS)
def test_the_table_is_read_in_both_orders(row: timber.Species) -> None:
    head, _, tail = row.listed.partition(", ")
    assert timber.species(row.listed.upper()) is timber.species(f"{tail} {head}".lower()) is row


@given(ROWS)
def test_every_other_name_is_that_wood_or_one_of_those_offered(row: timber.Species) -> None:
    for said in row.also:
        refusal = refused(said)
        if refusal is None:
            assert timber.species(said) is row
        else:
            assert refusal.several
            assert row.name in refusal.near


@pytest.mark.parametrize(
    ("said", "listed"),
    [
        ("Cherry, black", "Cherry, black"),
        ("CHERRY BLACK", "Cherry, black"),
        ("cherry", "Cherry, black"),
        ("walnut", "Walnut, black"),
        ("ash", "Ash, white"),
        ("hard maple", "Maple, sugar"),
        ("beech", "Beech, American"),
        ("poplar", "Yellow-poplar"),
        ("white oak", "White oak, commercial"),
        ("  commercial   white OAK ", "White oak, commercial"),
        ("red oak", "Red oak, commercial"),
        ("laurel oak", "Red oak: water, laurel, willow"),
        ("mahogany", "Mahogany"),
        ("African mahogany", "Khaya"),
        ("Douglas fir", "Douglas-fir, coast"),
        ("interior north Douglas-fir", "Douglas-fir, interior north"),
    ],
)
def test_a_wood_by_a_name_with_one_usual_meaning(said: str, listed: str) -> None:
    assert timber.species(said).listed == listed


@pytest.mark.parametrize(
    ("said", "first", "count"),
    [
        ("oak", ("white oak", "red oak"), 8),
        ("maple", ("sugar maple", "red maple"), 5),
        ("soft maple", ("red maple", "bigleaf maple"), 3),
        ("yellow pine", ("loblolly pine", "longleaf pine"), 4),
        ("red cedar", ("western red cedar", "eastern red cedar"), 2),
    ],
)
def test_a_name_of_several_woods_offers_them_all(said: str, first: tuple[str, ...], count: int) -> None:
    with pytest.raises(timber.UnknownSpeciesError, match=f"^'{said}' may be any of several woods; write '") as refusal:
        timber.species(said)
    assert refusal.value.several
    assert refusal.value.near[: len(first)] == first
    assert len(refusal.value.near) == count
    assert all(f"'{name}'" in str(refusal.value) for name in refusal.value.near)


@pytest.mark.parametrize(
    ("said", "near"),
    [
        ("walnutt", "black walnut"),
        ("cherri", "black cherry"),
        ("hrad maple", "sugar maple"),
        ("northern red oak", "red oak"),
        ("European oak", "white oak"),
        ("maple hard", "sugar maple"),
        ("oak commercial white", "white oak"),  # all words, in an order that nobody says
    ],
)
def test_a_name_that_is_none_offers_what_was_meant(said: str, near: str) -> None:
    with pytest.raises(timber.UnknownSpeciesError, match=f"^'{said}' is not in the table of woods; did you") as refusal:
        timber.species(said)
    assert not refusal.value.several
    assert refusal.value.near[0] == near
    assert timber.trade_name(said) == said


def test_words_without_an_order_offer_the_woods_that_have_them_all() -> None:
    """By the table: `commercial` stands in two names, `hard` in that of one maple; five are offered at the most."""
    assert refused_near("commercial") == ("white oak", "red oak")
    assert refused_near("hard") == ("sugar maple",)
    assert refused_near("oak commercial white") == ("white oak",)
    assert refused_near("maple soft hard") == ()  # no wood has all three
    assert refused_near("red white") == ()
    assert len(refused_near("old pine")) == len(refused_near("reclaimed maple")) == 5


def refused_near(said: str) -> tuple[str, ...]:
    with pytest.raises(timber.UnknownSpeciesError) as refusal:
        timber.species(said)
    return tuple(refusal.value.near)


WORDS = sorted({word for row in timber.all_species() for said in row.names for word in said.split()})
MISSPELT = st.tuples(st.text(max_size=3), ROWS).map(lambda both: both[0] + both[1].name[1:])


@given(st.sampled_from(WORDS) | st.text(max_size=20) | MISSPELT)
def test_every_wood_that_is_offered_works_when_it_is_typed(said: str) -> None:
    refusal = refused(said)
    if refusal is None:
        return
    offered = re.findall(r"(?<= )'([^']+)'", refusal.instead)
    assert offered
    assert set(refusal.near) <= set(offered)
    assert [timber.species(name).name for name in offered] == offered
    assert refusal.several or len(refusal.near) <= 5
