"""The card for the shed with the few limits that matter, and the page behind it: pictures, changes, handling, reach."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clochewright.booklet.front import page_cautions
from clochewright.booklet.words import capital
from clochewright.findings import word
from clochewright.job import (
    CardLimit,
    Job,
    Made,
    SaidLimit,
    card_limits,
    handling_said,
    reach_load,
    said_changes,
    said_limits,
)
from clochewright.measures import show_length
from clochewright.strength import Strength

PICTURES = ("bent-wind", "worked-wind", "bent-snow", "worked-snow")
TOLD = ("strength.estimate", "strength.gust", "strength.snow", "strength.reach", "strength.reach-width",
         "strength.what-helps", "strength.hot")  # fmt: skip


def stand_page(job: Job, made: Made, files: Mapping[str, dict[str, str]]) -> dict[str, Any] | None:
    """What the card and the page behind it show; None where strength was not worked out.

    Args:
        job: The finished job.
        made: What the bench made.
        files: The pictures of the frame under load by name, each with its file and its words.
    """
    units, strength = job.plan.units, made.strength
    if strength.limit("shut") is None:
        return None
    by_key = {limit.key: limit for limit in said_limits(strength, units)}
    card = card_limits(strength, units, made.opening)
    play = word("booklet.stand.wide-play") if made.joints.screws else ""
    reaches = [by_key[key] for key in ("width", "bay") if key in by_key]
    return {
        "card_head": word("booklet.stand.card-head"),
        "card_lead": word("booklet.stand.card-lead"),
        "card": [_card_row(row) for row in card],
        "card_wide": word("booklet.stand.wide", play=play) if any(row.wide for row in card) else "",
        "card_foot": word("booklet.stand.card-foot"),
        "head": word("booklet.stand.head"),
        "lead": word("booklet.stand.lead"),
        "pictures": [files[name] for name in PICTURES if name in files],
        "reach_head": word("booklet.stand.reach-head"),
        "reach_lead": word("booklet.stand.reach-lead", load=reach_load(job.plan, units)),
        "reach": [_row(limit.label, limit.likely, _reach_note(limit, job, strength)) for limit in reaches],
        "hands_head": word("booklet.stand.hands-head"),
        "hands": [
            *(
                _row(by_key[key].label, by_key[key].likely, _rest(by_key[key]))
                for key in ("lean-ridge", "lean-rail")
                if key in by_key
            ),
            *(_row(*one) for one in handling_said(strength, units)),
        ],
        "change_head": word("booklet.stand.change-head"),
        "change_lead": word("booklet.stand.change-lead" if strength.changes else "booklet.stand.change-none"),
        "change_heads": [word(f"booklet.stand.{name}") for name in ("change", "wind", "wet-snow", "cost")],
        "changes": [
            [capital(one.label), one.gust, one.snow, one.cost] for one in said_changes(strength, job.plan, units)
        ],
        "changed": bool(reaches),
        "cautions": page_cautions(job, "stand", but=TOLD),
    }


def _card_row(row: CardLimit) -> dict[str, str]:
    limit = row.said
    gives = word("booklet.stand.gives", governs=limit.governs)
    likely = word("booklet.stand.likely", likely=limit.likely) if limit.likely != limit.safe else ""
    return {
        "figure": limit.safe,
        "label": limit.label,
        "act": limit.act,
        "outdoors": capital(limit.outdoors),
        "rest": " ".join(part for part in (likely, gives, *row.same) if part),
    }


def _reach_note(limit: SaidLimit, job: Job, strength: Strength) -> str:
    """What the widest bed or the longest bay means for this one."""
    found = strength.limit(limit.key)
    here_m = job.plan.bed.outside_width_m if limit.key == "width" else job.frame.longest_bay_m
    past = found is None or here_m > found.value
    name = "yours-past" if past else "yours-sure" if limit.safe else "yours-within"
    yours = show_length(here_m, job.plan.units, style="long")
    said = word(f"booklet.stand.{name}", yours=yours, band=capital(limit.band or limit.likely))
    return f"{said} {word('booklet.stand.gives', governs=limit.governs)}"


def _rest(limit: SaidLimit) -> str:
    band = word("booklet.stand.band", band=limit.band) if limit.band else ""
    return f"{band} {word('booklet.stand.gives', governs=limit.governs)}".strip()


def _row(label: str, value: str, note: str) -> dict[str, str]:
    return {"label": label, "value": value, "note": note}
