"""Money as the grower writes it: its sign before the figure, a code or word of letters after it."""

from __future__ import annotations

from evenpick.base.language import marked
from evenpick.report.words import figure

LEAST, UNDER_TEN = 0.005, 9.95
"""what two figures tell between nought and ten, to the hundredth as money is"""


def exact(amount: float, sign: str) -> str:
    """What was asked for, to the hundredth: '€12.50', '€12', '11.20 kr'."""
    rounded = round(amount, 2)
    return _signed(marked(f"{rounded:,.0f}" if rounded == int(rounded) else f"{rounded:,.2f}"), sign)


def about(amount: float, sign: str) -> str:
    """What is likely, in two figures that mean something: '€11', '€3.40', '1,200 kr'."""
    if LEAST <= amount < UNDER_TEN:
        return _signed(marked(f"{float(f'{amount:.2g}'):.2f}"), sign)
    return _signed(figure(amount), sign)


def _signed(said: str, sign: str) -> str:
    if not sign:
        return said
    return f"{said} {sign}" if any(each.isalpha() for each in sign) else f"{sign}{said}"
