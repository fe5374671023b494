"""The pages as they look, small, in docs/screens: the demo's garden on 3 July of its plan.

    python builders/screens.py
"""

from __future__ import annotations

import tempfile
import threading
import time
from datetime import date
from importlib.resources import files
from pathlib import Path

import uvicorn
from playwright.sync_api import sync_playwright

from evenpick.service.planning import make_plan, save_plan
from evenpick.web.app import create_app
from evenpick.web.serve import bind

CHROMIUM = "/usr/bin/chromium"
TARGET = Path(__file__).resolve().parents[1] / "docs" / "screens"
DAY = date(2027, 7, 3)
PAGES = ("/", "/pickings", "/sowings", "/ground", "/tin", "/weather", "/diary", "/trials")
WIDTHS = ((390, 844), (1280, 900))


def main() -> None:
    TARGET.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        garden = Path(folder) / "garden.toml"
        text = files("evenpick").joinpath("data", "demo", "garden.toml").read_text(encoding="utf-8")
        garden.write_text(text, encoding="utf-8")
        save_plan(garden, make_plan(garden))
        bound = bind("127.0.0.1", 0)
        app = create_app(garden, clock=lambda: DAY)
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off"))
        threading.Thread(target=lambda: server.run(sockets=[bound]), daemon=True).start()
        while not server.started:
            time.sleep(0.05)
        address = f"http://127.0.0.1:{bound.getsockname()[1]}"
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for width, height in WIDTHS:
            page = browser.new_page(viewport={"width": width, "height": height})
            for path in PAGES:
                page.goto(address + path, wait_until="networkidle")
                name = path.strip("/") or "today"
                page.screenshot(path=TARGET / f"{name}-{width}.jpg", type="jpeg", quality=55)
        browser.close()
        server.should_exit = True


if __name__ == "__main__":
    main()
