"""How long solvent cement takes to set and to cure, by temperature and size of pipe."""

from __future__ import annotations

from dataclasses import dataclass

CEMENT_SOURCE = "a pipe maker's plastics technical manual, p. 96; a cement maker's sheet agrees except in frost"

# The table's first column of sizes ends at 1-1/4 in pipe, 42.2 mm outside (ASTM D1785) [m].
SMALL_TO_M = 0.0430
HOUR_s = 3600.0


@dataclass(frozen=True, slots=True)
class CementTime:
    """One band of temperature [degF, as published], and how long cement takes to set and to cure in it [s]."""

    low_degF: float
    high_degF: float
    set_s: float
    cure_s: float

    @property
    def low_degC(self) -> float:
        """The band's lower end [degC]."""
        return (self.low_degF - 32) / 1.8

    @property
    def high_degC(self) -> float:
        """The band's upper end [degC]."""
        return (self.high_degF - 32) / 1.8


# Warmest first; hours to set and to cure for small and for large pipe. Cure is the column for pressures up to 180 psi;
# a frame holds no pressure (common practice, no source).
_TABLE = (
    ((60.0, 100.0), (0.25, 0.5), (1.0, 2.0)),
    ((40.0, 60.0), (1.0, 2.0), (2.0, 4.0)),
    ((0.0, 40.0), (3.0, 6.0), (8.0, 16.0)),
)


def cement_times(pipe_outside_diameter_m: float) -> tuple[CementTime, ...]:
    """The bands for one size of pipe [m], warmest first."""
    size = 0 if pipe_outside_diameter_m <= SMALL_TO_M else 1
    return tuple(
        CementTime(low, high, set_h[size] * HOUR_s, cure_h[size] * HOUR_s) for (low, high), set_h, cure_h in _TABLE
    )
