"""Mends short gaps in a series of weather, and refuses what no weather is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from clochewright.findings import Finding, Level
from clochewright.site.types import Hours

LONGEST_GAP_H = 6  # gaps up to this are filled along a straight line; longer ones from the days beside, by the hour
MOST_LOST_SHARE = 0.02


def mended(
    name: str, series: Hours, lines: NDArray[np.int64], where: str, missing_from: float, low: float, high: float
) -> tuple[Hours | None, list[Finding]]:
    """A year of one quantity with its gaps filled.

    Args:
        name: the quantity's name, with its unit.
        series: 8760 values; nan where a row is missing or no number.
        lines: the file's line for each hour, 0 where there is none.
        where: what to call the file.
        missing_from: the least value that the format writes for "missing"; -9900 and below mean it as well.
        low: the least value that can be true.
        high: the greatest value that can be true.

    Returns:
        The filled series, or None where too much is missing or a value can't be true; and what is to be told.
    """
    lost = np.isnan(series) | (series >= missing_from) | (series <= -9900.0)
    wrong = ~lost & ((series < low) | (series > high))
    told = name.rpartition("_")[0] if name.endswith(("degC", "share")) else name.split("_")[0]
    if wrong.any():
        k = int(np.flatnonzero(wrong)[0])
        values = {"what": told, "value": float(series[k]), "low": low, "high": high, "count": int(wrong.sum())}
        return None, [Finding(Level.STOP, "site", "site.weather-value", f"{where}, line {lines[k]}", values)]
    if name == "air_degC" and not lost.all() and float(np.nanmean(np.where(lost, np.nan, series))) > 33.0:
        # No place on earth has a mean over 33 degC, and many have one of 40 to 80 degF.
        values = {"mean": round(float(series[~lost].mean()), 1)}
        return None, [Finding(Level.STOP, "site", "site.weather-fahrenheit", f"{where}, line {lines[0]}", values)]
    gone = int((lost & (lines > 0)).sum())
    if lost.mean() > MOST_LOST_SHARE:
        k = int(np.flatnonzero(lost)[0])
        values = {"what": told, "hours": int(lost.sum())}
        return None, [Finding(Level.STOP, "site", "site.weather-missing", f"{where}, line {lines[k]}", values)]
    if not lost.any():
        return series, []
    filled = _filled(series, lost)
    if not gone:  # only rows that were missing as a whole, which has been told
        return filled, []
    k = int(np.flatnonzero(lost & (lines > 0))[0])
    values = {"what": told, "hours": gone}
    return filled, [Finding(Level.NOTE, "site", "site.weather-filled", f"{where}, line {lines[k]}", values)]


def _filled(series: Hours, lost: NDArray[np.bool_]) -> Hours:
    """Short gaps along a straight line; long ones by the mean of the same hour on the nearest sound days."""
    out = series.copy()
    hours = np.arange(series.size)
    known = ~lost
    out[lost] = np.interp(hours[lost], hours[known], series[known], period=series.size)
    for start, stop in _gaps(lost):
        if stop - start > LONGEST_GAP_H:
            for k in range(start, stop):
                beside = [
                    series[(k + sign * 24 * day) % series.size]
                    for sign in (-1, 1)
                    for day in range(1, 31)
                    if known[(k + sign * 24 * day) % series.size]
                ]
                out[k] = float(np.mean(beside[:1] + beside[-1:])) if beside else out[k]
    return out


def _gaps(lost: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], lost.astype(int), [0]))))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))
