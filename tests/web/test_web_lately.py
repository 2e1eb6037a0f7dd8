"""What the page keeps of what it made lately."""

from __future__ import annotations

from clochewright.web.lately import Lately


def test_what_was_asked_for_longest_ago_goes_first():
    lately = Lately(2)
    lately.put("rail", 1)
    lately.put("post", 2)
    assert lately.get("rail") == 1
    lately.put("stub", 3)
    assert [lately.get(name) for name in ("rail", "post", "stub")] == [1, None, 3]


def test_a_thing_is_made_once():
    lately, made = Lately(2), []
    for _ in range(3):
        lately.made("rail", lambda: made.append("rail") or len(made))
    assert made == ["rail"]
    assert lately.take("rail") == 1
    assert lately.get("rail") is None
