"""Assembly: the order a frame goes together in and comes apart, and how it is stored."""

from clochewright.assembly.judging import Judge
from clochewright.assembly.naming import fitting_name
from clochewright.assembly.planning import plan_assembly
from clochewright.assembly.springing import Opened, Opener, Opening
from clochewright.assembly.types import (
    NO_ORDER,
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
    "NO_ORDER",
    "AssemblyPlan",
    "Count",
    "Diagonals",
    "Jig",
    "Judge",
    "Move",
    "Opened",
    "Opener",
    "Opening",
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
    "fitting_name",
    "plan_assembly",
]
