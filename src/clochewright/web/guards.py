"""What stands between the network and the page: who may ask, how much may be sent, what a browser may do with it.

Everything here is one ASGI layer around the application, so that no route can be reached past it.
"""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Awaitable, Callable, MutableMapping
from http import HTTPStatus
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from clochewright.findings import word
from clochewright.web.doorkeys import COOKIE, DoorKeys
from clochewright.web.settings import Settings

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Message, Receive, Send], Awaitable[None]]

MOST_BYTES = 256 * 1024
MOST_WEATHER_BYTES = 4 * 1024 * 1024  # a year of hours, which is larger than any form of ours
_AROUND_BYTES = 4096  # what a form writes around a file
LONGEST_PATH = 2000
_WEATHER = re.compile(r"/plan/[^/]+/weather")
_READS = ("GET", "HEAD", "OPTIONS")
_LOCAL = ("localhost", "127.0.0.1", "[::1]")
_HEADERS = {
    # Nothing but the page's own files; no inline script or style, no frame around it, no form that posts elsewhere.
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",  # no-referrer would make browsers send "Origin: null" with our own forms
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


class _TooMuchError(Exception):
    """More was sent than is taken."""


class Guards:
    """The layer; `keys` are those of phones that were let in."""

    def __init__(self, app: App, settings: Settings, keys: DoorKeys) -> None:
        self.app, self.settings, self.keys = app, settings, keys
        self.hosts = {*_LOCAL, *(name.casefold() for name in settings.names)}

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """One request, or the server's start and stop; anything else (a web socket) is not answered."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        refused = self._refusal(scope, headers)
        if refused is not None:
            await _refuse(scope, send, *refused)
            return
        if self.settings.lan and not _is_this_machine(scope):
            given = dict(parse_qsl(scope["query_string"].decode("latin-1"))).get("key", "")
            if given and scope["method"] == "GET" and (token := self.keys.use(given)):
                await _let_in(scope, send, token)
                return
            if not self.keys.knows(_cookie(headers.get("cookie", ""))):
                await _refuse(scope, send, HTTPStatus.FORBIDDEN, word("web.refused.key"))
                return
        await self._pass_on(scope, receive, send)

    def _refusal(self, scope: Message, headers: dict[str, str]) -> tuple[HTTPStatus, str] | None:
        """Why this request is not taken, if it is not."""
        host = headers.get("host", "")
        if sum(name == b"host" for name, _ in scope["headers"]) != 1 or _name_of(host) not in self.hosts:
            return HTTPStatus.MISDIRECTED_REQUEST, word("web.refused.host")
        if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > LONGEST_PATH:
            return HTTPStatus.REQUEST_URI_TOO_LONG, word("web.refused.missing")
        if scope["method"] not in _READS:
            if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
                return HTTPStatus.FORBIDDEN, word("web.refused.crossed")
            origin = headers.get("origin")
            if origin is not None and urlsplit(origin).netloc.casefold() != host.casefold():
                return HTTPStatus.FORBIDDEN, word("web.refused.crossed")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length[:12]) > _most_bytes(scope):
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE, word("web.refused.body")
        return None

    async def _pass_on(self, scope: Message, receive: Receive, send: Send) -> None:
        """The request itself, its body counted as it comes and its answer given our headers."""
        got, begun, most = 0, False, _most_bytes(scope)

        async def counted() -> Message:
            nonlocal got
            message = await receive()
            got += len(message.get("body", b""))
            if got > most:
                raise _TooMuchError
            return message

        async def guarded(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                message = {**message, "headers": [*message.get("headers", []), *_ours(scope)]}
            await send(message)

        try:
            await self.app(scope, counted, guarded)
        except _TooMuchError:
            if begun:
                raise
            await _refuse(scope, send, HTTPStatus.REQUEST_ENTITY_TOO_LARGE, word("web.refused.body"))


def _most_bytes(scope: Message) -> int:
    """How much of a body is taken: a form's worth, or a weather file where one is brought in."""
    if scope["method"] == "POST" and _WEATHER.fullmatch(scope["path"]):
        return MOST_WEATHER_BYTES + _AROUND_BYTES
    return MOST_BYTES


def _ours(scope: Message) -> list[tuple[bytes, bytes]]:
    headers = [(name.encode(), value.encode()) for name, value in _HEADERS.items()]
    if not scope["path"].startswith(("/static/", "/favicon")):
        headers.append((b"cache-control", b"no-store"))
    return headers


def _name_of(host: str) -> str:
    """The name in a Host header, without its port."""
    name, colon, port = host.rpartition(":")
    return (name if colon and port.isdecimal() else host).casefold()


def _is_this_machine(scope: Message) -> bool:
    client = scope.get("client") or ("",)
    try:
        return ipaddress.ip_address(client[0]).is_loopback
    except ValueError:
        return False


def _cookie(header: str) -> str:
    for part in header.split(";"):
        name, _, value = part.strip().partition("=")
        if name == COOKIE:
            return value
    return ""


async def _let_in(scope: Message, send: Send, token: str) -> None:
    """The cookie, and the same address again without its key."""
    rest = [(name, value) for name, value in parse_qsl(scope["query_string"].decode("latin-1")) if name != "key"]
    raw = scope.get("raw_path") or scope["path"].encode()
    address = "/" + raw.decode("latin-1").lstrip("/") + (f"?{urlencode(rest)}" if rest else "")
    cookie = f"{COOKIE}={token}; Path=/; HttpOnly; SameSite=Lax; Max-Age={DoorKeys.KEPT_S}"
    await _answer(
        scope, send, HTTPStatus.SEE_OTHER, "", [(b"location", address.encode()), (b"set-cookie", cookie.encode())]
    )


async def _refuse(scope: Message, send: Send, status: HTTPStatus, sentence: str) -> None:
    await _answer(scope, send, status, f"{sentence}\n", [(b"connection", b"close")])


async def _answer(
    scope: Message, send: Send, status: HTTPStatus, text: str, headers: list[tuple[bytes, bytes]]
) -> None:
    body = text.encode()
    plain = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": int(status), "headers": [*plain, *headers, *_ours(scope)]})
    await send({"type": "http.response.body", "body": body})
