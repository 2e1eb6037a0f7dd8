"""How much sun gets through the film onto the bed, by the angle at which it strikes each face."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.season.enclosure import Enclosure, Facet
from clochewright.site import HOURS, Hours, Place, Weather, middles, shaded, sun_path

FILM_INDEX = 1.51  # refractive index of polyethylene (from memory)
GROUND_REFLECTS_SHARE = 0.2  # what lies around the bed: grass and soil (T. Oke 1987, from memory)


@dataclass(frozen=True, slots=True)
class Light:
    """What each W/m2 outside brings inside, per m2 of floor and before the film's own loss.

    `beam` and `film_beam` by hour of the year; the rest are plain numbers. `open_sky_share` is the sky that is left
    beside a wall or a fence.
    """

    beam: Hours
    film_beam: Hours
    diffuse_factor: float
    ground_factor: float
    film_diffuse_factor: float
    open_sky_share: float


def let_through_share(cosine: Hours) -> Hours:
    """Share of beam let through at an angle, against square on: two faces of a clear sheet by Fresnel's formulas.

    Source: J. Duffie & W. Beckman, Solar Engineering of Thermal Processes, section 5.1 (from memory).
    """
    cosine = np.clip(cosine, 1e-4, 1.0)
    sine = np.sqrt(1.0 - cosine**2) / FILM_INDEX
    within = np.sqrt(1.0 - sine**2)
    square = ((cosine - FILM_INDEX * within) / (cosine + FILM_INDEX * within)) ** 2
    level = ((FILM_INDEX * cosine - within) / (FILM_INDEX * cosine + within)) ** 2
    passed = ((1 - square) / (1 + square) + (1 - level) / (1 + level)) / 2
    head_on = ((FILM_INDEX - 1) / (FILM_INDEX + 1)) ** 2
    return np.asarray(passed * (1 + head_on) / (1 - head_on), dtype=np.float64)


def light_of(enclosure: Enclosure, place: Place, left_faces_deg: float, low_sun_share: float) -> Light:
    """What the cover lets in through the year.

    The floor gets what falls towards it; of the sun that comes in low and would pass over it, through a tall south face
    or end, `low_sun_share` is caught by scattering, crop and the far film.
    """
    faces = enclosure.turned(left_faces_deg)
    sun = sun_path(place, middles(HOURS))
    up, way = np.radians(sun.altitude_deg), np.radians(sun.bearing_deg)
    entered, passed = np.zeros(HOURS), np.zeros(HOURS)
    for facet, bearing_deg in faces:
        slope, looks = np.radians(facet.slope_deg), np.radians(bearing_deg)
        cosine = np.sin(up) * np.cos(slope) + np.cos(up) * np.sin(slope) * np.cos(way - looks)
        falls = facet.area_m2 * np.maximum(cosine, 0.0)
        entered += falls
        passed += falls * let_through_share(cosine)
    sunlit = (sun.altitude_deg > 0) & ~shaded(sun, place)
    entered, passed = np.where(sunlit, entered, 0.0), np.where(sunlit, passed, 0.0)
    share = np.divide(passed, entered, out=np.zeros(HOURS), where=entered > 0)
    floor = enclosure.floor_m2 * np.maximum(np.sin(up), 0.0)
    beam = share * (floor + low_sun_share * np.maximum(entered - floor, 0.0)) / enclosure.floor_m2
    return Light(
        beam=np.where(sunlit, beam, 0.0),
        film_beam=entered / enclosure.floor_m2,
        **_scattered(enclosure, [facet for facet, _ in faces], low_sun_share),
        open_sky_share=_open_sky(place),
    )


def _scattered(enclosure: Enclosure, facets: Sequence[Facet], low_sun_share: float) -> dict[str, float]:
    """The same for light from the whole sky and from the ground around, which comes at 60 deg on the mean."""
    oblique = float(let_through_share(np.array([0.5]))[0])
    slopes = np.radians([facet.slope_deg for facet in facets])
    areas = np.array([facet.area_m2 for facet in facets])
    sky = float((areas * (1 + np.cos(slopes)) / 2).sum()) / enclosure.floor_m2
    ground = float((areas * (1 - np.cos(slopes)) / 2).sum()) / enclosure.floor_m2
    return {
        "diffuse_factor": oblique * (1.0 + low_sun_share * max(sky - 1.0, 0.0)),
        "ground_factor": oblique * low_sun_share * ground * GROUND_REFLECTS_SHARE,
        "film_diffuse_factor": sky,
    }


def _open_sky(place: Place) -> float:
    """The sky that a wall over part of the horizon leaves: less the sine squared of its height over its width."""
    width = ((place.shade_to_deg - place.shade_from_deg) % 360) / 360
    return float(1.0 - width * np.sin(np.radians(place.shade_height_deg)) ** 2)


def sun_inside(light: Light, weather: Weather) -> tuple[Hours, Hours]:
    """Sun to be let through onto the bed, and falling on the film: W per m2 of floor, shape (years, 8760)."""
    diffuse = weather.diffuse_W_m2 * light.open_sky_share
    bed = weather.beam_W_m2 * light.beam + diffuse * light.diffuse_factor + weather.global_W_m2 * light.ground_factor
    return bed, weather.beam_W_m2 * light.film_beam + diffuse * light.film_diffuse_factor
