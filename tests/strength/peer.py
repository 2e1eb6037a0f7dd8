"""The same frame in PyNiteFEA, an independent frame program: no end springs, no stiff arms there, so none here."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import numpy as np
from plans import random_plan
from Pynite import FEModel3D

from clochewright.catalogue import load_catalogue, pipe_section
from clochewright.frame import raise_frame
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from clochewright.strength.model import model_frame, shear_modulus
from clochewright.strength.structure import Loads

FREEDOMS = ("DX", "DY", "DZ", "RX", "RY", "RZ")
CATALOGUE = load_catalogue()
E_PA = 2.76e9


def random_structures(seed, count, shapes):
    """Frames of random plans as bare centre lines on one-way rims, hinged and latched, their joints stiff."""
    draw = random.Random(seed)
    found = []
    while len(found) < count:
        plan = plan_from_si(random_plan(draw, (shapes[len(found) % len(shapes)],)))
        frame = raise_frame(plan, CATALOGUE)
        row = CATALOGUE.find_pipe(plan.pipe.size)
        if not frame.stands or row.wall is None or plan.cover.sections > 1:
            continue
        section = pipe_section(row.outside_diameter.value, row.wall.value)
        model = model_frame(
            frame, hang_lid(frame, plan), choose_joints(frame, plan), section, E_PA, shear_modulus(E_PA)
        )
        found.append(bare(model.structure))
    return found


def bare(structure):
    """Without stiff arms and end springs."""
    members = structure.members
    none, stiff = np.zeros_like(members.start_arm_m), np.full(len(members), np.inf)
    plain = replace(members, start_arm_m=none, stop_arm_m=none, start_spring_Nm_rad=stiff, stop_spring_Nm_rad=stiff)
    return replace(structure, members=plain)


def random_loads(structure, seed, patterns=3):
    """Loads as big as garden loads, on every node and member, in all directions."""
    draw = np.random.default_rng(seed)
    nodes, members = len(structure.nodes_m), len(structure.members)
    nodal = draw.uniform(-5.0, 5.0, (patterns, nodes, 6)) * [1, 1, 1, 0.1, 0.1, 0.1]
    return Loads(nodal, draw.uniform(-20.0, 20.0, (patterns, members, 3)))


def in_pynite(structure, loads, pieces=1):
    """The model with each pattern as a load combination "0", "1", ...; members cut into so many pieces."""
    model = FEModel3D()
    members = structure.members
    E, G = float(members.E_Pa[0]), float(members.G_Pa[0])
    model.add_material("pipe", E, G, 0.4, 0.0)
    model.add_section("pipe", float(members.area_m2[0]), *[float(members.I_m4[0])] * 2, float(members.J_m4[0]))
    for i, point in enumerate(structure.nodes_m):
        model.add_node(f"N{i}", *map(float, point))
    for i in range(len(members)):
        a, b = structure.nodes_m[members.start[i]], structure.nodes_m[members.stop[i]]
        names = [f"N{members.start[i]}"]
        for k in range(1, pieces):
            names.append(model.add_node(f"M{i}-{k}", *map(float, a + (b - a) * k / pieces)))
        names.append(f"N{members.stop[i]}")
        for k, (one, two) in enumerate(pairwise(names)):
            model.add_member(f"M{i}" if pieces == 1 else f"M{i}/{k}", one, two, "pipe", "pipe")
            for p in range(len(loads)):
                for way, value in zip(("FX", "FY", "FZ"), loads.spread_N_m[p, i], strict=True):
                    if value:
                        name = f"M{i}" if pieces == 1 else f"M{i}/{k}"
                        model.add_member_dist_load(name, way, float(value), float(value), case=str(p))
    for support in structure.supports:
        node, way = f"N{support.node}", FREEDOMS[support.freedom]
        if np.isinf(support.stiffness_N_m):
            setattr(model.nodes[node], f"support_{way}", True)
        else:
            model.def_support_spring(node, way, support.stiffness_N_m)
    for contact in structure.contacts:
        way = "-" if contact.sign > 0 else "+"
        model.def_support_spring(f"N{contact.node}", FREEDOMS[contact.freedom], contact.stiffness_N_m, way)
    for p in range(len(loads)):
        for i, row in enumerate(loads.nodal[p]):
            for way, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), row, strict=True):
                if value:
                    model.add_node_load(f"N{i}", way, float(value), case=str(p))
        model.add_load_combo(str(p), {str(p): 1.0})
    return model


def node_moves(model, structure, combo):
    """Movements (nodes, 6)."""
    names = [f"N{i}" for i in range(len(structure.nodes_m))]
    return np.array([[getattr(model.nodes[name], way)[combo] for way in FREEDOMS] for name in names])


def reactions(model, structure, combo):
    """Reactions (nodes, 6)."""
    ways = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    names = [f"N{i}" for i in range(len(structure.nodes_m))]
    return np.array([[getattr(model.nodes[name], way)[combo] for way in ways] for name in names])
