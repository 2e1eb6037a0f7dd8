"""What is added to a built cover changes its model as it should."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from asking import ask_si, example

from clochewright.strength import Extras
from clochewright.strength.hands import held_by
from clochewright.strength.material import GUST_S, ROOM_DEGC
from clochewright.strength.resistance import how_fixed
from clochewright.strength.shares import movements, share_out
from clochewright.strength.study import study


def studied(asked, **extras):
    return study(replace(asked, extras=Extras(**extras)))


def test_two_more_latches_hold_two_more_places():
    asked = example("bed-4")
    plain, more = studied(asked), studied(asked, latches=2)
    assert len(more.solved.model.latch_nodes) == len(plain.solved.model.latch_nodes) + 2


def test_limits_take_the_bolts_that_the_lid_is_told_to_have():
    """A pipe's thin wall holds no screw well (Lincoln, Gomes & Braden): what is bolted is reckoned as bolted."""
    asked = example("bed-4")
    assert how_fixed(asked.pipe) == "bolts"
    assert studied(asked).bears(ROOM_DEGC, GUST_S).hinge == studied(asked, bolts=True).bears(ROOM_DEGC, GUST_S).hinge


def test_bolts_bear_more_than_screws():
    asked = example("bed-4")
    wall = replace(asked.pipe.wall, value=0.010, low=0.010, high=0.010)
    asked = replace(asked, pipe=replace(asked.pipe, wall=wall))  # a wall in which a screw holds
    assert how_fixed(asked.pipe) == "screws"
    screws = studied(asked).bears(ROOM_DEGC, GUST_S).hinge
    bolts = studied(asked, bolts=True).bears(ROOM_DEGC, GUST_S).hinge
    assert bolts.pipe_N > 2 * screws.pipe_N
    assert bolts.pull_N == screws.pull_N  # the board is the same


def test_straps_hold_down_and_do_not_hold_up():
    """Lifted at its ridge the strapped cover gives less; pressed, neither strap helps."""
    asked = example("bed-4")
    plain, strapped = studied(asked), studied(asked, straps=2)

    def rise(one, force_N):
        moves = movements(one.solved, one.patterns.mix({"own": 1.0, "hand ridge": -force_N}), ())
        return float(moves[one.solved.model.node_of["hand ridge"], 2])

    assert 0 < rise(strapped, 200.0) < rise(plain, 200.0)
    assert np.isclose(rise(strapped, -200.0), rise(plain, -200.0), rtol=1e-3)


def test_diagonals_stop_a_frame_that_leans_along_the_bed():
    """Pushed at its end, a cover with diagonals leans less."""
    asked = ask_si(bed={"length_m": 2.4, "width_m": 1.2}, cover={"bents": 3})

    def lean(one):
        moves = movements(one.solved, one.patterns.mix({"own": 1.0, "front": 200.0}), ())
        return float(np.abs(moves[:, 0]).max())

    assert lean(studied(asked, diagonals=True)) < 0.6 * lean(studied(asked))


def test_lifted_by_hands_it_hangs_on_hands_and_hinges():
    one = studied(example("bed-4"))
    lifted = held_by(one.solved.model, ("hand lift",), hinged=True)
    assert lifted is not None
    assert not lifted.contacts
    nodes = {support.node for support in lifted.supports}
    assert one.solved.model.node_of["hand lift"] in nodes
    assert set(one.solved.model.hinge_nodes) <= nodes
    assert held_by(one.solved.model, ("no such place",), hinged=True) is None


def test_shares_grow_with_load():
    one = studied(example("wall-bed"))
    bears = one.bears(ROOM_DEGC, GUST_S)
    cases = [one.patterns.mix({"own": 1.0, "snow": s}) for s in (100.0, 200.0, 400.0)]
    most = share_out(one.solved, cases, bears).most
    assert (np.diff(most) > 0).all()
