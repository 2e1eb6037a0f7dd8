"""Turns keys and values into sentences; the sentences themselves live in texts/, one file a room."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from clochewright import measures
from clochewright.findings.finding import Finding
from clochewright.measures import Units


@dataclass(frozen=True, slots=True)
class Words:
    """What a finding says: what was found, why it matters, what mends it ("" where nothing needs doing)."""

    what: str
    why: str
    mend: str


def say(finding: Finding, units: Units, currency: str = "$") -> Words:
    """The finding in words, its values shown by the ending of their names.

    Args:
        finding: The finding; its key names the entry in texts/.
        units: "inch" or "mm", as the plan says.
        currency: Sign shown beside prices.

    Raises:
        KeyError: No words for the key, or a template asks for a value the finding doesn't bring. Both are mistakes in
            the program, not in the plan.
    """
    entry = _catalogue().get(finding.key)
    if not isinstance(entry, Words):
        raise KeyError(f"texts/ holds no finding {finding.key!r}")
    shown = {name: _shown(name, value, units, currency) for name, value in finding.values.items()}
    return Words(*(_filled(template, finding.key, shown) for template in (entry.what, entry.why, entry.mend)))


def word(key: str, /, **values: Any) -> str:
    """A label or other short text by its path in texts/ ("drawings.label.plan"), its fields filled as they come.

    Lengths and the like are shown by the caller, who knows the units: `word("cuts.stick", length=show_length(...))`.

    Raises:
        KeyError: No such text, or a field without a value.
    """
    template = _catalogue().get(key)
    if not isinstance(template, str):
        raise KeyError(f"texts/ holds no text {key!r}")
    return _filled(template, key, {name: _plain(value) for name, value in values.items()})


@cache
def _catalogue() -> Mapping[str, Words | str]:
    """All entries of every room by their dotted path, read once."""
    entries: dict[str, Words | str] = {}
    for file in resources.files(__package__).joinpath("texts").iterdir():
        if file.name.endswith(".toml"):
            entries.update(_entries(tomllib.loads(file.read_text(encoding="utf-8")), ""))
    return MappingProxyType(entries)


def _entries(table: Mapping[str, Any], path: str) -> Iterator[tuple[str, Words | str]]:
    for name, value in table.items():
        key = f"{path}{name}"
        if isinstance(value, str):
            yield key, value
        elif "what" in value:
            yield key, Words(**value)
        else:
            yield from _entries(value, f"{key}.")


def _filled(template: str, key: str, shown: Mapping[str, str]) -> str:
    try:
        return template.format_map(shown)
    except KeyError as missing:
        raise KeyError(f"the words for {key!r} ask for {missing}, which they were not given") from None


def _shown(name: str, value: Any, units: Units, currency: str) -> str:
    """One value as people read it; several are parted by commas."""
    if isinstance(value, tuple | list):
        return ", ".join(_shown(name, one, units, currency) for one in value)
    if isinstance(value, str | bool) or value is None or name.endswith(("_N_m", "_kg_m")):
        return _plain(value)
    if name.endswith("_drill_m"):
        return measures.show_drill(float(value), units)
    if name.endswith("_m"):
        return _length(float(value), units)
    if name.endswith("_kg"):
        return measures.show_mass(float(value), units)
    if name.endswith("_deg"):
        return measures.show_angle(float(value))
    if name.endswith("_m_s"):
        return measures.show_speed(float(value), units)
    if name.endswith("_degC"):
        return measures.show_temperature(float(value), units)
    if name.endswith("_K"):
        return measures.show_temperature_difference(float(value), units)
    if name.endswith("_N"):
        return measures.show_force(float(value), units)
    if name.endswith("_Pa"):
        return measures.show_pressure(float(value), units)
    if name.endswith("_money"):
        return measures.show_money(value, currency)
    return _plain(value)


def _length(length_m: float, units: Units) -> str:
    """A length; one too short for the tape is not called nothing ("misses its socket by 0 in")."""
    if length_m != 0 and measures.round_length(length_m, units) == 0:
        return "less than 1/16 in" if units == "inch" else "less than 1 mm"
    return measures.show_length(length_m, units)


def _plain(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return _Count(value) if isinstance(value, int) and not isinstance(value, bool) else str(value)


class _Count(str):
    """A whole number that knows its noun: `{sticks:stick|sticks}` comes out as "1 stick" or "3 sticks"."""

    __slots__ = ()

    def __format__(self, nouns: str) -> str:
        one, _, many = nouns.partition("|")
        return f"{self} {one if self == '1' else many}" if nouns else str(self)
