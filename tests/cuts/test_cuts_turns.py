"""Which sticks each step's pieces come off: no piece twice, none left, beginnings of sticks first."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from clochewright.cuts import CutList, FirstCut, Stick, Stock, off_sticks

KERF_M = 0.003


def stick(marks, origin="buy"):
    return Stick(3.0, origin, tuple((mark, 0.1) for mark in marks), 3.0 - len(marks) * (0.1 + KERF_M))


def cutlist(*sticks, firsts=()):
    return CutList((), {}, Stock(KERF_M, True, 0.0, 0.0, sticks), (), firsts, frozenset(), ())


def test_a_trial_takes_what_stands_first_on_its_stick_and_the_rest_comes_off_the_others():
    # by hand: D and F begin stick 2; a second D begins stick 3, which is bought; an F behind a C is left alone
    there = cutlist(stick("DD", "on-hand"), stick("DFF", "on-hand"), stick("DE"), stick("DE"), stick("CF"))
    first, rest = off_sticks(there, [{"D": 2, "F": 1}, {"C": 1, "D": 3, "E": 2, "F": 2}])
    assert first == {"D": (2, 3), "F": (2,)}
    assert rest == {"C": (5,), "D": (1, 4), "E": (3, 4), "F": (2, 5)}


def test_each_piece_that_comes_home_from_the_shop_has_a_beginning():
    # by hand: the shop saws AAB behind the A's, so that B begins a piece of its own; the other one lies behind a C
    sawn = FirstCut(0, (0.3,), (0.3, 2.7), (("A", "A"), ("B",)))
    there = cutlist(stick("AAB"), stick("CBB"), firsts=(sawn,))
    assert off_sticks(there, [{"B": 1}]) == ({"B": (1,)},)
    assert off_sticks(cutlist(stick("AAB"), stick("CBB")), [{"B": 1}]) == ({"B": (2,)},)


@given(st.lists(st.text("ABCD", min_size=1, max_size=6), min_size=1, max_size=6), st.data())
def test_two_turns_take_every_piece_once(sticks, data):
    there = cutlist(*(stick(marks, data.draw(st.sampled_from(["buy", "on-hand"]))) for marks in sticks))
    whole = Counter("".join(sticks))
    first = {mark: data.draw(st.integers(0, count)) for mark, count in whole.items()}
    rest = {mark: count - first[mark] for mark, count in whole.items()}
    turns = off_sticks(there, [first, rest])
    for mark, count in whole.items():
        on = {number for number, marks in enumerate(sticks, start=1) if mark in marks}
        told = [set(turn.get(mark, ())) for turn in turns]
        assert told[0] | told[1] == on
        # what a first turn leaves of a stick, and no more, is told in the second
        only_once = {number for number in on if sticks[number - 1].count(mark) == 1}
        assert not told[0] & told[1] & only_once
        assert bool(told[0]) == (first[mark] > 0)
        assert bool(told[1]) == (count > first[mark])
