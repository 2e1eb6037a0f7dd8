"""An old sheet judged: does it still cover this size, and is it to be used, patched or replaced?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from clochewright.catalogue import Catalogue
from clochewright.film.types import OldSheet
from clochewright.findings import Finding, Level
from clochewright.plan import OldFilm, Plan

LIFE = "extension services' notes on greenhouse film; the life the catalogue gives"
PRACTICE = "common practice, no source"
# Common practice, no source: more tears than one to each square metre, and taping takes longer than a new sheet.
TEARS_PER_M2 = 1.0
# Tape out and in, as long as the tear and a hand's breadth (common practice, no source) [m].
TAPE_PER_TEAR_M = 0.6
# A patch pays where this much of a year of sun is left in the film.
WORTH_PATCHING_YEARS = 0.25
_HARDLY = 1e-6


def judge(
    old: OldFilm, size_m: tuple[float, float], least_m: tuple[float, float], plan: Plan, catalogue: Catalogue
) -> tuple[OldSheet, Finding]:
    """Judge an old sheet.

    Args:
        old: the sheet as its owner describes it.
        size_m: the sheet that is wanted, length and width [m].
        least_m: the same with no more overhang than can be rolled on a lath [m].
        plan: the plan, for the film's kind where the old sheet's is not given.
        catalogue: how long each film lasts.

    Returns:
        The verdict, and the finding that says why.

    Raises:
        CatalogueError: when the old sheet's film is not in the catalogue.
    """
    row = catalogue.find_goods("film", old.kind or plan.film.kind)
    life = row.figures.get("life_years")
    years = old.months / 12
    values: dict[str, Any] = {
        "film": row.name, "months": old.months, "tears": old.tears, "length_m": old.length_m, "width_m": old.width_m,
        "need_length_m": size_m[0], "need_width_m": size_m[1],
        "life": f"{life.low:g}" if life else "?", "tape_m": old.tears * TAPE_PER_TEAR_M,
    }  # fmt: skip
    covers: Literal["yes", "trimmed", "no"] = "no"
    if _covers(old, size_m):
        covers = "yes"
    elif _covers(old, least_m):
        covers = "trimmed"
    if covers == "no":
        return _said("replace", covers, "film.old-too-small", Level.WARN, values, "its size against the pattern's")
    if life is not None and years >= life.low:
        return _said("replace", covers, "film.old-worn", Level.WARN, values, LIFE)
    if old.tears > TEARS_PER_M2 * old.length_m * old.width_m:
        return _said("replace", covers, "film.old-torn", Level.WARN, values, PRACTICE)
    if old.tears and life is not None and life.low - years < WORTH_PATCHING_YEARS:
        return _said("replace", covers, "film.old-not-worth-it", Level.WARN, values, LIFE)
    if old.tears:
        return _said("patch", covers, "film.old-patch", Level.NOTE, values, PRACTICE)
    return _said("use", covers, "film.old-good" if covers == "yes" else "film.old-trimmed", Level.NOTE, values, LIFE)


def _covers(old: OldFilm, size_m: tuple[float, float]) -> bool:
    have = sorted((old.length_m, old.width_m))
    return all(side + _HARDLY >= need for side, need in zip(have, sorted(size_m), strict=True))


def _said(
    verdict: Literal["use", "patch", "replace"],
    covers: Literal["yes", "trimmed", "no"],
    key: str,
    level: Level,
    values: Mapping[str, Any],
    source: str,
) -> tuple[OldSheet, Finding]:
    return OldSheet(verdict, covers), Finding(level, "film", key, "film.old", values, source)
