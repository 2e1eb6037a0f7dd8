"""Reads a year of weather from an EPW or a TMY3 file: plain text tables with a comma between fields.

Both label an hour by its end (EPW: hour 1 to 24, TMY3: 01:00 to 24:00), take sunshine over that hour and the rest at
its end. So row k is the hour k to k + 1 of the year in both. (Some readers stamp EPW rows with the hour's start and
TMY3 rows with its end; the rows are the same.) Pressure is not read: nothing here depends on it enough.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from clochewright.errors import FolderError
from clochewright.findings import Finding, Level
from clochewright.site.mending import mended
from clochewright.site.types import DAYS, HOURS, MONTH_DAYS, Place, Weather, WeatherFile

LARGEST_BYTES = 20_000_000
MOST_MISSING_ROWS = 72
HourOf = Callable[[list[str]], tuple[int, int, int]]


@dataclass(frozen=True, slots=True)
class Column:
    """One quantity: its field (by place or by head), what the format writes for "missing", and what can be true.

    `scale` brings it to SI or to a share.
    """

    name: str
    place: int
    head: str
    missing_from: float
    low: float
    high: float
    scale: float = 1.0
    needed: bool = True


# Fields and "missing" marks: the format's data dictionary (auxiliary programs manual of the program EPW was made for).
# `missing_from` is the least value that means "missing"; -9900 does so in TMY3 (users manual, 2008).
EPW = (
    Column("air_degC", 6, "", 99.9, -70.0, 60.0),
    Column("dew_degC", 7, "", 99.9, -80.0, 45.0),
    Column("wind_m_s", 21, "", 999.0, 0.0, 60.0),
    Column("cloud_share", 23, "", 99.0, 0.0, 10.0, 0.1),
    Column("global_W_m2", 13, "", 9999.0, 0.0, 1600.0),
    Column("beam_W_m2", 14, "", 9999.0, 0.0, 1500.0),
    Column("diffuse_W_m2", 15, "", 9999.0, 0.0, 1200.0),
    Column("sky_W_m2", 12, "", 9999.0, 50.0, 700.0, needed=False),
)
TMY3 = (
    Column("air_degC", -1, "Dry-bulb (C)", 9000.0, -70.0, 60.0),
    Column("dew_degC", -1, "Dew-point (C)", 9000.0, -80.0, 45.0),
    Column("wind_m_s", -1, "Wspd (m/s)", 9000.0, 0.0, 60.0),
    Column("cloud_share", -1, "OpqCld (tenths)", 99.0, 0.0, 10.0, 0.1),
    Column("global_W_m2", -1, "GHI (W/m^2)", 9000.0, 0.0, 1600.0),
    Column("beam_W_m2", -1, "DNI (W/m^2)", 9000.0, 0.0, 1500.0),
    Column("diffuse_W_m2", -1, "DHI (W/m^2)", 9000.0, 0.0, 1200.0),
)


def read_weather(path: Path) -> WeatherFile:
    """Read a weather file; the kind is told by its first line.

    Returns:
        Place and weather of one year, with a finding for everything that was mended; or no weather and a finding
        that names the line.

    Raises:
        FolderError: there is no such file, or it can't be opened.
    """
    try:
        data = path.read_bytes() if path.stat().st_size <= LARGEST_BYTES else b""
    except OSError:
        raise FolderError(f"The weather file {path.name} can't be read; check its name and folder.") from None
    return weather_from_text(data.decode("utf-8-sig", "replace"), path.name)


def weather_from_text(text: str, where: str) -> WeatherFile:
    """The same from text; `where` is what to call it in findings."""
    reader = csv.reader(text.splitlines())
    try:
        rows = list(reader)
    except csv.Error:  # a field of over 128 kB, say: no table at all
        return _refused(Finding(Level.STOP, "site", "site.weather-kind", f"{where}, line {reader.line_num}", {}))
    if len(rows) > 8 and rows[0] and rows[0][0].strip().upper() == "LOCATION":
        return _read(rows, where, EPW, 8, _epw_place(rows[0]), _epw_hour)
    if len(rows) > 2 and any(head.strip() == "Dry-bulb (C)" for head in rows[1]):
        heads = {head.strip(): place for place, head in enumerate(rows[1])}
        lost = [column.head for column in TMY3 if column.head not in heads]
        if lost:
            return _refused(Finding(Level.STOP, "site", "site.weather-column", f"{where}, line 2", {"heads": lost}))
        columns = tuple(
            Column(c.name, heads[c.head], c.head, c.missing_from, c.low, c.high, c.scale, c.needed) for c in TMY3
        )
        return _read(rows, where, columns, 2, _tmy3_place(rows[0]), _tmy3_hour)
    return _refused(Finding(Level.STOP, "site", "site.weather-kind", f"{where}, line 1", {}))


def _refused(finding: Finding) -> WeatherFile:
    return WeatherFile(None, None, (finding,))


def _epw_place(row: list[str]) -> Place | None:
    """From LOCATION: city, state, country, source, station, latitude, longitude, time zone, height."""
    try:
        latitude, longitude, zone, height = (float(field) for field in row[6:10])
    except ValueError:
        return None
    return Place(row[1].strip() or "place of the file", latitude, longitude, zone, height)


def _tmy3_place(row: list[str]) -> Place | None:
    """From the first line: station, name, state, time zone, latitude, longitude, height."""
    try:
        zone, latitude, longitude, height = (float(field) for field in row[3:7])
    except ValueError:
        return None
    return Place(row[1].strip() or "place of the file", latitude, longitude, zone, height)


def _epw_hour(row: list[str]) -> tuple[int, int, int]:
    return int(row[1]), int(row[2]), int(row[3])


def _tmy3_hour(row: list[str]) -> tuple[int, int, int]:
    month, day, _ = row[0].split("/")
    return int(month), int(day), int(row[1].split(":")[0])


def _read(
    rows: list[list[str]], where: str, columns: tuple[Column, ...], first: int, place: Place | None, hour_of: HourOf
) -> WeatherFile:
    """Lay the rows into 8760 hours, then look at every value."""
    if place is None or not (abs(place.latitude_deg) <= 90 and abs(place.longitude_deg) <= 180):
        return _refused(Finding(Level.STOP, "site", "site.weather-place", f"{where}, line 1", {}))
    values = np.full((len(columns), HOURS), np.nan)
    lines = np.zeros(HOURS, dtype=int)
    starts = np.concatenate(([0], np.cumsum(MONTH_DAYS)))
    findings: list[Finding] = []
    leap = 0
    widest = max(column.place for column in columns)
    for number, row in enumerate(rows[first:], start=first + 1):
        if not any(field.strip() for field in row):
            continue
        at = f"{where}, line {number}"
        try:
            month, day, hour = hour_of(row)
        except (ValueError, IndexError):
            return _refused(Finding(Level.STOP, "site", "site.weather-line", at, {"fields": len(row)}))
        if (month, day) == (2, 29):
            leap += 1
            continue
        if not (1 <= month <= 12 and 1 <= day <= MONTH_DAYS[month - 1] and 1 <= hour <= 24):
            return _refused(Finding(Level.STOP, "site", "site.weather-hour", at, {}))
        if len(row) <= widest:
            return _refused(Finding(Level.STOP, "site", "site.weather-line", at, {"fields": len(row)}))
        k = int((starts[month - 1] + day - 1) * 24 + hour - 1)
        if lines[k]:
            return _refused(Finding(Level.STOP, "site", "site.weather-twice", at, {"first_line": int(lines[k])}))
        lines[k] = number
        for c, column in enumerate(columns):
            try:
                values[c, k] = float(row[column.place])
            except ValueError:
                values[c, k] = np.nan
    if leap:
        findings.append(Finding(Level.NOTE, "site", "site.weather-leap-day", where, {"hours": leap}))
    lost = int((lines == 0).sum())
    if lost:
        gap = int(np.flatnonzero(lines == 0)[0])
        before = int(lines[:gap].max()) if gap else first
        at, told = f"{where}, after line {before}", {"hours": lost, "day": gap // 24 + 1, "days": DAYS}
        if lost > MOST_MISSING_ROWS:
            return _refused(Finding(Level.STOP, "site", "site.weather-short", at, told))
        findings.append(Finding(Level.NOTE, "site", "site.weather-hours-filled", at, told))
    sound: dict[str, Any] = {}
    for column, series in zip(columns, values, strict=True):
        got, found = mended(column.name, series, lines, where, column.missing_from, column.low, column.high)
        if got is None and column.needed:
            return WeatherFile(None, None, (*findings, *found))
        findings += [finding for finding in found if column.needed]
        sound[column.name] = None if got is None else (got * column.scale)[np.newaxis]
    sound.setdefault("sky_W_m2", None)
    weather = Weather(**sound, source=where)
    return WeatherFile(place, weather, tuple(findings))
