"""The season under the film: frost held off, heat let out, weeks won."""

from clochewright.season.balance import Second, Tent, Years, run_years
from clochewright.season.coefficients import INFRARED_FILM, LEANS, PLAIN_FILM, FilmOptics, Lean
from clochewright.season.crops import MARGIN_K, CropVerdict, degree_days, judge
from clochewright.season.enclosure import Enclosure, Facet, enclose, enclosure_of, opening_at
from clochewright.season.gardener import WAYS, Gardener, Way
from clochewright.season.months import Month
from clochewright.season.nights import Band, NightLift, night_lows
from clochewright.season.pictures import Pictures, Stretch
from clochewright.season.study import BEARINGS, NO_CROP_LIMIT_DEGC, Added, Addition, Season, season_study
from clochewright.season.today import Forecast, TodayAdvice, advise

__all__ = [
    "BEARINGS",
    "INFRARED_FILM",
    "LEANS",
    "MARGIN_K",
    "NO_CROP_LIMIT_DEGC",
    "PLAIN_FILM",
    "WAYS",
    "Added",
    "Addition",
    "Band",
    "CropVerdict",
    "Enclosure",
    "Facet",
    "FilmOptics",
    "Forecast",
    "Gardener",
    "Lean",
    "Month",
    "NightLift",
    "Pictures",
    "Season",
    "Second",
    "Stretch",
    "Tent",
    "TodayAdvice",
    "Way",
    "Years",
    "advise",
    "degree_days",
    "enclose",
    "enclosure_of",
    "judge",
    "night_lows",
    "opening_at",
    "run_years",
    "season_study",
]
