"""A plan being made: how far it is, and a way to stop it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.language import later, tell
from evenpick.report.words import tenths
from evenpick.web.asked import check_token
from evenpick.web.served import about_of
from evenpick.web.showing import show
from evenpick.web.work import UNDER_WAY

router = APIRouter()
MAKING, MADE = later("Making the plan"), later("The plan")


@router.get("/work")
def work_page(request: Request) -> Response:
    about = about_of(request)
    if not about.begun:
        return RedirectResponse("/begin", 303)
    told = about.work.told()
    title = tell(MAKING if told.state in UNDER_WAY else MADE)
    return show(request, "work.html", title, told=told, tenths=tenths, read_back=about.read_back,
                gap=about.gap_told() if told.kept or told.stays else "")


@router.post("/work")
def start(
    request: Request, token: Annotated[str, Form()] = "", mend: Annotated[bool, Form()] = False,
) -> Response:
    check_token(request, token)
    about = about_of(request)
    about.read_back = ()
    about.work.start(mend=mend)
    return RedirectResponse("/work", 303)


@router.post("/work/stop")
def stop(request: Request, token: Annotated[str, Form()] = "") -> Response:
    check_token(request, token)
    about_of(request).work.stop()
    return RedirectResponse("/work", 303)
