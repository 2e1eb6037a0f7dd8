"""Goes through the tables of a plan before they are checked: finds every key that doesn't belong, and what was meant.

A misspelt key is put right for the check that follows, so that it is told once (not as one key too many and another
missing) and the values under it are still looked at.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from clochewright.errors import Mistake
from clochewright.plan.keys import Key, homes_of, keys_of, listed, nearest
from clochewright.plan.paths import Loc, path_text

MOST_MISTAKES = 50
_MOST_ITEMS = 200
_LONGEST_TEXT = 500


@dataclass
class Tidy:
    """A plan's tables, put right, and what was found on the way.

    `order` holds the place in the file of every path met; `written` the paths whose name in the file is another than
    the model's; `told` the paths whose mistake is already among `found`; `moved` paths whose value stands elsewhere.
    """

    tables: dict[str, Any] = field(default_factory=dict)
    found: list[tuple[Loc, Mistake]] = field(default_factory=list)
    order: dict[Loc, int] = field(default_factory=dict)
    written: dict[Loc, Loc] = field(default_factory=dict)
    told: set[Loc] = field(default_factory=set)
    moved: set[Loc] = field(default_factory=set)
    more: int = 0

    def where(self, loc: Loc) -> str:
        """The key path as the file has it."""
        for end in range(len(loc), 0, -1):
            if loc[:end] in self.written:
                return path_text((*self.written[loc[:end]], *loc[end:]))
        return path_text(loc)

    def place(self, loc: Loc) -> int:
        """Where in the file a path stands, or what it belongs under."""
        while loc and loc not in self.order:
            loc = loc[:-1]
        return self.order.get(loc, 0)


def tidy(tables: dict[str, Any], model: type[BaseModel], *, si: bool) -> Tidy:
    """The tables with only keys the model knows, by their names in the file.

    Args:
        tables: The plan as read from TOML, or by Python names where `si`.
        model: The plan's model.
        si: Whether Python names (length_m) are taken as well.
    """
    walk = _Walk(model, si)
    walk.result.tables = walk.table(model, tables, (), ())
    return walk.result


class _Walk:
    def __init__(self, model: type[BaseModel], si: bool) -> None:
        self.model = model
        self.si = si
        self.result = Tidy()

    def table(self, section: type[BaseModel], given: dict[str, Any], loc: Loc, written: Loc) -> dict[str, Any]:
        """One table put right; `loc` is its path by the model's names, `written` by the file's."""
        keys = keys_of(section)
        meant = self._meant(keys, given)
        out: dict[str, Any] = {}
        for name, value in given.items():
            if name in meant:
                key = keys[meant[name]]
                here: Loc = (*loc, key.name)
                self._note(here, (*written, name))
                if key.name != name and not (self.si and key.attribute == name):
                    self._tell((*written, name), here, "there is no such key.", f"Did you mean {key.name}?")
                out[key.name] = self._value(key, value, here, (*written, name))
            else:
                self._stray(keys, name, loc, (*written, name))
        return out

    def _meant(self, keys: dict[str, Key], given: dict[str, Any]) -> dict[str, str]:
        """For each given name the key it stands for: itself, or the nearest one not given."""
        meant = {name: name for name in given if name in keys}
        by_attribute = {key.attribute: key.name for key in keys.values()}
        for name in given:
            if name in keys or len(meant) >= len(keys):
                continue
            free = [key for key in keys if key not in meant.values()]
            home = homes_of(self.model).get(name)
            target = by_attribute.get(name) or (nearest(name, free) if home is None else None)
            if target in free:
                meant[name] = target
        return meant

    def _value(self, key: Key, value: Any, loc: Loc, written: Loc) -> Any:
        if isinstance(value, list) and len(value) > _MOST_ITEMS:
            self._refuse(loc, written, f"{len(value)} entries are far too many.", f"Give at most {_MOST_ITEMS}.")
            return value[:0]
        if key.section is not None and isinstance(value, dict) and not key.many:
            return self.table(key.section, value, loc, written)
        if key.section is not None and isinstance(value, list) and key.many:
            out = []
            for number, item in enumerate(value):
                here, there = (*loc, number), (*written, number)
                self._note(here, there)
                out.append(self.table(key.section, item, here, there) if isinstance(item, dict) else item)
            return out
        if isinstance(value, str):
            self._text(value, loc, written)
        for number, item in enumerate(value if isinstance(value, list) else ()):
            if isinstance(item, str):
                self._text(item, (*loc, number), (*written, number))
        return value

    def _text(self, text: str, loc: Loc, written: Loc) -> None:
        if any(not c.isprintable() for c in text):
            self._refuse(loc, written, "there are line breaks or invisible characters in this text.", "Type it anew.")
        elif len(text) > _LONGEST_TEXT:
            self._refuse(loc, written, f"{len(text)} characters are far too many.", f"Give at most {_LONGEST_TEXT}.")

    def _refuse(self, loc: Loc, written: Loc, what: str, mend: str) -> None:
        self._tell(written, loc, what, mend)
        self.result.told.add(loc)

    def _stray(self, keys: dict[str, Key], name: str, loc: Loc, written: Loc) -> None:
        """A key that is not known here, and stands for none that is missing."""
        if len(self.result.found) >= MOST_MISTAKES:
            self.result.more += 1
            return
        here = (*loc, name)
        self._note(here, written)
        home = homes_of(self.model).get(name)
        if home is not None and home != loc:
            self.result.moved.update({(*home, name), home} - {()})
            place = f"[{'.'.join(home)}]" if home else "the head of the plan, above every [section]"
            self._tell(
                written,
                here,
                "this key is in the wrong place.",
                f"It belongs under {place}." if home else f"It belongs at {place}.",
            )
            return
        near = nearest(name, keys)
        mend = f"Did you mean {near}, which is given as well?" if near else f"Known here: {listed(keys, 'and')}."
        self._tell(written, here, "there is no such key.", mend)

    def _note(self, loc: Loc, written: Loc) -> None:
        self.result.order.setdefault(loc, len(self.result.order) + 1)
        if loc != written:
            self.result.written[loc] = written

    def _tell(self, written: Loc, loc: Loc, what: str, mend: str) -> None:
        if len(self.result.found) >= MOST_MISTAKES:
            self.result.more += 1
        else:
            self.result.found.append((loc, Mistake(path_text(written), what, mend)))
