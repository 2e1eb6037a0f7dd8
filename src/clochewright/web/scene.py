"""The frame for the view in space: pipes, fittings, film, bed; lengths in metres, x along the bed, y across, z up."""

from __future__ import annotations

import json
from itertools import pairwise
from typing import Any

from clochewright.job import Shape
from clochewright.measures import Units, show_length

DECIMALS = 5  # a hundredth of a millimetre


def scene(shape: Shape, rev: str, units: Units) -> dict[str, Any]:
    """The scene of a cover; `said` is what a tapped part tells, in the units asked for."""
    frame, bed = shape.frame, shape.plan.bed
    marks, sticks = shape.cutlist.mark_of, _sticks(shape)
    return {
        "rev": rev,
        "pipes": [
            {
                "id": pipe.id,
                "mark": marks.get(pipe.id, ""),
                "role": pipe.role,
                "body": pipe.body,
                "path": [_point(point) for point in pipe.path_m],
                "radius_m": frame.pipe_outside_diameter_m / 2,
                "said": _said(
                    marks.get(pipe.id, ""),
                    pipe.role,
                    show_length(pipe.cut_length_m, units),
                    _from(sticks.get(marks.get(pipe.id, ""), [])),
                ),
            }
            for pipe in frame.pipes
        ],
        "fittings": [
            {
                "id": fitting.id,
                "role": fitting.role,
                "body": fitting.body,
                "segments": [
                    [
                        _point(fitting.position_m),
                        _point(
                            tuple(
                                at + port.centre_to_face_m * along
                                for at, along in zip(fitting.position_m, port.direction, strict=True)
                            )
                        ),
                    ]
                    for port in fitting.ports
                ],
                "radius_m": fitting.hub_diameter_m / 2,
                "said": _said(fitting.kind, fitting.role),
            }
            for fitting in frame.fittings
        ],
        "film": _film(shape),
        "bed": {
            "length_m": bed.outside_length_m,
            "width_m": bed.outside_width_m,
            "height_m": bed.height_m,
            "board_m": bed.board_m,
        },
        "lids": _lids(shape),
    }


def scene_ahead(shape: Shape, rev: str, units: Units, address: str, cutlist: str) -> str:
    """What goes ahead of the pieces of an answer: the scene, the address that those will name for it, the cut list."""
    told = json.dumps({"of": address, "cutlist": cutlist, **scene(shape, rev, units)}, separators=(",", ":"))
    inert = told.replace("<", "\\u003c")  # nothing in it ends the element
    return f'<script type="application/json">{inert}</script>\n'


def _lids(shape: Shape) -> list[dict[str, Any]]:
    """What opens: the line it turns about, along which the right-hand rule lifts it, and how far it goes."""
    return [
        {
            "body": leaf.body.id,
            "through": _point(leaf.line.start_m),
            "along": _point((leaf.line.over[1], -leaf.line.over[0], 0.0)),
            "rest_deg": round(leaf.swing.rest.block_deg if leaf.swing.rest.block_m else leaf.swing.rest.angle_deg, 2),
        }
        for leaf in shape.lid.leaves
    ]


def _film(shape: Shape) -> list[dict[str, Any]]:
    """The skin: strips from end to end over the section, the two ends, and a sheet on each panel."""
    section = shape.section_m
    panels = [body for body in shape.lid.bodies if body.kind == "panel"]
    names = {body.id for body in panels}
    open_m = [sorted((body.hinge_line_m[0][1], body.free_line_m[0][1])) for body in panels]
    bodies: dict[str, list[float]] = {}
    for pipe in shape.frame.pipes:
        if pipe.body not in names:
            bodies.setdefault(pipe.body, []).extend(point[0] for point in pipe.path_m)
    out = shape.frame.pipe_outside_diameter_m / 2
    faces = []
    for body, along_m in bodies.items():
        near, far = min(along_m) - out, max(along_m) + out
        for (y0, z0), (y1, z1) in pairwise(section):
            if any(low < (y0 + y1) / 2 < high for low, high in open_m):
                continue  # the opening that a panel shuts
            corners = ((near, y0, z0), (far, y0, z0), (far, y1, z1), (near, y1, z1))
            faces.append({"body": body, "points": [_point(corner) for corner in corners]})
        faces += [{"body": body, "points": [_point((x, y, z)) for y, z in section]} for x in (near, far)]
    for panel in panels:
        around = (*panel.hinge_line_m, *reversed(panel.free_line_m))
        faces.append({"body": panel.id, "points": [_point(corner) for corner in around]})
    return faces


def _sticks(shape: Shape) -> dict[str, list[int]]:
    """The numbers of the sticks that each mark is cut from."""
    found: dict[str, list[int]] = {}
    for number, stick in enumerate(shape.cutlist.stock.sticks, 1):
        for mark, _ in stick.cuts:
            numbers = found.setdefault(mark, [])
            if number not in numbers:
                numbers.append(number)
    return found


def _from(sticks: list[int]) -> str:
    if not sticks:
        return ""
    return f"from stick {sticks[0]}" if len(sticks) == 1 else f"from sticks {', '.join(map(str, sticks))}"


def _said(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _point(point: tuple[float, ...]) -> list[float]:
    return [round(at, DECIMALS) + 0.0 for at in point]
