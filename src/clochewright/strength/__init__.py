"""Strength: what wind the cover can stand. So far: the gust that lifts it when it is not latched."""

from clochewright.strength.beaufort import Force, beaufort, mean_of_gust
from clochewright.strength.hold_down import lifting_gust, loose_lift_gust
from clochewright.strength.types import Limit

__all__ = ["Force", "Limit", "beaufort", "lifting_gust", "loose_lift_gust", "mean_of_gust"]
