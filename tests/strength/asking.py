"""What the strength step is asked about, made of a plan by the steps before it."""

from __future__ import annotations

from pathlib import Path

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.frame import raise_frame
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si, read_plan
from clochewright.strength import Asked
from clochewright.weights import weigh

CATALOGUE = load_catalogue()
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("sorrel-yard-*.toml"))


def ask(plan, **more):
    """Everything up to the weights, of a plan whose frame stands."""
    frame = raise_frame(plan, CATALOGUE)
    assert frame.stands
    pipe = CATALOGUE.find_pipe(plan.pipe.size)
    lid, joints = hang_lid(frame, plan), choose_joints(frame, plan)
    film = cut_sheet(frame, plan, CATALOGUE, lid)
    weights = weigh(frame, film, lid, joints, CATALOGUE, pipe)
    return Asked(frame, plan, lid, joints, film, weights, pipe, {}, **more)


def ask_si(**tables):
    """The same for a plan in SI."""
    return ask(plan_from_si(tables))


def example(name):
    """The example of that name."""
    return ask(read_plan(next(path for path in EXAMPLES if path.stem.endswith(name))))
