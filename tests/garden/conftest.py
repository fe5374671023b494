"""What the garden tests share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from small_garden import TODAY

from evenpick.base.errors import BadGarden, Problem
from evenpick.crops.catalogue import Catalogue, load_catalogue
from evenpick.garden.garden import Garden
from evenpick.garden.reading import understand


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def read(catalogue: Catalogue) -> Callable[[str], Garden]:
    def reader(text: str) -> Garden:
        return understand(text, "garden.toml", Path("nowhere"), catalogue, TODAY)

    return reader


@pytest.fixture(scope="session")
def faults(read: Callable[[str], Garden]) -> Callable[[str], tuple[Problem, ...]]:
    def find(text: str) -> tuple[Problem, ...]:
        with pytest.raises(BadGarden) as caught:
            read(text)
        return caught.value.problems

    return find
