"""The linear and integer programs of the nesting, handed to HiGHS as plain arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

MAX_NODES = 200  # not a clock: the same list always comes out the same

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Column:
    """One unknown: how often a pattern is used; `entries` are its coefficients by row."""

    cost: float
    entries: tuple[tuple[int, float], ...]
    highest_count: float


@dataclass(frozen=True, slots=True)
class Rows:
    """Lower and upper bound of each row."""

    lower: Floats
    upper: Floats


def _quiet(**options: Any) -> Any:
    from highspy import _core  # here, not above: nobody waits for it who doesn't need it

    highs = _core._Highs()  # the bare class: `Highs` prints a banner of its own
    for name, value in {"output_flag": False, "threads": 1, "random_seed": 0, **options}.items():
        highs.setOptionValue(name, value)
    return highs


def _packed(columns: Sequence[Column]) -> tuple[Floats, Floats, npt.NDArray[np.int32], npt.NDArray[np.int32], Floats]:
    """Costs, upper bounds, and the columns' entries as start, row and value."""
    start = np.cumsum([0, *(len(column.entries) for column in columns)], dtype=np.int32)
    rows = np.array([row for column in columns for row, _ in column.entries], dtype=np.int32)
    values = np.array([value for column in columns for _, value in column.entries])
    costs = np.array([column.cost for column in columns], dtype=float)
    most = np.array([column.highest_count for column in columns], dtype=float)
    return costs, most, start, rows, values


class Relaxed:
    """A linear program that grows by columns; unknowns need not be whole."""

    def __init__(self, rows: Rows, columns: Sequence[Column]) -> None:
        self.highs = _quiet(presolve="off")
        n = len(rows.lower)
        none = np.zeros(0, dtype=np.int32)
        self.highs.addRows(n, rows.lower, rows.upper, 0, np.zeros(n, dtype=np.int32), none, np.zeros(0))
        self.add(columns)

    def add(self, columns: Sequence[Column]) -> None:
        """Add columns; the last solution is kept as a start."""
        costs, most, start, rows, values = _packed(columns)
        self.highs.addCols(len(columns), costs, np.zeros(len(columns)), most, len(values), start[:-1], rows, values)

    def solve(self) -> tuple[float, Floats] | None:
        """Objective and the price of each row; None if there is no solution."""
        from highspy import HighsModelStatus

        self.highs.run()
        if self.highs.getModelStatus() != HighsModelStatus.kOptimal:
            return None
        return self.highs.getInfo().objective_function_value, np.asarray(self.highs.getSolution().row_dual)


def whole(rows: Rows, columns: Sequence[Column], target: int) -> tuple[list[int] | None, float | None, bool]:
    """Solve with every unknown whole; the costs must be whole numbers.

    Args:
        rows: Bounds of the rows.
        columns: The unknowns.
        target: A value that can't be bettered; the search ends when it is met.

    Returns:
        The unknowns or None, a lower bound of the objective or None, and whether the search came to its end.
    """
    from highspy import HighsModelStatus, HighsVarType, MatrixFormat, ObjSense

    n = len(columns)
    costs, most, start, row_index, values = _packed(columns)
    highs = _quiet(
        mip_rel_gap=0.0,
        mip_abs_gap=0.9,  # costs are whole numbers
        objective_target=target + 0.5,
        mip_max_nodes=MAX_NODES,
    )
    highs.passModel(
        n,
        len(rows.lower),
        len(values),
        int(MatrixFormat.kColwise),
        int(ObjSense.kMinimize),
        0.0,
        costs,
        np.zeros(n),
        most,
        rows.lower,
        rows.upper,
        start,
        row_index,
        values,
        np.full(n, int(HighsVarType.kInteger), dtype=np.int32),
    )
    highs.run()
    status = highs.getModelStatus()
    if status == HighsModelStatus.kInfeasible:
        return None, None, True
    ended = status in (HighsModelStatus.kOptimal, HighsModelStatus.kObjectiveTarget)
    info = highs.getInfo()
    if info.primal_solution_status != 2:  # 2: feasible
        return None, None, False
    numbers = [round(x) for x in highs.getSolution().col_value]
    return numbers, float(info.mip_dual_bound), ended
