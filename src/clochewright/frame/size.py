"""What a tape would find: the frame over all, hubs included."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from clochewright.frame.parts import Fitting, Pipe


def measure_frame(
    fittings: Iterable[Fitting], pipes: Iterable[Pipe] = (), outside_diameter_m: float = 0.0
) -> tuple[float, float, float]:
    """Length and width over all, and the top above the rim [m], over the hubs of all fittings and over bent pipes."""
    hubs = [(fitting, port) for fitting in fittings for port in fitting.ports]
    centre = np.array([fitting.position_m for fitting, _ in hubs])
    along = np.array([port.direction for _, port in hubs])
    face_m = np.array([port.centre_to_stop_m + port.socket_depth_m for _, port in hubs])
    radius_m = np.array([fitting.hub_diameter_m for fitting, _ in hubs]) / 2
    # a hub is a cylinder: its reach beyond its axis is its radius times the sine of the angle to it
    beyond = radius_m[:, None] * np.sqrt(np.maximum(0.0, 1 - along * along))
    tip = centre + along * face_m[:, None]
    high = (np.maximum(centre, tip) + beyond).max(axis=0)
    low = (np.minimum(centre, tip) - beyond).min(axis=0)
    bent = [point for pipe in pipes if pipe.shape == "bent" for point in pipe.path_m]
    if bent:
        # along the bed the hubs reach further; across it and upwards a hoop may stand out by half its pipe
        path = np.array(bent)[:, 1:]
        high[1:] = np.maximum(high[1:], path.max(axis=0) + outside_diameter_m / 2)
        low[1:] = np.minimum(low[1:], path.min(axis=0) - outside_diameter_m / 2)
    return float(high[0] - low[0]), float(high[1] - low[1]), float(high[2])
