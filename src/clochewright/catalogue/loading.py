"""Loading: the plain catalogue once, and the user's own parts over it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.fittings import read_fittings, read_tapers
from clochewright.catalogue.goods import read_cement, read_goods
from clochewright.catalogue.own_file import read_own_file
from clochewright.catalogue.own_parts import fittings_from_plan, lay_over, pipes_from_plan
from clochewright.catalogue.pipes import read_pipes


def load_catalogue(
    own_file: Path | None = None,
    own_pipes: Sequence[Mapping[str, Any]] = (),
    own_fittings: Sequence[Mapping[str, Any]] = (),
    pipe: str = "",
) -> Catalogue:
    """The catalogue with the user's own parts in it; what they measured wins, the plan's rows over the file's.

    Args:
        own_file: a part list (TOML) of the user's.
        own_pipes: own pipes from the plan, each with size, outside_diameter_m, wall_m, sticks_m, price.
        own_fittings: own fittings from the plan, each with kind, port, centre_to_stop_m, socket_depth_m, hub_m,
            bend_deg.
        pipe: the pipe that `own_fittings` were measured for, as the plan names it; every pipe if left out.

    Raises:
        CatalogueError: with every own part that can't be used, each with where it stands.
        FolderError: if the part list can't be read.
    """
    plain = _plain_catalogue()
    if own_file is None and not own_pipes and not own_fittings:
        return plain
    file_pipes, file_fittings = read_own_file(own_file) if own_file is not None else ([], [])
    return lay_over(
        plain,
        [*file_pipes, *pipes_from_plan(own_pipes)],
        [*file_fittings, *fittings_from_plan(own_fittings, pipe)],
    )


@lru_cache(maxsize=1)
def _plain_catalogue() -> Catalogue:
    pipes = read_pipes()
    return Catalogue(pipes, read_goods(), read_fittings(pipes), read_tapers(pipes), read_cement())
