"""Which rolls the sheets come off; sheets are joined from strips where no roll is wide enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from clochewright.catalogue import FilmRoll
from clochewright.film.develop import LAP_M
from clochewright.film.nest import Layout, nest_sheets, strip_count, used_m
from clochewright.film.types import CutRoll, Leftover, Placed, Roll, Sheet

# What is left in a smaller piece than this is scrap (common practice, no source).
WORTH_NAMING_M = 0.15
_HARDLY = 1e-6

PriceOf = Callable[[str], Decimal | None]

# All films are compared for the same sheets, and most come on rolls of the same sizes.
_laid = lru_cache(maxsize=64)(nest_sheets)


@dataclass(frozen=True, slots=True)
class RollPlan:
    """The sheets as they are cut, joined ones as their strips, and the rolls they come off.

    `joins` are the laps; `joined_m` their length together [m]; `sheets_of` what each sheet as wanted is made up of.
    """

    sheets: tuple[Sheet, ...]
    rolls: tuple[CutRoll, ...]
    joins: int
    joined_m: float

    @property
    def bought_m2(self) -> float:
        """Film bought [m2]."""
        return sum(roll.width_m * roll.length_m for roll in self.rolls)

    @property
    def roll(self) -> Roll:
        """The roll that the first sheet comes off, and how many of its kind."""
        first = next(roll for roll in self.rolls if any(placed.sheet == self.sheets[0] for placed in roll.placed))
        turned = next(placed.turned for placed in first.placed if placed.sheet == self.sheets[0])
        count = sum(roll.label == first.label for roll in self.rolls)
        return Roll(first.label, first.width_m, first.length_m, turned, count)

    def price(self, price_of: PriceOf) -> Decimal | None:
        """What the rolls cost; None as soon as one has no price."""
        total = Decimal(0)
        for label, count in Counter(roll.label for roll in self.rolls).items():
            each = price_of(label)
            if each is None:
                return None
            total += count * each
        return total


def no_price(_label: str) -> None:
    """Nothing has a price."""


def plan_rolls(rolls: Sequence[FilmRoll], wanted: Sequence[Sheet], price_of: PriceOf = no_price) -> RollPlan | None:
    """The rolls with the fewest laps in the sheets, and among those the cheapest; by area where a price is missing.

    Args:
        rolls: the rolls for sale.
        wanted: the sheets, whole.
        price_of: the price of a roll by its label.

    Returns:
        The plan, or None where no roll is even long enough for the strips of one sheet.
    """
    plans = [plan for roll in rolls if (plan := _off(roll, wanted)) is not None]
    prices = {roll.label: price_of(roll.label) for roll in rolls}
    trimmed = [_with_least_rolls(plan, rolls, prices) for plan in plans]
    if not trimmed:
        return None
    priced = all(plan.price(prices.get) is not None for plan in trimmed)

    def load(plan: RollPlan) -> tuple[int, Decimal | float, float, float, int]:
        cost = (plan.price(prices.get) or Decimal(0)) if priced else 0
        turned = sum(placed.turned for roll in plan.rolls for placed in roll.placed)
        return plan.joins, cost, plan.bought_m2, sum(used_m(roll.placed)[0] for roll in plan.rolls), turned

    return min(trimmed, key=load)


def _off(roll: FilmRoll, wanted: Sequence[Sheet]) -> RollPlan | None:
    """All sheets off rolls of one kind."""
    cut: list[Sheet] = []
    joins, joined_m = 0, 0.0
    for sheet in wanted:
        made_up = _strips(sheet, roll)
        if made_up is None:
            return None
        strips, each_m = made_up
        cut += strips
        joins += len(strips) - 1
        joined_m += (len(strips) - 1) * each_m
    layout = _laid(tuple(cut), roll.width_m, roll.length_m)
    if layout is None:
        return None
    return RollPlan(tuple(cut), _opened(roll, layout), joins, joined_m)


def _strips(sheet: Sheet, roll: FilmRoll) -> tuple[tuple[Sheet, ...], float] | None:
    """What a sheet is made up of, and how long each of its laps is [m]; the way with the fewest laps."""
    long_enough, wide_enough = roll.length_m + _HARDLY, roll.width_m + _HARDLY
    sides = sorted((sheet.length_m, sheet.width_m))
    if sides[0] <= wide_enough and sides[1] <= long_enough:
        return (sheet,), 0.0
    ways: list[tuple[int, float, tuple[Sheet, ...]]] = []
    for along_bed in (True, False):
        run_m, need_m = (sheet.length_m, sheet.width_m) if along_bed else (sheet.width_m, sheet.length_m)
        count = strip_count(need_m, roll.width_m, LAP_M)
        if count is None or run_m > long_enough:
            continue
        each_m = (need_m + (count - 1) * LAP_M) / count
        size = (run_m, each_m) if along_bed else (each_m, run_m)
        ways.append((count, run_m, tuple(Sheet(f"{sheet.name}, {i} of {count}", *size) for i in range(1, count + 1))))
    if not ways:
        return None
    _, lap_m, strips = min(ways, key=lambda way: way[:2])
    return strips, lap_m


def _opened(roll: FilmRoll, layout: Layout) -> tuple[CutRoll, ...]:
    return tuple(_cut_roll(roll, placed) for placed in layout)


def _cut_roll(roll: FilmRoll, placed: tuple[Placed, ...]) -> CutRoll:
    return CutRoll(roll.label, roll.width_m, roll.length_m, placed, tuple(_left(roll, placed)))


def _left(roll: FilmRoll, placed: tuple[Placed, ...]) -> Iterable[Leftover]:
    run_m, breadth_m = used_m(placed)
    if roll.length_m - run_m >= WORTH_NAMING_M:
        yield Leftover("end", roll.length_m - run_m, roll.width_m)
    if roll.width_m - breadth_m >= WORTH_NAMING_M:
        yield Leftover("side", run_m, roll.width_m - breadth_m)


def _with_least_rolls(plan: RollPlan, rolls: Sequence[FilmRoll], prices: Mapping[str, Decimal | None]) -> RollPlan:
    """The same layouts, each on the cheapest roll that holds it, or on the smallest where a price is missing."""
    priced = None not in prices.values()

    def load(roll: FilmRoll) -> tuple[Decimal, float]:
        return (prices[roll.label] or Decimal(0)) if priced else Decimal(0), roll.width_m * roll.length_m

    changed = []
    for cut in plan.rolls:
        run_m, breadth_m = used_m(cut.placed)
        big_enough = [r for r in rolls if r.width_m + _HARDLY >= breadth_m and r.length_m + _HARDLY >= run_m]
        changed.append(_cut_roll(min(big_enough, key=load), cut.placed))
    return RollPlan(plan.sheets, tuple(changed), plan.joins, plan.joined_m)
