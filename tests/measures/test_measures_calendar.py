"""Days and hours as people say them."""

from __future__ import annotations

import pytest

from clochewright.measures import show_day, show_hour


@pytest.mark.parametrize(
    ("day", "inch", "mm"),
    [(0, "Jan 1", "1 January"), (58, "Feb 28", "28 February"), (59, "Mar 1", "1 March"), (364, "Dec 31", "31 December"),
     (365, "Jan 1", "1 January")],
)  # fmt: skip
def test_days_are_those_of_the_calendar(day, inch, mm):
    assert (show_day(day, "inch"), show_day(day, "mm")) == (inch, mm)


@pytest.mark.parametrize(
    ("hour", "inch", "mm"),
    [(0.0, "midnight", "0:00"), (6.2, "6 am", "6:00"), (12.0, "noon", "12:00"), (12.5, "12:30 pm", "12:30"),
     (18.0, "6 pm", "18:00"), (23.9, "midnight", "0:00")],
)  # fmt: skip
def test_hours_are_told_to_the_half_hour(hour, inch, mm):
    assert (show_hour(hour, "inch"), show_hour(hour, "mm")) == (inch, mm)
