"""What the lid weighs, part by part, and where it balances."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clochewright.findings import Finding
from clochewright.frame import Vec, is_panel
from clochewright.sources import Cited


@dataclass(frozen=True, slots=True)
class BodyWeight:
    """One body: its mass with its band [kg] and its centre of gravity while it is shut [m]."""

    mass_kg: Cited
    centre_m: Vec


@dataclass(frozen=True, slots=True)
class Weights:
    """Masses with their bands [kg] and the lid's centre of gravity `centre_m`, in the frame's axes [m].

    `frame_kg` is pipe and fittings together; `fitting_kg` is the mass of one fitting, by kind; `bodies` what each body
    that opens weighs, by its id, and where panels open, the frame that stays as well.
    """

    pipe_kg: Cited
    fittings_kg: Cited
    film_kg: Cited
    lath_kg: Cited
    hardware_kg: Cited
    centre_m: Vec
    fitting_kg: Mapping[str, Cited] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    bodies: Mapping[str, BodyWeight] = field(default_factory=dict)

    @property
    def frame_kg(self) -> Cited:
        """Pipe and fittings [kg]."""
        return total((self.pipe_kg, self.fittings_kg))

    @property
    def lid_kg(self) -> Cited:
        """Everything that is lifted [kg]."""
        return total((self.pipe_kg, self.fittings_kg, self.film_kg, self.lath_kg, self.hardware_kg))

    @property
    def panel_kg(self) -> Cited | None:
        """The heaviest panel, where panels open and not the whole cover [kg]."""
        panels = [body.mass_kg for name, body in self.bodies.items() if is_panel(name)]
        return max(panels, key=lambda mass: mass.value, default=None)


def total(masses: tuple[Cited, ...]) -> Cited:
    """Sum of masses; bands are added as if all erred the same way, the grade is the weakest of them."""
    order = list(type(masses[0].grade))
    weakest = max(masses, key=lambda mass: order.index(mass.grade))
    return Cited(
        sum(mass.value for mass in masses),
        sum(mass.low for mass in masses),
        sum(mass.high for mass in masses),
        weakest.grade,
        weakest.source,
    )


def times(each: Cited, count: float) -> Cited:
    """So many of one cited value."""
    return Cited(each.value * count, each.low * count, each.high * count, each.grade, each.source)
