"""Writes the handbook's page that sets the trade's spans beside ours: `python docs/make_spans_page.py`.

Every figure is a run of the program. A test holds some rows of the page to what this makes.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run_once, show_limit
from clochewright.job.stronger import reach_of
from clochewright.plan import Plan, plan_from_si
from clochewright.strength import ALL_BANDS, Limit, load_of

PAGE = Path(__file__).parent / "spans.md"
FOOT_M = 0.3048
RULE_WIDTH_M, RULE_BAY_M = 8 * FOOT_M, 4 * FOOT_M
RULES = {"width": RULE_WIDTH_M, "bay": RULE_BAY_M}
ALIKE = 0.1  # nearer to the rule than this is as the rule
SHAPES = ("tent", "barn", "lean-to", "tunnel")
PIPES = ("1/2 in", "3/4 in", "1 in", "1 1/4 in")

HEAD = """\
# Spans: the trade's rule and ours

The rule of the trade, common practice with no source that we found: a frame of 1 in pipe not much over 8 ft wide, and
bents no more than 4 ft apart. Beside it stands what our model finds by building each frame wider, or longer, until it
no longer stands. Nothing was tuned to meet the rule; where the two differ, the table says so.

All figures are for a cover on a bed of 4 by 8 ft, 11 in high, three bents, cemented and screwed as the program plans
it, hinged and latched, in open country. Each is the likely figure, with both ends of its band; they are estimates for
garden covers and no structural approval. The low end takes screwed joints as hinges, so a frame that needs them stiff
has none.

This page is made from the program by `python docs/make_spans_page.py`.

## How far it reaches in gusts of {gust} and under {snow} of wet snow

The gust is where damage to hoop houses is seen (Bartok, University of Connecticut); the snow is what should be swept
before (common practice, no source). A plan that names the wind and snow of its place gets its own.

| shape | pipe | widest bed | what ends it | longest bay | what ends it | beside the rule (1 in) |
|---|---|---|---|---|---|---|
"""

RULE = """
## What a frame built to the rule stands

A frame of 1 in pipe, 8 ft wide, its bents 4 ft apart:

| shape | gust, shut and latched | wet snow | what gives first in wind | under snow | beside the rule |
|---|---|---|---|---|---|
"""

TAIL = """
## Why they differ

The rule says what holds together in a sheltered garden with somebody at hand who takes the cover off in a storm and
sweeps it in snow; it names neither wind nor snow. Ours asks for a storm and a snowfall and counts every joint, hinge
and screw. Where ours comes out shorter, take the rule for what is usual, and ours for what to do before a storm:
latch it, strap it over, or take it off. Where ours reaches further than the rule, the rule has other reasons: a wide
cover is heavy to open, and its film flaps.

No test of a PVC garden frame to failure was found that could settle it.
"""


@dataclass(frozen=True)
class Built:
    """One frame with its limits."""

    shape: str
    pipe: str
    limits: tuple[Limit, ...]

    def limit(self, key: str) -> Limit:
        """The limit of that key."""
        return next(limit for limit in self.limits if limit.key == key)

    def shown(self, key: str) -> str:
        """Its figure with its band."""
        limit = self.limit(key)
        if limit.value <= 0:
            return "none that was tried"
        value, low, high = (show_limit(limit.kind, m, "inch") for m in (limit.value, limit.low, limit.high))
        return f"{value} ({low if limit.low > 0 else 'none'} to {high})"


def plan_of(shape: str, pipe: str, width_m: float = 4 * FOOT_M, bay_m: float = 4 * FOOT_M) -> Plan:
    """A cover with three bents."""
    bed = {"length_m": 2 * bay_m, "width_m": width_m}
    cover = {"shape": shape, "bents": 3}
    return plan_from_si({"units": "inch", "bed": bed, "cover": cover, "pipe": {"size": pipe}})


@cache
def shelf() -> tuple[object, object]:
    """The catalogue and our prices."""
    catalogue = load_catalogue()
    return catalogue, load_prices(None, catalogue)


def built(shape: str, pipe: str, *, at_rule: bool = False) -> Built | None:
    """One frame run: how far it reaches, or at the rule's sizes what it stands; None where it can't be built."""
    plan = plan_of(shape, pipe, RULE_WIDTH_M, RULE_BAY_M) if at_rule else plan_of(shape, pipe)
    catalogue, prices = shelf()
    trial = run_once(plan, catalogue, prices, patience_s=0.02, bands=ALL_BANDS if at_rule else ("likely",))  # type: ignore[arg-type]
    if trial.made is None or trial.refused:
        return None
    return Built(shape, pipe, trial.made.strength.limits if at_rule else reach_of(trial, catalogue))  # type: ignore[arg-type]


def reach_row(shape: str, pipe: str) -> str:
    """One row of the first table."""
    one = built(shape, pipe)
    if one is None:
        return f"| {shape} | {pipe} | can't be built on this bed | | | | |"
    cells = [shape, pipe]
    for key in ("width", "bay"):
        cells += [one.shown(key), one.limit(key).governs]
    beside = ""
    if pipe == "1 in":
        width, bay = (beside_rule(one.limit(key).value, rule_m) for key, rule_m in RULES.items())
        beside = f"width {width}, bay {bay}"
    return f"| {' | '.join(cells)} | {beside} |"


def beside_rule(ours_m: float, rule_m: float) -> str:
    """How our limit stands to the rule's."""
    if abs(ours_m / rule_m - 1) <= ALIKE:
        return "as the rule"
    return f"**differs**: {'longer' if ours_m > rule_m else 'shorter'} than {rule_m / FOOT_M:.0f} ft"


def rule_row(shape: str) -> str:
    """One row of the second table."""
    one = built(shape, "1 in", at_rule=True)
    if one is None:
        return f"| {shape} | can't be built so wide | | | | **differs** |"
    load = load_of(plan_of(shape, "1 in"))
    shut, wet = one.limit("shut"), one.limit("wet")
    snow_Pa = wet.value / load.wet_m
    holds = shut.value >= load.gust_m_s and snow_Pa >= 1
    said = "meets it in that wind and snow" if holds else "**differs**: ours is stricter in that wind and snow"
    return f"| {shape} | {one.shown('shut')} | {one.shown('wet')} | {shut.governs} | {wet.governs} | {said} |"


def page() -> str:
    """The whole page."""
    load = load_of(plan_of("tent", "1 in"))
    gust, snow = show_limit("gust_m_s", load.gust_m_s, "inch"), show_limit("snow_depth_m", load.wet_m, "inch")
    reach = "\n".join(reach_row(shape, pipe) for shape in SHAPES for pipe in PIPES)
    rule = "\n".join(rule_row(shape) for shape in SHAPES)
    return f"{HEAD.format(gust=gust, snow=snow)}{reach}\n{RULE}{rule}\n{TAIL}"


if __name__ == "__main__":
    sys.stdout.write(f"writing {PAGE.name}\n")
    PAGE.write_text(page(), encoding="utf-8")
