"""The working order: what is cut first, tried, marked, cemented, put together, squared and screwed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from clochewright.assembly.jigs import FLAT_m, jig_for
from clochewright.assembly.moving import Mover, in_steps
from clochewright.assembly.naming import Names
from clochewright.assembly.ordering import Joined
from clochewright.assembly.types import Count, Diagonals, Move, Spring, Step, Times
from clochewright.cuts import Readings
from clochewright.findings import word
from clochewright.frame import Frame, Pipe
from clochewright.joints import JointPlan, Part, cement_times
from clochewright.measures import show_angle, show_length
from clochewright.plan import Plan

SQUARE_share = 1 / 192  # of the width, sideways: a corner off square by 1/4 in over 4 ft is what a carpenter lets pass
CROSSWAYS = ("rafter", "post", "hoop")
SAME_BENT_m = 0.2
ONE_SLOPE = ("tent", "barn", "lean-to")  # shapes whose roof slopes are all alike


class Work:
    """Writes the steps of one frame, one after another."""

    def __init__(
        self, frame: Frame, plan: Plan, joints: JointPlan, names: Names, mover: Mover, read: Readings, slides: bool
    ) -> None:
        """Everything the steps are told from; `slides` says that dry pipe slides home in its sockets."""
        self.frame, self.plan, self.joints, self.names, self.mover = frame, plan, joints, names, mover
        self.read, self.slides = read, slides
        self.steps: list[Step] = []
        self.alone = plan.people == 1
        self._standing: set[str] = set()

    @property
    def next(self) -> int:
        """The number of the next step."""
        return len(self.steps) + 1

    def cut_first(self, done: frozenset[str]) -> None:
        """One bent is cut and tried before the rest, so that a wrong guess costs a few pieces."""
        left = [pipe.id for pipe in self.frame.pipes if pipe.id not in done]
        first = [pipe for pipe in self._trial_pipes() if pipe in left]
        if not first:
            return
        rest = [pipe for pipe in left if pipe not in first]
        sort = "hoop" if self.frame.hoop is not None else "pair" if self.frame.shape == "tent" else "bent"
        pieces = self.names.pieces(first)
        began, rest_at = self.next, {"rest": self.next + 2}
        self._add("cut", f"cut-first-{sort}", (f"cut-first-{sort}",), rest_at, pieces=pieces, new=tuple(first))
        texts, words = self._tried(sort)
        tried = self.names.pieces((*first, *self._held(first)))
        self._add("test-fit", "test", texts, words, pieces=tried, new=tuple(first))
        if rest:
            marks = dict.fromkeys(self.names.mark_of.get(pipe, pipe) for pipe in rest)
            proven = {self.names.mark_of.get(pipe, pipe) for pipe in first}
            last = [mark for mark in self.read.last if mark in marks and mark not in proven]
            texts = ["cut-rest", "cut-begun", *(["cut-last"] if last and len(last) < len(marks) else []), "cut-mark"]
            words = {"marks": ", ".join(last), "kerf": self._length(self.plan.stock.kerf_m), "begun": began}
            self._add("cut", "cut-rest", texts, words, pieces=self.names.pieces(rest), new=tuple(rest))

    def _tried(self, sort: str) -> tuple[list[str], dict[str, object]]:
        """What to look at in the dry trial: the angle where pipe slides home, else how long a slope reads."""
        words: dict[str, object] = {"width": self._length(self.frame.base_width_m)}
        if sort == "hoop":
            return ["test-hoop", "test-hoop-feet", "test-wrong"], words
        slope = self.read.find("rafter") if self.frame.shape in ONE_SLOPE else None
        texts = [f"test-{sort}"]
        apart_m = self._side_by_side_m()
        if apart_m > FLAT_m:
            texts.append("test-two")
            words["apart"] = self._length(apart_m)
        if slope is not None and self.slides:
            texts.append("test-home")
            words |= {"angle": show_angle(self.frame.pitch_deg), "slope": self._length(slope.planned_m)}
        elif slope is not None:
            low, high = (self._length(size_m) for size_m in slope.dry_m)
            longer = slope.dry_m[0] > slope.planned_m and low != self._length(slope.planned_m)
            texts += ["test-dry", "test-longer"] if longer else ["test-dry"]
            words |= {"low": low, "high": high, "slope": self._length(slope.planned_m)}
        elif not self.slides:
            texts.append("test-shallow")
        return [*texts, "test-wrong"], words

    def _side_by_side_m(self) -> float:
        """How far the long pipes of the bent nearest the front stand from one plane across the bed [m]."""
        along = [pipe.path_m[0][0] for pipe in self._first_bent()]
        return max(along, default=0.0) - min(along, default=0.0)

    def mark(self, parts: int) -> None:
        """Dry-fit marks across each joint before cement, and eased sockets; so many sorts of parts come after it."""
        wet = [joint for joint in self.joints.joints if joint.treatment == "cemented" and not joint.old]
        texts = (["mark-depth", "mark-across"] if wet else ["mark-depth"]) + (
            ["mark-ease"] if self.joints.eased else []
        )
        texts += ["mark-slides"] if self.slides else []
        first, last = self.next + 1, self.next + parts
        steps = word("assembly.steps" if parts > 1 else "assembly.step", first=first, last=last)
        counts = {"wet": len(wet), "eased": len(self.joints.eased), "steps": steps}
        self._add("mark", "mark" if wet else "mark-dry", texts, counts)

    def cement(
        self,
        part: Part,
        alike: Sequence[Part],
        orders: Mapping[str, Sequence[Joined]],
        springs: Mapping[int, Spring],
    ) -> None:
        """One sort of part, cemented; all alike are made side by side."""
        times = tuple(
            Times(row.low_degC, row.high_degC, row.set_s, row.cure_s)
            for row in cement_times(self.frame.pipe_outside_diameter_m)
        )
        number = self.next
        moves = [
            move
            for one in alike
            for joined in orders[one.id]
            for move in self.mover.moves(joined, number, springs.get(min(joined.moving)))
        ]
        name = self.names.part(part)
        at_once = max((len(joined.links) for joined in orders[part.id]), default=1)
        first = next((step.number for step in self.steps if step.kind == "cement"), None)
        texts = ["cement-how" if first is None else "cement-again"]
        texts += (["cement-at-once"] if at_once > 1 else []) + (["cement-hold"] if first is None else [])
        words = {"name": name, "count": len(alike), "most": at_once, "first": first}
        self._add(
            "cement", "cement-alike" if len(alike) > 1 else "cement", texts, words, moves=moves,
            parts=[one.id for one in alike], pieces=self.names.pieces(part.ids), new=part.ids,
            jig=jig_for(self.names, part, self.plan.units), times=times,
            hands="hands-cement" if self.alone else "",
        )  # fmt: skip

    def assemble(self, order: Sequence[Joined], single: Mapping[int, str], springs: Mapping[int, Spring]) -> None:
        """The parts, put together in order."""
        for group in in_steps(order, single):
            self._assemble_one(group, springs, self._standing)

    def _assemble_one(self, group: Sequence[Joined], springs: Mapping[int, Spring], standing: set[str]) -> None:
        number = self.next
        moves = [move for joined in group for move in self.mover.moves(joined, number, springs.get(min(joined.moving)))]
        last = moves[-1] if moves[-1].kind != "turn" else moves[-2]
        new = [piece for move in moves for piece in move.moving if piece not in standing]
        begins = not standing & set(last.onto)
        if begins:
            new = [*last.onto, *new]
        new = list(dict.fromkeys(new))
        there = tuple(sorted(standing, key=_by_number))
        standing.update(new)
        parts = list(dict.fromkeys(self.names.part_of[piece].id for piece in new))
        key = self._title(group)
        texts = (["begin"] if begins else []) + [key]
        if begins or key == "slide-pipes":
            texts.append("slide-loose" if self.slides else "slide-free")
        lead = self.mover.what(frozenset(group[-1].moving))
        first = self._name_of(last.onto) if begins else ""
        words = {"what": lead, "first": first, "count": sum(len(joined.links) for joined in group)}
        hands = ""
        if self.alone:
            hands = "hands-spring" if group[-1].sprung else "hands-part" if len(group[-1].moving) > 1 else ""
        self._add("assemble", key, texts, words, moves=moves, parts=parts, pieces=self._in_parts(parts),
                  new=new, there=there, hands=hands)  # fmt: skip

    def _title(self, group: Sequence[Joined]) -> str:
        last = group[-1]
        if last.sprung:
            return "spring-hoops" if last.sprung == 1 else "spring-in"
        if len(last.moving) == 1:
            return "slide-pipes" if len(group) > 1 else "slide-piece"
        return "slide-part"

    def _name_of(self, ids: Sequence[str]) -> str:
        part = self.names.part_of[ids[0]]
        return self.names.part(part)

    def _in_parts(self, parts: Sequence[str]) -> tuple[Count, ...]:
        """Parts that are single pieces are told by mark or kind, others by their number."""
        by_id = {part.id: part for part in self.joints.parts}
        whole = [Count(part, 1, "part") for part in parts if len(by_id[part].ids) > 1]
        lone = [piece for part in parts if len(by_id[part].ids) == 1 for piece in by_id[part].ids]
        return (*whole, *self.names.pieces(lone))

    def square(self) -> None:
        """Diagonals of the base, before any screw goes in."""
        frame = self.frame
        if not any(fitting.role == "corner" for fitting in frame.fittings):
            return
        lean_m = SQUARE_share * frame.base_width_m
        differ_m = 2 * lean_m * frame.base_length_m / frame.diagonal_m
        read = self.read.find("diagonal")
        low_m, high_m = read.joined_m if read is not None else (frame.diagonal_m, frame.diagonal_m)
        words = {"low": self._length(low_m), "high": self._length(high_m), "differ": self._length(differ_m)}
        key = "square" if words["low"] != words["high"] else "square-one"
        self._add("square", "square", (key, "square-push"), words, diagonals=Diagonals(low_m, high_m, differ_m))

    def screw(self, ids: Sequence[str], pilot_m: float) -> None:
        """All screws, once everything is square."""
        if ids:
            words = {"count": len(ids), "pilot": self._length(pilot_m)}
            self._add("screw", "screw", ("screw-drill", "screw-drive"), words, screws=tuple(ids))

    def tie(self, bars: Sequence[str]) -> None:
        """A bar that is tied under the hoops; it has no socket."""
        if not bars:
            return
        number = self.next
        hoops = tuple(pipe.id for pipe in self.frame.pipes if pipe.shape == "bent")
        text = word("assembly.text.tie")
        moves = [Move(number, "tie", (1.0, 0.0, 0.0), (bar,), hoops, (), False, text) for bar in bars]
        parts = [self.names.part_of[bar].id for bar in bars]
        self._add("assemble", "tie", ("tie",), moves=moves, parts=parts, pieces=self.names.pieces(bars), new=bars)

    def _trial_pipes(self) -> Iterator[str]:
        """The slopes (or the hoop) of the bent nearest the front, and the short pieces between their fittings."""
        first = [pipe.id for pipe in self._first_bent()]
        tried = self._held(first)
        for pipe in self.frame.pipes:
            if pipe.id in first or all(end.fitting in tried for end in pipe.ends):
                yield pipe.id

    def _first_bent(self) -> list[Pipe]:
        """The slopes, posts or hoop of the bent nearest the front."""
        members = [pipe for pipe in self.frame.pipes if pipe.role in CROSSWAYS]
        front = min((pipe.path_m[0][0] for pipe in members), default=0.0)
        return [pipe for pipe in members if pipe.path_m[0][0] - front < SAME_BENT_m]

    def _held(self, pipes: Sequence[str]) -> tuple[str, ...]:
        """The fittings that hold these pipes."""
        held = (end.fitting for pipe in pipes for end in self.names.pipe_of[pipe].ends if end.fitting is not None)
        return tuple(dict.fromkeys(held))

    def _add(
        self, kind: str, title: str, texts: Sequence[str], words: Mapping[str, object] | None = None, *,
        moves: Sequence[Move] = (), parts: Sequence[str] = (), new: Sequence[str] = (), hands: str = "",
        **more: object,
    ) -> None:  # fmt: skip
        said = dict(words or {})
        self.steps.append(
            Step(
                self.next,
                kind,  # type: ignore[arg-type]
                word(f"assembly.title.{title}", **said),
                tuple(word(f"assembly.text.{text}", **said) for text in texts),
                tuple(moves),
                tuple(parts),
                new=tuple(new),
                hands=word(f"assembly.{hands}") if hands else "",
                **more,  # type: ignore[arg-type]
            )
        )

    def _length(self, length_m: float) -> str:
        return show_length(length_m, self.plan.units)


def _by_number(piece: str) -> tuple[str, int]:
    return piece[0], int(piece[1:]) if piece[1:].isdigit() else 0
