"""What a record sheet bears: for every measure the varieties' figures and which may be told apart.

Rules: docs/design/trials.md.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import exp, log

import numpy as np

from evenpick.base.language import tell
from evenpick.trials.checks import outlier, spreads_with_size, without
from evenpick.trials.compare import Difference, dunnett, letters, tukey
from evenpick.trials.counts import count_shares
from evenpick.trials.fit import CantBeFitted, Fit, fit_blocks
from evenpick.trials.power import POWER, least_shift
from evenpick.trials.scores import rank_scores, tastings_needed, tastings_of
from evenpick.trials.sheet import Measure, Row, Sheet
from evenpick.trials.verdict import Doubt, Judged, Standing, Verdict

CERTAINTY = 0.95


def judge(sheet: Sheet, certainty: float = CERTAINTY, ratios: bool = False) -> Verdict:
    """Every measure of the sheet that has a value, each at its own certainty."""
    judged: list[Judged] = []
    weighed = [m for m in sheet.measures if m.kind in ("weight", "length", "count", "days")]
    judged += [
        _amount(sheet, measure, 1 - certainty, ratios) for measure in weighed if _given(sheet, measure)
    ]
    tasted = [m for m in sheet.measures if m.kind == "score" and _given(sheet, m)]
    if tasted:
        judged.append(_taste(sheet, tasted, 1 - certainty))
    if any(m.column == "came_up" and _given(sheet, m) for m in sheet.measures):
        judged.append(_came_up(sheet, 1 - certainty))
    lost = tuple((row.plot.number, row.plot.variety, row.lost) for row in sheet.rows if row.lost)
    blocks = len({row.plot.block for row in sheet.rows})
    return Verdict(
        sheet.name,
        sheet.standard,
        certainty,
        sheet.varieties,
        blocks,
        lost,
        _uneven(sheet.rows),
        tuple(judged),
    )


def _given(sheet: Sheet, measure: Measure) -> bool:
    return any(row.values[measure.column] is not None for row in sheet.rows)


def _blank(sheet: Sheet, column: str) -> int:
    """Plots that stand and have no figure."""
    return sum(row.values[column] is None and not row.lost for row in sheet.rows)


def _uneven(rows: Sequence[Row]) -> bool:
    """Plots differ in length by more than a hundredth."""
    lengths = [
        row.plot.end - row.plot.start
        for row in rows
        if row.plot.start is not None and row.plot.end is not None
    ]
    return bool(lengths) and max(lengths) > 1.01 * min(lengths)


def _amount(sheet: Sheet, measure: Measure, level: float, ratios: bool) -> Judged:
    found = [
        (row, value * measure.factor)
        for row in sheet.rows
        if (value := row.values[measure.column]) is not None
    ]
    empty = Judged(measure.said, measure.kind, "none", ratios, (), (), left_out=_blank(sheet, measure.column))
    if ratios and any(value <= 0 for _, value in found):
        return replace(empty, why_not="a nought has no ratio to anything; judge it in plain figures")
    values = [log(value) if ratios else value for _, value in found]
    blocks = [row.plot.block for row, _ in found]
    varieties = [row.plot.variety for row, _ in found]
    try:
        fit = fit_blocks(values, blocks, varieties)
        if fit.variance == 0:
            raise CantBeFitted(tell("no plot strays from its block and variety at all; measure more finely"))
        differences, critical = _pairs(fit, sheet.standard, level)
    except CantBeFitted as error:
        return replace(empty, why_not=str(error))
    lowest_first = measure.kind == "days"
    order = list(np.argsort(fit.means if lowest_first else -fit.means, kind="stable"))
    best = tuple(fit.varieties[at] for at in order)
    far = outlier(values, fit)
    shift = least_shift(critical, fit.df, POWER) * _usual_error(fit, sheet.standard)
    mean = float(np.mean(fit.means))
    groups = {} if sheet.standard else letters(best, differences)
    return replace(
        empty,
        method="against the standard" if sheet.standard else "all pairs",
        standings=tuple(
            _standing(sheet, measure, fit, int(at), ratios, groups.get(fit.varieties[at], "")) for at in order
        ),
        differences=tuple(_as_ratio(one) for one in differences) if ratios else differences,
        p=fit.p,
        df=fit.df,
        cv=fit.variance**0.5 if ratios else fit.variance**0.5 / mean if mean else None,
        could_see=exp(shift) - 1 if ratios else shift,
        grows=not ratios and spreads_with_size(fit),
        doubt=None
        if far is None
        else _doubt(
            found[far.at][0],
            found[far.at][1],
            exp(far.expected) if ratios else far.expected,
            _changes(far.at, values, blocks, varieties, sheet.standard, level, differences),
        ),
    )


def _pairs(fit: Fit, standard: str | None, level: float) -> tuple[tuple[Difference, ...], float]:
    if standard is None:
        return tukey(fit, level)
    if standard not in fit.varieties:
        raise CantBeFitted(tell("the standard {standard} was not measured", standard=standard))
    return dunnett(fit, standard, level)


def _usual_error(fit: Fit, standard: str | None) -> float:
    """The middle one of the pairs' standard errors."""
    kinds = range(len(fit.varieties))
    at = None if standard is None else fit.varieties.index(standard)
    return float(
        np.median(
            [
                fit.standard_error(a, b)
                for a in kinds
                for b in kinds
                if (a < b if at is None else b == at and a != at)
            ]
        )
    )


