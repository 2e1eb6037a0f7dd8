"""Every order can be done: an independent checker that knows only ports, parts and moves."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from assembly_making import EXAMPLES, assembled
from order_checker import faults

from clochewright.catalogue import load_catalogue
from clochewright.errors import CatalogueError
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si, plan_with, read_plan
from properties.plans import SHAPES, random_plan

WISHES = ("knock-down", "few-screws", "one-piece", "no-cement")
SPACES = (None, (1.6, 0.9, 0.4), (2.5, 1.3, 0.25))


def wrong(frame, joints, plan):
    return list(faults(frame, joints, [part.ids for part in joints.parts], plan.moves))


@pytest.mark.parametrize("wish", WISHES)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_go_together(path, wish):
    frame, joints, plan = assembled(plan_with(read_plan(path), [("store.wish", wish)]))
    assert plan.goes_together
    assert not wrong(frame, joints, plan)
    closed = [joint for move in plan.moves for joint in move.joints]
    assert sorted(closed) == sorted(joint.id for joint in joints.joints)
    if frame.hoop is None:
        assert {move.kind for move in plan.moves} <= {"slide", "turn"}


def random_case(draw, shape):
    """A random plan with a random wish, and its frame if it stands."""
    tables = random_plan(draw, (shape,))
    tables["store"] = {"wish": draw.choice(WISHES)}
    space = draw.choice(SPACES)
    if space is not None:
        tables["store"] |= dict(zip(("length_m", "depth_m", "height_m"), space, strict=True))
    plan = plan_from_si(tables)
    try:
        own = [one.model_dump() for one in plan.own.fittings]
        catalogue = load_catalogue(own_fittings=own, pipe=plan.pipe.size)
        frame = raise_frame(plan, catalogue)
    except CatalogueError:
        return None
    return (plan, catalogue) if frame.stands else None


def check_random(seed, shape, count):
    draw = random.Random(f"{seed} {shape}")
    done = 0
    while done < count:
        case = random_case(draw, shape)
        if case is None:
            continue
        frame, joints, plan = assembled(*case)
        assert plan.goes_together, (case[0], plan.findings)
        assert not wrong(frame, joints, plan), case[0]
        if frame.hoop is None:
            assert {move.kind for move in plan.moves} <= {"slide", "turn"}
        done += 1


@pytest.mark.parametrize("shape", SHAPES)
def test_random_plans_go_together(shape):
    check_random("orders", shape, 8)


@pytest.mark.slow
@pytest.mark.parametrize("shape", SHAPES)
def test_two_thousand_random_plans_go_together(shape):
    check_random("many orders", shape, 400)


def broken(draw, moves):
    """An order spoilt in one of many ways, each of which makes it impossible; and which way."""
    moves = list(moves)
    slides = [i for i, move in enumerate(moves) if move.kind in ("slide", "spring-in")]
    at = draw.choice(slides)
    move = moves[at]
    how = draw.choice(("backwards", "left out", "too early", "a piece short", "a joint short", "sideways", "twice"))
    if how == "backwards":
        moves[at] = replace(move, axis=tuple(-x for x in move.axis))
    elif how == "left out":
        del moves[at]
    elif how == "too early":
        later = [i for i in slides if i > at and set(move.moving) <= {*moves[i].moving, *moves[i].onto}]
        if not later:
            return None
        moves[at], moves[later[0]] = moves[later[0]], moves[at]
    elif how == "a piece short":
        shorter = draw.sample(move.onto, len(move.onto) - 1)
        moves[at] = replace(move, onto=tuple(shorter))
    elif how == "a joint short":
        moves[at] = replace(move, joints=move.joints[1:])
    elif how == "sideways":
        x, y, z = move.axis
        moves[at] = replace(move, axis=(y, z, x) if abs(x - y) + abs(y - z) > 1e-6 else (x, -y, z))
    else:
        moves.insert(at, move)
    return how, moves


def test_two_hundred_broken_orders_are_refused():
    draw = random.Random("broken")
    made = [assembled(plan_with(read_plan(path), [("store.wish", wish)])) for path in EXAMPLES for wish in WISHES[::3]]
    # a hoop's own way in is as it likes, so only orders of straight pipe are spoilt by their axis
    straight = [one for one in made if one[0].hoop is None]
    ways, refused = set(), 0
    while refused < 200:
        frame, joints, plan = draw.choice(straight)
        spoilt = broken(draw, plan.moves)
        if spoilt is None:
            continue
        how, moves = spoilt
        assert list(faults(frame, joints, [part.ids for part in joints.parts], moves)), how
        ways.add(how)
        refused += 1
    assert len(ways) == 7


def test_taking_down_is_the_order_backwards():
    """Slides and turns undone in reverse: each group that came on as one comes off as one."""
    *_, plan = assembled(read_plan(EXAMPLES[0]))
    undone = [taking.undoes for taking in plan.down]
    assert undone == sorted(undone, reverse=True)
    assert {step.number for step in plan.steps if step.kind in ("assemble", "screw")} == set(undone)


def test_the_frame_s_axes_are_never_mixed_up():
    """The checker itself: a pipe that goes in from the wrong side of its socket is seen."""
    frame, joints, plan = assembled(read_plan(EXAMPLES[0]))
    first = next(i for i, move in enumerate(plan.moves) if move.kind == "slide")
    flipped = replace(plan.moves[first], axis=tuple(-x for x in plan.moves[first].axis))
    moves = [*plan.moves[:first], flipped, *plan.moves[first + 1 :]]
    assert any("along its axis" in fault for fault in faults(frame, joints, [], moves))
