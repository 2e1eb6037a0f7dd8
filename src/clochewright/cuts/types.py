"""What is sawn, and from which stick."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clochewright.findings import Finding


@dataclass(frozen=True, slots=True)
class Cut:
    """One row of the cut list.

    `length_m` is as printed (rounded to 1/16 in or 1 mm); pieces that are sawn alike share a mark.
    """

    mark: str
    role: str
    length_m: float
    count: int


@dataclass(frozen=True, slots=True)
class Stick:
    """One stick and what comes off it, in sawing order, longest first. `origin` is "buy" or "on-hand".

    `offcut_m` is what is left of it in one piece [m], after the last saw cut.
    """

    length_m: float
    origin: str
    cuts: tuple[tuple[str, float], ...]  # (mark, length [m])
    offcut_m: float


@dataclass(frozen=True, slots=True)
class Stock:
    """The nesting.

    `cost` is what the bought sticks cost; `waste_m` the length of all sticks that are sawn into, less the cuts [m];
    `patterns` the number of different sticks. `proven` when no nesting costs less, and none of that cost wastes less;
    else `gap` says how far it may be from the best (0.03 = 3 %). `fewest_proven` when, besides, no such nesting has
    fewer different sticks.
    """

    kerf_m: float
    proven: bool
    gap: float
    cost: float
    sticks: tuple[Stick, ...]
    waste_m: float = 0.0
    patterns: int = 0
    fewest_proven: bool = False


@dataclass(frozen=True, slots=True)
class FirstCut:
    """Where one bought stick is sawn at the shop so that it goes into the car.

    `stick` is its place in `Stock.sticks`, from 0. `positions_m` are where the saw goes in, from the stick's left end
    [m]; `pieces_m` the lengths that are carried home [m], and `marks` what each of them holds, in order. Each is a
    little longer than that asks for, where the stick has it to spare; the rest of a stick that is left over stays in
    one piece where that asks for no further cut.
    """

    stick: int
    positions_m: tuple[float, ...]
    pieces_m: tuple[float, ...]
    marks: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class AtHome:
    """A length as it lies at the saw at home: a whole stick, or one of the pieces that the shop made of it.

    `stick` is its place in `Stock.sticks`, from 0; `piece` counts from the end that the shop measured from, from 1, and
    is 0 for a whole stick. `sawn` is the length with what comes off it, in order, and its own offcut.
    """

    stick: int
    piece: int
    pieces: int
    sawn: Stick


@dataclass(frozen=True, slots=True)
class Spare:
    """A bought stick that could nearly be done without.

    If the pieces of `marks` in the sticks `shorten` came out `short_m` [m] shorter, all told, the other sticks would
    hold everything that `stick` holds now.
    """

    stick: int
    short_m: float
    shorten: tuple[int, ...]
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OldPiece:
    """A pipe from the shed: how much of it is sound [m], its old mark, and the fitting cemented to one end, if any.

    `port` names the socket that the pipe sits in; "" will do where a fitting's sockets are all alike. Numbered by
    `number`, so that two alike are still two.
    """

    number: int
    sound_m: float
    mark: str = ""
    cemented: str = ""
    port: str = ""


@dataclass(frozen=True, slots=True)
class Reuse:
    """An old piece in its new place: pipe and mark, the fitting it brings, the pipe's length, and the new piece [m].

    `new_m` is 0 where the old piece is long enough; else the length of the piece coupled to it.
    """

    piece: OldPiece
    pipe: str
    mark: str
    fitting: str
    length_m: float
    new_m: float

    def offcut_m(self, kerf_m: float) -> float:
        """What is left of the old piece once it is sawn to length [m]."""
        return 0.0 if self.new_m > 0 else max(0.0, self.piece.sound_m - self.length_m - kerf_m)


@dataclass(frozen=True, slots=True)
class CutList:
    """Cuts by mark, the mark of each pipe by its id, the sticks, and the first cuts at the shop.

    Pieces that no stick can give are in `cuts` but in no stick; a stop finding names each of them. Pipes that are there
    `already` (cut before, or made of `reused` old pieces) are in `cuts` and in no stick; the new pieces of splices are
    cuts of their own, behind the others.
    """

    cuts: tuple[Cut, ...]
    mark_of: Mapping[str, str]
    stock: Stock
    findings: tuple[Finding, ...] = ()
    first_cuts: tuple[FirstCut, ...] = ()
    already: frozenset[str] = frozenset()
    reused: tuple[Reuse, ...] = ()
