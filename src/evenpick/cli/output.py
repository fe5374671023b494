"""Where answers go: what the output has no sign for is written in others."""

from __future__ import annotations

import codecs
import sys

NAME = "evenpick"
DRAWN = {"─": "-", "│": "|", "‹": "<", "█": "#", "▇": "7", "▆": "6", "▅": "5", "▄": "4", "▃": "3", "▂": "2",
         "▁": "1"}
"""what pictures are drawn with, and JSON has not → in ASCII"""


def write_anything() -> None:
    """Let what the output's encoding lacks be drawn in ASCII, or written as JSON would (\\u3042), and be no
    error: the grower chose the encoding, not the names of beds."""
    codecs.register_error(NAME, _in_its_stead)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)  # a stream put in their place may have none
        if reconfigure is not None:
            reconfigure(errors=NAME)


def _in_its_stead(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_sign, error.object[error.start : error.end])), error.end


def _sign(letter: str) -> str:
    pairs = letter.encode("utf-16-be", "surrogatepass").hex()
    return DRAWN.get(letter) or "".join(f"\\u{pairs[at : at + 4]}" for at in range(0, len(pairs), 4))
