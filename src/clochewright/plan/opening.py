"""What opens, who opens it, and what keeps it down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from pydantic import Field
from typing_extensions import override

from clochewright.measures import Units, read_force, read_mass, show_force, show_mass
from clochewright.plan.fields import AngleField, Clearance
from clochewright.plan.measured import Measured
from clochewright.plan.panel import Opens
from clochewright.plan.section import Section

BedSide = Literal["left", "right", "front", "far"]
Posture = Literal["standing", "seated", "one-hand"]
ReachFrom = Literal["opening-side", "hinge-side", "left", "right", "front", "far"]
Behind = Literal["free", "path", "wall"]
HeldBy = Literal["straps", "weights", "nothing-more"]

WEAK_GRIP_N = 22.24  # 5 lbf: ADA standards for accessible design 2010, 309.4, operable parts


@dataclass(frozen=True)
class ForceField(Measured):
    """A force of a hand [N], over 0 and up to `most_N`."""

    examples: tuple[str, ...] = ("5 lbf", "22 N")
    most_N: float = 1000.0

    thing: ClassVar[str] = "force"
    unit: ClassVar[str] = "N"
    same: ClassVar[float] = 1e-4

    @override
    def measure(self, text: str) -> float:
        return float(read_force(text))

    @override
    def tell(self, value: float, units: Units) -> str:
        return show_force(value, units)

    @override
    def fits(self, value: float) -> bool:
        return 0 < value <= self.most_N

    @override
    def refused(self) -> tuple[str, str]:
        return "no force of a hand", f"Give over 0 and up to {self.most_N:g} N."


@dataclass(frozen=True)
class MassField(Measured):
    """A weight [kg], over 0 and up to `most_kg`."""

    examples: tuple[str, ...] = ("33 lb", "15 kg")
    most_kg: float = 500.0

    thing: ClassVar[str] = "weight"
    unit: ClassVar[str] = "kg"
    decimals: ClassVar[str] = ".9g"

    @override
    def measure(self, text: str) -> float:
        return float(read_mass(text))

    @override
    def tell(self, value: float, units: Units) -> str:
        return show_mass(value, units)

    @override
    def fits(self, value: float) -> bool:
        return 0 < value <= self.most_kg

    @override
    def refused(self) -> tuple[str, str]:
        return "no weight to lay on it", f"Give up to {self.most_kg:g} kg."


OpenAngle = Annotated[float, AngleField(examples=("60 deg", "40 deg"), most_deg=120.0)]
HandForce = Annotated[float, ForceField()]
LaidMass = Annotated[float, MassField()]
WeightCount = Annotated[int, Field(strict=True, ge=0, le=200)]


class Lid(Section):
    """What opens and where, who opens it, and what is behind it."""

    opens: Opens = Field(
        "cover",
        description="What opens: the whole cover; halves, two lids end to end on one bed; a roof side of a tent, barn "
        "or own profile, or the slope of a lean-to, as a panel on a frame that stays.",
    )
    hinge_side: BedSide = Field("left", description="Side the hinges are on, seen from the front end.")
    open_deg: OpenAngle = Field(60.0, alias="open", description="How far it is propped open at its widest, from shut.")
    openings: tuple[OpenAngle, ...] = Field(
        (),
        examples=[["20 deg", "40 deg"]],
        description="Openings less than the widest that the bar gets holes for; a third and two thirds if left out.",
    )
    opened_by: Posture = Field(
        "standing", description="Who opens it: standing, seated (a chair or a wheelchair), or one-hand."
    )
    reach_from: ReachFrom = Field(
        "opening-side", description="Where they reach it from: the side that opens, the hinge-side, or a named side."
    )
    force_limit_N: HandForce = Field(
        WEAK_GRIP_N, alias="force_limit", description="The most a hand is to lift; 5 lbf (22 N) suits a weak grip."
    )
    behind: Behind = Field("free", description="What is behind the hinges: free ground, a path, or a wall.")
    behind_distance_m: Clearance = Field(
        0.6096, alias="behind_distance", description="How far the path or the wall is from the outside of the bed."
    )


class HoldDown(Section):
    """What keeps the shut cover down in wind, besides hinges and latches."""

    by: HeldBy = Field("straps", description="straps over it, loose weights laid on its rails, or nothing-more.")
    weights: WeightCount = Field(0, description="How many loose weights.")
    weight_kg: LaidMass = Field(15.0, alias="weight", description="What each of them weighs.")
