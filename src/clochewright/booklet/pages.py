"""The booklet's content as plain data: strings in the plan's units, and the drawings as SVG. Layout comes later."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from clochewright.booklet.bench import film_page, joints_page, shed_page
from clochewright.booklet.building import building_page
from clochewright.booklet.covering import covering_page
from clochewright.booklet.figures import chief_figures
from clochewright.booklet.front import answer, findings, findings_counted, findings_lead, reading
from clochewright.booklet.grounds import sources_page
from clochewright.booklet.labels import labels_page
from clochewright.booklet.lists import saw_page, shop_page
from clochewright.booklet.opening import lid_page
from clochewright.booklet.season_card import season_page
from clochewright.booklet.standing import stand_page
from clochewright.drawings import (
    BedBox,
    Drawing,
    alike,
    draw_build,
    draw_lid,
    draw_loaded,
    draw_pattern,
    draw_season,
    draw_sticks,
    draw_views,
    write_svg,
)
from clochewright.findings import word
from clochewright.job import Job

_VIEW_HEIGHT_MM = 108.0  # two views to a page
_FLAT = 2.2  # a bed this many times as long as wide has a flat plan, but may have tall readings
_FLAT_PLAN_MM = 150.0
_FRONT_VIEW_MM = 138.0
_TEMPLATE_MM = 238.0  # as high as fits between the margins of either paper
_STEP_HEIGHT_MM = 64.0  # two steps of the build to a page
_LOADED_MM = 57.0  # two pictures of the frame under load to a page
_BOX_MM = 8.0  # left of each cutting diagram, for a box to tick
_FOOT_LENGTH = 60  # characters of the name at the foot of a page

_LABELS = (
    "page", "of", "authority", "source", "what_to_do", "no_approval", "findings_head", "reading_head", "shop_head",
    "shop_lead", "item", "buy", "apiece", "price", "first_cuts_head", "tools_head", "stick", "saw_at", "pieces_home",
    "to_spare", "saw_head", "mark", "cut_length", "what_it_is", "tick", "check_piece", "sticks_head", "offcut_lines",
    "notes", "views_head", "joints_head", "fitting", "pipe", "how", "depth_mark", "order_head", "hoops_head",
    "sizes_head", "size", "planned", "dry_fit", "joined", "curing_head", "film_head", "shed_head", "shed_lead",
    "shed_lines", "sources_head", "sources_lead", "figure", "value_band", "grade", "source_number", "sources_list",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pages:
    """What is printed: `data` as JSON values, and the SVG text of each drawing by its file name."""

    data: dict[str, Any]
    drawings: Mapping[str, str]


def booklet_pages(job: Job, text_width_mm: float) -> Pages:
    """The content of every page.

    Args:
        job: The finished job.
        text_width_mm: Width between the margins, to which drawings are made [mm].
    """
    name, shown = job.plan.name, findings(job)
    data: dict[str, Any] = {
        "title": name,
        "foot": name if len(name) <= _FOOT_LENGTH else f"{name[: _FOOT_LENGTH - 1].rstrip()}…",
        "kind": word(f"booklet.kind.{job.frame.shape}", pipe=job.pipe.key),
        "words": {label: word(f"booklet.label.{label}") for label in _LABELS},
        "built": False,
        "answer": answer(job),
        "front_view": None,
        "figures": [],
        "findings": shown,
        "findings_counted": findings_counted(shown),
        "findings_lead": findings_lead(job),
        "sources": {"rows": [], "list": []},
    }
    if job.made is None or job.refused:
        data["kind"] = word("booklet.kind.refused")
        return Pages(data, {})
    drawings = _Drawings(job, text_width_mm)
    data |= {
        "built": True,
        "front_view": drawings.front(),
        "figures": chief_figures(job, job.made),
        "reading": reading(job),
        "shop": shop_page(job, job.made),
        "saw": saw_page(job, job.made) | {"sticks": drawings.sticks(), "box_mm": _BOX_MM},
        "views": drawings.views(),
        "joints": joints_page(job, job.made),
        "building": building_page(job, job.made, drawings.build()),
        "labels": labels_page(job, job.made, drawings.files),
        "film": film_page(job, job.made, film_files := drawings.film()),
        "covering": covering_page(job, job.made, film_files),
        "lid": lid_page(job, job.made, drawings.lid()),
        "stand": stand_page(job, job.made, drawings.loaded()),
        "season": season_page(job, drawings.season()),
        "shed": shed_page(job, job.made),
        "sources": sources_page(job, job.made),
    }
    return Pages(data, drawings.files)


class _Drawings:
    """Makes the drawings and keeps their files."""

    def __init__(self, job: Job, width_mm: float) -> None:
        assert job.made is not None
        self.job, self.cutlist, self.width_mm = job, job.made.cutlist, width_mm
        bed = job.plan.bed
        self.bed = BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m)
        self.files: dict[str, str] = {}
        heights_mm = {"three-quarter": _FRONT_VIEW_MM}
        if job.frame.length_m > _FLAT * job.frame.width_m:
            heights_mm["plan"] = _FLAT_PLAN_MM
        paper_mm = width_mm, _VIEW_HEIGHT_MM
        self.drawn = draw_views(job.frame, self.cutlist, self.bed, job.plan.units, paper_mm, heights_mm)

    def front(self) -> dict[str, str]:
        """The three-quarter view."""
        return self._file("front.svg", self.drawn["three-quarter"])

    def views(self) -> list[dict[str, str]]:
        """Plan, side and end."""
        return [self._file(f"{name}.svg", self.drawn[name]) for name in ("plan", "side", "end")]

    def film(self) -> dict[str, dict[str, str]]:
        """The film's pattern, gable and rolls."""
        drawn = draw_pattern(self.job, self.width_mm)
        return {name: self._file(f"{name}.svg", drawing) for name, drawing in drawn.items()}

    def lid(self) -> dict[str, dict[str, Any]]:
        """How it opens, its force, bar and holding places, and the templates, which are printed as wide as they are."""
        drawn = draw_lid(self.job, None, self.width_mm, _TEMPLATE_MM)
        return {name: self._file(f"{name}.svg", one) | {"width_mm": one.width_mm} for name, one in drawn.items()}

    def build(self) -> dict[str, dict[str, str]]:
        """The pictures of the build."""
        drawn = draw_build(self.job, (self.width_mm, _STEP_HEIGHT_MM))
        return {name: self._file(f"{name}.svg", drawing) for name, drawing in drawn.items()}

    def loaded(self) -> dict[str, dict[str, str]]:
        """The frame under load."""
        drawn = draw_loaded(self.job, self.width_mm, _LOADED_MM)
        return {name: self._file(f"{name}.svg", drawing) for name, drawing in drawn.items()}

    def season(self) -> dict[str, dict[str, str]]:
        """The season's pictures, the weeks won of the tenderest crop only: they share a page with the card."""
        drawn = draw_season(self.job, self.width_mm, most_crops=1)
        return {name: self._file(f"{name}.svg", drawing) for name, drawing in drawn.items()}

    def sticks(self) -> list[dict[str, Any]]:
        """The cutting diagrams, each with a box for every stick, or piece from the shop, that is cut so."""
        drawn = draw_sticks(self.cutlist, self.job.plan.units, self.width_mm - _BOX_MM)
        return [
            self._file(f"stick-{group[0].stick + 1}-{group[0].piece}.svg", drawing) | {"boxes": len(group)}
            for group, drawing in zip(alike(self.cutlist), drawn, strict=True)
        ]

    def _file(self, name: str, drawing: Drawing) -> dict[str, str]:
        self.files[name] = write_svg(drawing)
        return {"file": name, "alt": drawing.alt_text}
