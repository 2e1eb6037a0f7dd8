"""Sorrel Yard, the invented row of beds that every example stands in: a place to start from."""

from __future__ import annotations

from clochewright.site.types import Normals, Place

# Invented: a temperate inland place with frosts from October to May.
SORREL_YARD = Place("Sorrel Yard", 44.0, -75.0, -5.0, 150.0)
SORREL_YARD_NORMALS = Normals(
    high_degC=(0.0, 1.5, 7.0, 14.0, 20.5, 25.0, 27.5, 26.5, 22.0, 15.0, 8.5, 2.5),
    low_degC=(-9.0, -8.5, -3.5, 2.0, 7.5, 12.5, 15.0, 14.0, 10.0, 4.0, -0.5, -6.0),
    dew_degC=(-8.5, -8.0, -4.5, 0.5, 7.0, 12.0, 15.0, 14.5, 10.5, 4.5, -1.0, -6.0),
    wind_m_s=(4.2, 4.2, 4.4, 4.3, 3.7, 3.3, 3.0, 2.9, 3.1, 3.5, 4.0, 4.1),
    sun_h_count=(3.2, 4.2, 5.2, 6.3, 7.5, 8.6, 9.1, 8.2, 6.5, 4.8, 3.0, 2.6),
)
