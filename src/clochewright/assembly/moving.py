"""From an order of joinings to moves in words, and to the steps that hold them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from clochewright.assembly.blocking import Link, Web
from clochewright.assembly.naming import Names, fitting_name, way_word
from clochewright.assembly.ordering import Joined
from clochewright.assembly.types import Move, MoveKind, Spring
from clochewright.findings import word
from clochewright.frame import Frame
from clochewright.joints import Joint, JointPlan, Part, site_of
from clochewright.measures import Units, show_force, show_length


class Mover:
    """Tells joinings as moves."""

    def __init__(self, frame: Frame, web: Web, joints: JointPlan, names: Names, units: Units) -> None:
        """Reads the frame and its joints once."""
        self._web, self._names, self._units, self._hoop = web, names, units, frame.hoop
        self._joint_of: Mapping[tuple[str, str], Joint] = {(j.fitting, j.port): j for j in joints.joints}

    def moves(self, joined: Joined, step: int, spring: Spring | None = None) -> list[Move]:
        """The move of one joining, and the turn that brings it to its place where it can turn."""
        joints = [self._joint_of[link.spot] for link in joined.links]
        cemented = all(joint.treatment == "cemented" for joint in joints)
        moving, onto = self._ids(joined.moving), self._ids(joined.onto)
        ids = tuple(joint.id for joint in joints)
        kind: MoveKind = "spring-in" if joined.sprung else "slide"
        text = self._text(joined, joints, cemented, spring)
        moves = [Move(step, kind, joined.way, moving, onto, ids, cemented, text, spring)]
        if joined.turns:
            moves.append(Move(step, "turn", joined.way, moving, onto, (), False, self._turn_text(joined)))
        return moves

    def _ids(self, atoms: frozenset[int]) -> tuple[str, ...]:
        return tuple(self._web.atoms[atom] for atom in sorted(atoms))

    def _text(self, joined: Joined, joints: Sequence[Joint], cemented: bool, spring: Spring | None) -> str:
        what = self.what(joined.moving)
        if joined.sprung == 2 and spring is not None:
            spread, force = show_length(spring.spread_m, self._units), show_force(spring.force_N.value, self._units)
            return word("assembly.move.spring", what=what, spread=spread, force=force)
        if joined.sprung == 1 and spring is not None:
            return word("assembly.move.hoop", what=what, force=show_force(spring.force_N.value, self._units))
        way = way_word(joined.way)
        if len(joints) == 1:
            (joint,), (link,) = joints, joined.links
            sort = "pipe" if link.pipe in joined.moving else "fitting"
            onto, mouth = self._other(link, joined), _mouth(joint.port)
            if cemented and mouth:
                return word(f"assembly.move.cement-{sort}-mouth", what=what, onto=onto, mouth=mouth)
            key = f"{'cement' if cemented else 'slide'}-{sort}"
            return word(f"assembly.move.{key}", what=what, onto=onto, depth=self._deep(joint))
        if cemented:
            return word("assembly.move.cement-at-once", what=what, way=way, count=len(joints))
        ends = (link.pipe if link.pipe in joined.moving else link.fitting for link in joined.links)
        ahead = ", ".join(dict.fromkeys(self._piece(self._web.atoms[end]) for end in ends))
        return word("assembly.move.slide-at-once", what=what, way=way, count=len(joints), ahead=ahead)

    def _deep(self, joint: Joint) -> str:
        return show_length(joint.seat_depth_m, self._units)

    def _other(self, link: Link, joined: Joined) -> str:
        """The piece on the other side of a joint."""
        return self._piece(self._web.atoms[link.fitting if link.pipe in joined.moving else link.pipe])

    def _piece(self, atom: str) -> str:
        pipe = self._names.pipe_of.get(atom)
        if pipe is not None:
            return word("assembly.piece.pipe", mark=self._names.mark_of.get(atom, atom), role=pipe.role)
        fitting = self._names.fitting_of[atom]
        return word("assembly.piece.fitting", kind=fitting_name(fitting.kind), role=site_of(fitting))

    def what(self, atoms: frozenset[int]) -> str:
        """What moves, in words: a piece, a part, or so many parts as one."""
        ids = self._ids(atoms)
        if len(ids) == 1:
            return self._piece(ids[0])
        parts: list[Part] = []
        for piece in ids:
            part = self._names.part_of[piece]
            if part not in parts:
                parts.append(part)
        whole = [part for part in parts if set(part.ids) <= set(ids)]
        if len(parts) == 1 and whole:
            return self._names.part(parts[0])
        biggest = max(ids, key=lambda piece: (piece in self._names.fitting_of, piece))
        return word("assembly.piece.several", count=len(ids), piece=self._piece(biggest))

    def _turn_text(self, joined: Joined) -> str:
        if len(joined.moving) == 1:
            return word("assembly.move.turn-one")
        return word("assembly.move.turn", what=self.what(joined.moving))


def _mouth(port: str) -> str:
    """Which mouth of a tee or a cross a socket is, in words; "" for fittings whose mouths are alike."""
    side = port == "branch" or port.startswith("arm")
    if not side and not port.startswith("run"):
        return ""
    return word(f"assembly.mouth.{'side' if side else 'straight'}")


def in_steps(order: Sequence[Joined], single: Mapping[int, str]) -> Iterator[list[Joined]]:
    """Joinings that belong in one step: what is put together aside with its joining, and like single pieces in a row.

    `single` names the sort of each atom that is a unit by itself; such a piece joins the step of the one before it when
    that is of the same sort and travels the same way.
    """
    step: list[Joined] = []
    for joined in order:
        lone = single.get(min(joined.moving)) if len(joined.moving) == 1 else None
        before = step[-1] if step else None
        if before is not None and before.depth == 0:
            was = single.get(min(before.moving)) if len(before.moving) == 1 else None
            goes_on = before.moving <= joined.onto
            if not (lone is not None and lone == was and joined.depth == 0 and goes_on and _same_way(before, joined)):
                yield step
                step = []
        step.append(joined)
    if step:
        yield step


def _same_way(one: Joined, other: Joined) -> bool:
    return one.sprung == other.sprung and all(abs(a - b) < 1e-6 for a, b in zip(one.way, other.way, strict=True))
