"""Debian's Chromium on a really served small INVENTED garden. Skipped where no Chromium is installed."""

from __future__ import annotations

import socket
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from starlette.types import ASGIApp

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "web"))

from served_garden import DAY, GARDEN, grown_diary, plan_for

from invented_farms import answer_of, written  # isort: skip  (served_garden says where it is)

from evenpick.service.cooperative import save_cooperative
from evenpick.service.store_plan import save_plan
from evenpick.web.app import app_of, app_together, create_app
from evenpick.web.keys import keys_of, set_passphrase
from evenpick.web.serve import ByPort, bind, port_of
from evenpick.web.together import served_together

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking",
         "--disable-component-update", "--no-first-run", "--disable-sync"]
expect.set_options(timeout=12_000)  # processes may share a core; below the 15 s until a page tries again
AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.allow_hosts(["127.0.0.1"]))
            if not CHROMIUM.exists():
                item.add_marker(pytest.mark.skip(reason="no Chromium: apt-get install chromium"))


@dataclass
class House:
    """A served garden and the browsers that look at it."""

    garden: Path
    app: FastAPI
    address: str
    browser: Browser
    asked: list[str] = field(default_factory=list)
    """every address that a page asked for"""
    open: list[BrowserContext] = field(default_factory=list)

    def visit(self, path: str = "/", width: int = 390, script: bool = True, **more: object) -> Page:
        """A new browser, as of another person, on a page."""
        context = self.browser.new_context(
            viewport={"width": width, "height": 844 if width < 700 else 900}, java_script_enabled=script,
            **more)  # type: ignore[arg-type]
        self.open.append(context)
        page = context.new_page()
        context.on("request", lambda request: self.asked.append(request.url))
        page.set_default_timeout(30_000)
        page.goto(self.address + path)
        return page


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as play:
        made = play.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield made
        made.close()


@pytest.fixture
def serve(tmp_path: Path, browser: Browser) -> Iterator[Callable[..., House]]:
    """Serves a garden, or a folder without one, until the test ends; no page may have asked elsewhere."""
    servers: list[tuple[uvicorn.Server, threading.Thread]] = []
    houses: list[House] = []

    def begin(
        text: str | None = GARDEN, clock: Callable[[], date] = lambda: DAY, passphrase: str = ""
    ) -> House:
        garden = tmp_path / "garden.toml"
        if text is not None:
            garden.write_text(text, encoding="utf-8")
            save_plan(garden, plan_for(text))
        bound = bind("127.0.0.1", 0)
        if passphrase:
            set_passphrase(keys_of(garden), passphrase)
        app = create_app(garden, sessions=bool(passphrase), clock=clock)
        servers.append(running(app, [bound]))
        houses.append(House(garden, app, f"http://127.0.0.1:{port_of(bound)}", browser))
        return houses[-1]

    yield begin
    for house in houses:
        for context in house.open:
            context.close()
    for server, thread in servers:
        server.should_exit = True
        thread.join(5)
    for house in houses:
        elsewhere = [url for url in house.asked if not url.startswith(house.address)]
        assert not elsewhere, f"asked for outside the garden: {elsewhere}"


def running(app: ASGIApp, bound: list[socket.socket]) -> tuple[uvicorn.Server, threading.Thread]:
    """A server that answers at its sockets."""
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off"))
    thread = threading.Thread(target=lambda: server.run(sockets=bound), daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    return server, thread


@pytest.fixture
def together(tmp_path: Path, browser: Browser) -> Iterator[House]:
    """Two INVENTED farms, with the cooperative's pages at the house's address."""
    file = written(tmp_path)
    save_cooperative(file, answer_of(file))
    bound = [bind("127.0.0.1", 0) for _ in range(3)]
    ports = [port_of(each) for each in bound]
    about = served_together(file, ports, clock=lambda: DAY)
    apps = [app_together(about), *map(app_of, about.farms.values())]
    server, thread = running(ByPort(dict(zip(ports, apps, strict=True))), bound)
    house = House(file, apps[0], f"http://127.0.0.1:{ports[0]}", browser)
    yield house
    for context in house.open:
        context.close()
    server.should_exit = True
    thread.join(5)
    own = tuple(f"http://127.0.0.1:{port}/" for port in ports)
    assert not [url for url in house.asked if not url.startswith(own)]


@pytest.fixture
def house(serve: Callable[..., House]) -> House:
    return serve()


@pytest.fixture
def grown(house: House) -> House:
    """With a few INVENTED sowings in its diary."""
    grown_diary(house.garden)
    return house


def axe(page: Page) -> list[str]:
    """What axe-core finds wrong, each with the place."""
    page.evaluate(AXE)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']}).then(found => found.violations)")
    return [f"{one['id']}: {node['target']} {node['failureSummary']}"
            for one in found for node in one["nodes"]]


@pytest.fixture
def violations() -> Callable[[Page], list[str]]:
    return axe


