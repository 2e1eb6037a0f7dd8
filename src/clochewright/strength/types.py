"""What the cover can stand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from clochewright.findings import Finding, Mend
from clochewright.frame import Vec
from clochewright.measures import Units
from clochewright.sources import Cited

# A figure with so wide a band is told in whole inches, or tens of millimetres.
STEP_M: Mapping[Units, float] = MappingProxyType({"inch": 0.0254, "mm": 0.01})


def about_m(length_m: float, units: Units) -> float:
    """A length as roughly as it is known [m], rounded down, so that a limit stays one."""
    return math.floor(length_m / STEP_M[units] + 1e-6) * STEP_M[units]


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: the case, the kind of value ("gust_m_s"), the likely value with its band in SI, and what governs.

    `low` and `high` come from the spread of what it rests on, named in `source`. `key` names the case to programs.
    """

    case: str
    kind: str
    value: float
    low: float
    high: float
    governs: str
    source: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class Check:
    """One way of handling it: the largest share of what a part bears (1 is the limit), and how far it gives [m]."""

    case: str
    share: float
    gives_m: float
    governs: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class WorstMember:
    """One pipe at the limit of a case, and its own share of what it bears."""

    pipe: str
    role: str
    case: str
    share: float


@dataclass(frozen=True, slots=True)
class BentShape:
    """The first cover at the limit of a case, its middle at x = 0, in its true size.

    `lines_m` is each pipe's line as it has moved [m], `rest_m` the same places of it unloaded; `shares` what each pipe
    is asked for of what it bears. `came` says how the load came: "from the left", "all over", ...
    """

    case: str
    lines_m: Mapping[str, tuple[Vec, ...]]
    shares: Mapping[str, float]
    rest_m: Mapping[str, tuple[Vec, ...]]
    came: str


@dataclass(frozen=True, slots=True)
class Gain:
    """One change and what it brings: gust shut and latched [m/s] and wet snow [m] after it, what these gain, its cost.

    `gust_share` and `snow_share` are gains over what was [1]; `cost_money` is negative where it saves. `change` is what
    to write in the plan, where one key does it.
    """

    key: str
    gust_m_s: float
    wet_snow_m: float
    gust_share: float
    snow_share: float
    cost_money: float
    change: Mend | None = None


@dataclass(frozen=True, slots=True)
class Ground:
    """One outside figure that strength rests on: its name in the words, its value, what kind of quantity it is."""

    key: str
    cited: Cited
    kind: Literal["stress", "force", "share", "factor", "density", "stiffness"]


@dataclass(frozen=True, slots=True)
class Strength:
    """What wind, snow and hands the cover can stand: an estimate for a garden cover, and no structural approval."""

    limits: tuple[Limit, ...] = ()
    checks: tuple[Check, ...] = ()
    members: tuple[WorstMember, ...] = ()
    shapes: tuple[BentShape, ...] = ()
    findings: tuple[Finding, ...] = ()
    changes: tuple[Gain, ...] = ()
    grounds: tuple[Ground, ...] = ()

    def limit(self, key: str) -> Limit | None:
        """The limit of that key, if there is one."""
        return next((limit for limit in self.limits if limit.key == key), None)
