"""How often a trial of equal varieties tells some apart, and how often true differences are seen.

    PYTHONPATH=src python authorities/trials.py > authorities/trials.md

Equal varieties are laid, by the program's own dice, on simulated ground and on two fields that were really
grown alike and picked plot by plot (authorities/trial_cases/), by the functions behind the command.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from math import sqrt
from operator import mul
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import stream
from evenpick.trials.compare import Difference, correlation, dunnett, dunnett_critical, tukey
from evenpick.trials.counts import count_shares
from evenpick.trials.fit import Fit, fit_blocks
from evenpick.trials.layout import Layout, lay_out
from evenpick.trials.power import pair_critical, power_of_pair
from evenpick.trials.scores import rank_scores

SEED = 1911
TRIALS, FEWER, CHECKED = 4000, 1000, 20
LEVEL = 0.05
FIELDS = {"mangolds, 20 m² plots": "mangolds_1910", "tomatoes, 3.6 m² plots": "tomatoes_1984"}
Ground = Callable[[np.random.Generator, int, int], Floats]
"""(dice, blocks, kinds) → (blocks, kinds) of what the places give by themselves"""


def layouts(kinds: int, blocks: int, trials: int) -> Iterator[Layout]:
    return (lay_out("study", "ABCDEFGH"[:kinds], blocks, (), 1.0, 0.0, SEED + at) for at in range(trials))


def fits(
    ground: Ground,
    kinds: int,
    blocks: int,
    trials: int,
    lost: Sequence[int] = (),
    gain: Callable[[float], float] = lambda mean: 0.0,
) -> Iterator[Fit]:
    """Trials on the ground; A has `gain` of the ground's mean more; plots numbered `lost` are lost."""
    dice = stream(SEED, "ground", str(kinds), str(blocks))
    for layout in layouts(kinds, blocks, trials):
        places = ground(dice, blocks, kinds)
        added = gain(float(places.mean()))
        kept = [plot for plot in layout.plots if plot.number - 1 not in lost]
        values = [
            float(places.flat[plot.number - 1]) + (added if plot.variety == "A" else 0.0) for plot in kept
        ]
        yield fit_blocks(values, [plot.block for plot in kept], [plot.variety for plot in kept])


def normal(dice: np.random.Generator, blocks: int, kinds: int) -> Floats:
    return 10 + dice.normal(size=(blocks, 1)) + dice.normal(size=(blocks, kinds))


def skew(dice: np.random.Generator, blocks: int, kinds: int) -> Floats:
    """Plots about half as much again as others: lognormal, variation 50 %."""
    return np.exp(0.47 * dice.normal(size=(blocks, kinds)) + 0.3 * dice.normal(size=(blocks, 1)))


def field(name: str) -> Ground:
    """Somewhere on a real field: a block is neighbours in a row or column, the next lies beside it."""
    path = Path(__file__).parent / "trial_cases" / f"{name}.csv"
    grown = np.loadtxt(path, delimiter=",", comments="#")

    def ground(dice: np.random.Generator, blocks: int, kinds: int) -> Floats:
        turned = grown if dice.random() < 0.5 else grown.T
        row = int(dice.integers(turned.shape[0] - blocks + 1))
        column = int(dice.integers(turned.shape[1] - kinds + 1))
        return turned[row : row + blocks, column : column + kinds]

    return ground


def share(hits: Sequence[bool]) -> str:
    """With two standard errors of the simulation."""
    told = float(np.mean(hits))
    return f"{told:.1%} ± {2 * sqrt(max(told * (1 - told), 1e-4) / len(hits)):.1%}"


def told_pairs(fit: Fit, checked: bool) -> list[tuple[str, str]]:
    """Pairs told apart by Tukey, without p, which takes long; `checked` against the command's own."""
    critical = pair_critical(len(fit.varieties), fit.df, LEVEL)
    kinds = range(len(fit.varieties))
    found = [
        (fit.varieties[a], fit.varieties[b])
        for a in kinds
        for b in kinds
        if fit.means[a] - fit.means[b] > critical * fit.standard_error(a, b)
    ]
    if checked and set(found) != {(one.first, one.second) for one in tukey(fit, LEVEL)[0] if one.told}:
        raise AssertionError("the study does not judge as the program does")
    return found


def told_from(fit: Fit, standard: str, checked: bool) -> list[str]:
    """As `told_pairs`, by Dunnett."""
    at = fit.varieties.index(standard)
    critical = dunnett_critical(correlation(fit, at), fit.df, LEVEL)
    found = [
        name
        for i, name in enumerate(fit.varieties)
        if i != at and abs(fit.means[i] - fit.means[at]) > critical * fit.standard_error(i, at)
    ]
    if checked and set(found) != {one.first for one in dunnett(fit, standard, LEVEL)[0] if one.told}:
        raise AssertionError("the study does not judge as the program does")
    return found


def any_told(differences: Sequence[Difference]) -> bool:
    return any(one.told for one in differences)


def line(*cells: object) -> None:
    print("| " + " | ".join(str(cell) for cell in cells) + " |")


def header(*cells: str) -> None:
    print()
    line(*cells)
    line(*["---"] * len(cells))


def weights() -> None:
    print("\n## Weights: all pairs (Tukey), 5 %")
    header("ground", "varieties × blocks", "plots lost", "trials", "some told apart")
    grounds = {
        "bell-shaped": normal,
        "skew, variation 50 %": skew,
        **{k: field(v) for k, v in FIELDS.items()},
    }
    cases = [
        ("bell-shaped", 2, 8, ()),
        ("bell-shaped", 3, 4, ()),
        ("bell-shaped", 5, 6, ()),
        ("bell-shaped", 4, 4, (1, 6, 10)),
        ("bell-shaped", 6, 3, (0, 4, 7, 11)),
        ("skew, variation 50 %", 4, 5, ()),
    ]
    cases += [(name, kinds, blocks, ()) for name in FIELDS for kinds, blocks in ((2, 8), (3, 4), (5, 4))]
    for name, kinds, blocks, lost in cases:
        hits = [
            bool(told_pairs(fit, at < CHECKED))
            for at, fit in enumerate(fits(grounds[name], kinds, blocks, TRIALS, lost))
        ]
        line(name, f"{kinds} × {blocks}", len(lost), TRIALS, share(hits))


