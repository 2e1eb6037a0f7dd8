"""A plan as plain SI values, for the result file and for what-if runs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from clochewright.errors import Mistake, PlanError
from clochewright.plan.model import Plan
from clochewright.plan.paths import followed, put
from clochewright.plan.read import plan_from_si


def plan_as_si(plan: Plan) -> dict[str, Any]:
    """What was asked, defaults filled in: JSON-ready, SI, the unit at each key's end, in the model's order."""
    return plan.model_dump(mode="json")


def plan_with(plan: Plan, changes: Sequence[tuple[str, Any]]) -> Plan:
    """The plan with some values changed, checked anew.

    Args:
        plan: The plan to start from; it stays as it is.
        changes: Key paths (as in the file, or by attribute) and values, as text with a unit or in SI; None goes back
            to the default.

    Raises:
        PlanError: There is no such key, or the changed plan has mistakes.
    """
    values = plan_as_si(plan)
    for path, value in changes:
        loc = followed(Plan, path, by_attribute=True)
        try:
            put(values, loc, value)
        except (LookupError, TypeError):
            raise PlanError((Mistake(path, "this plan has no such place.", "Count list entries from 0."),)) from None
    return plan_from_si(values)
