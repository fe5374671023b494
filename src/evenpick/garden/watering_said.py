"""Whether the open ground can be watered, as it is spoken: 'yes, by hose', 'no, rain only'."""

from __future__ import annotations

import re

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell

_NO = re.compile(
    r"(?:no|n|nope|nein|non|nee|never|not|none|nobody|false|0|can'?t|cannot|dry ?land|dry[ -]?farm\w*|"
    r"un(?:watered|irrigated)|(?:only|just|by|on)?\s*(?:the\s+)?rain(?:[ -]?fed|s|fall)?(?:\s+only)?)\b"
)
_YES = re.compile(
    r"(?:yes|y|yep|yeah|ja|jawohl|s[ií]|oui|sure|of course|true|1|it can|we can|i can|can be|irrigat\w*|"
    r"drip\w*|sprinkl\w*|"
    r"(?:by |with )?(?:an? |the )?(?:hand|hose\w*|cans?(?!')|watering can|bucket|tap|well|bore ?hole|pump|"
    r"canal|tank|(?:rain ?)?(?:butt|barrel)s?|mains|drip\w*|sprinkler\w*))\b"
)


def watered_of(text: str) -> bool:
    """Yes where nothing is said; BadRequest for what is neither yes nor no."""
    said = " ".join(text.casefold().replace("’", "'").strip(" .!").split())
    if not said or _YES.match(said):
        return True
    if _NO.match(said):
        return False
    raise BadRequest(Problem(
        tell("'{text}' does not say whether the open ground can be watered.", text=text[:60]),
        tell("Answer yes if somebody can water it in a dry spell, by can, hose or drip; no if it lives by "
             "the rain alone."), field="water",
    ))