def standards() -> None:
    print("\n## Weights: against a standard (Dunnett), 5 %")
    header("ground", "varieties × blocks", "plots lost", "trials", "some told from it")
    for kinds, blocks, lost in ((3, 4, ()), (5, 4, ()), (5, 4, (1, 8, 13))):
        hits = [
            bool(told_from(fit, "B", at < 3))
            for at, fit in enumerate(fits(normal, kinds, blocks, TRIALS, lost))
        ]
        line("bell-shaped", f"{kinds} × {blocks}", len(lost), TRIALS, share(hits))


def intervals() -> None:
    print("\n## Ranges: all pairs hold the truth, 95 %")
    header("truth", "varieties × blocks", "plots lost", "trials", "all ranges hold")
    for kinds, blocks, lost in ((4, 4, ()), (4, 4, (1, 6, 10))):
        held = [
            all(_holds(fit, a, b) for a in range(kinds) for b in range(a))
            for fit in fits(normal, kinds, blocks, TRIALS, lost, lambda mean: 2.0)
        ]
        line("one variety two deviations up", f"{kinds} × {blocks}", len(lost), TRIALS, share(held))


def _holds(fit: Fit, a: int, b: int) -> bool:
    truth = 2.0 * (fit.varieties[a] == "A") - 2.0 * (fit.varieties[b] == "A")
    half = pair_critical(len(fit.varieties), fit.df, LEVEL) * fit.standard_error(a, b)
    return bool(abs(fit.means[a] - fit.means[b] - truth) <= half)


def tastes() -> None:
    print("\n## Taste, 5 %")
    header("scores", "varieties × tastings", "trials", "some equal ones told apart")
    for name, kinds, tastings, fixed in (
        ("all alike", 3, 8, False),
        ("all alike", 4, 9, False),
        ("one always middling, the others alike", 4, 9, True),
    ):
        dice, hits = stream(SEED, "taste", name, str(kinds)), []
        for at in range(FEWER):
            table = dice.choice([1, 2, 4, 5], size=(tastings, kinds)).astype(float)
            if fixed:
                table[:, 0] = 3
            ranked = rank_scores("ABCD"[:kinds], table, LEVEL, seed=at)
            hits.append(
                any(one.told and not (fixed and "A" in (one.first, one.second)) for one in ranked.differences)
            )
        line(name, f"{kinds} × {tastings}", FEWER, share(hits))


def seeds() -> None:
    print("\n## Came up, 5 %; true share 80 %, 50 seeds a plot")
    header(
        "plots of one variety differ",
        "varieties × plots",
        "trials",
        "some told apart",
        "all ranges hold (95 % each)",
    )
    for name, kinds, plots, spread in (
        ("by chance", 3, 1, 0.0),
        ("by chance", 3, 4, 0.0),
        ("three times that", 3, 4, 2 / 49),
        ("three times that", 5, 3, 2 / 49),
    ):
        dice, hits, held = stream(SEED, "seeds", name, str(plots)), [], []
        for _ in range(TRIALS):
            names = [kind for kind in "ABCDE"[:kinds] for _ in range(plots)]
            true = (
                np.full(len(names), 0.8)
                if spread == 0
                else dice.beta(0.8 * (1 / spread - 1), 0.2 * (1 / spread - 1), size=len(names))
            )
            counted = count_shares(dice.binomial(50, true).tolist(), [50] * len(names), names, LEVEL)
            hits.append(any_told(counted.differences))
            held += [one.low <= 0.8 <= one.high for one in counted.shares]
        line(name, f"{kinds} × {plots}", TRIALS, share(hits), share(held))


def seen() -> None:
    print(
        "\n## True differences seen: A gives more than the others\n\nOn real ground the formula is given the "
        "field's own variation within blocks (mean square over all trials)."
    )
    header(
        "ground", "varieties × blocks", "A gives more", "variation", "trials", "A told from B", "formula (T8)"
    )
    for name, ground, kinds, blocks, gain in (
        ("bell-shaped", normal, 2, 8, 0.2),
        ("bell-shaped", normal, 4, 4, 0.3),
        *(
            (name, field(file), kinds, blocks, gain)
            for (name, file), gain in zip(FIELDS.items(), (0.1, 0.5), strict=True)
            for kinds, blocks in ((2, 8), (4, 6))
        ),
    ):
        found, squares = [], []
        for fit in fits(ground, kinds, blocks, TRIALS, (), partial(mul, gain)):
            found.append(any({"A", "B"} == set(pair) for pair in told_pairs(fit, False)))
            base = float(fit.means[fit.varieties.index("B")])
            squares.append(fit.variance / base**2)
        cv = sqrt(float(np.mean(squares)))
        line(
            name,
            f"{kinds} × {blocks}",
            f"{gain:.0%}",
            f"{cv:.1%}",
            TRIALS,
            share(found),
            f"{power_of_pair(gain, cv, kinds, blocks):.1%}",
        )


if __name__ == "__main__":
    print(
        "# Trials: false claims and true ones\n\nMade by `authorities/trials.py`; ± is two errors of the "
        f"simulation. Seed {SEED}."
    )
    weights()
    standards()
    intervals()
    tastes()
    seeds()
    seen()
