"""The page for the shop and the page for the saw."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from types import MappingProxyType
from typing import Any

from clochewright.booklet.front import own_caution, page_cautions
from clochewright.booklet.words import capital, unbroken
from clochewright.cuts import carried
from clochewright.findings import say, word
from clochewright.job import Job, Made
from clochewright.measures import Units, show_length, show_money
from clochewright.supplies import Supply

# Which heading a group of supplies stands under; a group not named here stands under the last.
_HEADINGS = MappingProxyType(
    {
        "frame": ("pipe", "fitting"),
        "joining": ("primer", "cement", "joint screws"),
        "cover": ("paint", "film", "tape", "lath", "staples", "lath screws"),
        "lid": ("hinge", "latch", "prop"),
    }
)
# Told on the shopping page in its own words: above the list, and below the total.
_TOLD_APART = ("supplies.invented-prices", "supplies.no-price")

# The catalogue's label for what is sold piece by piece.
_BY_THE_PIECE = "each"


def shop_page(job: Job, made: Made) -> dict[str, Any]:
    """What to buy, in groups, with the total and what it leaves out; and the first cuts at the shop."""
    supplies, units, currency = made.supplies, job.plan.units, job.plan.prices.currency
    missing = sum(row.price is None for row in supplies.rows)
    grouped: dict[str, list[dict[str, str]]] = {name: [] for name in _HEADINGS}
    for row in supplies.rows:
        heading = next((name for name, groups in _HEADINGS.items() if row.group in groups), list(_HEADINGS)[-1])
        grouped[heading].append(_supply(row, currency))
    invented = [f for f in supplies.findings if f.key == "supplies.invented-prices"]
    return {
        "price_note": " ".join(say(f, units, currency).what for f in invented),
        "groups": [_group(word(f"booklet.shop.{name}"), rows) for name, rows in grouped.items() if rows],
        "total_label": word("booklet.shop.total-missing" if missing else "booklet.shop.total"),
        "total": show_money(supplies.total, currency),
        "missing": word("booklet.shop.missing", count=missing) if missing else "",
        "first_cuts_lead": _first_cuts_lead(job, made),
        "first_cuts": _first_cuts(job, made),
        "tools": [word(f"booklet.tool.{name}") for name in _tools(made)],
        "cautions": page_cautions(job, "shop", but=_TOLD_APART),
    }


def _tools(made: Made) -> list[str]:
    """What is not bought here but is wanted at hand, in the order in which it is taken up."""
    cemented, screwed = made.joints.cemented > 0, made.joints.screws > 0
    wanted = {
        "measure": True,
        "saw": True,
        "burr": True,
        "square": True,
        "goggles": True,
        "gloves": cemented,
        "rag": cemented,
        "jig": cemented,
        "sand": screwed,
        "drill": screwed or bool(made.lid.leaves),
        "screwdriver": True,
        "spanner": bool(made.lid.leaves),
        "stapler": made.film.staples > 0,
        "knife": True,
        "brush": any(row.group == "paint" for row in made.supplies.rows),
        "clamps": True,
    }
    return [name for name, needed in wanted.items() if needed]


def _group(name: str, rows: list[dict[str, str]]) -> dict[str, Any]:
    """A group of rows; what several of them note alike is told once, below its name."""
    shared = [note for note, count in Counter(row["note"] for row in rows).items() if note and count > 1]
    told = [row | {"note": "" if row["note"] in shared else row["note"]} for row in rows]
    return {"name": name, "rows": told, "note": " ".join(f"{capital(note)}." for note in shared)}


def _supply(row: Supply, currency: str) -> dict[str, str]:
    quantity, each = str(row.quantity), ""
    if row.unit != _BY_THE_PIECE:
        quantity = word("booklet.shop.quantity", count=quantity, pack=row.unit)
    if row.unit_price is not None and row.quantity > 1:
        each = show_money(row.unit_price, currency)
    price = word("booklet.shop.no-price") if row.price is None else show_money(row.price, currency)
    return {"what": row.what, "note": row.note, "quantity": quantity, "each": each, "price": price}


def _first_cuts_lead(job: Job, made: Made) -> str:
    car, firsts = job.plan.car, made.cutlist.first_cuts
    if car is None or not firsts:
        return ""
    car_takes = show_length(car.inside_length_m, job.plan.units)
    return word("booklet.shop.first-cuts", car=car_takes, example=f"{firsts[0].stick + 1}-1")


def _first_cuts(job: Job, made: Made) -> list[dict[str, Any]]:
    """Where each stick is sawn at the shop, and what each piece has to spare; sticks sawn alike share a row."""
    units, stock = job.plan.units, made.cutlist.stock
    alike: dict[tuple[str, str, str, str], list[int]] = {}
    for first in made.cutlist.first_cuts:
        stick = stock.sticks[first.stick]
        pieces = carried(stick, first, stock.kerf_m)
        row = (
            show_length(stick.length_m, units, style="long"),
            unbroken(show_length(position_m, units) for position_m in first.positions_m),
            unbroken(show_length(piece.length_m, units) for piece in pieces),
            _to_spare([piece.offcut_m for piece in pieces], units),
        )
        alike.setdefault(row, []).append(first.stick + 1)
    return [
        {
            "stick": word("booklet.shop.stick-numbers", numbers=", ".join(map(str, sticks)), length=length),
            "boxes": len(sticks),
            "at": at,
            "pieces": pieces,
            "spare": spare,
        }
        for (length, at, pieces, spare), sticks in alike.items()
    ]


def _to_spare(offcuts_m: Sequence[float], units: Units) -> str:
    """What each piece has left once it is sawn up, a last saw cut counted."""
    if not any(offcuts_m):
        return word("booklet.shop.nothing-to-spare")
    none = word("booklet.shop.none-to-spare")
    return unbroken(show_length(offcut_m, units) if offcut_m else none for offcut_m in offcuts_m)


def saw_page(job: Job, made: Made) -> dict[str, Any]:
    """The cut list with a box for each piece, longest first, and the cautions of the saw."""
    units, stock = job.plan.units, made.cutlist.stock
    percent = math.ceil(stock.gap * 100)
    proof = word("booklet.saw.proven") if stock.proven else word("booklet.saw.not-proven", percent=percent)
    pieces = sum(cut.count for cut in made.cutlist.cuts)
    last = {late.mark for late in made.spreads.matter_most}
    firsts = made.cutlist.first_cuts
    what = word("booklet.saw.length-carried" if firsts else "booklet.saw.length-whole")
    sticks_lead = [word("booklet.saw.sticks-lead", proof=proof)]
    if firsts:
        sticks_lead.append(word("booklet.saw.sticks-carried"))
    return {
        "lead": word("booklet.saw.lead", count=pieces, length=what, kerf=show_length(stock.kerf_m, units)),
        "cuts": [
            {
                "mark": cut.mark,
                "length": show_length(cut.length_m, units),
                "role": capital(cut.role),
                "count": word("booklet.saw.count", count=cut.count),
                "last": word("booklet.saw.last") if cut.mark in last else "",
                "boxes": cut.count,
            }
            for cut in made.cutlist.cuts
        ],
        "sticks_lead": " ".join(sticks_lead),
        "cautions": [*page_cautions(job, "saw"), own_caution("saw", "square"), own_caution("saw", "eyes")],
    }
