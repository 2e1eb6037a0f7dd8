"""The plan's JSON Schema, for editors that check and complete a plan while it is being written."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from clochewright.plan.keys import keys_of
from clochewright.plan.model import Plan

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def plan_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a plan as it stands in the file: sizes are text, defaults as well."""
    made = Plan.model_json_schema(by_alias=True)
    tables = made.get("$defs", {})
    for section in _sections(Plan):
        _as_in_the_file(section, tables[section.__name__] if section is not Plan else made)
    return {"$schema": DIALECT, **made, "title": "Plan of a bed cover"}


def _sections(model: type[BaseModel]) -> set[type[BaseModel]]:
    found = {model}
    for key in keys_of(model).values():
        if key.section is not None and key.section not in found:
            found |= _sections(key.section)
    return found


def _as_in_the_file(section: type[BaseModel], schema: dict[str, Any]) -> None:
    """Puts defaults as text, and takes away what TOML can't say: null, and sections given as values."""
    for key in keys_of(section).values():
        told = schema["properties"][key.name]
        options = [option for option in told.pop("anyOf", []) if option != {"type": "null"}]
        if len(options) == 1:
            told.update(options[0] | told)
        elif options:
            told["anyOf"] = options
        default = told.pop("default", None)
        if key.quantity is not None and isinstance(default, (int, float)):
            told["default"] = key.quantity.write(default, "inch")
        elif key.section is None and default not in (None, []):
            told["default"] = default
