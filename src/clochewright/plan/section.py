"""What every table of the plan file has in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A table of the plan file: unknown keys are mistakes, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)
