"""Everything to buy for one cover."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from clochewright.catalogue import Catalogue, GoodsRow, Prices, stick_label
from clochewright.cuts import Cut, CutList, nest
from clochewright.film import CutRoll, FilmPlan, Sheet
from clochewright.findings import Finding, Level, word
from clochewright.frame import Frame
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.measures import Units, foot, show_length
from clochewright.plan import Plan
from clochewright.supplies.guard import COATS, contact
from clochewright.supplies.shelf import Shelf
from clochewright.supplies.types import Supplies, Supply, Wanted

US_QUART_L = 0.946352946  # NIST SP 811, appendix B
F402 = "ASTM F402, safe handling of solvent cements, primers and cleaners"

SLEEVE_KERF_M = 0.003


def list_supplies(
    frame: Frame,
    cutlist: CutList,
    film: FilmPlan,
    lid: LidPlan,
    joints: JointPlan,
    plan: Plan,
    catalogue: Catalogue,
    prices: Prices,
    more: Sequence[Wanted] = (),
) -> Supplies:
    """List all that has to be bought, packs rounded up, with its price where it is known.

    Args:
        frame: fittings to buy, and the surface that film touches.
        cutlist: sticks of pipe to buy; those on hand are left out.
        film: roll, laths, staples and screws.
        lid: hinges, latches and props.
        joints: sockets to cement, joints to screw.
        plan: units, and so the market whose packs are listed.
        catalogue: goods and their packs.
        prices: price of each pack.
        more: what other steps ask for: bolts, pins, straps.

    Returns:
        The list in the order things are used, with findings for prices that are missing.
    """
    shelf = Shelf(catalogue, prices, plan.units)
    rows = (
        *_pipe(frame, cutlist, shelf),
        *_fittings(frame, cutlist, joints, plan, shelf),
        *_joining(frame, joints, shelf),
        *_guard(frame, film, shelf),
        *_film(film, shelf),
        *shelf.in_lengths("lath", [piece_m for lath in film.laths for piece_m in lath.pieces_m]),
        *shelf.in_packs("staples", film.staples, word("supplies.note.needed", count=film.staples)),
        *_lath_screws(film, shelf),
        *shelf.in_packs("hinge", len(lid.hinges), word("supplies.note.needed", count=len(lid.hinges))),
        *shelf.in_packs("latch", len(lid.latches), ""),
        *shelf.in_packs("strap", len(lid.saddles), word("supplies.note.saddles", count=len(lid.saddles))),
        *shelf.in_lengths("prop", [prop.bar_m or prop.length_m for prop in lid.props]),
        *(row for wanted in more for row in shelf.in_packs(wanted.group, wanted.quantity, wanted.note)),
    )
    return Supplies(rows, _findings(rows, prices, joints))


def _pipe(frame: Frame, cutlist: CutList, shelf: Shelf) -> tuple[Supply, ...]:
    pipe = shelf.catalogue.pipe(frame.pipe_key)
    item = f"pipe:{pipe.key}"
    sticks = Counter(stick.length_m for stick in cutlist.stock.sticks if stick.origin == "buy")
    rows = []
    for length_m, count in sorted(sticks.items(), reverse=True):
        label = stick_label(length_m, pipe)
        what = word("supplies.goods.pipe", pipe=pipe.key)
        rows.append(Supply("pipe", item, what, count, label, shelf.prices.price(item, label)))
    return (*rows, *_sleeves(frame, shelf))


def _sleeves(frame: Frame, shelf: Shelf) -> tuple[Supply, ...]:
    """Sleeves for hoops: pieces of wider pipe, and two straps each on the board (common practice, no source)."""
    depths_m = [fitting.ports[0].socket_depth_m for fitting in frame.fittings if fitting.role == "sleeve"]
    if not depths_m:
        return ()
    pipe = shelf.catalogue.pipe(frame.sleeve_pipe_key)
    item = f"pipe:{pipe.key}"
    priced = [(length_m, shelf.prices.price(item, stick_label(length_m, pipe))) for length_m in pipe.sticks_m]
    stock, _ = nest(
        (Cut("S", "sleeve", depths_m[0], len(depths_m)),),
        kerf_m=SLEEVE_KERF_M,
        sticks=[(length_m, float(price) if price is not None else length_m) for length_m, price in priced],
    )
    size = show_length(depths_m[0], shelf.units)
    what = word("supplies.goods.sleeve-pipe", pipe=pipe.key)
    note = word("supplies.note.sleeves", count=len(depths_m), size=size)
    counts = Counter(stick_label(stick.length_m, pipe) for stick in stock.sticks)
    rows = [Supply("pipe", item, what, n, label, shelf.prices.price(item, label), note) for label, n in counts.items()]
    return (*rows, *shelf.in_packs("strap", 2 * len(depths_m), word("supplies.note.needed", count=2 * len(depths_m))))


def _fittings(frame: Frame, cutlist: CutList, joints: JointPlan, plan: Plan, shelf: Shelf) -> tuple[Supply, ...]:
    """Fittings by kind, less those in the shed and those cemented to old pipe, and couplings for the splices."""
    counts = Counter(fitting.kind for fitting in frame.fittings if fitting.kind != "sleeve")
    cemented = {joint.fitting for joint in joints.joints if joint.treatment == "cemented"}
    at_stake = {fitting.kind for fitting in frame.fittings if fitting.id in cemented}
    rows = []
    counts["coupling"] += sum(use.new_m > 0 for use in cutlist.reused)
    counts.subtract(frame.fitting(use.fitting).kind for use in cutlist.reused)
    for old in plan.stock.fittings:
        counts[old.kind] -= old.count
    for kind, count in sorted(((k, n) for k, n in counts.items() if n > 0), key=lambda pair: (-pair[1], pair[0])):
        item = f"fitting:{kind}:{frame.pipe_key}"
        what = word("supplies.goods.fitting", fitting=word(f"supplies.fitting.{kind}"), pipe=frame.pipe_key)
        note = word("supplies.note.spare") if kind in at_stake else ""
        rows.append(Supply("fitting", item, what, count, "each", shelf.prices.price(item, "each"), note))
    return tuple(rows)


def _joining(frame: Frame, joints: JointPlan, shelf: Shelf) -> tuple[Supply, ...]:
    rows: list[Supply] = []
    if joints.cemented:
        for group in ("primer", "cement"):
            per_quart = shelf.catalogue.joints_per_quart(frame.pipe_key, group)
            spare = shelf.goods(group).figures["spare_fraction"].value
            need_L = joints.cemented / per_quart.value * US_QUART_L * (1 + spare)
            note = word("supplies.note.joints", count=joints.cemented, percent=round(spare * 100))
            rows += shelf.in_packs(group, need_L, note)
    if joints.screws:
        rows += shelf.in_packs("joint screws", joints.screws, word("supplies.note.needed", count=joints.screws))
    return tuple(rows)


def _guard(frame: Frame, film: FilmPlan, shelf: Shelf) -> tuple[Supply, ...]:
    """White paint where polyethylene would lie on PVC."""
    if not film.touches_pvc_badly:
        return ()
    touched = contact(frame)
    need_L = touched.area_m2 * COATS / shelf.goods("paint").figures["cover_m2_per_L"].value
    tape = _about(touched.length_m, shelf.units)
    return shelf.in_packs("paint", need_L, word("supplies.note.paint", coats=COATS, tape=tape))


def _about(length_m: float, units: Units) -> str:
    """A length for the shop, in whole feet or metres, rounded up."""
    return f"{math.ceil(length_m / foot)} ft" if units == "inch" else f"{math.ceil(length_m)} m"


def _lath_screws(film: FilmPlan, shelf: Shelf) -> tuple[Supply, ...]:
    """Lath screws of the length that was found right."""
    needed = word("supplies.note.needed", count=film.screws)
    return shelf.in_packs("lath screws", film.screws, needed, film.screw.name if film.screw else None)


def _film(film: FilmPlan, shelf: Shelf) -> tuple[Supply, ...]:
    row = shelf.catalogue.find_goods("film", film.kind)
    if film.roll is None:
        note = word("supplies.note.no-roll", size=_sizes(film.sheets, shelf))
        rows = [Supply("film", row.key, row.name, 1, word("supplies.goods.sheet"), None, note)]
    else:
        rows = _rolls(row, film.rolls, film.sheets, shelf)
    rows += shelf.in_packs("tape", film.taped_m, word("supplies.note.laps"))
    for more in film.more:
        rows += _rolls(shelf.catalogue.find_goods("cloth", more.name), more.rolls, more.sheets, shelf)
    return tuple(rows)


def _rolls(row: GoodsRow, rolls: Sequence[CutRoll], sheets: Sequence[Sheet], shelf: Shelf) -> list[Supply]:
    """Rolls of one film or cloth; what is cut from them stands beside the first."""
    note = word("supplies.note.sheets", count=len(sheets), size=_sizes(sheets, shelf))
    counts = Counter(roll.label for roll in rolls)
    return [
        Supply("film", row.key, row.name, count, label, shelf.prices.price(row.key, label), note if n == 0 else "")
        for n, (label, count) in enumerate(counts.items())
    ]


def _sizes(sheets: Sequence[Sheet], shelf: Shelf) -> str:
    """Sheets by their sizes, those of one size once."""
    sizes = ((show_length(sheet.width_m, shelf.units), show_length(sheet.length_m, shelf.units)) for sheet in sheets)
    return ", ".join(dict.fromkeys(f"{width} × {length}" for width, length in sizes))


def _findings(rows: tuple[Supply, ...], prices: Prices, joints: JointPlan) -> tuple[Finding, ...]:
    found = []
    unpriced = tuple(dict.fromkeys((row.item, row.unit, row.what) for row in rows if row.unit_price is None))
    for item, pack, what in unpriced:
        values = {"what": what, "pack": pack, "line": f"{item},{pack},0.00"}
        found.append(Finding(Level.NOTE, "supplies", "supplies.no-price", item, values))
    if prices.invented:
        found.append(Finding(Level.NOTE, "supplies", "supplies.invented-prices", "prices.file"))
    if joints.cemented:
        found.append(Finding(Level.NOTE, "supplies", "supplies.store-cement", "cement", {}, F402))
    return tuple(found)
