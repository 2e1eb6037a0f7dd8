"""The kinds of fitting there are: their sockets by name, the bench that sells them, the angle they turn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of fitting. `like` names the kind whose figures it borrows where it has none of its own."""

    name: str
    sockets: tuple[str, ...]
    bend_deg: float = 0.0
    bench: str = "plumbing"
    like: str = "elbow-90"


_ELBOW = ("a", "b")

KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("elbow-90", _ELBOW, bend_deg=90.0),
        Kind("elbow-60", _ELBOW, bend_deg=60.0),
        Kind("elbow-45", _ELBOW, bend_deg=45.0),
        Kind("elbow-22.5", _ELBOW, bend_deg=22.5),
        Kind("tee", ("run-a", "run-b", "branch")),
        Kind("cross", ("run-a", "run-b", "arm-a", "arm-b"), like="tee"),
        Kind("side-outlet-elbow", ("a", "b", "side"), bend_deg=90.0),
        Kind("side-outlet-tee", ("run-a", "run-b", "branch", "side"), bench="furniture", like="tee"),
        Kind("five-way-cross", ("run-a", "run-b", "arm-a", "arm-b", "side"), bench="furniture", like="cross"),
        Kind("coupling", ("a", "b")),
        Kind("cap", ("a",)),
    )
}
