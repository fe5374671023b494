"""The web application over one garden."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from fastapi import APIRouter, FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse
from fastapi.routing import APIRoute
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.types import ASGIApp, Receive, Scope, Send

from evenpick import __version__
from evenpick.base.errors import BadGarden, EvenpickError, Problem
from evenpick.base.language import choose, tell
from evenpick.web import api
from evenpick.web.guard import LOOPBACK, Guard
from evenpick.web.keys import keys_of
from evenpick.web.pages import (
    beginning,
    diary,
    files,
    ground,
    lessons,
    losses,
    pickings,
    planning,
    signing,
    sowings,
    sown,
    tin,
    today,
    trials,
    water,
    weather,
    when,
    why,
)
from evenpick.web.problems import Refused, fault_of_form, fault_of_program, shape_of, status_of
from evenpick.web.served import About, NoPlan, Served, about_of
from evenpick.web.showing import show

ROUTERS = (today.router, pickings.router, sowings.router, diary.router, why.router, when.router,
           tin.router, weather.router, ground.router, trials.router, planning.router,
           losses.router, water.router, lessons.router, sown.router,
           beginning.router, signing.router, files.router)
WORTH_PACKING = 1000
"""bytes"""


def create_app(
    garden: Path, names: Iterable[str] = LOOPBACK, sessions: bool = False,
    clock: Callable[[], date] = date.today,
) -> FastAPI:
    """The application. `names` are the hosts it answers to; `sessions` asks for the passphrase first."""
    return app_of(Served(garden, keys_of(garden), sessions, clock), names)


def app_of(about: About, names: Iterable[str] = LOOPBACK) -> FastAPI:
    """The application over a garden as it is served; `names` are the hosts it answers to."""
    return _assembled(about, names, (api.router,), ROUTERS)


def app_together(about: About, names: Iterable[str] = LOOPBACK) -> FastAPI:
    """The application over a cooperative."""
    from evenpick.web.pages import cooperative  # the planner's own modules, which one garden does not need

    return _assembled(about, names, (cooperative.api,),
                      (cooperative.router, planning.router, signing.router, files.router))


def _assembled(
    about: About, names: Iterable[str], described: Iterable[APIRouter], routers: Iterable[APIRouter]
) -> FastAPI:
    """`described` are in the description of the interface, the other routers are pages."""
    app = FastAPI(title="evenpick", version=__version__, docs_url=None, redoc_url=None,
                  openapi_url="/api/openapi.json",
                  description="The answers of the command line about the garden that is served "
                              "(docs/interface.md). Units are metric, days year-month-day.")
    app.state.served, app.state.takes = about, _taken_by(routers)
    for router in described:
        app.include_router(router)
    for router in routers:
        app.include_router(router, include_in_schema=False)
    app.add_exception_handler(EvenpickError, _told)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _plain)
    app.add_middleware(GZipMiddleware, minimum_size=WORTH_PACKING, compresslevel=5)
    app.add_middleware(Guard, keys=lambda: app.state.served.keys, names=names, sessions=about.sessions)
    app.add_middleware(Speaking, served=lambda: app.state.served)
    return app


class Speaking:
    """Every request is answered in the garden's language."""

    def __init__(self, app: ASGIApp, served: Callable[[], About]) -> None:
        self._app, self._served = app, served

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        choose(self._served().language())
        await self._app(scope, receive, send)


def _told(request: Request, error: Exception) -> Response:
    """A fault that the grower can mend: JSON for programs, a page for people."""
    assert isinstance(error, EvenpickError)
    problems = tuple(map(about_of(request).placed, error.problems))
    if _wants_json(request):
        return JSONResponse(shape_of(problems), status_of(error))
    if isinstance(error, BadGarden) and request.method == "GET" and not about_of(request).begun:
        return RedirectResponse("/begin", 303)
    if isinstance(error, NoPlan):
        return RedirectResponse("/work" if about_of(request).begun else "/begin", 303)
    back = request.headers.get("referer", "/")
    return show(request, "problem.html", tell("That could not be done"), status=status_of(error),
                problems=problems, back=back if back.startswith(str(request.base_url)) else "/")


def _invalid(request: Request, error: Exception) -> Response:
    """What does not fit the form of the request, told like every other fault."""
    assert isinstance(error, RequestValidationError)
    if (page := _page_of_form(request)) is not None:
        return page
    describe = fault_of_program if _wants_json(request) else fault_of_form
    problems = [describe(fault) for fault in error.errors()]
    return _told(request, Refused(422, problems[0]) if len(problems) == 1 else _Several(422, problems))


class _Several(Refused):
    def __init__(self, status: int, problems: list[Problem]) -> None:
        super().__init__(status, problems[0])
        self.problems = tuple(problems)


def _plain(request: Request, error: Exception) -> Response:
    """No such page, or not by this method."""
    assert isinstance(error, HTTPException)
    if (page := _page_of_form(request)) is not None:
        return page
    words = {404: tell("there is no such page."), 405: tell("that can't be done here.")}
    what = words.get(error.status_code, error.detail)
    answer = _told(request, Refused(error.status_code, Problem(what, tell("See the pages above."))))
    answer.headers.update(error.headers or {})
    return answer


def _page_of_form(request: Request) -> Response | None:
    """To the page that a form stood on, where its address is opened by itself: reloaded or
    bookmarked. Nothing was sent, so nothing can be done there. None where the address is no form's."""
    path, takes = request.url.path, request.app.state.takes
    if request.method != "GET" or _wants_json(request) or "POST" not in takes.get(path, ()):
        return None
    while (path := path.rpartition("/")[0]) and "GET" not in takes.get(path, ()):
        pass
    return RedirectResponse(path or "/", 303)


def _taken_by(routers: Iterable[APIRouter]) -> dict[str, set[str]]:
    """The methods that each address takes."""
    found: dict[str, set[str]] = {}
    for router in routers:
        for route in router.routes:
            if isinstance(route, APIRoute):
                found.setdefault(route.path, set()).update(route.methods or ())
    return found


def _wants_json(request: Request) -> bool:
    accepts = request.headers.get("accept", "text/html")
    return request.url.path.startswith("/api/") or "text/html" not in accepts
