"""Told beside sow days of a garden whose open ground nobody waters."""

from __future__ import annotations

from collections.abc import Iterator

from evenpick.base.language import tell
from evenpick.report.page import Text


def by_rain(watered: bool) -> Iterator[Text]:
    """One paragraph where the days hold for what the rain leaves; nothing of watered ground."""
    if not watered:
        yield Text(tell(
            "Nobody waters the open ground, says the garden file: these days are those on which the rain "
            "does it, at worst, for no water is taken to rise from below. Drills count as never watered: a "
            "can along the drill until it is up (evenpick water) brings back what dries out."
        ))
