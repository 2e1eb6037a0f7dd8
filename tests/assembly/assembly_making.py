"""Assembly plans of any frame, for the tests: everything but the order is as plain as can be."""

from __future__ import annotations

from pathlib import Path

from clochewright.assembly import Judge, plan_assembly
from clochewright.catalogue import load_catalogue
from clochewright.cuts import cut_lengths
from clochewright.frame import raise_frame
from clochewright.job.assembling import opener_for
from clochewright.joints import choose_joints
from clochewright.lid import LidPlan
from clochewright.plan import plan_from_si, read_plan
from clochewright.sources import Cited, Grade
from clochewright.weights import Weights

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("sorrel-yard-*.toml"))
NO_LID = LidPlan(((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), (), (), ())
KG = Cited(1.0, 0.9, 1.1, Grade.ESTIMATE, "made up")
CATALOGUE = load_catalogue()


def weights_of(frame):
    """One kilogram for everything: these tests don't weigh."""
    return Weights(KG, KG, KG, KG, KG, (0.0, 0.0, 0.0), {fitting.kind: KG for fitting in frame.fittings})


def assembled(plan, catalogue=CATALOGUE):
    """Frame, joints and assembly plan; the frame stands."""
    frame = raise_frame(plan, catalogue)
    assert frame.stands, frame.findings
    return frame, *assembled_frame(frame, plan, catalogue)


def assembled_frame(frame, plan, catalogue=CATALOGUE):
    """Joints and assembly plan of a frame."""
    joints = choose_joints(frame, plan, judge=Judge(frame))
    opener = opener_for(frame, joints, catalogue.find_pipe(plan.pipe.size))
    marks = cut_lengths(frame, plan.units)[1]
    return joints, plan_assembly(frame, plan, joints, NO_LID, weights_of(frame), catalogue, marks, opener)


def example(name):
    """The plan of that example."""
    return read_plan(next(path for path in EXAMPLES if name in path.stem))


def si(**tables):
    """A plan in SI."""
    return plan_from_si(tables)
