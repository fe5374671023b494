from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def garden(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """The garden file that the test module holds as `TEXT`."""
    path = tmp_path / "garden.toml"
    path.write_text(request.module.TEXT, encoding="utf-8")
    return path
