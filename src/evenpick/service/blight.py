"""A caution where potatoes or tomatoes were lost to blight: what replants it is the same ground and what was
left in it. Common practice, no source."""

from __future__ import annotations

from evenpick.base.language import tell
from evenpick.garden.record import Sowing

HOSTS = ("early-potato", "main-potato", "tomato")


def blight_caution(lost: Sowing) -> str:
    """What to heed before any of its hosts is planted again; empty of any other loss."""
    if lost.fact.crop not in HOSTS or not any("blight" in loss.by.casefold() for loss in lost.losses):
        return ""
    return tell("CAUTION: it was lost to blight. Plant no potatoes or tomatoes into that ground again this "
                "year or next; first clear away all haulm, fallen fruit and every tuber left in the ground, "
                "and keep them off the heap, for it lives on in them (common practice, no source).")
