"""Who may in: only pages that this bench handed out, on this computer, in the browser that was given its address."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from flask import Request, abort
from werkzeug.wrappers import Response

if TYPE_CHECKING:
    from werkzeug.datastructures import Headers

MOST_BYTES = 12_000_000
"""A larger request is read no further: a file of 8 MB, written in base 64, fits."""
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
    "Cache-Control": "no-store",
}


def _random() -> str:
    return secrets.token_urlsafe(32)


@dataclass(frozen=True)
class Guard:
    """What a request must show: the port that it was sent to, and once the token, then the cookie that it gave."""

    port: int
    token: str = field(default_factory=_random, repr=False)
    cookie: str = field(default_factory=_random, repr=False)

    @property
    def hosts(self) -> tuple[str, ...]:
        """The names under which this bench is asked for; of any other it knows nothing."""
        return tuple(f"{name}:{self.port}" for name in ("127.0.0.1", "localhost", "[::1]"))

    @property
    def cookie_name(self) -> str:
        """The name of its cookie: those of several benches lie side by side, for cookies know no ports."""
        return f"jigleaf-{self.port}"

    @property
    def address(self) -> str:
        """The address that opens it."""
        return f"http://127.0.0.1:{self.port}/?token={self.token}"

    def check(self, request: Request) -> None:
        """Refuse a request that is not from a page of ours; whoever brings the token is let through to `enter`."""
        if request.host not in self.hosts:
            abort(403, "This is not the address of the bench.")
        if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
            abort(403, "Another site asked for this.")
        if request.method not in ("GET", "HEAD"):
            self._check_change(request)
        if not self.brings_token(request) and not self._knows(request):
            abort(403, "This page was not opened by the bench.")

    def brings_token(self, request: Request) -> bool:
        """Whether this is the address that was handed out."""
        return request.path == "/" and _same(request.args.get("token", ""), self.token)

    def _knows(self, request: Request) -> bool:
        return _same(request.cookies.get(self.cookie_name, ""), self.cookie)

    def _check_change(self, request: Request) -> None:
        """Refuse to change anything for a form, and for a page that is not of this bench."""
        if request.mimetype != "application/json":
            abort(415, "The bench takes JSON.")
        origin = request.headers.get("Origin")
        ours = origin in {f"http://{host}" for host in self.hosts} if origin is not None else None
        if ours is False or (ours is None and request.headers.get("Sec-Fetch-Site") != "same-origin"):
            abort(403, "Another site asked for this.")

    def enter(self, response: Response) -> Response:
        """Give the browser its cookie."""
        response.set_cookie(self.cookie_name, self.cookie, httponly=True, samesite="Strict", path="/")
        return response


def _same(one: str, other: str) -> bool:
    return secrets.compare_digest(one.encode(), other.encode())


def harden(headers: Headers) -> None:
    """Add what a browser is told of every answer: run, show and send nothing that is not of this bench."""
    for name, value in _HEADERS.items():
        headers.setdefault(name, value)
