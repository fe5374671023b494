"""Shared fixtures. Tests never need the network, nor the raw sources; the 29 that read them skip without.

These 29 hold the packaged tables against the raw ones, the readers against another reading of the same files,
and soil warmth, evaporation and station normals against measured or published ones. A run that skips them has
not checked the program against the world there.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("any machine", deadline=None)  # how long an example takes is the machine's affair
settings.load_profile("any machine")

os.environ["LC_ALL"] = "C.UTF-8"  # help is told in the system's language, and tests read the source language

HERE = Path(__file__).resolve()
SHARED = next((up / "shared" for up in HERE.parents if (up / "shared" / "weather").is_dir()), None)
"""in a folder that holds the project, however far up"""


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of raw sources beside the project, or a skip."""
    if SHARED is None:
        pytest.skip("the raw sources (shared/weather) are in no folder that holds the project")
    return SHARED
