"""What goes with every answer, and what no request may exceed. Plain ASGI, so that nothing is buffered."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}
LARGEST_BODY = 256 * 1024
LARGEST_UPLOAD = 24 * 1024 * 1024


class SafeHeaders:
    """Adds the headers above; pages are never kept by a cache, static files for an hour."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        static = scope["path"].startswith("/static/")

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                headers["Cache-Control"] = "max-age=3600" if static else "no-store"
            await send(message)

        await self._app(scope, receive, with_headers)


class BodyLimit:
    """Refuses a body that says it is, or turns out to be, larger than allowed: 256 KiB, or 24 MiB where files are taken in."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["method"] in ("GET", "HEAD"):
            await self._app(scope, receive, send)
            return
        most = LARGEST_UPLOAD if scope["path"] == "/tests" else LARGEST_BODY
        said = next((v for k, v in scope["headers"] if k == b"content-length"), b"0")
        if not said.isdigit() or int(said) > most:
            await _too_large(send)
            return
        got = 0

        async def counted() -> Message:
            nonlocal got
            message = await receive()
            got += len(message.get("body", b""))
            if got > most:
                raise TooLarge
            return message

        try:
            await self._app(scope, counted, send)
        except TooLarge:
            await _too_large(send)


class TooLarge(Exception):
    """The body of a request went beyond the limit while it was read."""


async def _too_large(send: Send) -> None:
    await send({"type": "http.response.start", "status": 413, "headers": [(b"content-type", b"text/plain; charset=utf-8")]})
    await send({"type": "http.response.body", "body": b"This is too large to be taken in."})
