"""What shut steps hold comes a moment after an edit, or when they are opened; what stands in sight comes with it."""

from __future__ import annotations

import re
import time

from page_server import DEMO, SCRIPTED, pieces_of, state_of

SHEET = f"/plan/{DEMO}"
SHUT = "shape film lid cuts"


def edit(site, way="set", /, **form):
    if "state" not in form:
        form["state"] = state_of(site.get(SHEET).text)
    return site.post(f"{SHEET}/{way}", data=form, headers=SCRIPTED).text


def due_in(answer):
    return set(re.search(r'data-due="([^"]*)"', answer).group(1).split())


def test_what_is_shut_is_told_to_be_due_and_comes_when_it_is_asked_for(own_site):
    answer = edit(own_site, path="bed.length", value="9 ft", shut=SHUT)
    assert due_in(answer) >= {"body-shape", "body-film", "body-lid"}
    assert not pieces_of(answer) & due_in(answer)
    assert {"gist-bed", "gist-film", "body-bed", "flat"} <= pieces_of(answer)
    due = " ".join(name.removeprefix("body-") for name in due_in(answer))
    rest = own_site.get(f"{SHEET}/rest", params={"state": state_of(answer), "due": due}, headers=SCRIPTED).text
    assert pieces_of(rest) >= due_in(answer)
    assert "data-due" not in rest
    whole = own_site.get(SHEET).text
    for name in due_in(answer):
        body = rest.replace(' hx-swap-oob="true"', "").partition(f'<div id="{name}"')[2].partition('\n<div id="')[0]
        assert len(body) > 20
        assert body.strip() in whole


def test_the_cut_list_comes_at_once_even_so(own_site):
    answer = edit(own_site, path="bed.length", value="9 ft", shut=SHUT)
    assert "body-cuts" in pieces_of(answer)
    assert "body-cuts" not in due_in(answer)


def test_a_step_that_was_opened_in_between_comes_with_the_next_edit(own_site):
    first = edit(own_site, path="bed.length", value="9 ft", shut="film lid")
    second = edit(own_site, path="name", value="Bed 5", state=state_of(first), shut="film", due="film lid")
    assert "body-lid" in pieces_of(second)
    assert due_in(second) == {"body-film"}


def test_what_is_due_is_asked_for_even_when_nothing_is_worked_out_any_more(own_site):
    for _ in range(300):
        if f"{SHEET}/rest" not in own_site.get(SHEET).text:
            break
        time.sleep(0.1)
    edit(own_site, path="bed.length", value="9 ft", shut=SHUT)
    back = edit(own_site, "undo", shut=SHUT)
    assert "<progress" not in back
    assert due_in(back)
    assert f"{SHEET}/rest" in back


def test_what_is_told_with_something_wrong_is_known_afterwards(own_site):
    first = state_of(own_site.get(SHEET).text)
    own_site.post(f"{SHEET}/set", data={"path": "bed.length", "value": "9 ft"})  # the plan moves on, seen by nobody
    wrong = edit(own_site, path="bed.width", value="wide", state=first)
    assert {"field-bed-length", "field-bed-width", "name"} & pieces_of(wrong) == {"field-bed-length", "field-bed-width"}
    then = edit(own_site, path="bed.board", value="2 in", state=state_of(wrong))
    told = {name for name in pieces_of(then) if name.startswith("field")}
    assert told == {"field-bed-board"}  # others, sent again, would take away what is told wrong


def test_steps_that_are_none_are_passed_over(own_site):
    answer = edit(own_site, path="bed.length", value="9 ft", shut="nonsense <b> lid", due="nowhere")
    assert due_in(answer) == {"body-lid"}
