"""`clochewright measure`: a few of the user's own fittings, measured with a tape and written into the plan."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import typer

from clochewright.catalogue import (
    KINDS,
    Catalogue,
    FittingRow,
    MeasuredFitting,
    arm_off_m,
    odd_figures,
    other_sockets,
    work_out,
)
from clochewright.cli.folder import write_folder
from clochewright.cli.measure_asking import (
    Given,
    ask_bend,
    ask_kind,
    ask_length,
    ask_other,
    ask_overall,
    fitting_name,
    read_kind,
    read_legs,
    read_mean,
    say_text,
)
from clochewright.cli.measure_effect import show_effect
from clochewright.errors import CatalogueError, Mistake
from clochewright.findings import word
from clochewright.job import Trial, open_shelf, run_once
from clochewright.measures import Units, show_angle, show_length
from clochewright.plan import Plan, plan_from_text, read_plan, rewrite

FOOT_M = 0.3048


def measure_fittings(plan_file: Path, given: Given, sure: bool) -> bool:
    """Measure, show what it does to every cut, and write the plan.

    What `given` leaves out is asked for, and then more fittings can be measured in one go. Figures far from the
    catalogue's are asked for again, or refused where nothing is asked, unless they are `sure`.

    Returns:
        Whether the plan can be built with the new figures; they are written in any case, being what is in the hand.
    """
    plan = read_plan(plan_file)
    text = plan_file.read_bytes().decode("utf-8-sig")
    before, catalogue = _job(plan, plan_file.parent)
    asking = not given.is_whole
    measured = _measure(before, catalogue, given, asking, sure)
    while asking and typer.confirm(word("cli.measure.another"), default=False):
        measured += _measure(before, catalogue, Given(), asking, sure)
    new_text = rewrite(text, changes_for(plan, measured))
    after, _ = _job(plan_from_text(new_text), plan_file.parent)
    show_effect(before, after)
    if asking and not typer.confirm(word("cli.measure.write", file=plan_file.name), default=True):
        say_text("not-written")
        return not after.refused
    write_folder(plan_file.parent, {plan_file.name: new_text.encode()})
    say_text("written", file=plan_file.name)
    return not after.refused


def changes_for(plan: Plan, measured: list[MeasuredFitting]) -> list[tuple[str, Any]]:
    """The changes to `[[own.fittings]]`: a row that is there is brought up to date, others are added at the end.

    A new row for all sockets would overrule rows for single sockets that stand before it; where there are any, each
    socket gets a row of its own.
    """
    places = {(row.kind, row.port): index for index, row in enumerate(plan.own.fittings)}
    changes: list[tuple[str, Any]] = []
    for fitting in measured:
        ports: tuple[str | None, ...] = (fitting.port,)
        single = any(kind == fitting.kind and port for kind, port in places)
        if fitting.port is None and (fitting.kind, None) not in places and single:
            ports = KINDS[fitting.kind].sockets
        for port in ports:
            figures = _figures(fitting, port)
            index = places.get((fitting.kind, port))
            if index is None:
                index = places[fitting.kind, port] = len(places)
                key = {"kind": fitting.kind} | ({"port": port} if port else {})
                changes.append((f"own.fittings[{index}]", key | figures))
            else:
                changes += [(f"own.fittings[{index}].{name}", value) for name, value in figures.items()]
    return changes


def _figures(fitting: MeasuredFitting, port: str | None) -> dict[str, float]:
    figures = {"socket_depth": fitting.socket_depth_m}
    if fitting.kind != "cap":
        figures = {"centre_to_stop": fitting.centre_to_stop_m} | figures
    if fitting.port is None:
        figures["hub"] = fitting.hub_m
    if port is None and fitting.bend_deg is not None and fitting.is_bent_otherwise and fitting.kind != "elbow-90":
        figures["bend"] = round(fitting.bend_deg, 1)
    return figures


def _job(plan: Plan, folder: Path) -> tuple[Trial, Catalogue]:
    catalogue, prices = open_shelf(plan, folder)
    return run_once(plan, catalogue, prices), catalogue


def _measure(job: Trial, catalogue: Catalogue, given: Given, asking: bool, sure: bool) -> list[MeasuredFitting]:
    """One fitting, asked for again as long as it makes no sense; then its sockets that may be unlike the rest."""
    units = job.plan.units
    kind = ask_kind(job, catalogue) if given.kind is None else read_kind(given.kind)
    row = catalogue.fitting(job.pipe.key, kind)
    if asking:
        say_text("several", example="3 5/8 in, 3 9/16 in" if units == "inch" else "92 mm, 91 mm")
    while True:
        try:
            fitting = _from_readings(kind, given, units, asking, sure)
        except CatalogueError as wrong:
            if not asking:
                raise
            typer.echo(str(wrong))
        else:
            _tell(fitting, units)
            if _makes_sense(fitting, row, units, asking, sure):
                break
        given = Given(kind, given.port)
    measured = [fitting]
    if asking and fitting.port is None:
        measured += _others(fitting, row, units, sure)
    return measured


def _from_readings(kind: str, given: Given, units: Units, asking: bool, sure: bool) -> MeasuredFitting:
    overall_m, legs = 0.0, None
    if given.overall is not None:
        overall_m = read_mean(given.overall, units, sure)
    elif kind != "cap":
        overall_m = ask_overall(kind, given.port, units, sure)
    depth_m = read_mean(given.depth, units, sure) if given.depth is not None else ask_length("depth", units)
    hub_m = read_mean(given.hub, units, sure) if given.hub is not None else ask_length("hub", units)
    if given.bend_legs is not None:
        legs = read_legs(given.bend_legs)
    elif asking and kind.startswith("elbow"):
        legs = ask_bend()
    return work_out(kind, overall_m=overall_m, depth_m=depth_m, hub_m=hub_m, legs=legs, port=given.port)


def _others(fitting: MeasuredFitting, row: FittingRow | None, units: Units, sure: bool) -> list[MeasuredFitting]:
    measured = []
    for group in other_sockets(fitting.kind):
        while True:
            overall_m = ask_other(fitting.kind, group[0], units)
            if overall_m is None:
                break
            try:
                made = [_on_port(fitting, port, overall_m) for port in group]
            except CatalogueError as wrong:
                typer.echo(str(wrong))
                continue
            _tell(made[0], units)
            if _makes_sense(made[0], row, units, True, sure):
                measured += made
                break
    return measured


def _on_port(fitting: MeasuredFitting, port: str, overall_m: float) -> MeasuredFitting:
    depth_m, hub_m = fitting.socket_depth_m, fitting.hub_m
    return work_out(fitting.kind, overall_m=overall_m, depth_m=depth_m, hub_m=hub_m, port=port)


def _tell(fitting: MeasuredFitting, units: Units) -> None:
    """Say what came out, and what an elbow's real bend does to the corner."""
    say_text(
        "comes-out",
        fitting=fitting_name(fitting.kind, fitting.port),
        stop=show_length(fitting.centre_to_stop_m, units),
        depth=show_length(fitting.socket_depth_m, units),
        hub=show_length(fitting.hub_m, units),
    )
    if fitting.bend_deg is None or fitting.bend_band_deg is None:
        return
    nominal_deg = KINDS[fitting.kind].bend_deg
    shown = {"bend": show_angle(fitting.bend_deg), "nominal": show_angle(nominal_deg)}
    band = show_angle(fitting.bend_band_deg)
    if not fitting.is_bent_otherwise:
        say_text("bend-true", band=band, **shown)
        return
    off = show_length(arm_off_m(fitting.bend_deg, nominal_deg, FOOT_M), units)
    turned = show_angle(abs(fitting.bend_deg - nominal_deg))
    key = "bend-corner" if fitting.kind == "elbow-90" else "bend-pitch"
    say_text(key, off=off, arm=show_length(FOOT_M, units), turned=turned, band=band, **shown)


def _makes_sense(fitting: MeasuredFitting, row: FittingRow | None, units: Units, asking: bool, sure: bool) -> bool:
    """Whether the figures are near the catalogue's, or are taken all the same."""
    odd = odd_figures(fitting, row)
    told = [
        word(
            f"cli.measure.odd-{figure.name}",
            value=show_length(figure.value_m, units),
            low=show_length(figure.low_m, units),
            high=show_length(figure.high_m, units),
        )
        for figure in odd
    ]
    if not odd or sure:
        return True
    if not asking:
        mend = word("cli.measure.say-sure")
        raise CatalogueError(tuple(Mistake(fitting_name(fitting.kind), text, mend) for text in told))
    for text in told:
        typer.echo(text)
    return not typer.confirm(word("cli.measure.again"), default=True)
