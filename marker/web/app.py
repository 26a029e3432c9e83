"""The pages as one ASGI application."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.sessions import SessionMiddleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from marker.errors import MarkerError
from marker.web.desk import Office, Rates
from marker.web.headers import BodyLimit, SafeHeaders
from marker.web.papers import Papers
from marker.web.ratelimit import Rate
from marker.web.routes import ROUTES
from marker.web.settings import Limits, Settings
from marker.web.storage import Store
from marker.web.storage.people import secret
from marker.web.views import FOLDER, rendered

SESSION_LASTS = 12 * 60 * 60
_SAID = {
    401: ("Please come in first", "This page is for people who have signed in. Go to the first page and come in again."),
    403: ("Not for you", "You may not see this page. If you think you should, ask your teacher."),
    404: ("Nothing here", "There is no such page, or it is no longer here."),
    405: ("Nothing here", "There is no such page, or it is no longer here."),
    429: ("A little slower, please", "That was more than one person is likely to type."),
}
_FORM = (
    "Please try again",
    "The form was too old, or did not come from these pages. Nothing was changed. Go back, reload the page and try again.",
)


def create_app(store: Store, settings: Settings | None = None) -> Starlette:
    """The application over an open store. Sessions are signed with a secret of that store, so they outlast a restart."""
    settings = settings or Settings()
    app = Starlette(
        routes=[*ROUTES, Mount("/static", StaticFiles(directory=FOLDER / "static"), name="static")],
        middleware=[
            Middleware(SafeHeaders),
            Middleware(TrustedHostMiddleware, allowed_hosts=list(settings.hosts), www_redirect=False),
            Middleware(BodyLimit),
            Middleware(
                SessionMiddleware,
                secret_key=secret(store, "sessions"),
                session_cookie="marker_session",
                max_age=SESSION_LASTS,
                same_site="lax",
                https_only=settings.https,
            ),
        ],
        exception_handlers={HTTPException: _refused, MarkerError: _problem, Exception: _broken},
    )
    app.state.office = Office(
        store=store, papers=Papers(store), settings=settings, rates=_rates(settings.limits), link=secret(store, "link")
    )
    return app


def _rates(limits: Limits) -> Rates:
    return Rates(
        lines=Rate(limits.lines_a_minute, limits.lines_at_once),
        draws=Rate(limits.draws_a_minute, limits.draws_at_once),
        codes=Rate(limits.codes_a_minute, limits.codes_at_once),
        newcomers=Rate(limits.newcomers_a_minute, limits.newcomers_at_once),
    )


def _message(status: int, title: str, text: str, lines: tuple[str, ...] = (), headers: dict[str, str] | None = None) -> Response:
    return HTMLResponse(rendered("message.html", {"title": title, "text": text, "lines": lines}), status, headers=headers)


async def _refused(_request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    title, text = _FORM if error.detail == "form" else _SAID.get(error.status_code, ("Not possible", str(error.detail)))
    headers = dict(error.headers or {})
    if error.status_code == 429:
        text = f"{text} Wait {error.detail} seconds and go on; nothing is lost."
    return _message(error.status_code, title, text, headers=headers)


async def _problem(_request: Request, error: Exception) -> Response:
    assert isinstance(error, MarkerError)
    return _message(
        422, "This could not be used", "Please mend what is named here and try again.", tuple(p.sentence() for p in error.problems)
    )


async def _broken(_request: Request, _error: Exception) -> Response:
    text = "Something went wrong here, and it is not your doing. What was recorded before stays recorded."
    return _message(500, "Something went wrong", text)
