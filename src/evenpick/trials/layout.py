"""A fair comparison laid out along real beds: complete blocks, each in an order of its own by the dice.

Rules: docs/design/trials.md, T1 to T6.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from evenpick.base.chance import stream
from evenpick.base.errors import BadTrial, Problem
from evenpick.base.language import tell, tell_n

MOST_VARIETIES = 26
MOST_BLOCKS = 60
SLACK = 1e-9
"""metres forgiven, so that 6 m hold four plots of 1.5 m"""


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed as it lies: its length in metres."""

    name: str
    length: float


@dataclass(frozen=True, slots=True)
class Plot:
    number: int
    block: str
    variety: str
    bed: str | None = None
    start: float | None = None
    """metres from the bed's end"""
    end: float | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """Every variety once in every block; blocks lie whole in a bed. Lengths in metres."""

    name: str
    varieties: tuple[str, ...]
    standard: str | None
    """the variety that the others are held against, if one is named"""
    seed: int
    plot_length: float
    guard: float
    beds: tuple[Bed, ...]
    plots: tuple[Plot, ...]

    @property
    def blocks(self) -> int:
        return len(self.plots) // len(self.varieties)


def blocks_that_fit(varieties: int, bed: Bed, plot_length: float, guard: float) -> int:
    """Whole blocks between the guards of a bed (T3); 0 where not one fits."""
    return max(0, floor((bed.length - 2 * guard) / (varieties * plot_length) + SLACK))


def lay_out(
    name: str,
    varieties: Sequence[str],
    blocks: int | None,
    beds: Sequence[Bed],
    plot_length: float,
    guard: float,
    seed: int,
    standard: str | None = None,
) -> Layout:
    """Blocks along the beds in the order given; as many as fit if `blocks` is None (T1 to T5).

    Without beds one bed of just the length needed is taken. BadTrial where it can't be done, with what
    would fit.
    """
    known = tuple(name_of(variety) for variety in varieties)
    _check_names(known, standard and name_of(standard))
    if blocks is None and not beds:
        raise BadTrial(Problem(tell("neither the number of blocks nor a bed is given."),
                               tell("Give one of the two.")))
    _check_number(blocks)
    if not beds and blocks is not None:
        beds = (Bed("bed", blocks * len(known) * plot_length + 2 * guard),)
    _check_beds(beds)
    room = [blocks_that_fit(len(known), bed, plot_length, guard) for bed in beds]
    wanted = min(sum(room), MOST_BLOCKS) if blocks is None else blocks
    _check_room(wanted, room, len(known), plot_length)
    plots: list[Plot] = []
    for bed, fits in zip(beds, room, strict=True):
        for within in range(min(fits, wanted - len(plots) // len(known))):
            start = guard + within * len(known) * plot_length
            plots += _block(name, known, len(plots), bed, start, plot_length, seed)
    return Layout(
        name, known, standard and name_of(standard), seed, plot_length, guard, tuple(beds), tuple(plots)
    )


def name_of(text: str) -> str:
    """A name with its blanks put in order."""
    return " ".join(text.split())


def _block(
    name: str, varieties: tuple[str, ...], before: int, bed: Bed, start: float, length: float, seed: int
) -> list[Plot]:
    block = before // len(varieties) + 1
    order = stream(seed, "trial", name, str(block)).permutation(len(varieties))
    return [
        Plot(
            before + at + 1,
            str(block),
            varieties[variety],
            bed.name,
            round(start + at * length, 3),
            round(start + (at + 1) * length, 3),
        )
        for at, variety in enumerate(order)
    ]


def _check_names(varieties: tuple[str, ...], standard: str | None) -> None:
    folded = [variety.casefold() for variety in varieties]
    if "" in folded:
        raise BadTrial(Problem(tell("a variety has no name."), tell("Name every variety.")))
    twice = next((name for name in varieties if folded.count(name.casefold()) > 1), None)
    if twice is not None:
        raise BadTrial(Problem(tell("'{twice}' is named twice.",
                                    twice=twice), tell("Name every variety once.")))
    if not 2 <= len(varieties) <= MOST_VARIETIES:
        raise BadTrial(
            Problem(
                tell_n("{n} variety makes no comparison that can be laid out here.",
                       "{n} varieties make no comparison that can be laid out here.", len(varieties)),
                tell("Name 2 to {most_varieties}.", most_varieties=MOST_VARIETIES),
            )
        )
    if standard is not None and standard not in varieties:
        raise BadTrial(
            Problem(
                tell("the standard '{standard}' is not among the varieties.", standard=standard),
                tell("Name it among them too: it is grown beside the others."),
            )
        )


def _check_beds(beds: Sequence[Bed]) -> None:
    names = [bed.name for bed in beds]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise BadTrial(Problem(tell("the bed '{twice}' is named twice.",
                                    twice=twice), tell("Give each bed a name of its own.")))


def _check_number(blocks: int | None) -> None:
    if blocks is not None and not 2 <= blocks <= MOST_BLOCKS:
        what = tell("one block tells nothing of chance") if blocks == 1 else tell(
                        "{blocks} blocks make no trial", blocks=blocks)
        raise BadTrial(Problem(f"{what}.", tell("Give 2 to {most_blocks} blocks.", most_blocks=MOST_BLOCKS)))


def _check_room(wanted: int, room: Sequence[int], varieties: int, plot_length: float) -> None:
    held = sum(room)
    if held < max(wanted, 2):
        need = f"A block takes {varieties * plot_length:g} m, and each bed two guards besides."
        raise BadTrial(
            Problem(
                tell("the beds hold {held} block{part}, and {wanted} are wanted.", held=held,
                     part="" if held == 1 else "s", wanted=max(wanted, 2)),
                tell("{need} Shorten the plots, take fewer varieties, or give more bed.", need=need),
            )
        )
