"""Days of the year and hours of the day as people say them: Apr 12 and 6 am, or 12 April and 6:00."""

from __future__ import annotations

from clochewright.measures.rounding import Units

_MONTHS = (
    ("January", 31), ("February", 28), ("March", 31), ("April", 30), ("May", 31), ("June", 30), ("July", 31),
    ("August", 31), ("September", 30), ("October", 31), ("November", 30), ("December", 31),
)  # fmt: skip
MONTH_NAMES = tuple(name for name, _ in _MONTHS)


def show_day(day: int, units: Units) -> str:
    """A day of a year without a leap day, counted from 0 on 1 January: "Apr 12", or with mm "12 April"."""
    left = day % 365
    for name, long in _MONTHS:
        if left < long:
            return f"{name[:3]} {left + 1}" if units == "inch" else f"{left + 1} {name}"
        left -= long
    raise AssertionError("a year has 365 days here")


def show_hour(hour_count: float, units: Units) -> str:
    """An hour of the day to the half hour: "6 am", "12:30 pm", "noon", "midnight", or with mm "6:00", "12:30"."""
    halves = round(hour_count * 2) % 48
    whole, half = divmod(halves, 2)
    if units == "mm":
        return f"{whole}:{'30' if half else '00'}"
    if halves in (0, 24):
        return "noon" if halves else "midnight"
    clock, side = (whole - 1) % 12 + 1, "am" if whole < 12 else "pm"
    return f"{clock}{':30' if half else ''} {side}"
