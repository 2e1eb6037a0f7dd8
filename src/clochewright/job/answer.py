"""The one sentence that page and booklet open with: yes, no, or only if, with the best change."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from types import MappingProxyType

from clochewright.findings import word
from clochewright.job.types import Answer, Trial
from clochewright.measures import Units, show_length, show_money, show_speed
from clochewright.plan import Plan

ONE_SEASON = MappingProxyType({"inch": "4 mil one-season film", "mm": "125 micron one-season film"})
Again = Callable[[Plan], Trial]


def answer_question(trial: Trial, again: Again | None) -> Answer:
    """Answer the plan's question from a finished trial; `again` runs the bench on a changed plan.

    Without `again` no change is tried, so that a cost is told without what would lower it.
    """
    if trial.refused or trial.made is None:
        return Answer(trial.plan.question, "no", word("job.answer.refused"))
    if trial.plan.question == "fits-the-car":
        return _car(trial, trial.plan.units)
    if trial.plan.question == "stays-out":
        return _out(trial, trial.plan.units)
    return _cost(trial, again)


def answer_in(trial: Trial, answer: Answer, units: Units) -> Answer:
    """The same answer with its lengths and speeds in these units."""
    if trial.made is None or trial.refused or answer.question == "cost":
        return answer  # it holds prices only
    return _car(trial, units) if answer.question == "fits-the-car" else _out(trial, units)


def _said(trial: Trial, verdict: str, key: str, **values: object) -> Answer:
    return Answer(trial.plan.question, verdict, word(f"job.answer.{key}", **values))


def _car(trial: Trial, units: Units) -> Answer:
    assert trial.made is not None
    plan, cutlist = trial.plan, trial.made.cutlist
    longest_m = max(cut.length_m for cut in cutlist.cuts)
    shown = {"longest": show_length(longest_m, units)}
    if plan.car is None:
        return _said(trial, "only-if", "car-unknown", **shown)
    car_m = plan.car.inside_length_m
    shown["car"] = show_length(car_m, units)
    bought = [stick for stick in cutlist.stock.sticks if stick.origin == "buy"]
    if all(stick.length_m <= car_m for stick in bought):
        return _said(trial, "yes", "car-whole", sticks=len(bought), **shown)
    if longest_m <= car_m:
        loads = [piece for cut in cutlist.first_cuts for piece in cut.pieces_m]
        shown["load"] = show_length(max(loads, default=longest_m), units)
        return _said(
            trial, "only-if", "car-cut", count=sum(len(cut.positions_m) for cut in cutlist.first_cuts), **shown
        )
    role = next(cut.role for cut in cutlist.cuts if cut.length_m == longest_m)
    return _said(trial, "no", "car-too-long", role=role, **shown)


def _cost(trial: Trial, again: Again | None) -> Answer:
    assert trial.made is not None
    supplies, prices = trial.made.supplies, trial.plan.prices
    shown = {"total": show_money(supplies.total, prices.currency)}
    missing = sum(row.price is None for row in supplies.rows)
    best = _cheapest(trial, again) if again is not None else None
    if best is not None:
        name, saved = best
        film = ONE_SEASON[trial.plan.units]
        shown |= {"change": word(f"job.change.{name}", film=film), "saved": show_money(saved, prices.currency)}
        shown["later"] = word("job.answer.cost-later") if name == "thin-film" and _dearer_by_the_season(trial) else ""
    tail = word("job.answer.cost-change", **shown) if best is not None else ""
    if missing:
        return _said(trial, "only-if", "cost-missing", missing=missing, tail=tail, **shown)
    if prices.budget is None:
        return _said(trial, "yes", "cost", tail=tail, **shown)
    shown["budget"] = show_money(prices.budget, prices.currency)
    if supplies.total <= prices.budget:
        return _said(trial, "yes", "cost-within", **shown)
    if best is not None and supplies.total - best[1] <= prices.budget:
        return _said(trial, "only-if", "cost-only-if", **shown)
    return _said(trial, "no", "cost-over", tail=tail, **shown)


def _dearer_by_the_season(trial: Trial) -> bool:
    """Whether one-season film costs more a season than the film of the plan."""
    assert trial.made is not None
    season = {choice.name: choice.per_season_money for choice in trial.made.film.choices}
    thin = season.get(ONE_SEASON[trial.plan.units])
    mine = next((choice.per_season_money for choice in trial.made.film.choices if choice.chosen), None)
    return thin is not None and mine is not None and thin > mine


def _cheapest(trial: Trial, again: Again) -> tuple[str, Decimal] | None:
    """The one change that saves most, by running the bench again: its name and what it saves."""
    assert trial.made is not None
    best: tuple[str, Decimal] | None = None
    for name, changed in _cheaper_plans(trial.plan):
        other = again(changed)
        if other.made is None or other.refused or any(row.price is None for row in other.made.supplies.rows):
            continue
        saved = trial.made.supplies.total - other.made.supplies.total
        if saved > (best[1] if best else Decimal(0)):
            best = (name, saved)
    return best


def _cheaper_plans(plan: Plan) -> Iterable[tuple[str, Plan]]:
    if plan.cover.braces != "none":
        yield "no-braces", plan.model_copy(update={"cover": plan.cover.model_copy(update={"braces": "none"})})
    if plan.film.kind not in ONE_SEASON.values():
        film = plan.film.model_copy(update={"kind": ONE_SEASON[plan.units]})
        yield "thin-film", plan.model_copy(update={"film": film})


def _out(trial: Trial, units: Units) -> Answer:
    assert trial.made is not None
    limit = trial.made.limits[0]
    return _said(
        trial,
        "only-if",
        "stays-out",
        low=show_speed(limit.low, units),
        high=show_speed(limit.high, units),
        latches=len(trial.made.lid.latches),
    )
