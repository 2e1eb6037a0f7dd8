"""What keeps polyethylene film off bare PVC: how much surface they share."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clochewright.frame import Frame

# Roles whose pipes film never lies on.
INSIDE = ("brace", "stub")
# Common practice, no source: two coats, all round, since film is rolled under the bottom rails.
COATS = 2


@dataclass(frozen=True, slots=True)
class Contact:
    """Surface of pipe and fittings that film may touch [m2], and the length of those pipes [m]."""

    area_m2: float
    length_m: float


def contact(frame: Frame) -> Contact:
    """The outside of every pipe and hub on the frame's skin; braces and stubs are left out."""
    length_m = sum(pipe.cut_length_m for pipe in frame.pipes if pipe.role not in INSIDE)
    hubs_m2 = sum(
        math.pi * fitting.hub_diameter_m * sum(port.centre_to_face_m for port in fitting.ports)
        for fitting in frame.fittings
    )
    return Contact(math.pi * frame.pipe_outside_diameter_m * length_m + hubs_m2, length_m)