def _standing(sheet: Sheet, measure: Measure, fit: Fit, at: int, ratios: bool, group: str) -> Standing:
    name, mean = fit.varieties[at], float(fit.means[at])
    rows = [row for row in sheet.rows if row.plot.variety == name]
    plots = sum(row.values[measure.column] is not None for row in rows)
    return Standing(name, plots, _lost(rows), exp(mean) if ratios else mean, group=group)


def _lost(rows: Sequence[Row]) -> int:
    return sum(bool(row.lost) for row in rows)


def _as_ratio(one: Difference) -> Difference:
    low, high = (None if end is None else exp(end) - 1 for end in (one.low, one.high))
    return replace(one, estimate=exp(one.estimate) - 1, low=low, high=high)


def _doubt(row: Row, value: float, expected: float, changes: bool) -> Doubt:
    return Doubt(row.plot.number, row.plot.variety, row.plot.block, value, expected, changes)


def _changes(
    at: int,
    values: Sequence[float],
    blocks: Sequence[str],
    varieties: Sequence[str],
    standard: str | None,
    level: float,
    before: Sequence[Difference],
) -> bool:
    """Whether other pairs are told apart once the plot is left out."""
    fit = without(at, values, blocks, varieties)
    if fit is None or fit.variance == 0 or (standard is not None and standard not in fit.varieties):
        return True
    after, _ = _pairs(fit, standard, level)
    return _apart(before) != _apart(after)


def _apart(differences: Sequence[Difference]) -> set[tuple[str, str]]:
    return {
        (one.first, one.second) if one.estimate > 0 else (one.second, one.first)
        for one in differences
        if one.told
    }


def _taste(sheet: Sheet, measures: Sequence[Measure], level: float) -> Judged:
    scores, tastings = _tastings(sheet, measures)
    varieties, table, ragged = tastings_of(scores)
    empty = Judged("taste", "score", "none", False, (), (), left_out=ragged, tastings=len(table))
    if len(varieties) < 2 or len(table) < 2:
        return replace(empty, why_not="it takes two tastings at least in which every variety was scored")
    if sheet.standard is not None and sheet.standard not in varieties:
        return replace(empty, why_not=f"the standard {sheet.standard} was not tasted")
    ranked = rank_scores(varieties, table, level, sheet.standard, sheet.seed)
    groups = {} if sheet.standard else letters(ranked.varieties, ranked.differences)
    return replace(
        empty,
        method="ranks",
        p=ranked.p,
        differences=ranked.differences,
        tastings_needed=tastings_needed(len(ranked.differences), level),
        standings=tuple(
            Standing(
                name,
                tastings[name],
                _lost([row for row in sheet.rows if row.plot.variety == name]),
                median,
                mean_rank=rank,
                group=groups.get(name, ""),
            )
            for name, median, rank in zip(ranked.varieties, ranked.medians, ranked.mean_ranks, strict=True)
        ),
    )


def _tastings(sheet: Sheet, measures: Sequence[Measure]) -> tuple[dict[tuple[str, str], float], Counter[str]]:
    """({(tasting, variety): score}, scores by variety). A tasting is a block, by its tasters' mean; where
    only one block was tasted, a taster (T16)."""
    given = [
        (row, measure, value)
        for row in sheet.rows
        for measure in measures
        if (value := row.values[measure.column]) is not None
    ]
    blocks = {row.plot.block for row, _, _ in given}
    heard: dict[tuple[str, str], list[float]] = {}
    for row, measure, value in given:
        key = row.plot.block if len(blocks) > 1 else measure.column
        heard.setdefault((key, row.plot.variety), []).append(value)
    return (
        {key: sum(values) / len(values) for key, values in heard.items()},
        Counter(row.plot.variety for row, _, _ in given),
    )


def _came_up(sheet: Sheet, level: float) -> Judged:
    found = [
        (row, int(row.values["came_up"] or 0), int(row.values["sown"] or 0))
        for row in sheet.rows
        if row.values["came_up"] is not None
    ]
    varieties = [row.plot.variety for row, _, _ in found]
    empty = Judged("came up", "came up", "none", False, (), (), left_out=_blank(sheet, "came_up"))
    if len(set(varieties)) < 2:
        return replace(empty, why_not="fewer than two varieties were counted")
    if sheet.standard is not None and sheet.standard not in varieties:
        return replace(empty, why_not=f"the standard {sheet.standard} was not counted")
    counted = count_shares(
        [came for _, came, _ in found], [sown for _, _, sown in found], varieties, level, sheet.standard
    )
    order = tuple(share.variety for share in counted.shares)
    groups = {} if sheet.standard else letters(order, counted.differences)
    return replace(
        empty,
        method="came up",
        differences=counted.differences,
        df=counted.df,
        dispersion=counted.dispersion,
        dispersion_p=counted.dispersion_p,
        standings=tuple(
            Standing(
                one.variety,
                one.plots,
                _lost([row for row in sheet.rows if row.plot.variety == one.variety]),
                one.estimate,
                one.low,
                one.high,
                group=groups.get(one.variety, ""),
            )
            for one in counted.shares
        ),
    )
