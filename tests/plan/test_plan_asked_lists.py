"""Lists as they are typed into one field."""

from __future__ import annotations

import pytest

from clochewright.plan import ask, plan_from_text, rewrite, typed

BED = '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'


@pytest.mark.parametrize(
    ("path", "text", "values"),
    [
        ("grow.crops", "lettuce, tomato ,", ["lettuce", "tomato"]),
        ("site.normals.high", "0, 1.5, -7, 14 C", ["0 C", "1.5 C", "-7 C", "14 C"]),
        ("site.normals.high", "32 F, 1.5, 14 C", ["32 F", "1.5 C", "14 C"]),
        ("site.normals.sun", "1,2,3h", ["1h", "2h", "3h"]),
        ("site.normals.high", "0, 1", ["0", "1"]),  # no unit to share: refused by the plan, which says so
        ("stock.sticks", "8, 10 ft", ["8 ft", "10 ft"]),
        ("stock.sticks", "8 ft 6 in, 10 ft", ["8 ft 6 in", "10 ft"]),
    ],
)
def test_a_list_in_which_only_the_last_has_a_unit_has_it_throughout(path, text, values):
    assert typed(path, text) == values


def test_lists_are_shown_as_they_are_typed_and_read_back():
    plan = plan_from_text(BED)
    asked = ask(plan, "grow.crops", "inch")
    assert (asked.control, asked.example, asked.text) == ("list", "lettuce, tomato", "")
    example = ask(plan, "site.normals.high", "inch").example
    assert example.startswith("0, 1.5, 7, ")
    assert len(typed("site.normals.high", example)) == 12
    text = rewrite(BED, [("grow.crops", typed("grow.crops", "peas, kale"))])
    assert ask(plan_from_text(text), "grow.crops", "inch").text == "peas, kale"
