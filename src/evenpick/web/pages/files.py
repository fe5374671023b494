"""What comes with the pages: style, scripts, icon, the manifest of the installed app and its worker."""

from __future__ import annotations

import hashlib

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse, Response

from evenpick.base.language import tell
from evenpick.web.asked import token
from evenpick.web.showing import asset, static

router = APIRouter()
KINDS = {"css": "text/css", "js": "text/javascript", "svg": "image/svg+xml", "txt": "text/plain",
         "png": "image/png"}
KEPT = {"cache-control": "public, max-age=31536000, immutable"}
SHELL = ("pages.css", "waiting.js", "pages.js", "htmx.min.js", "icon.svg")


@router.get("/static/{name}")
def static_file(name: str) -> Response:
    try:
        body = asset(name)
    except KeyError:
        return Response(tell("There is no such file."), 404, media_type="text/plain")
    return Response(body, media_type=KINDS.get(name.rpartition(".")[2], "application/octet-stream"),
                    headers=KEPT)


@router.get("/manifest.webmanifest")
def manifest() -> Response:
    return JSONResponse(
        {"name": "evenpick", "short_name": "evenpick", "start_url": "/", "scope": "/",
         "display": "standalone", "background_color": "#faf8f1", "theme_color": "#faf8f1",
         "icons": [{"src": static("icon.svg"), "sizes": "any", "type": "image/svg+xml", "purpose": "any"}]},
        media_type="application/manifest+json",
    )


@router.get("/sw.js")
def worker() -> Response:
    """The service worker; its words change with the files it keeps, and so the browser fetches them anew."""
    files = [static(name) for name in SHELL]
    version = hashlib.sha256("".join(files).encode() + asset("worker.js")).hexdigest()[:10]
    head = f"const VERSION = {version!r};\nconst SHELL = {files!r};\n"
    return Response(head.encode() + asset("worker.js"), media_type="text/javascript",
                    headers={"cache-control": "no-cache"})


@router.get("/token")
def token_now(request: Request) -> JSONResponse:
    """The token of this session, for entries that waited on a device longer than a page lasts."""
    return JSONResponse({"token": token(request)}, headers={"cache-control": "no-store"})
