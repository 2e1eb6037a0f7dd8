"""Who opens the cover, and when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from clochewright.season.setting import BY_THERMOMETER, LEAVE, OPEN, OPEN_IF_HOT, SHUT
from clochewright.site import DAYS, Hours

Way = Literal["never", "morning-and-evening", "lunchtime", "wax-opener", "thermometer"]
WAYS: tuple[Way, ...] = ("never", "morning-and-evening", "lunchtime", "wax-opener", "thermometer")

# Nights from here on up stay open: University of Missouri Extension (Quinn), on walk-in tunnels, 60 degF.
MILD_NIGHT_degC = 15.6
# Prop when it will be over 40 degF outside: a garden magazine's rule of thumb.
MILD_DAY_degC = 4.4


@dataclass(frozen=True, slots=True)
class Gardener:
    """What a real person's day does: hours are local standard time.

    `open_at_degC` and `shut_at_degC` are air temperatures inside (common practice for cool crops 20 and 15, for warm
    ones 27 and 21). A wax opener begins at `wax_from_degC` and is fully open `wax_span_K` higher.
    """

    way: Way = "morning-and-evening"
    open_at_degC: float = 20.0
    shut_at_degC: float = 15.0
    morning_h_count: int = 8
    lunch_h_count: int = 12
    evening_h_count: int = 18
    wax_from_degC: float = 18.0
    wax_span_K: float = 8.0


def hands(gardener: Gardener, air_degC: Hours, global_W_m2: Hours) -> Hours:
    """What is done at each hour of a year.

    Args:
        gardener: who opens and when.
        air_degC: the year's outside air, 8760 hours: the forecast that the gardener goes by, taken as right.
        global_W_m2: its sunshine.

    Morning and evening: opens in the morning if the day will be mild, or sunny and above freezing; shuts in the
    evening unless the night stays mild. Lunchtime: looks in at noon, opens if it is too hot by then; shuts in the
    evening. Thermometer: looks every hour of the day. All of them leave mild nights open.
    """
    code = np.full((DAYS, 24), float(LEAVE))
    if gardener.way in ("never", "wax-opener"):
        return code.ravel()
    day_high = air_degC.reshape(DAYS, 24).max(axis=1)
    sunny = global_W_m2.reshape(DAYS, 24).max(axis=1) > 400.0  # a clear enough noon (assumption)
    ahead = np.concatenate((air_degC[gardener.evening_h_count :], air_degC[: gardener.evening_h_count]))
    night_low = ahead.reshape(DAYS, 24)[:, :14].min(axis=1)
    shuts = night_low < MILD_NIGHT_degC
    if gardener.way == "thermometer":
        code[:, gardener.morning_h_count : gardener.evening_h_count] = BY_THERMOMETER
    elif gardener.way == "lunchtime":
        code[:, gardener.lunch_h_count] = OPEN_IF_HOT
    else:
        warm = (day_high > gardener.open_at_degC - 6.0) | (sunny & (day_high > MILD_DAY_degC))
        code[warm, gardener.morning_h_count] = OPEN
    code[shuts, gardener.evening_h_count] = SHUT
    return code.ravel()


def night_blanket(gardener: Gardener, air_degC: Hours, below_degC: float = 3.0) -> Hours:
    """1 where the blanket lies on: from evening to morning on nights that will fall below a temperature, else 0."""
    ahead = np.concatenate((air_degC[gardener.evening_h_count :], air_degC[: gardener.evening_h_count]))
    cold = ahead.reshape(DAYS, 24)[:, :14].min(axis=1) < below_degC
    on = np.zeros((DAYS, 24))
    on[cold, gardener.evening_h_count :] = 1.0
    on[np.roll(cold, 1), : gardener.morning_h_count] = 1.0
    return on.ravel()
