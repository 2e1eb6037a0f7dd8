"""Assembly: the order a frame goes together in and comes apart, and how it is stored."""

from clochewright.assembly.types import (
    AssemblyPlan,
    Count,
    Diagonals,
    Jig,
    Move,
    Packed,
    Packing,
    ScrewPlace,
    Screws,
    Spring,
    Step,
    StoredPart,
    Taking,
    Times,
    Way,
)

__all__ = [
    "AssemblyPlan",
    "Count",
    "Diagonals",
    "Jig",
    "Move",
    "Packed",
    "Packing",
    "ScrewPlace",
    "Screws",
    "Spring",
    "Step",
    "StoredPart",
    "Taking",
    "Times",
    "Way",
]
