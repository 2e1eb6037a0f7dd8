"""Signs that no typeface here can show, such as emoji, are spelled out: a tomato is printed as [tomato]."""

from __future__ import annotations

import re
import unicodedata
from typing import Any

_LAST_OF_LATIN_1 = 0xFF
# The space within a measure: before its fraction and before its unit.
_WITHIN_MEASURE = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|ft|mm|cm|m|lb|oz|kg|g|mph|m/s|lbf|N|mil)\b)")
_JOINERS = ("Cf", "Sk", "Mn", "Me")


def spelled_out(value: Any) -> Any:
    """The value with every text in it made printable, a measure kept on one line; lists and tables keep their shape."""
    if isinstance(value, str):
        return _WITHIN_MEASURE.sub("\N{NO-BREAK SPACE}", "".join(map(_printable, value)))
    if isinstance(value, dict):
        return {key: spelled_out(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [spelled_out(item) for item in value]
    return value


def _printable(sign: str) -> str:
    """One sign as it can be printed; letters of every script stay as they are."""
    if sign.isspace():
        return sign if sign == "\N{NO-BREAK SPACE}" else " "
    kind = unicodedata.category(sign)
    if ord(sign) <= _LAST_OF_LATIN_1:
        return "" if kind in ("Cc", "Cf") else sign
    if kind == "So":
        return f"[{unicodedata.name(sign, 'sign').lower()}]"
    if kind in ("Cn", "Co", "Cs", "Cc"):
        return "?"
    return "" if kind in _JOINERS and not unicodedata.combining(sign) else sign
