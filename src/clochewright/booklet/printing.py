"""Prints the booklet: pages and drawings go in as data, the typesetter lays them out, a PDF comes out."""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Literal

import typst

from clochewright.booklet.lettering import spelled_out
from clochewright.booklet.pages import booklet_pages
from clochewright.drawings import FAMILY, FONT_FOLDER
from clochewright.job import Job

Paper = Literal["a4", "letter"]

# The typesetter's name of each paper, and its width [mm] (ISO 216; ANSI Y14.1).
_PAPERS = MappingProxyType({"a4": ("a4", 210.0), "letter": ("us-letter", 215.9)})
_MARGIN_MM = 18.0
# The booklet carries no clock: the same plan gives the same bytes.
_TIMESTAMP_S = 0


def print_booklet(job: Job, paper: Paper = "a4") -> bytes:
    """The booklet as PDF.

    Args:
        job: The finished job; a refused one gives a short booklet with its findings.
        paper: "a4" or "letter" (US Letter).

    Returns:
        The PDF file; the same job gives the same bytes. It is tagged for screen readers (PDF/UA-1) unless the plan's
        own words hold signs for which no typeface here has a picture.

    Raises:
        ValueError: When there is no such paper.
    """
    if paper not in _PAPERS:
        raise ValueError(f'paper is "a4" or "letter", not {paper!r}')
    name, width_mm = _PAPERS[paper]
    pages = booklet_pages(job, width_mm - 2 * _MARGIN_MM)
    data = spelled_out(pages.data) | {"paper": name, "margin_mm": _MARGIN_MM, "family": FAMILY}
    files = {"data.json": json.dumps(data, ensure_ascii=False).encode()}
    files |= {file: svg.encode() for file, svg in pages.drawings.items()}
    return _typeset(dict(_templates()) | files)


def _typeset(files: dict[str, bytes]) -> bytes:
    try:
        return _compiled(files, ["ua-1"])
    except typst.TypstError as error:
        if "could not be displayed" not in str(error):
            raise
    # A sign without a picture is printed as an empty box, which the standard for screen readers forbids.
    return _compiled(files, [])


def _compiled(files: dict[str, bytes], standards: list[Literal["ua-1"]]) -> bytes:
    fonts = [FONT_FOLDER]
    compiler = typst.Compiler(input=files, font_paths=fonts, ignore_system_fonts=True)  # type: ignore[misc]
    pdf = compiler.compile(format="pdf", timestamp=_TIMESTAMP_S, pdf_standards=standards)  # type: ignore[arg-type]
    assert isinstance(pdf, bytes)  # pages come as a list only in other formats
    return pdf


@cache
def _templates() -> tuple[tuple[str, bytes], ...]:
    """The layout files by name, the main one under the name that the typesetter looks for."""
    folder = resources.files(__package__).joinpath("typst")
    files = sorted((item.name, item.read_bytes()) for item in folder.iterdir() if item.name.endswith(".typ"))
    return tuple(("main.typ" if name == "booklet.typ" else name, text) for name, text in files)
