"""The user's own parts laid over the catalogue: what they measured wins, figure by figure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, TypeVar

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.figures import estimated_from, measured
from clochewright.catalogue.finding_pipe import find_pipe, matching_pipes
from clochewright.catalogue.kinds import KINDS
from clochewright.catalogue.pipes import with_bore_and_mass
from clochewright.catalogue.types import FittingRow, PipeRow, SocketRow
from clochewright.errors import CatalogueError, Mistake
from clochewright.sources import Cited

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class OwnPipe:
    """A pipe of the user's: figures they left out are None; `where` says where they wrote it."""

    where: str
    size: str
    outside_diameter_m: float | None = None
    wall_m: float | None = None
    sticks_m: tuple[float, ...] = ()
    price: Decimal | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class OwnFitting:
    """A fitting the user measured; with no `pipe` it is for every pipe, with no `port` for every socket.

    `pipe_from_plan` says that the row itself names no pipe: it goes with the plan's, and `find_pipe` refuses that.
    """

    where: str
    kind: str
    pipe: str = ""
    port: str | None = None
    centre_to_stop_m: float | None = None
    socket_depth_m: float | None = None
    hub_m: float | None = None
    bend_deg: float | None = None
    bench: str | None = None
    mass_kg: float | None = None
    source: str = ""
    pipe_from_plan: bool = False


def pipes_from_plan(rows: Sequence[Mapping[str, Any]]) -> list[OwnPipe]:
    """Own pipes as the plan file gives them."""
    return [
        OwnPipe(
            where=f"own.pipes[{index}]",
            size=row["size"],
            outside_diameter_m=row["outside_diameter_m"],
            wall_m=row.get("wall_m"),
            sticks_m=tuple(row.get("sticks_m") or ()),
            price=row.get("price"),
        )
        for index, row in enumerate(rows)
    ]


def fittings_from_plan(rows: Sequence[Mapping[str, Any]], pipe: str) -> list[OwnFitting]:
    """Own fittings as the plan file gives them; they are for the plan's pipe where that is known."""
    return [
        OwnFitting(
            where=f"own.fittings[{index}]",
            kind=row["kind"],
            pipe=pipe,
            port=row.get("port"),
            centre_to_stop_m=row.get("centre_to_stop_m"),
            socket_depth_m=row.get("socket_depth_m"),
            hub_m=row.get("hub_m"),
            bend_deg=row.get("bend_deg"),
            pipe_from_plan=True,
        )
        for index, row in enumerate(rows)
    ]


def lay_over(catalogue: Catalogue, pipes: Iterable[OwnPipe], fittings: Iterable[OwnFitting]) -> Catalogue:
    """The catalogue with the user's own parts in it.

    Raises:
        CatalogueError: with every own part that can't be used.
    """
    mistakes: list[Mistake] = []
    for pipe in pipes:
        catalogue = _with_pipe(catalogue, pipe, mistakes)
    groups: dict[tuple[str, str], list[OwnFitting]] = {}
    for fitting in fittings:
        for pipe_key in _pipes_meant(catalogue, fitting, mistakes):
            groups.setdefault((pipe_key, fitting.kind), []).append(fitting)
    by_pipe = {key: dict(rows) for key, rows in catalogue.fittings_by_pipe.items()}
    for (pipe_key, kind), rows in groups.items():
        built = _fitting(catalogue, catalogue.pipe(pipe_key), kind, rows, mistakes)
        if built is not None:
            by_pipe.setdefault(pipe_key, {})[kind] = built
    if mistakes:
        raise CatalogueError(tuple(dict.fromkeys(mistakes)))
    return replace(catalogue, fittings_by_pipe=by_pipe)


def _with_pipe(catalogue: Catalogue, own: OwnPipe, mistakes: list[Mistake]) -> Catalogue:
    found = matching_pipes(catalogue.pipes, own.size)
    if len(found) > 1:
        names = ", ".join(pipe.key for pipe in found)
        mistakes.append(Mistake(own.where, f'"{own.size}" may be {names}.', "Write the full name, or one of your own."))
        return catalogue
    if not own.size.strip() or (not found and own.outside_diameter_m is None):
        mistakes.append(Mistake(own.where, "a pipe of your own needs a size and an outside diameter."))
        return catalogue
    pipe = _changed(found[0], own) if found else _new_pipe(own)
    if pipe.wall is not None and not 0 < pipe.wall.value < pipe.outside_diameter.value / 2:
        mistakes.append(Mistake(own.where, "the wall is too thick for the outside diameter.", "Measure both again."))
        return catalogue
    pipes = tuple(pipe if row.key == pipe.key else row for row in catalogue.pipes)
    return replace(catalogue, pipes=pipes if found else (*pipes, pipe))


def _changed(pipe: PipeRow, own: OwnPipe) -> PipeRow:
    outside = pipe.outside_diameter
    if own.outside_diameter_m is not None:
        outside = measured(own.outside_diameter_m, own.source)
    price = pipe.own_price if own.price is None else own.price
    changed = replace(pipe, outside_diameter=outside, sticks_m=own.sticks_m or pipe.sticks_m, own_price=price)
    if own.wall_m is None:
        return changed
    return with_bore_and_mass(replace(changed, wall=measured(own.wall_m, own.source)))


