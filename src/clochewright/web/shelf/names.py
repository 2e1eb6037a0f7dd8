"""Keys for plans: a safe file name made from a name of any text."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

KEY = re.compile(r"[a-z0-9](?:[a-z0-9-]{0,78}[a-z0-9])?")
_LONGEST = 60
# Names that some systems keep for devices.
_TAKEN = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])")


def is_key(text: str) -> bool:
    """Whether a text can be a plan's key: small letters, figures and hyphens, and no more than 80 of them."""
    return KEY.fullmatch(text) is not None


def slug(name: str) -> str:
    """A key for a name: its letters without their accents, the rest as hyphens; "plan" where nothing is left."""
    plain = unicodedata.normalize("NFKD", name[:400]).encode("ascii", "ignore").decode().lower()
    key = re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST].strip("-")
    if not key:
        return "plan"
    return f"plan-{key}" if _TAKEN.fullmatch(key) else key


def free_key(name: str, is_taken: Callable[[str], bool]) -> str:
    """A key for a name that no other plan has."""
    key = slug(name)
    number, free = 2, key
    while is_taken(free):
        free = f"{key}-{number}"
        number += 1
    return free
