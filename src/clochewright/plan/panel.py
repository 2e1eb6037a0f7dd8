"""What opens: the whole cover, its two halves, or panels of its roof on a frame that stays on the bed."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from clochewright.plan.fields import Clearance, Span
from clochewright.plan.section import Section

Opens = Literal["cover", "halves", "roof side", "slope"]
PANELLED: tuple[Opens, ...] = ("roof side", "slope")
PanelCount = Annotated[int, Field(strict=True, ge=1, le=4)]


class Panel(Section):
    """A panel of the roof that opens, while the frame under it stays on the bed."""

    side: Literal["left", "right", "both"] = Field(
        "right", description="Which roof side opens, seen from the front end; a lean-to has only its slope."
    )
    hinge: Literal["top", "bottom"] = Field("top", description="Edge the hinges are on: top (ridge) or bottom (eave).")
    count: PanelCount = Field(1, description="Panels side by side along the bed, on each side that opens.")
    rafter_bay_m: Span | None = Field(
        None,
        alias="rafter_bay",
        examples=["4 ft", "1200 mm"],
        description="Longest distance between its rafters; over the frame's own rafters if left out.",
    )
    clearance_m: Clearance = Field(0.00635, alias="clearance", description="Gap between panels, hub to hub.")
