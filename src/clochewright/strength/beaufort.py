"""The Beaufort scale: a mean wind speed in words anyone can check by looking out of the window."""

from __future__ import annotations

from dataclasses import dataclass

from clochewright.sources import Cited, Grade

# Harper et al., guidelines for converting between wind averaging periods: 1.66 for rough country inland.
GUST_OVER_MEAN = Cited(1.6, 1.5, 1.7, Grade.FROM_MEMORY, "WMO/TD-1555 (2010), 3 s gust over 10 min mean, over land")


@dataclass(frozen=True, slots=True)
class Force:
    """One step of the scale; `top_m_s` is the highest 10-minute mean wind at 10 m that still belongs to it [m/s]."""

    number: int
    name: str
    top_m_s: float
    seen: str


# Met Office Library Fact sheet 6.
SCALE = (
    Force(0, "calm", 0.2, "smoke rises straight up"),
    Force(1, "light air", 1.5, "smoke drifts"),
    Force(2, "light breeze", 3.3, "wind felt on the face, leaves rustle"),
    Force(3, "gentle breeze", 5.4, "twigs keep moving"),
    Force(4, "moderate breeze", 7.9, "dust and loose paper rise, small branches move"),
    Force(5, "fresh breeze", 10.7, "small trees in leaf sway"),
    Force(6, "strong breeze", 13.8, "large branches move, umbrellas are hard to use"),
    Force(7, "near gale", 17.1, "whole trees move, walking into the wind is hard"),
    Force(8, "gale", 20.7, "twigs break off"),
    Force(9, "strong gale", 24.4, "slight damage, roofing lifts"),
    Force(10, "storm", 28.4, "trees are uprooted"),
    Force(11, "violent storm", 32.6, "widespread damage"),
    Force(12, "hurricane", float("inf"), "devastation"),
)


def beaufort(mean_m_s: float) -> Force:
    """The force of a 10-minute mean wind at 10 m [m/s], rounded to 0.1 m/s as the scale is.

    Raises:
        ValueError: for a speed below nothing, or no number.
    """
    if not mean_m_s >= 0:
        raise ValueError(f"a wind of {mean_m_s} m/s is none")
    rounded = round(mean_m_s, 1)
    return next(force for force in SCALE if rounded <= force.top_m_s)


def mean_of_gust(gust_m_s: float) -> float:
    """The 10-minute mean wind that brings such gusts [m/s], by the likely gust factor over land."""
    return gust_m_s / GUST_OVER_MEAN.value
