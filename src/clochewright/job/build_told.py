"""The build in words: what page and booklet say of its steps, parts and screws, in the units chosen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass

from clochewright.assembly import AssemblyPlan, Step, StoredPart, Times, Way, fitting_name
from clochewright.findings import word
from clochewright.job.types import Job, Made
from clochewright.measures import Units, show_length, show_mass, show_temperature

_ON_THE_BED = ("assemble", "square", "screw")


@dataclass(frozen=True, slots=True)
class Beside:
    """One thing that goes with a step: what it is, such as "hands" for who holds what, its label and its words."""

    name: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class StepTold:
    """One step of the build in words.

    `moves` says what is moved where, one after another; `pieces` what is taken in hand; `makes` the parts that are made
    alike, where there are several; `later` the ids of the pieces that don't stand yet, () where all or none do.
    """

    number: int
    kind: str
    title: str
    pieces: tuple[str, ...]
    texts: tuple[str, ...]
    moves: tuple[str, ...]
    beside: tuple[Beside, ...]
    caution: str
    makes: tuple[str, ...]
    later: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StoredTold:
    """One stored part: its id, what it is, its box, its weight."""

    id: str
    name: str
    box: str
    mass: str


@dataclass(frozen=True, slots=True)
class WayTold:
    """One way to close the last loop: its name, whether it is taken, and its words."""

    name: str
    state: str
    text: str


@dataclass(frozen=True, slots=True)
class BuildTold:
    """The whole build in words; `packing` says how the stored parts lie, "" where that isn't known."""

    steps: tuple[StepTold, ...]
    screws: tuple[Beside, ...]
    ways: tuple[WayTold, ...]
    stored: tuple[StoredTold, ...]
    packing: str


def tell_build(job: Job, units: Units) -> BuildTold | None:
    """The job's build in words; None where nothing can be built."""
    if job.made is None:
        return None
    order = job.made.assembly
    whole = (*(pipe.id for pipe in job.frame.pipes), *(fitting.id for fitting in job.frame.fittings))
    steps, stands = [], set[str]()
    timed = next((step.number for step in order.steps if step.times), 0)
    for step in order.steps:
        shown = {*step.new, *step.there}
        if step.kind in _ON_THE_BED:
            stands |= shown
            shown = stands
        later = tuple(one for one in whole if one not in shown) if shown else ()
        beside = tuple(_beside(step, job, job.made, units, timed=step.number == timed))
        steps.append(_step(step, order, later, beside, job.plan.people))
    return BuildTold(
        tuple(steps),
        tuple(_screws(order, units)),
        tuple(map(_way, order.ways)),
        tuple(_stored(part, units) for part in order.stored),
        _packing(order, units),
    )


def _step(
    step: Step, order: AssemblyPlan, later: tuple[str, ...], beside: tuple[Beside, ...], people: int
) -> StepTold:
    return StepTold(
        step.number,
        word(f"build.kind.{step.kind}"),
        step.title,
        tuple(_pieces(step, order)),
        step.texts,
        _moves(step),
        beside,
        _caution(step, people),
        step.parts if step.kind == "cement" and len(step.parts) > 1 else (),
        later,
    )


def _moves(step: Step) -> tuple[str, ...]:
    """What is moved where, a turn told with the move before it; of like parts the first, of like moves one."""
    told: list[str] = []
    for move in step.moves:
        if not set(move.moving).intersection(step.new):
            continue
        if move.kind == "turn" and told:
            told[-1] = f"{told[-1]} {move.text}"
        else:
            told.append(move.text)
    return tuple(told) if step.kind == "cement" else tuple(dict.fromkeys(told))


def _pieces(step: Step, order: AssemblyPlan) -> Iterator[str]:
    """The step's pieces: "2 × A", "4 × tee", "1 × M2, end"."""
    for count in step.pieces:
        what = count.what
        if count.sort == "fitting":
            what = fitting_name(count.what)
        elif count.sort == "part":
            name = next((part.name for part in order.stored if part.id == count.what), "")
            what = name if count.what in name else word("build.part", part=count.what, name=name)
        yield word("build.count", count=count.count, what=what)


