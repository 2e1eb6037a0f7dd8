"""The film for a whole job: the pattern, the sheets and their rolls, laths and fasteners, and what there is to say."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.catalogue import Catalogue, GoodsRow, Prices
from clochewright.film.choice import (
    compare,
    dear_by_the_season,
    is_polyethylene,
    mass_of,
    pricing,
    second_covers,
    thickness_of,
)
from clochewright.film.develop import develop, ends_for
from clochewright.film.fixing import lay_edge_laths, lay_laths, roll_on_lath
from clochewright.film.old import judge
from clochewright.film.order import On, order_of_work
from clochewright.film.outline import Point
from clochewright.film.parted import Edge, openings, panel_edges, panel_piece, part
from clochewright.film.pattern import Ends, Pattern, PatternPiece, area_m2
from clochewright.film.rolls import RollPlan, plan_rolls
from clochewright.film.screws import fit_screw
from clochewright.film.seat import about_seat, seat_of
from clochewright.film.skin import Skin, skin_of, slack_between, with_tucks
from clochewright.film.tension import try_panel
from clochewright.film.types import BodyFilm, FilmPlan, Sheet
from clochewright.findings import Finding, Level
from clochewright.frame import Body, Frame, covers, moving_bodies
from clochewright.lid import LidPlan
from clochewright.plan import Plan

PRACTICE = "common practice, no source"
DELAWARE = (
    "Univ. of Delaware Cooperative Extension, Weekly Crop Update, Don't Mix PVC Pipe and Polyethylene Greenhouse Film"
)
# 150 to 200 mm at each edge can be rolled on a lath.
LEAST_OVERHANG_M = 0.150
# More slack than this between the bents shows, and flaps.
SLACK_WORTH_SAYING_M = 0.010
# Repair tape goes on both sides of a lap; a lath of this length is sold everywhere.
TAPED_SIDES = 2
USUAL_LATH_M = 2.4


def cut_sheet(
    frame: Frame,
    plan: Plan,
    catalogue: Catalogue,
    lid: LidPlan | None = None,
    prices: Prices | None = None,
    skin: Skin | None = None,
) -> FilmPlan:
    """Lay the film out, cut it off its rolls, and fix it.

    Args:
        frame: the solved frame.
        plan: says which film, how much overhang, how the ends are closed, and how far staples and screws are apart.
        catalogue: film by kind, with the rolls it is sold in.
        lid: hinges, latches and props, which joints in the laths keep clear of.
        prices: what rolls cost; without them the least film is bought.
        skin: the surface that the film takes, where it is known already.

    Returns:
        The film for all covers, with findings.

    Raises:
        CatalogueError: when the plan names a film that the catalogue does not have.
    """
    row, prices = catalogue.find_goods("film", plan.film.kind), prices or Prices()
    cover, count = covers(frame)[0][0], len(covers(frame))
    skin = skin or skin_of(frame)
    turning = moving_bodies(frame, plan)
    panels = [body for body in turning if body.kind == "panel"]
    if panels:
        first = panels[: len(panels) // count]  # those of the first cover; the others are alike
        sheets_of_panels = [panel_piece(frame, panel, plan.film.overhang_m) for panel in first]
        slopes = openings(skin, first)
        pattern, edges = part(skin, plan.film.overhang_m, cover.stations_m, slopes, sheets_of_panels)
    else:
        pattern, edges = develop(skin, plan.film.overhang_m, _ends(plan, skin), cover.stations_m), ()
    wanted = _wanted(pattern, count)
    off = plan_rolls(row.rolls, wanted, pricing(prices, row))
    sheets = off.sheets if off is not None else wanted
    thickness = thickness_of(row)
    choices = compare(wanted, plan, catalogue, prices)
    more, unsold = second_covers(wanted, plan, catalogue, prices)
    lath = next(iter(catalogue.goods("lath", plan.units)), None)
    rolled = roll_on_lath(_rolled_up_m(cover, plan, lath), lath, thickness.value) if lath else None
    screw, about_screw = fit_screw(
        rolled.thickness_m if rolled else 0.0,
        catalogue.find_pipe(plan.pipe.size),
        catalogue.goods("lath screws", plan.units),
        plan.film.screw_points,
    )
    seat = seat_of(cover, rolled, (plan.bed.outside_width_m - cover.width_m) / 2)
    laths = lay_laths(frame, plan, _stick(lath), lid)
    panel, about_panel = try_panel(cover, skin, thickness, plan.film.gust_m_s)
    slack_m = slack_between(cover, skin.girth_m)
    old = judge(plan.film.old, *_sizes(pattern, plan), plan, catalogue) if plan.film.old else None
    return FilmPlan(
        kind=row.name,
        sheets=sheets,
        roll=off.roll if off is not None else None,
        laths=(
            *laths,
            *lay_edge_laths(_edges(frame, panels, edges, count), plan, _stick(lath), lid),
        ),
        overhang_m=plan.film.overhang_m,
        girth_m=skin.girth_m,
        reach_m=_reach(pattern, skin, plan),
        slack_m=slack_m,
        section_m=skin.outline_m,
        profile_m=_profile(skin),
        thickness=thickness,
        mass_kg=mass_of(row, sum(sheet.area_m2 for sheet in sheets)),
        pattern=pattern,
        touches_pvc_badly=is_polyethylene(row),
        findings=(
            *_roll_findings(row, off, wanted[0]),
            *unsold,
            *_overhang_findings(plan),
            *_slack_findings(slack_m),
            *about_panel,
            *about_screw,
            *about_seat(seat, laths),
            *((old[1],) if old else ()),
            *dear_by_the_season(choices),
            *_cautions(row),
        ),
        covers=count,
        rolls=off.rolls if off is not None else (),
        joins=off.joins if off is not None else 0,
        taped_m=TAPED_SIDES * ((off.joined_m if off is not None else 0.0) + count * _gable_laps(pattern)),
        lath_roll=rolled,
        seat=seat,
        screw=screw,
        panel=panel,
        choices=choices,
        more=more,
        old=old[0] if old else None,
        order=order_of_work(
            plan, pattern, On(rolled, seat, screw), off.joins if off else 0, count, is_polyethylene(row)
        ),
        bodies=_bodies(frame, pattern, panels, plan.film.overhang_m),
    )


def _edges(frame: Frame, panels: Sequence[Body], edges: Sequence[Edge], count: int) -> list[tuple[str, int, Edge]]:
    """The edges of openings and panels on all covers: the body each is on, which cover that is, and the edge."""
    names = [cover.pipes[0].body for cover, _ in covers(frame)]
    found = [(name, number, edge) for number, name in enumerate(names, start=1) for edge in edges]
    each = len(panels) // count
    for place, panel in enumerate(panels):
        found += [(panel.id, place // each + 1, edge) for edge in panel_edges(panel)]
    return found


def _bodies(frame: Frame, pattern: Pattern, panels: Sequence[Body], overhang_m: float) -> tuple[BodyFilm, ...]:
    """What of the film belongs to each body: panels have their own sheet, the frame or the lid all the rest."""
    stays = [piece for piece in pattern.pieces if piece.name != "panel"]
    found = [_body_film(cover.pipes[0].body, stays, middle_m) for cover, middle_m in covers(frame)]
    return (*found, *(_body_film(panel.id, [panel_piece(frame, panel, overhang_m)], 0.0) for panel in panels))


def _body_film(name: str, pieces: Sequence[PatternPiece], middle_m: float) -> BodyFilm:
    sheets = tuple(Sheet(piece.name, piece.length_m, piece.width_m) for piece in pieces)
    faces = [face for piece in pieces for face in piece.faces]
    placed = tuple(tuple((x + middle_m, y, z) for x, y, z in face.space) for face in faces)
    return BodyFilm(name, sheets, sum(abs(area_m2(face.flat)) for face in faces), placed)


def _stick(lath: GoodsRow | None) -> float:
    """The longest lath on sale [m]."""
    return max((length_m for _, length_m in lath.packs), default=USUAL_LATH_M) if lath else USUAL_LATH_M


def _rolled_up_m(cover: Frame, plan: Plan, lath: GoodsRow) -> float:
    """Film that the laths roll up: all the overhang, but what goes over the rim and down the board without a rail."""
    if any(pipe.role == "side rail" for pipe in cover.pipes):
        return plan.film.overhang_m
    width = lath.figures.get("width_m")
    inside_m = (plan.bed.outside_width_m - cover.width_m) / 2
    return max(0.0, plan.film.overhang_m - (width.value if width else 0.0) - max(0.0, inside_m))


def _ends(plan: Plan, skin: Skin) -> Ends:
    return ends_for(skin) if plan.film.ends == "best" else plan.film.ends


def _wanted(pattern: Pattern, count: int) -> tuple[Sheet, ...]:
    """The sheets for all covers, the big ones first."""
    return tuple(Sheet(piece.name, piece.length_m, piece.width_m) for piece in pattern.pieces for _ in range(count))


def _sizes(pattern: Pattern, plan: Plan) -> tuple[tuple[float, float], tuple[float, float]]:
    """The main sheet, and the same with no more overhang than can be rolled [m]."""
    main, less = pattern.main, 2 * max(0.0, plan.film.overhang_m - LEAST_OVERHANG_M)
    less_long = less if pattern.ends == "folded" else 0.0
    return (main.length_m, main.width_m), (main.length_m - less_long, main.width_m - less)


def _reach(pattern: Pattern, skin: Skin, plan: Plan) -> float:
    """What the film takes the long way, overhangs left out: with gables cut by themselves, up them and over [m]."""
    if pattern.ends == "folded":
        return pattern.main.length_m - 2 * plan.film.overhang_m
    top_m = max(z for _, z in skin.section_m) - skin.section_m[0][1]
    return max(skin.far_m) - min(skin.front_m) + 2 * (top_m + skin.tuck_m)


def _gable_laps(pattern: Pattern) -> float:
    """Length of the laps over the gables of one cover [m]."""
    return sum(line.length_m for gable in pattern.gables for line in gable.lines if line.kind == "bent")


def _profile(skin: Skin) -> tuple[Point, ...]:
    """The outline seen from the side, over the top, from the far foot to the front one."""
    top = max(range(len(skin.section_m)), key=lambda i: skin.section_m[i][1])
    low, high = skin.section_m[0][1], skin.section_m[top][1]
    far, front = ((skin.far_m[0], low), (skin.far_m[top], high)), ((skin.front_m[top], high), (skin.front_m[0], low))
    return with_tucks((*far, *front), skin.tuck_m)


def _roll_findings(row: GoodsRow, off: RollPlan | None, main: Sheet) -> tuple[Finding, ...]:
    values: dict[str, object] = {"film": row.name, "length_m": main.length_m, "width_m": main.width_m}
    if off is None:
        values["rolls"] = ", ".join(roll.label for roll in row.rolls) or "none"
        return (Finding(Level.WARN, "film", "film.no-roll", "film.kind", values),)
    if off.joins:
        values |= {"joins": off.joins, "roll": off.roll.label}
        return (Finding(Level.WARN, "film", "film.joined", "film.kind", values, PRACTICE),)
    return ()


def _overhang_findings(plan: Plan) -> tuple[Finding, ...]:
    if plan.film.overhang_m >= LEAST_OVERHANG_M:
        return ()
    values = {"overhang_m": plan.film.overhang_m, "least_m": LEAST_OVERHANG_M}
    return (Finding(Level.WARN, "film", "film.short-overhang", "film.overhang", values, PRACTICE),)


def _slack_findings(slack_m: float) -> tuple[Finding, ...]:
    if slack_m < SLACK_WORTH_SAYING_M:
        return ()
    return (Finding(Level.NOTE, "film", "film.slack", "film", {"slack_m": slack_m}),)


def _cautions(row: GoodsRow) -> tuple[Finding, ...]:
    found = [
        Finding(Level.NOTE, "film", "film.suffocation", "film", {}, "general packaging warning; common practice"),
        Finding(Level.NOTE, "film", "film.mild-day", "film", {}, "greenhouse film maker's fitting guide"),
    ]
    if is_polyethylene(row):
        found.append(Finding(Level.NOTE, "film", "film.touches-pvc", "film", {"film": row.name}, DELAWARE))
    return tuple(found)