def _new_pipe(own: OwnPipe) -> PipeRow:
    name = " ".join(own.size.split())
    wall = None if own.wall_m is None else measured(own.wall_m, own.source)
    pipe = PipeRow(
        key=name,
        system="own",
        nominal=name,
        pipe_class="",
        outside_diameter=measured(own.outside_diameter_m or 0.0, own.source),
        wall=wall,
        bore=None,
        mass_kg_m=None,
        sticks_m=own.sticks_m,
        taper=False,
        own_price=own.price,
    )
    return with_bore_and_mass(pipe)


def _pipes_meant(catalogue: Catalogue, own: OwnFitting, mistakes: list[Mistake]) -> tuple[str, ...]:
    """Keys of the pipes an own fitting is for. With no pipe named: all that have its kind, or else all."""
    if own.kind not in KINDS:
        what = f'there is no kind of fitting called "{own.kind[:40]}".'
        mistakes.append(Mistake(own.where, what, f"There is {', '.join(KINDS)}."))
        return ()
    sockets = KINDS[own.kind].sockets
    if own.port is not None and own.port not in sockets:
        what = f'a {own.kind} has no socket called "{own.port[:40]}".'
        mistakes.append(Mistake(own.where, what, f"Its sockets are {', '.join(sockets)}."))
        return ()
    if own.pipe:
        try:
            return (find_pipe(catalogue.pipes, own.pipe).key,)
        except CatalogueError as error:
            if not own.pipe_from_plan:
                mistakes.extend(replace(mistake, where=own.where) for mistake in error.mistakes)
            return ()
    having = tuple(pipe.key for pipe in catalogue.pipes if catalogue.fitting(pipe.key, own.kind))
    whole = own.centre_to_stop_m is not None and own.socket_depth_m is not None and own.port is None
    return tuple(pipe.key for pipe in catalogue.pipes) if whole or not having else having


def _fitting(
    catalogue: Catalogue, pipe: PipeRow, kind: str, rows: list[OwnFitting], mistakes: list[Mistake]
) -> FittingRow | None:
    base = catalogue.fitting(pipe.key, kind)
    where = rows[-1].where
    stops = {socket.name: socket.centre_to_stop for socket in base.sockets} if base else {}
    depths = {socket.name: socket.depth for socket in base.sockets} if base else {}
    hub = base.hub_diameter if base else _hub_of_elbow(catalogue, pipe)
    for row in rows:
        for name in KINDS[kind].sockets if row.port is None else (row.port,):
            if row.centre_to_stop_m is not None:
                stops[name] = measured(row.centre_to_stop_m, row.source)
            if row.socket_depth_m is not None:
                depths[name] = measured(row.socket_depth_m, row.source)
        if row.hub_m is not None:
            hub = measured(row.hub_m, row.source)
    missing = _missing(kind, stops, depths, hub)
    if missing:
        what = f"a {kind} for {pipe.key} is not in the catalogue, and this row gives it no {' and no '.join(missing)}."
        mistakes.append(Mistake(where, what, "Measure it and write it in."))
        return None
    assert hub is not None
    if hub.value <= pipe.outside_diameter.value:
        mistakes.append(Mistake(where, f"the hub of a {kind} can't be thinner than the pipe that goes into it."))
        return None
    return FittingRow(
        key=f"{kind}:{pipe.key}",
        kind=kind,
        pipe_key=pipe.key,
        bench=_last([row.bench for row in rows], base.bench if base else KINDS[kind].bench),
        bend_deg=_last([row.bend_deg for row in rows], base.bend_deg if base else KINDS[kind].bend_deg),
        sockets=tuple(SocketRow(name, stops[name], depths[name]) for name in KINDS[kind].sockets),
        hub_diameter=hub,
        mass_kg=_mass(rows, base),
        note=base.note if base else "",
    )


def _hub_of_elbow(catalogue: Catalogue, pipe: PipeRow) -> Cited | None:
    elbow = catalogue.fitting(pipe.key, "elbow-90")
    return None if elbow is None else estimated_from(elbow.hub_diameter, "taken from the 90 elbow. Measure the part")


def _missing(kind: str, stops: Mapping[str, Cited], depths: Mapping[str, Cited], hub: Cited | None) -> list[str]:
    missing = []
    if any(name not in stops for name in KINDS[kind].sockets):
        missing.append("centre to stop")
    if any(name not in depths for name in KINDS[kind].sockets):
        missing.append("socket depth")
    if hub is None:
        missing.append("hub")
    return missing


def _mass(rows: list[OwnFitting], base: FittingRow | None) -> Cited | None:
    weighed = [row for row in rows if row.mass_kg is not None]
    if weighed and weighed[-1].mass_kg is not None:
        return measured(weighed[-1].mass_kg, weighed[-1].source or "weighed by you")
    return base.mass_kg if base else None


def _last(given: list[T | None], otherwise: T) -> T:
    """The last value given, or the other one."""
    return next((value for value in reversed(given) if value is not None), otherwise)
