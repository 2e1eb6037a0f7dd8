"""How quickly strength is worked out, beside PyNiteFEA on the same frame in the same run."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

HERE = Path(__file__).parents[1]
sys.path[:0] = [str(HERE / "tests" / "strength"), str(HERE / "tests" / "properties")]

import asking  # noqa: E402
import peer  # noqa: E402

from clochewright.job import open_shelf, with_changes  # noqa: E402
from clochewright.job import run as run_job  # noqa: E402
from clochewright.plan import read_plan  # noqa: E402
from clochewright.strength import prove  # noqa: E402
from clochewright.strength.contact import open_contacts  # noqa: E402
from clochewright.strength.solver import prepare, respond  # noqa: E402
from clochewright.strength.spans import along_members  # noqa: E402

CASES, PLACES = 6, 9


@pytest.fixture(scope="module")
def barn():
    """A barn on its one-way rim under six cases."""
    (structure,) = peer.random_structures(4, 1, ("barn",))
    return structure, peer.random_loads(structure, 1, CASES)


def ours(structure, loads):
    """Six cases with one-way supports, moments and deflections at nine places of every member."""
    prepared = prepare(structure)
    found = respond(prepared, loads)
    EI = structure.members.E_Pa * structure.members.I_m4
    out = []
    for case in np.eye(CASES):
        weights = open_contacts(found, case).weights
        parts = (np.tensordot(weights, a, 1) for a in (found.own_ends, found.end_forces, found.spread))
        out.append(along_members(*parts, prepared.shape.length_m, EI))
    return out


def theirs(structure, loads):
    """The same by PyNiteFEA, its own arrays along each member."""
    model = peer.in_pynite(structure, loads)
    model.analyze(check_stability=False)
    out = []
    for member in model.members.values():
        for case in range(CASES):
            combo = str(case)
            out.append(
                [
                    member.moment_array("My", PLACES, combo),
                    member.moment_array("Mz", PLACES, combo),
                    member.axial_array(PLACES, combo),
                    member.deflection_array("dy", PLACES, combo),
                    member.deflection_array("dz", PLACES, combo),
                ]
            )
    return out


@pytest.mark.benchmark(group="six load cases")
def test_six_cases(told, barn):
    bench = told("six load cases, forces and deflections", target_s=0.03)
    assert len(bench.pedantic(ours, barn, rounds=9, warmup_rounds=2)) == CASES


@pytest.mark.benchmark(group="six load cases")
def test_six_cases_peer(told, barn):
    bench = told("the same by PyNiteFEA", peer_of="six load cases, forces and deflections")
    bench.pedantic(theirs, barn, rounds=3, warmup_rounds=1)


@pytest.mark.benchmark(group="strength")
@pytest.mark.parametrize("path", asking.EXAMPLES, ids=lambda path: path.stem)
def test_strength_of_an_example(told, path):
    bench = told(f"strength, {path.stem}", target_s=0.4)
    asked = asking.ask(read_plan(path))
    assert bench.pedantic(prove, (asked,), rounds=3, warmup_rounds=1).limits


FOUR = [path for path in asking.EXAMPLES if "panel" not in path.stem]


@pytest.mark.benchmark(group="strength, all of it")
@pytest.mark.parametrize("path", FOUR, ids=lambda path: path.stem)
def test_limits_changes_and_reach_of_an_example(told, path):
    bench = told(f"limits, changes, reach, {path.stem}", target_s=1.0)
    plan = read_plan(path)
    shelf = open_shelf(plan, path.parent)
    job, asked = run_job(plan, *shelf), asking.ask(plan)

    def whole():
        assert prove(asked).limits
        return with_changes(job, *shelf)

    assert bench.pedantic(whole, rounds=3, warmup_rounds=1).made.strength.limit("width")
