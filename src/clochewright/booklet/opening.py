"""The lid's pages: how it opens and what the hand lifts, where its hardware goes, wind, lifting off, holding down."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import groupby
from typing import Any

from clochewright.booklet.front import LIFTING, page_cautions
from clochewright.booklet.words import between, unbroken
from clochewright.findings import Level, say, word
from clochewright.job import Job, Made
from clochewright.lid import Leaf, LidPlan, Prop
from clochewright.measures import (
    Units,
    show_about,
    show_angle,
    show_drill,
    show_force,
    show_length,
    show_mass,
    show_speed,
)
from clochewright.strength import Anchor, FixingWork, HoldDown, LeafOpening

# Findings that are told in their own place on these pages, whatever their level.
_HELD = (
    "strength.held", "strength.held-by-straps", "strength.frame-held", "strength.held-too-little",
    "strength.weights-hold", "strength.weights-alone", "strength.weights-too-small",
)  # fmt: skip
SAME_DEG = 1e-6
_LABELS = (
    "head",
    "lead",
    "order-head",
    "off-head",
    "fixings-head",
    "wind-head",
    "held-head",
    "easier-head",
    "easier-lead",
)


def lid_page(job: Job, made: Made, files: Mapping[str, dict[str, Any]]) -> dict[str, Any] | None:
    """What the lid's pages show; None where nothing opens.

    Args:
        job: The finished job.
        made: What the bench made.
        files: The lid's drawings by name, each with its file and its words.
    """
    work, units = made.opening.first, job.plan.units
    if work is None:
        return None
    leaf = made.lid.leaves[0]
    return {
        **{label.replace("-", "_"): word(f"booklet.lid.{label}") for label in _LABELS},
        "swing": files["lid-swing"],
        "force": files.get("lid-force"),
        "bar": files.get("lid-bar"),
        "grips": files["lid-grips"],
        "templates": [file for name, file in files.items() if name.startswith("lid-template")],
        "figures": _figures(leaf, work, units),
        "order": _order(job, leaf, work),
        "from_shed": word("booklet.lid.from-shed"),
        "off": _off(leaf, work),
        "fixings_heads": [word(f"booklet.lid.{name}") for name in ("mark", "where", "how", "pipe-hole", "board-hole")],
        "fixings": _fixings(made.lid, made.opening.leaves, units),
        "bar_heads": [word(f"booklet.lid.{name}") for name in ("opening", "hole", "push", "alone")],
        "bar_rows": _bar_rows(work, units),
        "wind_heads": [word(f"booklet.lid.{name}") for name in ("opening", "off-pin", "breaks", "tie")],
        "wind_rows": _wind_rows(work, units),
        "wind_lead": _wind_lead(work, units),
        "easier_heads": [word(f"booklet.lid.easier-{name}") for name in ("way", "hand", "mass", "suits")],
        "easier_rows": _easier_rows(made, units),
        "lifting": _said(job, LIFTING),
        "limits_heads": [word(f"booklet.lid.limit-{name}") for name in ("who", "kg", "share")],
        "limits": _limits(work, units),
        "held": _said(job, _HELD),
        "held_heads": [word(f"booklet.lid.anchor{name}") for name in ("", "-what", "-pull", "-bears")],
        "held_rows": _held_rows(made.opening.hold_down, units),
        "cautions": page_cautions(job, "lid", but=(*LIFTING, *_HELD, "strength.opens-easier")),
    }


def _figures(leaf: Leaf, work: LeafOpening, units: Units) -> list[dict[str, str]]:
    shut, opened = work.at(0.0), work.at(work.reach.wanted_deg)
    band = between(show_force(shut.lift_low_N, units), show_force(shut.lift_high_N, units))
    open_at = show_angle(work.reach.wanted_deg)
    rest = word("booklet.lid.rest-stays" if work.stays_open else "booklet.lid.rest-falls")
    lying = leaf.swing.rest
    on = word(f"drawings.lid.on.{lying.on.replace(' ', '-')}{'-block' if lying.block_m else ''}")
    return [
        _figure("weight", between(show_mass(work.mass_kg.low, units), show_mass(work.mass_kg.high, units)), ""),
        _figure("shut", show_force(shut.lift_force_N, units), band),
        _figure("limit", show_force(work.reach.limit_N, units), word(f"strength.posture.{work.reach.posture}")),
        _figure("hand", show_about(opened.handle_height_m, units), word("booklet.lid.hand-note", angle=open_at)),
        _figure("balances", show_angle(round(work.over_centre_deg)), ""),
        _figure("rest", show_angle(lying.lies_deg), word("booklet.lid.rest-note", on=on, rest=rest)),
    ]


def _figure(name: str, value: str, note: str) -> dict[str, str]:
    return {"label": word(f"booklet.lid.{name}"), "value": value, "note": note}


def _order(job: Job, leaf: Leaf, work: LeafOpening) -> list[str]:
    """The order of the work, from marking out to trying it."""
    units, on = job.plan.units, "panel" if leaf.body.kind == "panel" else "board"
    how = next((fixing.how for fixing in work.fixings if fixing.what == "hinge"), "bolts")
    steps = [word("booklet.lid.step-mark"), word(f"booklet.lid.step-drill-{how}")]
    pack = show_drill(_pack_m(job, leaf), units)
    hang = word("booklet.lid.step-hang-board", pack=pack) if on == "board" else word("booklet.lid.step-hang-panel")
    steps.append(hang)
    steps.append(word(f"booklet.lid.step-latch-{on}"))
    if leaf.props and work.prop is not None:
        prop = leaf.props[0]
        steps.append(word(f"booklet.lid.step-pin-{prop.pin_in}"))
        steps.append(word("booklet.lid.step-bar"))
        steps.append(word("booklet.lid.step-cord", cord=show_length(work.prop.stop_m, units)))
        steps.append(_bar_at_rest(leaf, prop, units))
    block = leaf.swing.rest
    if block.block_m > 0:
        out = show_length(max(0.0, block.block_out_m - leaf.over_m), units)
        steps.append(word("booklet.lid.step-block", block=show_length(block.block_m, units), out=out,
                          angle=show_angle(block.lies_deg)))  # fmt: skip
    steps.append(word("booklet.lid.step-try"))
    if len(leaf.props) > 1:
        steps.append(word("booklet.lid.step-alone"))
    return steps


def _pack_m(job: Job, leaf: Leaf) -> float:
    """How far the hinged rail's outer face lies behind the line that hinges turn about, over the board's face [m]."""
    rail = next(pipe for pipe in job.frame.pipes if pipe.id in leaf.body.hinge_pipes)
    out_m, _ = leaf.line.section(rail.path_m[0])
    return max(0.0, out_m - job.frame.pipe_outside_diameter_m / 2)


def _bar_at_rest(leaf: Leaf, prop: Prop, units: Units) -> str:
    """Where the bar is while the lid is shut: along the end rail from its pivot towards the hinges."""
    past_m = (prop.bar_m - prop.holes[-1].from_pivot_m) / 2
    out_m, _ = leaf.line.section(prop.head_m)
    beyond_m = prop.bar_m - past_m - out_m - leaf.over_m
    if beyond_m <= 0 or prop.pin_in == "frame":
        return word("booklet.lid.step-stow")
    return word("booklet.lid.step-stow-beyond", beyond=show_length(beyond_m, units))


def _off(leaf: Leaf, work: LeafOpening) -> list[str]:
    """Taking the lid off its hinges, in order."""
    lines = [word("booklet.lid.off-bar")] if leaf.props else []
    on, hands = "-panel" if leaf.body.kind == "panel" else "", {1: "one", 2: "two"}.get(work.lifting.people, "none")
    lines += [word("booklet.lid.off-latch"), word(f"booklet.lid.off-hinge{on}")]
    return [*lines, word(f"booklet.lid.off-lift-{hands}")]


def _fixings(lid: LidPlan, works: tuple[LeafOpening, ...], units: Units) -> list[list[str]]:
    """A row for each hinge and latch of every leaf."""
    rows = []
    for leaf, work in zip(lid.leaves, works, strict=False):
        by_kind = {fixing.what: fixing for fixing in work.fixings}
        body = leaf.body
        places = (("hinge", leaf.hinges, body.hinge_line_m), ("latch", leaf.latches, body.free_line_m))
        for what, many, edge in places:
            for one in many:
                place = show_length(math.dist(one.position_m, edge[0]), units)
                rows.append([one.id, place, *_how(by_kind.get(what), body.kind == "panel", units)])
    return rows


def _how(fixing: FixingWork | None, is_panel: bool, units: Units) -> list[str]:
    if fixing is None:
        return ["", "", ""]
    none = word("booklet.lid.no-hole")
    hole = none if fixing.how == "saddles" else show_drill(fixing.pipe_hole_m, units)
    said = {"each": fixing.each, "bolt": show_drill(fixing.bolt_m, units)}
    board = none if is_panel else word("booklet.lid.pilot", hole=show_drill(fixing.board_pilot_m, units))
    return [word(f"booklet.lid.how-{fixing.how}", **said), hole, board]


def _bar_rows(work: LeafOpening, units: Units) -> list[list[str]]:
    if work.prop is None:
        return []
    return [
        [
            show_angle(hole.angle_deg),
            show_length(hole.hole_m, units),
            show_force(hole.force_N, units),
            show_force(hole.one_bar_N, units),
        ]
        for hole in work.prop.holes
        if hole.angle_deg <= work.rest_deg + SAME_DEG
    ]


def _wind_rows(work: LeafOpening, units: Units) -> list[list[str]]:
    return [
        [
            show_angle(row.angle_deg),
            between(show_speed(row.off_pin_m_s.low, units), show_speed(row.off_pin_m_s.high, units)),
            word("booklet.lid.breaks-by", gust=show_speed(row.breaks_m_s.value, units),
                 gives=word(f"strength.gives.{row.gives}")),
            show_force(row.tie_N, units),
        ]
        for row in work.wind
        if row.angle_deg <= work.rest_deg + SAME_DEG
    ]  # fmt: skip


def _wind_lead(work: LeafOpening, units: Units) -> str:
    if not work.wind:
        return ""
    return word("booklet.lid.wind-lead", gust=show_speed(work.wind[-1].told_gust_m_s, units))


def _easier_rows(made: Made, units: Units) -> list[list[str]]:
    """Other ways to open it that were worked out, the lightest first of those that suit."""
    return [
        [
            word(f"strength.easier.{way.key}"),
            show_force(way.force_N, units),
            show_mass(way.mass_kg, units),
            word(f"booklet.lid.easier-{'yes' if way.works else 'no'}"),
        ]
        for way in made.opening.alternatives
    ]


def _limits(work: LeafOpening, units: Units) -> list[list[str]]:
    """Published limits for one person, the strictest that counts first."""
    return [
        [
            word(f"strength.lifts.{limit.key}"),
            between(show_mass(limit.limit_kg.low, units), show_mass(limit.limit_kg.high, units)),
            f"{limit.share:.0%}",
        ]
        for limit in work.lifting.limits
    ]


def _held_rows(held: HoldDown | None, units: Units) -> list[list[str]]:
    """Anchors that are pulled alike share a row."""
    if held is None:
        return []
    rows = []

    def shown(one: Anchor) -> tuple[str, str, str]:
        return one.kind, show_force(one.pull_N, units), show_force(one.bears_N, units)

    for (kind, pull, bears), many in groupby(held.anchors, key=shown):
        rows.append([unbroken(one.id for one in many), word(f"booklet.lid.anchor-{kind}"), pull, bears])
    return rows


def _said(job: Job, keys: tuple[str, ...]) -> list[dict[str, Any]]:
    """Findings told as text: what, why, what to do."""
    told = []
    for finding in job.findings:
        if finding.key in keys:
            words = say(finding, job.plan.units, job.plan.prices.currency)
            warns = finding.level is not Level.NOTE
            told.append({"what": words.what, "why": f"{words.why} {words.mend}".strip(), "warns": warns})
    return told
