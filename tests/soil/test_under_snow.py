"""What snow keeps from the cold (covers.md, 11)."""

from __future__ import annotations

import numpy as np
import pytest

from evenpick.soil.snow import DEPTH, night_under_snow

BARE_TO_CROWN = 0.7  # of the air's frost comes to a crown in bare ground (wofost)


def crown(tmin: float, depth: float) -> float:
    """The crown's minimum, °C, under so many cm of snow."""
    felt = night_under_snow(np.array([[tmin]]), np.array([[depth / DEPTH]]), 0.0)
    return float(felt[0, 0]) * BARE_TO_CROWN


def test_seven_centimetres_keep_winter_wheat_alive_at_forty_below() -> None:
    """About 7 cm keep crowns over -16 °C when the air comes near -40 (aase1979); 3 cm do not, nor does bare
    ground."""
    assert -16.0 < crown(-40.0, 7.0) < -12.0
    assert crown(-40.0, 3.0) < -16.0
    assert crown(-40.0, 0.0) == pytest.approx(-28.0)


def test_more_than_fifteen_centimetres_shelter_no_better() -> None:
    assert crown(-30.0, 15.0) == pytest.approx(crown(-30.0, 60.0)) == pytest.approx(-6.0)


def test_only_what_snow_stands_over_the_bud_counts() -> None:
    night, snow = np.array([[-20.0]]), np.array([[10.0 / DEPTH]])
    assert night_under_snow(night, snow, 0.10)[0, 0] == -20.0
    assert night_under_snow(night, snow, 0.05) == pytest.approx(
        night_under_snow(night, snow / 2, 0.0)
    )


def test_a_mild_night_is_as_it_is() -> None:
    assert night_under_snow(np.array([[3.0]]), np.array([[50.0]]), 0.0)[0, 0] == 3.0
