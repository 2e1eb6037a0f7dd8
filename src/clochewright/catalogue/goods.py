"""Everything that is neither pipe nor fitting, and how far a tin of cement goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clochewright.catalogue.figures import GRADE_OF_STATUS, read_figures, read_rows
from clochewright.catalogue.types import FilmRoll, GoodsRow, PipeRow
from clochewright.errors import CatalogueError, Mistake
from clochewright.sources import Cited, Grade

_FOOT_M = 0.3048

# Metric sizes that the cement table's inch sizes stand for, as the second cement maker sets them; 40 mm is between.
_INCH_SIZE_OF_METRIC = {"20": "1/2", "25": "3/4", "32": "1", "40": "1-1/4", "50": "1-1/2", "63": "2"}
_INCH_DIAMETER_M = {"1/2": 0.02134, "3/4": 0.02667, "1": 0.0334, "1-1/4": 0.04216, "1-1/2": 0.04826, "2": 0.06033}


@dataclass(frozen=True, slots=True)
class CementTable:
    """Joints per US quart of cement by inch size, and how many times further primer goes. One joint is one socket."""

    joints: Mapping[str, Cited]
    primer_factor: Cited

    def joints_per_quart(self, pipe: PipeRow) -> Cited:
        """Joints per quart of cement for a pipe; a size the table lacks goes by its outside diameter."""
        if pipe.system == "inch" and pipe.nominal in self.joints:
            return self.joints[pipe.nominal]
        if pipe.system == "metric" and pipe.nominal in _INCH_SIZE_OF_METRIC:
            inch_size = _INCH_SIZE_OF_METRIC[pipe.nominal]
            row = self.joints[inch_size]
            return replace(row, source=f"as for {inch_size} in pipe: {row.source}")
        outside_m = pipe.outside_diameter.value
        inch_size = next((size for size, d_m in _INCH_DIAMETER_M.items() if outside_m <= d_m), "2")
        row = self.joints[inch_size]
        joints = row.value * min(1.0, (_INCH_DIAMETER_M["2"] / outside_m) ** 2)
        why = f"by outside diameter, as for {inch_size} in pipe: {row.source}"
        return Cited(joints, 0.75 * joints, 1.25 * joints, Grade.ESTIMATE, why)


def read_cement() -> CementTable:
    """The table of joints per quart."""
    rows = list(read_figures("cement.csv", ("nominal",)))
    joints = {row.owner[0]: row.cited for row in rows if row.dimension == "joints_per_quart"}
    factor = next(row.cited for row in rows if row.dimension == "primer_factor")
    return CementTable(joints, factor)


def read_goods() -> tuple[GoodsRow, ...]:
    """All goods, in the order of their file."""
    figures: dict[str, dict[str, Cited]] = {}
    for figure in read_figures("goods-figures.csv", ("key",)):
        figures.setdefault(figure.owner[0], {})[figure.dimension] = figure.cited
    packs: dict[str, list[tuple[str, float]]] = {}
    for row in read_rows("goods-packs.csv"):
        packs.setdefault(row["key"], []).append((row["label"], float(row["quantity"])))
    rolls = _read_rolls()
    for key, sold in rolls.items():
        packs[key] = [(roll.label, roll.width_m * roll.length_m) for roll in sold]
    return tuple(_goods_row(row, packs, figures, rolls) for row in read_rows("goods.csv"))


def _goods_row(
    row: dict[str, str],
    packs: Mapping[str, list[tuple[str, float]]],
    figures: Mapping[str, dict[str, Cited]],
    rolls: Mapping[str, list[FilmRoll]],
) -> GoodsRow:
    key = row["key"]
    if row["status"] not in GRADE_OF_STATUS or not row["source"] or key not in packs:
        raise CatalogueError((Mistake("the catalogue's own data", f"{key} lacks its status, source or pack."),))
    return GoodsRow(
        key=key,
        group=row["group"],
        name=row["name"],
        unit=row["unit"],
        packs=tuple(packs[key]),
        figures=figures.get(key, {}),
        note=row["note"],
        source=row["source"],
        market=row["market"],
        rolls=tuple(rolls.get(key, ())),
    )


def _read_rolls() -> dict[str, list[FilmRoll]]:
    rolls: dict[str, list[FilmRoll]] = {}
    for row in read_rows("film-rolls.csv"):
        unit = row["unit"]
        scale = _FOOT_M if unit == "ft" else 1.0
        label = f"{row['width']} {unit} x {row['length']} {unit}"
        roll = FilmRoll(label, float(row["width"]) * scale, float(row["length"]) * scale, row["status"], row["source"])
        rolls.setdefault(row["key"], []).append(roll)
    return rolls
