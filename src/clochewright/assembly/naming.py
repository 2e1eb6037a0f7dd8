"""What parts, pipes and ways are called."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from clochewright.assembly.types import Count
from clochewright.findings import word
from clochewright.frame import Frame, Vec
from clochewright.joints import JointPlan, Part, site_of

# The first of these that a part has names it.
_BY_SITE = ("corner", "apex", "eave", "rafter foot", "post foot", "hoop foot", "brace foot")
_MEMBERS = ("rafter", "post", "hoop", "panel rafter")


class Names:
    """Names of the parts of one frame."""

    def __init__(self, frame: Frame, joints: JointPlan, mark_of: Mapping[str, str]) -> None:
        """Reads the frame once."""
        self.pipe_of = {pipe.id: pipe for pipe in frame.pipes}
        self.fitting_of = {fitting.id: fitting for fitting in frame.fittings}
        self.mark_of = mark_of
        self.part_of = {piece: part for part in joints.parts for piece in part.ids}

    def part(self, part: Part) -> str:
        """A part's name: what it is, and its number, or the mark of the pipe it is."""
        if not part.fittings:
            pipe = self.pipe_of[part.pipes[0]]
            return word("assembly.part.pipe", role=pipe.role, mark=self.mark_of.get(pipe.id, pipe.id))
        kind = fitting_name(self.fitting_of[part.fittings[0]].kind)
        return word(f"assembly.part.{self.sort(part)}", id=part.id, kind=kind)

    def sort(self, part: Part) -> str:
        """The sort of part: pipe, fitting, bent, end, brace, foot, arch or piece."""
        roles = {self.pipe_of[pipe].role for pipe in part.pipes}
        sites = [site_of(self.fitting_of[fitting]) for fitting in part.fittings]
        if not part.fittings:
            return "pipe"
        if not part.pipes:
            return "fitting"
        if any(self.pipe_of[pipe].shape == "bent" for pipe in part.pipes):
            return "arch"
        members = roles & set(_MEMBERS)
        if "corner" in sites and not members:
            return "end"
        if members and len(part.fittings) > 2 and "side rail" not in roles:
            return "bent"
        if "brace" in roles and not members:
            return "brace"
        return "piece" if len(part.fittings) > 1 else "foot"

    def pieces(self, ids: Iterable[str]) -> tuple[Count, ...]:
        """How many of which pipes (by mark) and fittings (by kind)."""
        pipes: Counter[str] = Counter()
        fittings: Counter[str] = Counter()
        for piece in ids:
            if piece in self.pipe_of:
                pipes[self.mark_of.get(piece, piece)] += 1
            else:
                fittings[self.fitting_of[piece].kind] += 1
        return (
            *(Count(mark, count, "pipe") for mark, count in sorted(pipes.items())),
            *(Count(kind, count, "fitting") for kind, count in sorted(fittings.items())),
        )


def fitting_name(kind: str) -> str:
    """A kind of fitting in words, as it stands within a sentence."""
    return word(f"supplies.fitting.{kind}").partition(" (")[0].lower()


def way_word(way: Vec) -> str:
    """A way of travel in words."""
    x, y, z = way
    if abs(x) > 0.9:
        return word(f"assembly.way.{'far' if x > 0 else 'front'}")
    if abs(y) > 0.9:
        return word(f"assembly.way.{'left' if y > 0 else 'right'}")
    if abs(z) > 0.9:
        return word(f"assembly.way.{'up' if z > 0 else 'down'}")
    return word(f"assembly.way.slope-{'up' if z > 0 else 'down'}")
