"""The bodies as the result file has them: what opens about which line, and what each weighs and is covered with."""

from __future__ import annotations

from typing import Any

from clochewright.frame import Body, Frame
from clochewright.job.types import Made


def bodies_as_json(frame: Frame, made: Made) -> list[dict[str, Any]]:
    """Every body of the frame, what stays on the bed as well, in the frame's order."""
    opening = {body.id: body for body in made.lid.bodies}
    weights, films = made.weights.bodies, {film.body: film for film in made.film.bodies}
    out = []
    for name in dict.fromkeys(pipe.body for pipe in frame.pipes):
        weight, film = weights.get(name), films[name]
        out.append(
            {
                "id": name,
                "kind": opening[name].kind if name in opening else "stays",
                "opens": _opens(opening[name]) if name in opening else None,
                "mass_kg": weight.mass_kg.value if weight else None,
                "mass_low_kg": weight.mass_kg.low if weight else None,
                "mass_high_kg": weight.mass_kg.high if weight else None,
                "centre_m": list(weight.centre_m) if weight else None,
                "sheets": [{"name": s.name, "length_m": s.length_m, "width_m": s.width_m} for s in film.sheets],
                "film_m2": film.skin_m2,
            }
        )
    return out


def _opens(body: Body) -> dict[str, Any]:
    return {
        "hinge_line_m": [list(point) for point in body.hinge_line_m],
        "free_line_m": [list(point) for point in body.free_line_m],
        "turns": body.toward,
        "hinge_pipes": list(body.hinge_pipes),
        "free_pipes": list(body.free_pipes),
        "hinge_on": list(body.hinge_on),
        "latch_on": list(body.latch_on),
    }
