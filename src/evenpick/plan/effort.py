"""How much work to put into a plan, and what is told of it on the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf


@dataclass(frozen=True, slots=True)
class News:
    """How far a plan has come: cost of the best plan, bound, gap (share of what is at stake), seconds."""

    stage: str
    value: float
    bound: float
    gap: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Effort:
    """How much work to put in. All but `seconds` and `stop` leave the result the same on every machine.

    A turn is some `kicks` for every item, a choice of successions, and `proof_steps` of the prices beside it,
    some more where they close much.
    Tasks of up to `together` candidates are branched on as a whole, which closes their gap.
    Past `branch_rounds` there are up to `more_rounds` while the gap is over `near` and not far from it.
    """

    soundings: int = 1
    descents: int = 2
    descent_steps: int = 60
    turns: int = 1
    kicks: int = 5
    proof_steps: int = 6
    branch_rounds: int = 8
    more_rounds: int = 0
    together: int = 30
    good_enough: float = 0.005
    near: float = 0.02
    seconds: float = inf
    stop: Callable[[], bool] = lambda: False
    progress: Callable[[News], None] = lambda news: None
