"""The pages as they look, small, in docs/screens: the demo's garden on 3 July of its plan,
with a few INVENTED diary entries.

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

from evenpick.base.days import day_number
from evenpick.base.trade import WayName
from evenpick.garden.diary import CameUp, Cleared, Entry, Lost, Picked, Sowed, new_id
from evenpick.service.book import keep
from evenpick.service.planning import make_plan, save_plan
from evenpick.web.app import create_app
from evenpick.web.serve import bind

CHROMIUM = "/usr/bin/chromium"
TARGET = Path(__file__).resolve().parents[1] / "docs" / "screens"
DAY, PLANNED = date(2027, 7, 3), date(2027, 6, 26)
PAGES = {
    "today": "/", "pickings": "/pickings", "sowings": "/sowings", "ground": "/ground", "tin": "/tin",
    "weather": "/weather", "diary": "/diary", "trials": "/trials", "water": "/water", "lessons": "/lessons",
    "losses": "/losses", "after-loss": "/losses/{lost}", "water-one": "/water/{drill}",
    "sown": "/sown/{lost}",
}
WIDTHS = ((390, 844), (1280, 900))


def number(month: int, day: int, year: int = DAY.year) -> int:
    return day_number(date(year, month, day))


def diary(garden: Path) -> dict[str, str]:
    """INVENTED: a few sowings of last year and this, for something to water and to learn from."""
    def one(at: int, crop: str, area: float, ground: str, way: WayName = "direct") -> str:
        made = new_id()
        keep(garden, [Entry(made, at, Sowed(crop, way, "open", area, "", ground))])
        return made

    for sown, picked, over, kg in ((4, 6, 7, 4.2), (5, 7, 8, 3.9)):
        last = one(number(sown, 10, 2026), "radish", 3.0, "long beds 1")
        keep(garden, [Entry(new_id(), number(picked, 2, 2026), Picked("radish", last, kg=kg)),
                      Entry(new_id(), number(over, 1, 2026), Cleared(last))])
    lost = one(number(5, 22), "beetroot", 6.0, "long beds 2")
    drill = one(number(6, 30), "early-carrot", 6.0, "long beds 3")
    one(number(5, 29), "courgette", 6.0, "long beds 4", "raised")
    beans = one(number(6, 1), "dwarf-bean", 4.0, "long beds 5")
    keep(garden, [Entry(new_id(), number(6, 10), CameUp(beans)), Entry(new_id(), number(6, 3), CameUp(lost))])
    return {"lost": lost, "drill": drill}


def main() -> None:
    TARGET.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        garden = Path(folder) / "garden.toml"
        text = files("evenpick").joinpath("data", "demo", "garden.toml").read_text(encoding="utf-8")
        garden.write_text(text, encoding="utf-8")
        named = diary(garden)
        save_plan(garden, make_plan(garden, PLANNED))
        keep(garden, [Entry(new_id(), number(7, 2), Lost(named["lost"], "eaten", 0.8, "slugs"))])
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
            for name, path in PAGES.items():
                page.goto(address + path.format(**named), wait_until="networkidle")
                page.screenshot(path=TARGET / f"{name}-{width}.jpg", type="jpeg", quality=55)
        browser.close()
        server.should_exit = True


if __name__ == "__main__":
    main()
