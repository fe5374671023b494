"""What is said of crops that have no window."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.outlook.against import MAY_WAIT
from evenpick.service.windows import _worst


@pytest.mark.parametrize(("against", "told"), [
    ("frosted", "frosted"),
    (MAY_WAIT, "succeeds too seldom, or ripens no sooner than a later sowing"),
    ("", "succeeds too seldom"),
])
def test_where_there_is_no_window_nobody_is_told_to_wait(against: str, told: str) -> None:
    """Of the best sow day; peas at 3,094 m in Colorado were left out because waiting cost nothing."""
    crop: Any = SimpleNamespace(key="pea")
    made: Any = SimpleNamespace(
        outcome=SimpleNamespace(crop=crop),
        score=SimpleNamespace(score=np.array([0.1, 0.6, 0.2]), against=("too late", against, "frosted")),
    )
    assert _worst(crop, [made]) == told
