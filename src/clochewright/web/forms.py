"""What a form sends, taken apart; and the errors that pages tell."""

from __future__ import annotations

from collections.abc import Sequence

from fastapi import Request
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from clochewright.findings import word

MOST_FIELDS = 200
LONGEST_VALUE = 20_000

Pairs = tuple[tuple[str, str], ...]


class FormError(Exception):
    """A form that lacks something or holds what no form of ours sends; its text says what."""

    def __init__(self, what: str) -> None:
        super().__init__(word("web.refused.form", what=what))


async def form_pairs(request: Request) -> Pairs:
    """The names and values of a form, in order.

    Raises:
        FormError: It is no form, or holds files or far too much.
    """
    try:
        form = await request.form(max_fields=MOST_FIELDS, max_files=0)
    except (HTTPException, UnicodeDecodeError, ValueError):
        raise FormError("the form") from None
    pairs = []
    for name, value in form.multi_items():
        if isinstance(value, UploadFile) or len(value) > LONGEST_VALUE:
            raise FormError(name[:40])
        pairs.append((name, value))
    return tuple(pairs)


def one(pairs: Pairs, name: str, otherwise: str | None = None) -> str:
    """The value of a name.

    Raises:
        FormError: It isn't there and there is nothing to take in its place.
    """
    for given, value in pairs:
        if given == name:
            return value
    if otherwise is None:
        raise FormError(name)
    return otherwise


def typed_pairs(pairs: Pairs) -> tuple[tuple[str, str], ...]:
    """Each path with its value: they come in turn.

    Raises:
        FormError: There are none, or not as many of the one as of the other.
    """
    paths: Sequence[str] = [value for name, value in pairs if name == "path"]
    values: Sequence[str] = [value for name, value in pairs if name == "value"]
    if not paths or len(paths) != len(values) or len(paths) > MOST_FIELDS:
        raise FormError("path")
    return tuple(zip(paths, values, strict=True))
