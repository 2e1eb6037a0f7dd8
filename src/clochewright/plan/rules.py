"""What must hold between values of a plan that are each fine on their own."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from clochewright.measures import read_length, show_length
from clochewright.plan.fields import shown
from clochewright.plan.growing import Grow
from clochewright.plan.model import Bed, Cover, Film, Joints, Own, Site, Stock, Units
from clochewright.plan.opening import Lid
from clochewright.plan.panel import PANELLED
from clochewright.plan.paths import Loc

_FILM_IN_MM = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?mm\b", re.IGNORECASE)
_THICKEST_FILM_MM = 1.0
_SHORTEST_BAY_M = 0.1
_SHORTEST_GAP_M = 0.01
_TAPE_AGREES_M = 0.1  # sides may differ from the nominal size by this much before it is taken for a slip
_TAPE_CLOSES_M = 0.05
_MOST_CROPS = 6


class Broken(NamedTuple):
    """A rule that is broken: the key it is about, what is wrong, what to do."""

    loc: Loc
    what: str
    mend: str


def _boards(bed: Bed, units: Units) -> Iterator[Broken]:
    if 2 * bed.board_m >= min(bed.width_m, bed.length_m):
        board, size = show_length(bed.board_m, units), show_length(min(bed.width_m, bed.length_m), units)
        yield Broken(
            ("bed", "board"),
            f"two boards of {board} fill a bed of {size}.",
            "Give the thickness of one board, or check the bed's size.",
        )


def _tape(bed: Bed, units: Units) -> Iterator[Broken]:
    if bed.tape is None:
        return
    for key, size_m, sides in (
        ("length", bed.length_m, {"left": bed.tape.left_m, "right": bed.tape.right_m}),
        ("width", bed.width_m, {"front": bed.tape.front_m, "far": bed.tape.far_m}),
    ):
        outside_m = size_m + (2 * bed.board_m if bed.measured == "inside" else 0.0)
        off_m = max(abs(side_m - outside_m) for side_m in sides.values())
        if off_m > _TAPE_AGREES_M:
            yield Broken(
                ("bed", "tape", max(sides, key=lambda side: abs(sides[side] - outside_m))),
                f"this side is {show_length(off_m, units)} off the {key} given under [bed].",
                f"Measure it again, over the outside of the boards, or correct the {key}.",
            )
    shape = bed.shape
    if shape is not None and abs(shape.closing_m) > _TAPE_CLOSES_M:
        apart = show_length(abs(shape.closing_m), units)
        yield Broken(
            ("bed", "tape", shape.slip),
            f"the six readings don't make one shape: they miss each other by {apart}, and this is the likeliest slip.",
            f"Measure it again; {show_length(shape.slip_should_m, units)} would agree with the other five.",
        )


def _inset(bed: Bed, cover: Cover, units: Units) -> Iterator[Broken]:
    if 2 * cover.end_inset_m >= bed.outside_length_m:
        yield Broken(
            ("cover", "end_inset"),
            f"end bents {show_length(cover.end_inset_m, units)} further in would meet "
            f"on a bed {show_length(bed.outside_length_m, units)} long.",
            "Give less, or leave it out.",
        )


def _one_of_pitch_and_height(cover: Cover, _units: Units) -> Iterator[Broken]:
    if cover.pitch_deg is not None and cover.height_m is not None:
        yield Broken(
            ("cover", "height"),
            "pitch and height are both given, and the one follows from the other.",
            "Keep one and leave the other out.",
        )


def _bay(cover: Cover, units: Units) -> Iterator[Broken]:
    if cover.bay_m < _SHORTEST_BAY_M:
        yield Broken(
            ("cover", "bay"),
            f"bents {show_length(cover.bay_m, units)} apart would touch one another.",
            f"Common bays are {show_length(0.6096, units)} to {show_length(1.2192, units)}.",
        )


def _film(film: Film, units: Units) -> Iterator[Broken]:
    thickness = _FILM_IN_MM.search(film.kind)
    if thickness and float(thickness.group(1)) >= _THICKEST_FILM_MM:
        number = thickness.group(1)
        guess = (
            f"Did you mean {number} mil ({float(read_length(f'{number} mil')) * 1000:.2g} mm)?"
            if float(number) <= 20
            else "Clear film is some 4 to 10 mil thick."
        )
        yield Broken(("film", "kind"), f"{shown(thickness.group(0))} is a sheet, not a film.", guess)
    for key, gap_m in (("staple_gap", film.staple_gap_m), ("screw_gap", film.screw_gap_m)):
        if gap_m < _SHORTEST_GAP_M:
            thing = key.split("_")[0]
            yield Broken(
                ("film", key),
                f"{thing}s {show_length(gap_m, units)} apart would touch one another.",
                "Give the distance from one to the next.",
            )


def _shed(stock: Stock, units: Units) -> Iterator[Broken]:
    for place, piece in enumerate(stock.on_hand):
        if piece.sound_m is not None and piece.sound_m > piece.length_m:
            yield Broken(
                ("stock", "on_hand", place, "sound"),
                f"more is sound, {show_length(piece.sound_m, units)}, than there is pipe, "
                f"{show_length(piece.length_m, units)}.",
                "Give how much of it is free of cracks, or leave it out.",
            )
        if piece.port and not piece.cemented:
            yield Broken(
                ("stock", "on_hand", place, "port"),
                "this names a socket, and no fitting that has it.",
                'Say which fitting is on the pipe, such as cemented = "tee", or leave it out.',
            )


def _seats(joints: Joints, _units: Units) -> Iterator[Broken]:
    yield from _twice(("joints", "seats"), "role", [seat.role for seat in joints.seats])
    held = [f"{one.role} at {one.at}" if one.at else one.role for one in joints.held]
    yield from _twice(("joints", "held"), "role", held)


def _own(own: Own, _units: Units) -> Iterator[Broken]:
    yield from _twice(("own", "pipes"), "size", [pipe.size for pipe in own.pipes])
    for place, pipe in enumerate(own.pipes):
        if pipe.wall_m is not None and 2 * pipe.wall_m >= pipe.outside_diameter_m:
            yield Broken(
                ("own", "pipes", place, "wall"),
                "a wall this thick leaves no bore in the pipe.",
                "Check wall and outside_diameter.",
            )
    names = [f"{fitting.kind}, {fitting.port}" if fitting.port else fitting.kind for fitting in own.fittings]
    yield from _twice(("own", "fittings"), "kind", names)
    for place, fitting in enumerate(own.fittings):
        figures = fitting.model_dump(exclude={"kind", "port"})
        if all(value is None for value in figures.values()):
            yield Broken(
                ("own", "fittings", place),
                "nothing is measured here.",
                "Give centre_to_stop, socket_depth, hub or bend, or leave the fitting out.",
            )


def _grow(grow: Grow, _units: Units) -> Iterator[Broken]:
    if len(grow.crops) > _MOST_CROPS:
        yield Broken(("grow", "crops"), f"{len(grow.crops)} crops are too many for one bed.", "Name up to six.")
    if grow.open_at_degC is not None and grow.shut_at_degC is not None and grow.shut_at_degC >= grow.open_at_degC:
        yield Broken(("grow", "shut_at"), "it would be shut before it is opened.", "Shut it some degrees lower.")


def _twice(loc: Loc, key: str, names: list[str]) -> Iterator[Broken]:
    """Names that stand more than once in a list of tables, at their second place."""
    for name, count in Counter(names).items():
        if count > 1:
            second = names.index(name, names.index(name) + 1)
            yield Broken((*loc, second, key), f"{shown(name)} is given twice.", "Keep one of them.")


def _normals(site: Site, _units: Units) -> Iterator[Broken]:
    if site.normals is None:
        return
    months = site.normals
    lists = {"high": months.high_degC, "low": months.low_degC, "wind": months.wind_m_s, "sun": months.sun_h_count}
    lists |= {"dew": months.dew_degC} if months.dew_degC else {"humidity": months.humidity_share}
    for key, figures in lists.items():
        if len(figures) != 12:
            what = f"there are {len(figures)} figures here, not twelve." if figures else "dew or humidity is missing."
            yield Broken(("site", "normals", key), what, "Give one figure for each month, January first.")
            return
    for month, (high, low) in enumerate(zip(months.high_degC, months.low_degC, strict=True), start=1):
        if low >= high:
            what = f"in month {month} the low is not under the high."
            yield Broken(("site", "normals", "low"), what, "Check both lists.")
            return


def _openings(lid: Lid, _units: Units) -> Iterator[Broken]:
    for place, angle_deg in enumerate(lid.openings):
        if angle_deg >= lid.open_deg:
            yield Broken(
                ("lid", "openings", place),
                f"{angle_deg:g} deg is not less than the widest opening, {lid.open_deg:g} deg.",
                "Give a lesser one, or a wider open.",
            )


def _opens(cover: Cover, lid: Lid, _units: Units) -> Iterator[Broken]:
    where = ("lid", "opens")
    if lid.opens in PANELLED and cover.shape == "tunnel":
        mend = 'Write opens = "cover" or opens = "halves", or take another shape.'
        yield Broken(where, "a tunnel is round, and has no flat side for a panel.", mend)
    elif lid.opens == "roof side" and cover.shape == "lean-to":
        yield Broken(where, "a lean-to has no two roof sides, only its slope.", 'Write opens = "slope".')
    elif lid.opens == "slope" and cover.shape != "lean-to":
        yield Broken(where, "only a lean-to has a roof of one slope.", 'Write opens = "roof side".')
    elif lid.opens == "halves" and cover.sections > 1:
        what = f"a cover in {cover.sections} sections opens section by section already."
        yield Broken(where, what, "Leave out opens or sections.")


Rule = Callable[..., Iterator[Broken]]
RULES: tuple[tuple[tuple[str, ...], Rule], ...] = (
    (("bed",), _boards),
    (("bed",), _tape),
    (("bed", "cover"), _inset),
    (("cover",), _one_of_pitch_and_height),
    (("cover",), _bay),
    (("film",), _film),
    (("stock",), _shed),
    (("joints",), _seats),
    (("own",), _own),
    (("site",), _normals),
    (("grow",), _grow),
    (("lid",), _openings),
    (("cover", "lid"), _opens),
)


def broken_rules(sections: Mapping[str, Any], units: Units) -> Iterator[Broken]:
    """The rules that these sections break; a rule whose sections are not all there is passed over."""
    for names, rule in RULES:
        if all(name in sections for name in names):
            yield from rule(*(sections[name] for name in names), units)
