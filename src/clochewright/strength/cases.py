"""Mixes of patterns for wind, snow and hands, by how hard they come."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from clochewright.strength.air import Code
from clochewright.strength.faces import Outline
from clochewright.strength.patterns import Patterns
from clochewright.strength.resistance import film_tensions_N_m
from clochewright.strength.structure import Floats
from clochewright.strength.windcases import WindCase

# ASCE 7-16 7.6.1, small roofs: all of the ground's snow on one side; EN 1991-1-3 5.3.3: half of it on one side.
ONE_SIDED: dict[Code, tuple[float, float]] = {"US": (1.0, 0.0), "EN": (1.0, 0.5)}


SNOW_CASES = ("all over", "more on the left", "more on the right")


class WindMix:
    """Weights of each wind at a pressure: pressed faces through the bents, pulled ones through their edges.

    All of it grows evenly with the pressure but the film's tension, which draws the two edges of a pulled face
    together.
    """

    def __init__(
        self, patterns: Patterns, shape: Outline, cases: Sequence[WindCase], film: tuple[float, float, float]
    ) -> None:
        """`film` is its thickness [m], modulus [Pa] and slack [1]."""
        self._film = film
        self._own = np.array([patterns.mix({"own": 1.0})] * len(cases))
        self._even = np.zeros_like(self._own)
        pulled: list[tuple[int, int, float, float]] = []
        for c, case in enumerate(cases):
            amounts = {"front": case.front_ratio, "far": case.far_ratio}
            for k, (face, net) in enumerate(zip(shape.faces, case.face_ratio, strict=True)):
                if net >= 0 or not face.has_edges:
                    amounts[f"press {k}"] = net
                else:
                    amounts[f"pull {k}"] = -net
                    pulled.append((c, patterns.row[f"strain {k}"], -net, face.depth_m))
            self._even[c] = patterns.mix(amounts)
        self._cases = np.array([one[0] for one in pulled], dtype=np.int64)
        self._rows = np.array([one[1] for one in pulled], dtype=np.int64)
        self._pulls = np.array([one[2] for one in pulled])
        self._chords_m = np.array([one[3] for one in pulled])

    def at(self, q_Pa: float, chosen: Sequence[int] | None = None) -> Floats:
        """Weights (cases, p) at a pressure q [Pa], of all cases or of the numbered ones."""
        weights: Floats = self._own + q_Pa * self._even
        weights[self._cases, self._rows] = film_tensions_N_m(q_Pa * self._pulls, self._chords_m, *self._film)
        return weights if chosen is None else weights[list(chosen)]


def film_pull_N_m(shape: Outline, cases: Sequence[WindCase], q_Pa: float, film: tuple[float, float, float]) -> float:
    """The hardest that the film pulls on its lath in any of these winds [N/m]; over an arch p R."""
    pulled = [
        (-q_Pa * net, face) for case in cases for face, net in zip(shape.faces, case.face_ratio, strict=True) if net < 0
    ]
    flat = [(p_Pa, face.depth_m) for p_Pa, face in pulled if face.zone is None]
    most = max((p_Pa for p_Pa, face in pulled if face.zone is not None), default=0.0)
    most *= (shape.span_m**2 / 4 + shape.rise_m**2) / (2 * shape.rise_m)
    if not flat:
        return most
    pressures_Pa, chords_m = np.array(flat).T
    return max(most, float(film_tensions_N_m(pressures_Pa, chords_m, *film).max()))


def snow_weights(patterns: Patterns, code: Code, ground_Pa: float, factor: float = 1.0) -> Floats:
    """The cases of SNOW_CASES (3, p), for so much snow on the ground [Pa]."""
    more, less = ONE_SIDED[code]
    s = ground_Pa * factor
    return np.array(
        [
            patterns.mix({"own": 1.0, "snow": s}),
            patterns.mix({"own": 1.0, "snow left": more * s, "snow right": less * s}),
            patterns.mix({"own": 1.0, "snow left": less * s, "snow right": more * s}),
        ]
    )


def pattern_force(patterns: Patterns, lengths_m: Floats) -> Floats:
    """The whole force of each pattern (p, 3) [N]."""
    along = np.einsum("pni,n->pi", patterns.loads.spread_N_m, lengths_m)
    out: Floats = patterns.loads.nodal[:, :, :3].sum(axis=1) + along
    return out


def pattern_turn(patterns: Patterns, middles_m: Floats, nodes_m: Floats, lengths_m: Floats, y_m: float) -> Floats:
    """The moment of each pattern (p,) about a line along the bed on the rim at y [N·m]: positive turns +y up to +z."""
    nodal, spread = patterns.loads.nodal, patterns.loads.spread_N_m * lengths_m[:, None]
    y, z = nodes_m[:, 1] - y_m, nodes_m[:, 2]
    v, w = middles_m[:, 1] - y_m, middles_m[:, 2]
    at_nodes = np.einsum("pn,n->p", nodal[:, :, 2], y) - np.einsum("pn,n->p", nodal[:, :, 1], z)
    out: Floats = at_nodes + np.einsum("pn,n->p", spread[:, :, 2], v) - np.einsum("pn,n->p", spread[:, :, 1], w)
    return out
