"""From space to paper: which way a view looks, and where a point lands."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from clochewright.frame import Vec

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class View:
    """A parallel view. `right` and `up` lie in the paper, `toward` points from the frame to the eye; unit vectors."""

    name: str
    title: str
    right: Vec
    up: Vec
    toward: Vec

    def project(self, points_m: Array) -> Array:
        """Points in space, shape (n, 3) [m], as (right, up, toward) [m], same shape."""
        turned: Array = points_m @ np.array([self.right, self.up, self.toward]).T
        return turned


def _three_quarter(around_deg: float, above_deg: float) -> View:
    """Looking down at `above_deg` from `around_deg` off the long side, toward the front end [deg]."""
    around, above = math.radians(around_deg), math.radians(above_deg)
    right = (math.cos(around), -math.sin(around), 0.0)
    flat = (-math.sin(around), -math.cos(around), 0.0)
    toward = (flat[0] * math.cos(above), flat[1] * math.cos(above), math.sin(above))
    up = (-flat[0] * math.sin(above), -flat[1] * math.sin(above), math.cos(above))
    return View("three-quarter", "Three-quarter view", right, up, toward)


# The front end is the one at the low end of x, and the side view looks at the side on its right: so the front end lies
# on the left of plan, side and three-quarter view alike.
PLAN = View("plan", "Plan, from above", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
SIDE = View("side", "Side", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
END = View("end", "Front end", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0))
THREE_QUARTER = _three_quarter(34.0, 27.0)
VIEWS = MappingProxyType({view.name: view for view in (PLAN, SIDE, END, THREE_QUARTER)})
