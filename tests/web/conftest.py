"""Fixtures: a small invented garden served to a client in the same process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from served_garden import DAY, GARDEN, HERE, Place, grown_diary, plan_for

from evenpick.service.store_plan import save_plan
from evenpick.web.app import create_app


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    save_plan(path, plan_for(GARDEN))
    return path


@pytest.fixture
def place(garden: Path) -> Iterator[Place]:
    app = create_app(garden, clock=lambda: DAY)
    with TestClient(app, base_url=HERE, follow_redirects=False) as client:
        yield Place(garden, app, client)


@pytest.fixture
def grown(place: Place) -> Place:
    """With a few INVENTED sowings in its diary."""
    grown_diary(place.garden)
    return place


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Place]:
    """A folder without a garden yet."""
    path = tmp_path / "garden.toml"
    app = create_app(path, clock=lambda: DAY)
    with TestClient(app, base_url=HERE, follow_redirects=False) as client:
        yield Place(path, app, client)