def _beside(step: Step, job: Job, made: Made, units: Units, *, timed: bool) -> Iterator[Beside]:
    """Who holds what, the jig, the screw, what the diagonals read; how long cement takes, with its first step."""
    if step.kind == "mark":
        yield _labelled("rings", _rings(job, made, units))
    if step.hands:
        yield _labelled("hands", step.hands)
    if step.jig is not None:
        yield _labelled("jig", step.jig.text)
    if step.diagonals is not None:
        low, high, differ = (show_length(m, units) for m in astuple(step.diagonals))
        yield _labelled("diagonals", word("build.diagonals-text", length=_between(low, high), differ=differ))
    if step.kind == "screw" and made.assembly.screws is not None:
        yield _labelled("screw", made.assembly.screws.name)
    if timed:
        yield _labelled("times", "; ".join(_times(time, units) for time in step.times))


def _rings(job: Job, made: Made, units: Units) -> str:
    """How far from its end each pipe is ringed, by the fittings it goes into."""
    kinds = {fitting.id: fitting.kind for fitting in job.frame.fittings}
    found: dict[str, dict[str, None]] = {}
    for joint in made.joints.joints:
        name = fitting_name(kinds[joint.fitting])
        found.setdefault(show_length(joint.seat_depth_m, units), {})[name] = None
    if len(found) == 1:
        return word("build.rings-alike", depth=next(iter(found)))
    return "; ".join(word("build.rings-of", depth=depth, fittings=", ".join(names)) for depth, names in found.items())


def _labelled(name: str, text: str) -> Beside:
    return Beside(name, word(f"build.{name}"), text)


def _times(time: Times, units: Units) -> str:
    low, high = (show_temperature(degC, units) for degC in (time.low_degC, time.high_degC))
    band = _between(low, high)
    return word("build.times-text", band=band, set=duration(time.set_s), cure=duration(time.cure_s))


def duration(time_s: float) -> str:
    """A time in minutes, hours or days [s]."""
    if time_s < 3600:
        return word("build.minutes", count=round(time_s / 60))
    if time_s < 48 * 3600:
        return word("build.hours", count=round(time_s / 3600))
    return word("build.days", count=round(time_s / 86400))


def _caution(step: Step, people: int) -> str:
    """The caution that belongs to a step; "" where there is none."""
    if step.kind == "cement":
        return word("build.caution-cement-alone" if people == 1 else "build.caution-cement")
    if any(move.kind == "spring-in" for move in step.moves):
        return word("build.caution-spring")
    if step.kind in ("cut", "screw"):
        return word(f"build.caution-{step.kind}")
    return ""


def _way(way: Way) -> WayTold:
    state = "chosen" if way.chosen else "possible" if way.possible else "not"
    return WayTold(word(f"build.way.{way.kind}"), word(f"build.way-{state}"), way.text)


def _screws(order: AssemblyPlan, units: Units) -> Iterator[Beside]:
    """The screw, its pilot hole, and where it goes; nothing where there is none."""
    screws = order.screws
    if screws is None or not screws.places:
        return
    yield _labelled("screw-size", screws.name)
    yield _labelled("screw-count", word("build.screw-count-text", count=len(screws.places)))
    yield _labelled("screw-pilot", show_length(screws.pilot_m, units))
    alike: dict[tuple[str, str], list[int]] = {}
    for place in screws.places:
        alike.setdefault((place.side, show_length(place.from_mouth_m, units)), []).append(place.number)
    for (side, mouth), numbers in alike.items():
        yield _labelled("screw-where", word("build.screw-where-text", side=side, mouth=mouth, numbers=runs(numbers)))


def runs(numbers: Sequence[int]) -> str:
    """Numbers in order, those that follow each other as a run: "1 to 4, 7"."""
    found: list[list[int]] = []
    for number in sorted(numbers):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(_between(str(run[0]), str(run[-1])) if len(run) > 2 else ", ".join(map(str, run)) for run in found)


def _stored(part: StoredPart, units: Units) -> StoredTold:
    box = " × ".join(show_length(side_m, units) for side_m in part.box_m)
    mass = _between(show_mass(part.mass_kg.low, units), show_mass(part.mass_kg.high, units))
    return StoredTold(part.id, part.name[:1].upper() + part.name[1:], box, mass)


def _packing(order: AssemblyPlan, units: Units) -> str:
    packing = order.packing
    if packing is None:
        return ""
    space = " × ".join(show_length(side_m, units) for side_m in packing.space_m)
    said = word(f"build.packing-{'given' if packing.given else 'stack'}", space=space)
    if packing.left_out:
        said += " " + word("build.packing-left-out", parts=", ".join(packing.left_out))
    return said


def _between(low: str, high: str) -> str:
    return low if low == high else word("build.range", low=low, high=high)
