"""Holes of the bar: its pin and its pivot."""

from __future__ import annotations

from types import MappingProxyType

from clochewright.measures import inch

PIN_m = MappingProxyType({"inch": 0.25 * inch, "mm": 0.006})  # of a bar's pin and pivot; common practice, no source
