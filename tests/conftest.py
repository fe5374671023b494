"""Shared fixtures. Tests never need the network, nor the raw sources; the few that use them skip without."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

os.environ["LC_ALL"] = "C.UTF-8"  # help is told in the system's language, and tests read the source language

SHARED = Path(__file__).resolve().parents[2] / "shared"


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of raw sources beside the project, or a skip."""
    if not SHARED.is_dir():
        pytest.skip("raw sources are not beside the project")
    return SHARED
