"""What produce fetches: prices as growers write them, and how they make a portion matter
(docs/design/season.md, 20)."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import tell
from evenpick.garden import amounts, fields
from evenpick.garden.fields import refuse, shown
from evenpick.garden.garden import Outlet, Wish

if TYPE_CHECKING:
    from evenpick.crops.crop import Crop
    from evenpick.garden.fields import Table

MOST = 1e9
"""money for one amount: more is a slip of the pen, whatever the money"""
LONGEST = 8
"""characters in the sign or code of a money"""

_PER = re.compile(r"\s*(?:/|(?<![^\W\d_])(?:per|an?|for)\b)\s*")


def money_sign(value: object) -> str:
    """'€', 'kr', 'CHF' as written."""
    sign = fields.text(value)
    if len(sign) > LONGEST or not all(each.isprintable() and not each.isspace() and not each.isdigit()
                                      for each in sign):
        raise refuse(tell("{value} is no sign of a money.", value=shown(value)),
                     tell('Write its sign or code alone, such as "€", "$", "kr" or "CHF".'))
    return sign


def price(text: str, crops: Sequence[Crop]) -> float:
    """Money for a kg, of '3.50 per kg', '2.20 a bunch', '1.20 for 500 g', '0.60 / portion'; else BadGarden.

    The amount is read as a week's is, with the crops' own pieces and portions; where the crops could not be
    read, only that there is an amount is looked at.
    """
    pieces = sorted({crop.produce.piece for crop in crops} - {"kg"})
    by_piece = f', "2.20 a {pieces[0]}"' if len(pieces) == 1 else ""
    mend = tell('Write what so much of it fetches, such as "3.50 per kg", "1.20 for 500 g"{by_piece}.',
                by_piece=by_piece)
    said, of = _parts(text, mend)
    figure, _ = amounts.quantity(said, mend)
    if figure <= 0:
        raise refuse(tell("{text} is nought or less.", text=shown(text)), mend)
    if figure > MOST:
        raise refuse(tell("{text} is more than anyone pays.", text=shown(text)), mend)
    if not crops:
        amounts.quantity(of, mend)
        return figure
    return figure / amounts.kg_of(of, crops, mend)


def _parts(text: str, mend: str) -> tuple[str, str]:
    """The bare figure, and the amount it is for: '2.20' and '1 bunch'."""
    if any(unicodedata.category(each) == "Sc" for each in text):
        raise _with_a_sign(text, mend)
    parts = _PER.split(text.casefold(), maxsplit=1)
    if len(parts) != 2 or not all(part.strip() for part in parts):
        raise refuse(tell("{text} does not say what fetches how much.", text=shown(text)), mend)
    figure, of = parts
    if re.search(r"\d", figure) and re.search(r"[^\W\d_]", figure):
        raise _with_a_sign(text, mend)
    return figure, of if of[0] in "+-.0123456789" else f"1 {of}"


def _with_a_sign(text: str, mend: str) -> BadGarden:
    return refuse(tell("{text} has more than a figure for the price.", text=shown(text)),
                  tell('Write the money\'s sign once, money = "€" under [words], and the bare figure here. '
                       "{mend}", mend=mend))


def weighed(wishes: Sequence[Wish], portions: Sequence[float]) -> tuple[Wish, ...]:
    """Wishes whose portions (kg) matter as they are paid: against the mean of all that have a price."""
    paid = [None if wish.price is None else wish.price * kg
            for wish, kg in zip(wishes, portions, strict=True)]
    known = [each for each in paid if each is not None]
    mean = sum(known) / len(known) if known else 1.0
    return tuple(wish if each is None else replace(wish, weight=wish.weight * each / mean)
                 for wish, each in zip(wishes, paid, strict=True))


def note_unpriced(top: Table, outlets: Sequence[Outlet], wishes: Sequence[tuple[Wish, bool]]) -> None:
    """Where a share should be worth something, each wish that is in it weekly has a price; `wishes`: each,
    and whether a price stands there, be it right or wrong. One whose crops are not known is told of those."""
    for number, outlet in enumerate(outlets):
        bare = [wish.item for wish, said in wishes
                if wish.outlet == outlet.name and wish.crops and not wish.keep and not said]
        if outlet.worth is not None and bare:
            what = tell("{name} should be worth something, and no price is given for {items}.",
                        name=shown(outlet.name), items=", ".join(map(shown, dict.fromkeys(bare))))
            mend = tell('Add a line such as price = "3.50 per kg" to each of these wishes, or leave worth '
                        "out.")
            top.faults.add(Problem(what, mend), ("outlet", number, "worth"))
