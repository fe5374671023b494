"""A plan being made: how far it is, and a way to stop it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.language import later, tell
from evenpick.web.served import check_token, served, show

router = APIRouter()
TITLES = {"running": later("Making the plan"), "done": later("The plan"), "stopped": later("The plan"),
          "failed": later("The plan"),
          "nothing": later("The plan")}


@router.get("/work")
def work_page(request: Request) -> Response:
    if not served(request).begun:
        return RedirectResponse("/begin", 303)
    told = served(request).work.told()
    return show(request, "work.html", tell(TITLES[told.state]), told=told)


@router.post("/work")
def start(
    request: Request, token: Annotated[str, Form()] = "", mend: Annotated[bool, Form()] = False,
) -> Response:
    check_token(request, token)
    served(request).work.start(mend=mend)
    return RedirectResponse("/work", 303)


@router.post("/work/stop")
def stop(request: Request, token: Annotated[str, Form()] = "") -> Response:
    check_token(request, token)
    served(request).work.stop()
    return RedirectResponse("/work", 303)
