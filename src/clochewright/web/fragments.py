"""Renders: whole pages, and the pieces of a sheet, of which a browser gets those that have changed."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Hashable
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from clochewright.findings import word
from clochewright.web.lately import Lately
from clochewright.web.sheet import Sheet, StepSheet

HERE = Path(__file__).parent
STATIC = HERE / "static"
Pieces = dict[str, Markup]

_MOST_KEPT = 200
_MOST_FIELDS = 4000
_FIELD = re.compile(r'<(?:form|div) id="((?:field|row)-[^"]+)"')
_IN_A_MEASURE = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|(?:in|ft|mm|m|lb|kg|mph|deg)\b)|(?<= ft) (?=[0-9])")
_STEPS_AT_WORK = (
    "waiting",
    "frame",
    "cuts",
    "lid",
    "film",
    "strength",
    "supplies",
    "what-if",
    "changes",
    "reach",
    "season",
)


class Renderer:
    """Templates, and the pieces of sheets that were rendered lately."""

    def __init__(self) -> None:
        self._templates = Environment(
            loader=FileSystemLoader([HERE / "templates", HERE / "steps"]),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,  # a template is read once; asking the disk about each at every edit takes its time
        )
        self._templates.filters["unbroken"] = _unbroken
        self._templates.globals |= {
            "word": word,
            "static": _static_name,
            "any_wrong": _any_wrong,
        }
        self._kept: Lately[tuple[str, str], Pieces] = Lately(_MOST_KEPT)
        self._fields: Lately[tuple[Hashable, ...], Markup] = Lately(_MOST_FIELDS)

    def page(self, template: str, **values: Any) -> str:
        """A whole page."""
        return self._templates.get_template(template).render(**values)

    def pieces(self, sheet: Sheet, *, later: Collection[str] = ()) -> Pieces:
        """Every piece of a sheet by its element's id, but for how far the bench is; kept, to tell what changed since.

        Args:
            sheet: The sheet.
            later: Ids of pieces that are left out where they are not there already.
        """
        name = (sheet.key, sheet.state)
        known = self._kept.get(name) or {}
        made = self._rendered(sheet, known, later)
        if len(made) > len(known):
            self._kept.put(name, made)
        return made

    def pieces_told(self, sheet: Sheet, pieces: Pieces) -> Pieces:
        """A sheet's pieces with its forms as they are in `sheet`, which tells what was typed wrong; not kept."""
        return {**pieces, **{name: html for part in sheet.steps for name, html in self._form(sheet, part).items()}}

    def changed(
        self,
        sheet: Sheet,
        pieces: Pieces,
        state: str,
        at_work: str | None = None,
        *,
        wanted: Collection[str] = (),
        later: Collection[str] = (),
    ) -> str:
        """The pieces that differ from those of an earlier state of the same sheet; all of them where it is unknown.

        Args:
            sheet: The sheet.
            pieces: Its pieces.
            state: The earlier state.
            at_work: The step the bench is at in the background.
            wanted: Ids of pieces that a browser has otherwise than the state says, such as what was typed.
            later: Ids of pieces that it would rather ask for later: of these it is only told that they are due.
        """
        kept = self._kept.get((sheet.key, state)) or {}
        before = {name: html for name, html in kept.items() if name not in wanted}
        sent = [(name, html) for name, html in _told_apart(before, pieces) if name not in later]
        due = [name for name in later if name not in before or before[name] != pieces.get(name)]
        sent.append(("progress", self.progress(sheet, at_work, due)))
        return "".join(str(html).replace(f'id="{name}"', f'id="{name}" hx-swap-oob="true"', 1) for name, html in sent)

    def progress(self, sheet: Sheet, at_work: str | None = None, due: Collection[str] = ()) -> Markup:
        """How far the bench is; it asks again while there is more to come, or pieces are `due`, by their ids."""
        return self._piece("progress", sheet=sheet, due=sorted(due), **_progress(sheet, at_work))

    def _rendered(self, sheet: Sheet, known: Pieces, later: Collection[str]) -> Pieces:
        if known:  # then bodies at most are not there yet
            bodies = {f"body-{part.step.key}": part for part in sheet.steps}
            due = [name for name in bodies if name not in known and name not in later]
            return {**known, **{name: self._piece("body", sheet=sheet, part=bodies[name]) for name in due}}
        made = {name: self._piece(name, sheet=sheet) for name in ("name", "answer", "flat", "history", "mistakes")}
        for part in sheet.steps:
            key = part.step.key
            made[f"gist-{key}"] = self._piece("gist", sheet=sheet, part=part)
            if f"body-{key}" not in later:
                made[f"body-{key}"] = self._piece("body", sheet=sheet, part=part)
            made |= self._form(sheet, part)
        return made

    def _form(self, sheet: Sheet, part: StepSheet) -> Pieces:
        # most fields stand as they stood: what a field shows hangs on the plan's name and the field alone
        asked = (sheet.key, part.step.key, part.fields, part.rows)
        made = {f"fields-{part.step.key}": self._known("fields", asked, sheet=sheet, part=part)}
        for field in part.fields:
            made[field.id] = self._known("field", (sheet.key, field), sheet=sheet, field=field)
        for row in part.rows:
            made[row.id] = self._known("row", (sheet.key, row), sheet=sheet, row=row)
        return made

    def _known(self, name: str, by: tuple[Hashable, ...], **values: Any) -> Markup:
        """A piece that was rendered before, or is now."""
        return self._fields.made((name, *by), lambda: self._piece(name, **values))

    def _piece(self, name: str, **values: Any) -> Markup:
        html = self._templates.get_template(f"pieces/{name}.html").render(**values)
        return Markup(html.strip() + "\n")


def _told_apart(before: Pieces, after: Pieces) -> list[tuple[str, Markup]]:
    """The pieces to send: a list of fields as a whole only where other fields stand in it than before."""
    whole = [
        name for name in after if name.startswith("fields-") and _stands_in(before, name) != _stands_in(after, name)
    ]
    sent = []
    for name, html in after.items():
        if name.startswith("fields-"):
            changed = name in whole
        elif name.startswith(("field-", "row-")):
            changed = before.get(name) != html and not any(f'id="{name}"' in after[group] for group in whole)
        else:
            changed = before.get(name) != html
        if changed:
            sent.append((name, html))
    return sent


def _stands_in(pieces: Pieces, name: str) -> list[str]:
    """The ids of the fields and rows that stand in a list of fields."""
    return _FIELD.findall(pieces.get(name, ""))


def _progress(sheet: Sheet, at_work: str | None) -> dict[str, Any]:
    name, _, share = (at_work or "").partition(" ")
    step = name if name in _STEPS_AT_WORK else "waiting"
    said = word(f"web.working.{step}")
    return {
        "working": f"{said}: {share} %" if share else said,
        "worked_steps": 0 if sheet.full else _STEPS_AT_WORK.index(step) + 1 + int(share or 0) / 100,
        "most_steps": len(_STEPS_AT_WORK) + 1,
    }


def _unbroken(text: str) -> str:
    """Text in which a measure stays on one line: 83 7/8 in, 8 ft × 3 ft 10 in."""
    return _IN_A_MEASURE.sub("\u00a0", text)


def _static_name(name: str) -> str:
    """The address of a bundled file by its plain name; "" where the page was not built."""
    try:
        names = json.loads((STATIC / "names.json").read_text(encoding="utf-8"))
        return f"/static/{names[name]}"
    except (OSError, ValueError, KeyError):
        return ""


def _any_wrong(part: StepSheet) -> bool:
    return any(field.wrong for field in part.fields) or any(row.wrong for row in part.rows)
