"""Comparing varieties as JSON (docs/interface.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from evenpick.report.trial_words import cautions, verdict_lines
from evenpick.report.words import Words
from evenpick.service.kept_trials import KeptTrial, TakenIn
from evenpick.service.trials import LaidAnswer, SizeAnswer
from evenpick.trials.layout import Plot
from evenpick.trials.sheet import Sheet
from evenpick.trials.verdict import Verdict

LEFT = ("beds", "rows", "plot_length", "guard")


def kept_shape(trials: Sequence[KeptTrial]) -> dict[str, Any]:
    return {"trials": [asdict(one) for one in trials]}


def taken_shape(answer: TakenIn) -> dict[str, Any]:
    return {"trial": asdict(answer.trial), "new": answer.new, "corrected": answer.corrected}


def size_shape(answer: SizeAnswer) -> dict[str, Any]:
    return {
        **{key: value for key, value in asdict(answer).items() if key not in LEFT},
        "beds": [{"name": bed.name, "length_m": bed.length, "blocks": blocks} for bed, blocks in answer.beds],
        "plot_length_m": answer.plot_length,
        "guard_m": answer.guard,
        "rows": [asdict(row) for row in answer.rows],
    }


def laid_shape(answer: LaidAnswer) -> dict[str, Any]:
    layout = answer.layout
    return {
        "trial": layout.name,
        "varieties": layout.varieties,
        "standard": layout.standard,
        "seed": layout.seed,
        "blocks": layout.blocks,
        "plot_length_m": layout.plot_length,
        "guard_m": layout.guard,
        "variation": answer.variation,
        "least_seen": answer.least_seen,
        "file": str(answer.file),
        "plots": [_plot(plot) for plot in layout.plots],
    }


def _plot(plot: Plot) -> dict[str, Any]:
    return {
        "plot": plot.number,
        "block": plot.block,
        "bed": plot.bed,
        "from_m": plot.start,
        "to_m": plot.end,
        "variety": plot.variety,
    }


def sheet_shape(sheet: Sheet) -> dict[str, Any]:
    return {
        "trial": sheet.name,
        "standard": sheet.standard,
        "seed": sheet.seed,
        "measures": [{"column": one.column, "kind": one.kind, "unit": one.unit} for one in sheet.measures],
        "plots": [
            {**_plot(row.plot), "values": dict(row.values), "lost": row.lost, "note": row.note}
            for row in sheet.rows
        ],
    }


def verdict_shape(verdict: Verdict, words: Words) -> dict[str, Any]:
    return {
        "trial": verdict.trial,
        "standard": verdict.standard,
        "certainty": verdict.certainty,
        "varieties": verdict.varieties,
        "blocks": verdict.blocks,
        "uneven_plots": verdict.uneven_plots,
        "lost": [{"plot": number, "variety": variety, "why": why} for number, variety, why in verdict.lost],
        "measures": [
            {**asdict(one), "said": verdict_lines(one, verdict, words), "cautions": cautions(one, words)}
            for one in verdict.judged
        ],
    }
