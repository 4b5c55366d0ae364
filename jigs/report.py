"""A box as text that reads well in 80 columns: its numbers, its joint closed, where its error comes from."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.box import Box
from jigs.dry_fit import Meant
from jigs.lengths import Units, show
from jigs.trade.fit import Spread
from jigs.trade.sled import SledNumbers

BAR = 40
"""Characters of a bar of 100 %."""
_PICTURED = 9


def check(box: Box) -> str:
    """Return the report of a box, without its problems."""
    file = box.file
    inside = " by ".join(show(size, file.units) for size in box.inside)
    rows = [file.title, "", f"  inside     {inside}"]
    if box.numbers and box.meant:
        rows += ["", *_fingers(box.numbers, file.units), "", *_sled(box.numbers, file.units)]
        rows += ["", *closed_joint(box.meant, file.units), "", *budget(box.meant, file.units)]
    return "\n".join(rows)


def _fingers(numbers: SledNumbers, units: Units) -> Iterator[str]:
    yield "Fingers"
    yield f"  parts      {numbers.count}, in {numbers.steps} steps of the stack"
    yield f"  finger     {show(numbers.finger, units)}"
    yield f"  socket     {show(numbers.socket, units)}"
    yield f"  clearance  {show(numbers.clearance, units)}"
    yield f"  rip to     {show(numbers.width, units)}"
    if numbers.passes.count > 1:
        yield f"  passes     {numbers.passes.count}, each shifted by {show(numbers.passes.shift, units)}"


def _sled(numbers: SledNumbers, units: Units) -> Iterator[str]:
    yield "Sled"
    rows = {
        "gap": numbers.gap,
        "key": numbers.key,
        "spacer": numbers.short_spacer,
        "cut depth": numbers.cut_depth,
        "over all": numbers.over_all,
    }
    for name, value in rows.items():
        yield f"  {name:9}  {show(value, units)}"


def closed_joint(meant: Meant, units: Units) -> Iterator[str]:
    """Yield the closed joint as a row of fingers, every gap drawn one column wide, with the true ones beside it."""
    mating, expected = meant.mating, meant.prediction
    shown = mating.cheeks[: _PICTURED - 1]
    mark = ["|" if cheek.gap < -1e-9 else "=" if cheek.gap < 1e-9 else " " for cheek in shown]
    picture = "".join(
        ("[####]" if i % 2 else "[    ]") + (mark[i] if i < len(mark) else "") for i in range(len(shown) + 1)
    )
    gaps = [cheek.gap for cheek in mating.cheeks]
    yield "The joint closed (not to scale; every gap drawn wide, | is too tight)"
    yield f"  bottom {picture}"
    yield "         [    ] front or back   [####] end"
    yield f"  clearance  {show(mating.clearance, units)}; at each cheek {_range(min(gaps), max(gaps), units)}"
    yield f"  bottom edges out, pushed down and up: {_range(mating.flush_low, mating.flush_high, units)}"
    yield f"  with every error at its limit the clearance is {show(expected.clearance_worst, units)}"
    yield f"  cut {'in one stack' if meant.method == 'one stack' else 'separately'}, {_chance(expected.chance_fails)}"


def _range(low: float, high: float, units: Units) -> str:
    return show(low, units) if high - low < 1e-9 else f"{show(low, units)} to {show(high, units)}"


def _chance(chance: float) -> str:
    return "fewer than 1 in 1000 will not close" if chance < 0.001 else f"{chance:.1%} will not close"


def budget(meant: Meant, units: Units) -> Iterator[str]:
    """Yield which measurement the error comes from, as bars with numbers."""
    expected = meant.prediction
    yield "What the error comes from (measure the longest bar better)"
    for name, spread in (("clearance", expected.clearance_spread), ("flush", expected.flush_spread)):
        yield f"  {name}: ±{show(spread.worst, units)} at worst, ±{show(spread.rss, units)} likely"
        yield from _bars(spread)


def _bars(spread: Spread) -> Iterator[str]:
    for source, share in spread.shares:
        if share >= 0.005:
            yield f"    {source:8} {share:4.0%} {'#' * max(1, round(share * BAR))}"
