"""A cited value as plain JSON values."""

from __future__ import annotations

from clochewright.sources import Cited


def cited_as_json(cited: Cited) -> dict[str, float]:
    """Its value with both ends of its band."""
    return {"value": cited.value, "low": cited.low, "high": cited.high}
