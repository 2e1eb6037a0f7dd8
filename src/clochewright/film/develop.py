"""From the frame's outline to girth and reach: how far it is over the cover, both ways."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from clochewright.film.outline import Point, hull, length_along, outline_points, over_the_top
from clochewright.frame import Fitting, Frame, Pipe

# A pipe that runs along the bed by less than this part of its length belongs to a bent.
ACROSS = 0.5


@dataclass(frozen=True, slots=True)
class Development:
    """Girth, reach and slack [m], with the lines they were measured along (see FilmPlan)."""

    girth_m: float
    reach_m: float
    slack_m: float
    section_m: tuple[Point, ...]
    profile_m: tuple[Point, ...]


def develop(frame: Frame) -> Development:
    """Measure over the frame as a tape would, pulled tight over hubs and pipes.

    The girth is taken at the proudest bent, the reach along the bed's middle. Both start and end at the underside of
    the bottom rail.
    """
    section, girth_m = max(
        (_section(frame, station_m) for station_m in frame.stations_m or (0.0,)), key=lambda found: found[1]
    )
    profile = _line(frame, frame.fittings, frame.pipes, "end rail", sideways=0)
    return Development(girth_m, length_along(profile), _slack(frame, girth_m), section, profile)


def _section(frame: Frame, station_m: float) -> tuple[tuple[Point, ...], float]:
    """What stands nearest to one bent, seen along the bed."""
    stations = frame.stations_m or (0.0,)

    def belongs(x_m: float) -> bool:
        return min(stations, key=lambda station: abs(station - x_m)) == station_m

    fittings = [fitting for fitting in frame.fittings if belongs(fitting.position_m[0])]
    pipes = [pipe for pipe in frame.pipes if _is_across(pipe) and belongs(pipe.path_m[0][0])]
    line = _line(frame, fittings, pipes, "side rail", sideways=1)
    return line, length_along(line)


def _line(
    frame: Frame, fittings: Iterable[Fitting], pipes: Iterable[Pipe], rail: str, sideways: int
) -> tuple[Point, ...]:
    points = outline_points(fittings, pipes, frame.pipe_outside_diameter_m, sideways)
    return over_the_top(hull(points), _underside(frame, rail))


def _underside(frame: Frame, role: str) -> float:
    """Height of the underside of those rails over the rim [m]; the rim itself where there are none."""
    heights = [point[2] for pipe in frame.pipes if pipe.role == role for point in pipe.path_m]
    return min(heights) - frame.pipe_outside_diameter_m / 2 if heights else 0.0


def _is_across(pipe: Pipe) -> bool:
    along = max(point[0] for point in pipe.path_m) - min(point[0] for point in pipe.path_m)
    return along < ACROSS * pipe.cut_length_m


def _slack(frame: Frame, girth_m: float) -> float:
    """How much shorter it is between two bents, where only rails and ridge carry the film [m]."""
    along = [pipe for pipe in frame.pipes if not _is_across(pipe) and pipe.role != "stub"]
    if not any(pipe.role == "ridge" for pipe in along):
        return 0.0
    between = _line(frame, (), along, "side rail", sideways=1)
    return max(0.0, girth_m - length_along(between))
