"""All cutting diagrams on one sheet, or on as few as they take."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.drawings.marks import Drawing, Mark
from clochewright.drawings.sheet import MARGIN_MM, heading, heading_mm, moved
from clochewright.findings import word

HEIGHT_MM = 270.0  # with its margins an A4 or Letter sheet


def stick_sheets(diagrams: Sequence[Drawing], height_mm: float = HEIGHT_MM) -> tuple[Drawing, ...]:
    """Lays cutting diagrams below each other.

    Args:
        diagrams: The diagrams of one cut list, all of one width and scale.
        height_mm: Greatest height of a sheet [mm]; a diagram that is higher alone gets a sheet of its own.

    Returns:
        The sheets; none where there is no diagram.
    """
    stacks: list[list[Drawing]] = []
    reached = height_mm
    note = word("drawings.note.sticks")
    for diagram in diagrams:
        if reached + diagram.height_mm > height_mm:
            stacks.append([])
            reached = heading_mm(note, diagram.width_mm) + MARGIN_MM
        stacks[-1].append(diagram)
        reached += diagram.height_mm
    return tuple(_sheet(stack, number, len(stacks)) for number, stack in enumerate(stacks, start=1))


def _sheet(stack: Sequence[Drawing], number: int, count: int) -> Drawing:
    first, note = stack[0], word("drawings.note.sticks")
    head = heading_mm(note, first.width_mm)
    height = head + MARGIN_MM + sum(diagram.height_mm for diagram in stack)
    title = word("drawings.sheet" if count == 1 else "drawings.sheet-of", number=str(number), count=str(count))
    marks: list[Mark] = heading(title, note, first.width_mm, height)
    low = height - head
    for diagram in stack:
        low -= diagram.height_mm
        marks += [moved(mark, (0.0, low)) for mark in diagram.marks]
    words = " ".join(diagram.alt_text for diagram in stack)
    return Drawing(title, first.width_mm, height, first.scale, first.units, tuple(marks), words)
