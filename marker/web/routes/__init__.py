"""Every address of the pages, in one table."""

from starlette.routing import BaseRoute

from marker.web.routes import entry, people, practise, record, settle, tests

ROUTES: tuple[BaseRoute, ...] = (*entry.ROUTES, *tests.ROUTES, *settle.ROUTES, *record.ROUTES, *people.ROUTES, *practise.ROUTES)

__all__ = ["ROUTES"]
