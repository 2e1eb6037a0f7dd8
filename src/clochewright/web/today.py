"""What to do tonight and tomorrow, from a forecast that is typed in: read, asked of the bench, told in words."""

from __future__ import annotations

import math
import re
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from clochewright.errors import MeasureError
from clochewright.findings import word
from clochewright.job import Band, Forecast, Job, TodayAdvice, advise_today, open_weather, show_gap
from clochewright.measures import (
    Units,
    read_speed,
    read_temperature,
    show_angle,
    show_day,
    show_hour,
    show_speed,
    show_temperature,
)
from clochewright.web.steps.kit import Figure

Sky = Literal["clear", "broken", "overcast"]
SKIES: tuple[Sky, ...] = ("clear", "broken", "overcast")
COLDEST_DEGC, HOTTEST_DEGC, STRONGEST_M_S = -60.0, 60.0, 40.0
LONGEST = 40
_MONTH_STARTS = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)
_BARE = re.compile(r"\s*[-−+]?[0-9]+(?:[.,][0-9]+)?\s*")


@dataclass(frozen=True, slots=True)
class TodayTold:
    """The form as it was filled in, what is wrong with it by field, and the answer: a heading with its figures."""

    given: Mapping[str, str]
    wrong: Mapping[str, str] = field(default_factory=dict)
    said: str = ""
    head: str = ""
    lines: tuple[Figure, ...] = ()


def today_told(given: Mapping[str, str], job: Job | None, units: Units, folder: Path, now_s: float) -> TodayTold:
    """The answer to a forecast.

    Args:
        given: What was typed: low, high, wind, sky; all empty on the first visit.
        job: The plan's job; None, or one whose cover can't be built, has no answer.
        units: What bare numbers are taken in, and what is shown.
        folder: Where the plan's weather file lies.
        now_s: The time, which says what day it is.
    """
    typed = {name: given.get(name, "").strip()[:LONGEST] for name in ("low", "high", "wind", "sky")}
    typed["sky"] = typed["sky"] if typed["sky"] in SKIES else SKIES[0]
    if not any(typed[name] for name in ("low", "high", "wind")):
        return TodayTold(typed)
    wrong: dict[str, str] = {}
    low_degC = _read(typed["low"], "low", units, wrong)
    high_degC = _read(typed["high"], "high", units, wrong)
    wind_m_s = _read(typed["wind"], "wind", units, wrong)
    if not wrong and high_degC < low_degC:
        wrong["high"] = word("web.today.crossed")
    if wrong:
        return TodayTold(typed, wrong)
    if job is None or job.made is None:
        return TodayTold(typed, said=word("web.today.unbuilt"))
    now = time.localtime(now_s)
    day = min(_MONTH_STARTS[now.tm_mon - 1] + now.tm_mday, 364)  # the day to come; the calendar's end stays where it is
    sky = next(sky for sky in SKIES if sky == typed["sky"])
    weather = open_weather(job.plan, folder)
    advice = advise_today(job, Forecast(low_degC, high_degC, sky, wind_m_s, day), weather)
    head = word("web.today.head", day=show_day(day, units))
    return TodayTold(typed, head=head, lines=_lines(advice, units))


def _read(text: str, name: str, units: Units, wrong: dict[str, str]) -> float:
    """A value in SI; what is wrong with it goes into `wrong`."""
    temperature = name != "wind"
    if _BARE.fullmatch(text):
        unit = ("F" if units == "inch" else "C") if temperature else ("mph" if units == "inch" else "m/s")
        text = f"{text.strip().replace(',', '.')} {unit}"
    try:
        value = float(read_temperature(text) if temperature else read_speed(text))
    except (MeasureError, OverflowError) as error:
        wrong[name] = str(error)
        return math.nan
    if temperature and not COLDEST_DEGC <= value <= HOTTEST_DEGC:
        wrong[name] = word("web.today.far", shown=text)
    elif not temperature and value > STRONGEST_M_S:
        wrong[name] = word("web.today.far-wind", shown=show_speed(value, units))
    return value


def _lines(advice: TodayAdvice, units: Units) -> tuple[Figure, ...]:
    def degrees(degC: float) -> str:
        return show_temperature(degC, units)

    def line(name: str, value: str, note: str = "") -> Figure:
        return Figure(word(f"web.today.{name}"), value, note)

    blanket = {"needed": "needed", "to be safe": "safe", "not needed": "not"}[advice.blanket]
    enough = word(f"web.today.blanket-{'enough' if advice.blanket_enough else 'short'}")
    lines = [line("inside", banded(advice.inside_low_degC, degrees))]
    lines.append(line("blanket", word(f"web.today.blanket-{blanket}"), "" if blanket == "not" else enough))
    if blanket != "not":
        lines.append(line("wrapped", banded(advice.inside_low_with_blanket_degC, degrees)))
    lines.append(line("peak", banded(advice.shut_high_degC, degrees)))
    lines.append(line("open", *_opening(advice, units)))
    lines.append(line("prop", *_propping(advice, units)))
    return tuple(lines)


def _opening(advice: TodayAdvice, units: Units) -> tuple[str, str]:
    if advice.open_from_h_count is None or advice.open_from_h_count.likely >= 24.0:
        return word("web.today.open-not"), ""
    hours = advice.open_from_h_count
    low, likely, high = (show_hour(hour, units) for hour in (hours.low, hours.likely, hours.high))
    said = word("web.today.open-between", likely=likely, low=low, high=high)
    if hours.high >= 24.0:
        said = word("web.today.open-perhaps", likely=likely, low=low)
    elif low == high:
        said = word("web.today.open-from", low=low)
    by = advice.shut_by_h_count
    return said, "" if by is None else word("web.today.shut-by", by=show_hour(by, units))


def _propping(advice: TodayAdvice, units: Units) -> tuple[str, str]:
    if advice.prop_deg is None or advice.gap_m is None:
        return word("web.today.prop-off"), ""
    widest = advice.prop_deg.high
    more = ""
    if widest > advice.prop_deg.likely:
        more = word("web.today.prop-or-off") if math.isinf(widest) else word(
            "web.today.prop-up-to", angle=show_angle(widest))  # fmt: skip
    if advice.prop_deg.likely == 0.0:
        opens = advice.open_from_h_count is not None and advice.open_from_h_count.likely < 24.0
        return word(f"web.today.prop-{'any' if opens else 'shut'}"), more
    gap = show_gap(advice.gap_m.likely, units)
    return word("web.today.prop-at", angle=show_angle(advice.prop_deg.likely), gap=gap), more


def banded(band: Band, show: Callable[[float], str]) -> str:
    """Likely, then low to high; one figure where all read the same."""
    low, likely, high = show(band.low), show(band.likely), show(band.high)
    return likely if low == high else word("season.told.band", likely=likely, low=low.partition(" ")[0], high=high)
