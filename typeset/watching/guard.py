"""Which pages in a browser are answered: our own, and no other.

The server listens on the loopback address alone, which keeps other machines out, but any page in the user's browser
can send requests there, and a name that its owner turns to 127.0.0.1 (DNS rebinding) makes such a page's answers
readable. So the name that was asked for has to be ours (RFC 9110, 7.2), and where a browser says which page asks,
that page too (the Origin header of RFC 6454, 7; Fetch Metadata Request Headers, W3C Working Draft).

Programs on this machine are not kept out, whoever runs them: they can say of themselves whatever a browser says of
a page, and then see the book as it is shown.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from aiohttp import web
from aiohttp.typedefs import Middleware

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]

_OWN = ("same-origin", "none")
"""Who asks, as a browser says it: a page of ours, or the user who typed the address."""

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)

HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
    "Cache-Control": "no-store",
}
"""What goes with every answer."""


def hosts_of(port: int) -> frozenset[str]:
    """The names that our server may be asked by."""
    return frozenset(f"{name}:{port}" for name in ("127.0.0.1", "localhost"))


def is_welcome(method: str, headers: Mapping[str, str], hosts: frozenset[str]) -> bool:
    """Whether a request may be answered; one that makes something has to say that it comes from our own page."""
    host = headers.get("Host", "").lower()
    origin = headers.get("Origin", "").lower()
    if host not in hosts or headers.get("Sec-Fetch-Site", "none") not in _OWN:
        return False
    reads = method in ("GET", "HEAD")
    return origin == f"http://{host}" or (reads and not origin)


def guard(hosts: frozenset[str]) -> Middleware:
    """Refuses who is not welcome, and says with every answer what the page may do."""

    @web.middleware
    async def guarded(request: web.Request, handler: Handler) -> web.StreamResponse:
        if not is_welcome(request.method, request.headers, hosts):
            return web.Response(status=403, text="This page answers to itself alone.\n", headers=HEADERS)
        try:
            response = await handler(request)
        except web.HTTPException as error:
            _add(error.headers)
            raise
        if not response.prepared:
            _add(response.headers)
        return response

    return guarded


def _add(headers: Any) -> None:
    for name, value in HEADERS.items():
        headers.setdefault(name, value)
