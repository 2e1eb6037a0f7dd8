"""Where hands take hold: nodes of their own on the pipes, and the frame as hands hold it."""

from __future__ import annotations

from dataclasses import replace

from clochewright.frame import Frame, Pipe, Vec
from clochewright.lid import LidPlan
from clochewright.strength.model import HARDWARE_N_m, Model
from clochewright.strength.structure import Structure, Support

APART = 0.25  # two people carry: each with both hands, this share of the width to either side of the middle
HAND_TURN_Nm_rad = 50.0  # a grip steadies a pipe a little against turning: estimate, only so that nothing rolls


def grips(frame: Frame, lid: LidPlan) -> dict[str, tuple[str, Vec]]:
    """Places to hold, by name: "hand lift" is the middle of the rail that opens, "hand rail" of its longest pipe.

    "hand ridge" is the middle of the highest long pipe, "hand front a", "b" and "hand far a", "b" on the end rails.
    """
    found: dict[str, tuple[str, Vec]] = {}
    straight = [pipe for pipe in frame.pipes if pipe.shape == "straight" and pipe.ends[0].fitting is not None]
    open_side = -1.0 if (lid.hinges and lid.hinges[0].position_m[1] > 0) else 1.0
    rail = [pipe for pipe in straight if pipe.role == "side rail" and pipe.path_m[0][1] * open_side > 0]
    if rail and not lid.saddles:  # a frame that stays is strapped down, and nobody lifts it by its rail
        middle = min(rail, key=lambda pipe: abs(_middle(pipe)[0]))
        longest = max(rail, key=lambda pipe: pipe.cut_length_m)
        if not lid.hinged_at_end:
            found["hand lift"] = (middle.id, _nearest_to(middle, 0.0))
        if lid.hinged_at_end or longest.id != middle.id or abs(_middle(longest)[0]) > 0.02:
            found["hand rail"] = (longest.id, _middle(longest))
    tops = [pipe for pipe in straight if pipe.role in ("ridge", "eave rail", "crown bar")]
    if tops:
        high_m = max(_middle(pipe)[2] for pipe in tops)
        top = max((pipe for pipe in tops if _middle(pipe)[2] > high_m - 0.01), key=lambda pipe: pipe.cut_length_m)
        found["hand ridge"] = (top.id, _middle(top))
    for end, sign in (("front", -1.0), ("far", 1.0)):
        pipe = next((p for p in straight if p.role == "end rail" and p.path_m[0][0] * sign > 0), None)
        if pipe is not None:
            for name, share in (("a", 0.5 - APART), ("b", 0.5 + APART)):
                found[f"hand {end} {name}"] = (pipe.id, _along(pipe, share))
    return found


def with_hands(model: Model, frame: Frame) -> Model:
    """The model with a hand on a hoop's crown where there is no ridge, and on the rail's middle where both are one."""
    nodes = dict(model.node_of)
    if "hand ridge" not in nodes and model.crowns:
        nodes["hand ridge"] = model.crowns[len(model.crowns) // 2]
    if "hand rail" not in nodes and "hand lift" in nodes:
        nodes["hand rail"] = nodes["hand lift"]
    corners = [f for f in frame.fittings if f.role == "corner"]
    if corners and "hand lift" in nodes:
        side = model.structure.nodes_m[nodes["hand lift"]][1]
        mine = [f for f in corners if f.position_m[1] * side > 0]
        nodes["hand corner"] = nodes[min(mine, key=lambda f: f.position_m[0]).id]
    return replace(model, node_of=nodes)


def held_by(model: Model, hands: tuple[str, ...], hinged: bool) -> Structure | None:
    """The frame lifted off its rim by these hands, its hinges holding or not; None where there is no such place."""
    if any(hand not in model.node_of for hand in hands) or (hinged and not model.hinge_nodes):
        return None
    supports: list[Support] = []
    if hinged:
        supports += [Support(node, freedom, HARDWARE_N_m.value) for node in model.hinge_nodes for freedom in range(3)]
    for hand in hands:
        node = model.node_of[hand]
        supports.append(Support(node, 2))
        if not hinged:
            supports += [Support(node, freedom, 1e3) for freedom in (0, 1)]
            supports += [Support(node, freedom, HAND_TURN_Nm_rad) for freedom in (3, 4, 5)]
    return replace(model.structure, supports=tuple(supports), contacts=())


def _middle(pipe: Pipe) -> Vec:
    return _along(pipe, 0.5)


def _along(pipe: Pipe, share: float) -> Vec:
    a, b = pipe.path_m[0], pipe.path_m[-1]
    x, y, z = (one + share * (two - one) for one, two in zip(a, b, strict=True))
    return (x, y, z)


def _nearest_to(pipe: Pipe, x_m: float) -> Vec:
    """The place on a pipe along the bed nearest to x, a little in from its ends."""
    a, b = sorted((pipe.path_m[0][0], pipe.path_m[-1][0]))
    spare_m = min(0.06, (b - a) / 2)
    x = min(max(x_m, a + spare_m), b - spare_m)
    return (x, pipe.path_m[0][1], pipe.path_m[0][2])
