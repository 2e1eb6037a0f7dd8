"""The user's own part list: a TOML file with [[pipe]] and [[fitting]] tables, lengths as text with a unit."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from clochewright.catalogue.own_parts import OwnFitting, OwnPipe
from clochewright.errors import CatalogueError, FolderError, MeasureError, Mistake
from clochewright.measures import read_angle, read_length, read_mass, read_money

_LONGEST_PART_M = 0.5
_LONGEST_STICK_M = 50.0
_LARGEST_FILE = 1_000_000  # bytes; a part list is a page or two

Reader = Callable[[object], Any]


def read_own_file(path: Path) -> tuple[list[OwnPipe], list[OwnFitting]]:
    """The pipes and fittings of a part list.

    Raises:
        CatalogueError: with every mistake in it, each with the file and the row.
        FolderError: if the file can't be read.
    """
    tables = _tables(path)
    mistakes: list[Mistake] = []
    for name in tables:
        if name not in _TABLES:
            what = f'there is no table called "{name[:40]}".'
            mistakes.append(Mistake(path.name, what, "Use [[pipe]] or [[fitting]]."))
    pipes = [OwnPipe(where, **row) for where, row in _rows(path, tables, "pipe", mistakes)]
    fittings = [OwnFitting(where, **row) for where, row in _rows(path, tables, "fitting", mistakes)]
    if mistakes:
        raise CatalogueError(tuple(mistakes))
    return pipes, fittings


def _tables(path: Path) -> dict[str, Any]:
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise FolderError(f"The part list {path.name} can't be read: {error.strerror or error}.") from None
    if len(raw) > _LARGEST_FILE:
        raise CatalogueError((Mistake(path.name, "this is far too long for a part list."),))
    try:
        return tomllib.loads(raw.decode("utf-8"))
    except UnicodeDecodeError:
        raise CatalogueError((Mistake(path.name, "this is no text file.", "Save it as UTF-8 text."),)) from None
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise CatalogueError((Mistake(path.name, f"this is not TOML: {error}."),)) from None


def _rows(
    path: Path, tables: Mapping[str, Any], name: str, mistakes: list[Mistake]
) -> list[tuple[str, dict[str, Any]]]:
    given = tables.get(name, [])
    if not isinstance(given, list) or not all(isinstance(row, dict) for row in given):
        mistakes.append(Mistake(path.name, f"each {name} is a table of its own.", f"Write [[{name}]] above it."))
        return []
    rows = []
    for number, row in enumerate(given, start=1):
        where = f"{path.name}, {name} {number}"
        rows.append((where, _row(where, row, name, mistakes)))
    return rows


def _row(where: str, row: Mapping[str, Any], name: str, mistakes: list[Mistake]) -> dict[str, Any]:
    keys, needed = _TABLES[name]
    read: dict[str, Any] = {field: "" for key, (field, _) in keys.items() if key in needed}
    for key, value in row.items():
        if key not in keys:
            near = get_close_matches(key, list(keys), n=1)
            mend = f'Did you mean "{near[0]}"?' if near else f"There is {', '.join(keys)}."
            mistakes.append(Mistake(where, f'there is nothing called "{key[:40]}" here.', mend))
            continue
        field, reader = keys[key]
        try:
            read[field] = reader(value)
        except MeasureError as error:
            mistakes.append(Mistake(where, f"{key}: {error}"))
    for key in needed:
        if key not in row:
            mistakes.append(Mistake(where, f"it lacks its {key.replace('_', ' ')}.", f"Add {key} to this {name}."))
    return read


def _text(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 300:
        raise MeasureError("this has to be text in quotes, and not empty.")
    return value.strip()


def _short(value: object) -> str:
    text = str(value)
    return text if len(text) <= 40 else f"{text[:37]}..."


def _length(least_m: float, most_m: float) -> Reader:
    def read(value: object) -> float:
        length_m = read_length(value)
        if not least_m < length_m <= most_m:
            raise MeasureError(
                f"{_short(value)} is out of reason; it has to be over {least_m:g} m and up to {most_m:g} m."
            )
        return float(length_m)

    return read


def _centre(value: object) -> float:
    length_m = read_length(value)
    if length_m > _LONGEST_PART_M:
        raise MeasureError(f"{_short(value)} is out of reason; it can be up to {_LONGEST_PART_M:g} m.")
    return float(length_m)


def _sticks(value: object) -> tuple[float, ...]:
    if not isinstance(value, list):
        raise MeasureError('give a list, such as ["10 ft", "20 ft"].')
    return tuple(_length(0.0, _LONGEST_STICK_M)(item) for item in value)


def _price(value: object) -> Decimal:
    amount = read_money(value).amount
    if amount > 100_000:
        raise MeasureError(f"{_short(value)} is no price for a pipe.")
    return amount


def _bend(value: object) -> float:
    bend_deg = float(read_angle(value))
    if not 0 < bend_deg < 180:
        raise MeasureError(f"{_short(value)} is no bend; it has to be more than 0 and less than 180 degrees.")
    return bend_deg


def _bench(value: object) -> str:
    if value not in ("plumbing", "furniture"):
        raise MeasureError('write "plumbing" or "furniture".')
    return str(value)


def _mass(value: object) -> float:
    mass_kg = float(read_mass(value))
    if not 0 < mass_kg <= 100:
        raise MeasureError(f"{_short(value)} is no weight for a fitting.")
    return mass_kg


# What each table may hold: key -> (field, how it is read), and the keys it can't do without.
_TABLES: Mapping[str, tuple[Mapping[str, tuple[str, Reader]], Sequence[str]]] = {
    "pipe": (
        {
            "size": ("size", _text),
            "outside_diameter": ("outside_diameter_m", _length(0.0, _LONGEST_PART_M)),
            "wall": ("wall_m", _length(0.0, _LONGEST_PART_M)),
            "sticks": ("sticks_m", _sticks),
            "price": ("price", _price),
            "source": ("source", _text),
        },
        ("size",),
    ),
    "fitting": (
        {
            "kind": ("kind", _text),
            "pipe": ("pipe", _text),
            "port": ("port", _text),
            "centre_to_stop": ("centre_to_stop_m", _centre),
            "socket_depth": ("socket_depth_m", _length(0.0, _LONGEST_PART_M)),
            "hub": ("hub_m", _length(0.0, _LONGEST_PART_M)),
            "bend": ("bend_deg", _bend),
            "bench": ("bench", _bench),
            "mass": ("mass_kg", _mass),
            "source": ("source", _text),
        },
        ("kind",),
    ),
}
