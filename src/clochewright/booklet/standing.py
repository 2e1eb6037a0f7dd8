"""The card for the shed with the few limits that matter, and the page behind it: pictures, changes, handling, reach."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clochewright.booklet.front import page_cautions
from clochewright.booklet.words import capital
from clochewright.findings import word
from clochewright.job import (
    Job,
    Made,
    SaidLimit,
    card_limits,
    handling_said,
    reach_load,
    said_changes,
    said_limits,
)

PICTURES = ("bent-wind", "worked-wind", "bent-snow", "worked-snow")
_TOLD = ("strength.estimate", "strength.gust", "strength.snow", "strength.reach", "strength.reach-width",
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
    reaches = [by_key[key] for key in ("width", "bay") if key in by_key]
    return {
        "card_head": word("booklet.stand.card-head"),
        "card_lead": word("booklet.stand.card-lead"),
        "card": [_card_row(limit) for limit in card_limits(strength, units)],
        "card_foot": word("booklet.stand.card-foot"),
        "head": word("booklet.stand.head"),
        "lead": word("booklet.stand.lead"),
        "pictures": [files[name] for name in PICTURES if name in files],
        "reach_head": word("booklet.stand.reach-head"),
        "reach_lead": word("booklet.stand.reach-lead", load=reach_load(job.plan, units)),
        "reach": [_row(limit.label, limit.likely, _rest(limit)) for limit in reaches],
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
        "cautions": page_cautions(job, "stand", but=_TOLD),
    }


def _card_row(limit: SaidLimit) -> dict[str, str]:
    gives = word("booklet.stand.gives", governs=limit.governs)
    likely = word("booklet.stand.likely", likely=limit.likely, best=limit.best)
    return {
        "figure": limit.safe,
        "label": limit.label,
        "act": limit.act,
        "outdoors": capital(limit.outdoors),
        "rest": f"{likely} {gives}" if limit.band else gives,
    }


def _rest(limit: SaidLimit) -> str:
    band = word("booklet.stand.band", band=limit.band) if limit.band else ""
    return f"{band} {word('booklet.stand.gives', governs=limit.governs)}".strip()


def _row(label: str, value: str, note: str) -> dict[str, str]:
    return {"label": label, "value": value, "note": note}
