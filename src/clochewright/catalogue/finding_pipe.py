"""A pipe found by the name people write: "1 in", `1-1/4" Sch 40`, "32 mm PN 16", "waste 40"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache

from clochewright.catalogue.types import PipeRow
from clochewright.errors import CatalogueError, Mistake

_LONGEST = 60  # no pipe has a longer name; also keeps absurd numbers out of the reckoning

_FRACTIONS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⁄": "/"}
_PRIMES = {'"': " in ", "″": " in ", "”": " in ", "“": " in ", "''": " in "}
_TOKEN = re.compile(r"[0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?|[^\W0-9_]+")
_SAME_WORD = {"inch": "in", "inches": "in", "ins": "in", "schedule": "sch", "sched": "sch", "millimetre": "mm"}
_ALSO = {
    "inch": {"pvc", "pipe"},
    "metric": {"pvc", "pvcu", "pipe", "pressure"},
    "waste": {"pvc", "pipe", "solvent", "weld", "uk"},
    "own": {"pipe"},
}


def find_pipe(pipes: Sequence[PipeRow], text: str) -> PipeRow:
    """The one pipe that the text names; a size in inches with no class means Schedule 40.

    Raises:
        CatalogueError: if it fits no pipe (the nearest names are given) or several (which ones is asked).
    """
    found = matching_pipes(pipes, text)
    if len(found) == 1:
        return found[0]
    if not found:
        raise CatalogueError((_unknown(pipes, text),))
    named = " or ".join(f'"{pipe.key}" ({pipe.outside_diameter.value * 1000:.1f} mm outside)' for pipe in found)
    raise CatalogueError(
        (Mistake("pipe", f"{_quoted(text)} fits several pipes.", f"Measure across the pipe and say which: {named}."),)
    )


def matching_pipes(pipes: Sequence[PipeRow], text: str) -> tuple[PipeRow, ...]:
    """The pipes that the text may mean: a full name is one pipe, part of a name may be several."""
    if len(text) > _LONGEST:
        return ()
    plain = " ".join(text.casefold().split())
    exact = tuple(pipe for pipe in pipes if pipe.key.casefold() == plain)
    if exact:
        return exact
    asked = _tokens(text)
    if not asked:
        return ()
    found = tuple(pipe for pipe in pipes if asked <= _tokens(pipe.key) | _ALSO.get(pipe.system, set()))
    sch40 = tuple(pipe for pipe in found if pipe.pipe_class == "Sch 40")
    if len(sch40) == 1 and all(pipe.system == "inch" for pipe in found):
        return sch40
    return found


@lru_cache(maxsize=1024)
def _tokens(text: str) -> frozenset[str]:
    """The words and numbers of a name, each in one spelling: {"1-1/4", "in", "sch40"}."""
    plain = text.casefold().replace("-u", "u")
    for sign, spelt in (_FRACTIONS | _PRIMES).items():
        plain = plain.replace(sign, spelt)
    tokens: list[str] = []
    for raw in _TOKEN.findall(plain):
        token = _number(raw) if raw[0] in "0123456789" else _SAME_WORD.get(raw, raw)
        if tokens and tokens[-1] in ("sch", "pn"):
            tokens[-1] += token  # the figure belongs to the class, not to the size
        else:
            tokens.append(token)
    return frozenset(tokens)


def _number(raw: str) -> str:
    """A size in one spelling, whether it was written 1-1/4, 1 1/4, 5/4 or 1.25."""
    whole, _, part = raw.replace("-", " ").rpartition(" ")
    try:
        return str(Fraction(part) + (int(whole) if whole.strip() else 0))
    except ZeroDivisionError:
        return raw


def _unknown(pipes: Sequence[PipeRow], text: str) -> Mistake:
    by_plain = {pipe.key.casefold(): pipe.key for pipe in pipes}
    near = get_close_matches(" ".join(text[:_LONGEST].casefold().split()), list(by_plain), n=3, cutoff=0.4)
    names = [by_plain[name] for name in near] or [pipe.key for pipe in pipes]
    lead = "Did you mean" if near else "There is"
    end = "?" if near else "."
    return Mistake("pipe", f"{_quoted(text)} is no pipe in the catalogue.", f"{lead} {', '.join(names)}{end}")


def _quoted(text: str) -> str:
    shown = "".join(sign if sign.isprintable() else "�" for sign in text[:41])
    return f'"{shown if len(shown) <= 40 else shown[:37] + "..."}"'
