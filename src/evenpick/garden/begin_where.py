"""Where a first garden is, as it is typed: a town or a point, with its height above the sea or without."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace

from evenpick.climate.site import Site
from evenpick.garden import amounts

_HEIGHT = re.compile(
    r"\s*,?\s*\bat\s+(-?\d[\d.,]*\s*(?:m|metres?|meters?|ft|feet|foot))$|"
    r"\s*,?\s+(-?\d[\d.,]*\s*(?:m|metres?|meters?|ft|feet|foot))"
    r"(?:\s+(?:up|high|above (?:the )?sea(?: level)?|a\.?s\.?l\.?|elevation|altitude))?$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Where:
    lines: str
    """of the garden file under [site]"""
    site: Site
    country: str
    """of a town its country's two letters"""
    height_said: bool


def where_said(text: str, height: str = "") -> Where:
    """The place that is meant, 'Dublin, IE' or '18.5, 73.9, 560 m'; `height` goes before one in the text.
    UnknownPlace; BadGarden for a height that can't be."""
    from evenpick.climate.places import country_of, find_place
    from evenpick.climate.point import parse_point

    said = _HEIGHT.search(text.strip())
    place = text.strip()[: said.start()] if said else text.strip()
    high = height or ((said[1] or said[2]) if said else "")
    if place[:1] in tuple("0123456789+-."):
        site, country = parse_point(place), ""
        line = f'at = "{site.lat:.6f}, {site.lon:.6f}"'
    else:
        site, country = find_place(place), country_of(place)
        line = f"place = {quoted(place)}"
    if not high:
        return Where(line, site, country, False)
    metres = amounts.height(high.replace(",", ""))
    lines = f"{line}\nheight = {quoted(high.replace(',', ''))}"
    return Where(lines, replace(site, height_m=metres), country, True)


def quoted(text: str) -> str:
    """A TOML basic string; its escapes are JSON's, and the delete character too must be one."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
