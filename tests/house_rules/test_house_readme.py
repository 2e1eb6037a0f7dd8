"""The plan file shown in the README is a plan."""

from __future__ import annotations

import re

from clochewright.plan import plan_from_text


def test_the_plan_in_the_readme_is_read_without_a_mistake(repository):
    (text,) = re.findall(r"```toml\n(.*?)```", (repository / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert plan_from_text(text, "README.md").name == "Sorrel Yard, bed 7"
