"""A verdict in words that a grower would use, and figures with no more digits than the trial bears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10

from evenpick.base.language import later, tell
from evenpick.garden.amounts import FOOT, POUND
from evenpick.report.words import Words, percent, sentence
from evenpick.trials.checks import DOUBT
from evenpick.trials.compare import Difference
from evenpick.trials.sheet import Kind
from evenpick.trials.verdict import Doubt, Judged, Verdict

MORE: dict[Kind, str] = {
    "weight": later("gave more than"),
    "length": later("measured more than"),
    "count": later("gave more than"),
    "days": later("was sooner than"),
    "score": later("was liked better than"),
    "came up": later("came up better than"),
}
MOST: dict[Kind, str] = {
    "weight": later("gave the most"),
    "length": later("measured the most"),
    "count": later("gave the most"),
    "days": later("was the soonest"),
    "score": later("was liked best"),
    "came up": later("came up best"),
}
CROWDED = 4
"""pairs of one variety beyond which their ranges stand in the table alone"""


@dataclass(frozen=True, slots=True)
class Scale:
    """How the figures of one measure are written."""

    unit: str
    factor: float
    places: int

    def bare(self, value: float) -> str:
        return f"{value * self.factor:,.{self.places}f}"

    def said(self, value: float) -> str:
        return f"{self.bare(value)} {self.unit}".rstrip()


def scale_of(one: Judged, words: Words) -> Scale:
    """A unit that makes the largest figure one or more; digits down to a tenth of what could be seen."""
    if one.kind in ("score", "came up"):
        return Scale("", 1.0, 1)
    largest = max((abs(standing.figure) for standing in one.standings), default=0.0)
    unit, factor = _unit(one.kind, largest, words)
    seen = (one.could_see or 0.0) * (largest if one.ratios else 1.0) * factor
    return Scale(unit, factor, min(4, max(0, -floor(log10(seen / 10)))) if seen > 0 else 1)


def _unit(kind: Kind, largest: float, words: Words) -> tuple[str, float]:
    if kind == "weight" and words.imperial:
        return ("lb", 1 / POUND) if largest >= POUND else ("oz", 16 / POUND)
    if kind == "weight":
        return ("kg", 1.0) if largest >= 1 else ("g", 1000.0)
    if kind == "length":
        return ("in", 12 / FOOT) if words.imperial else ("cm", 100.0)
    return (tell("days"), 1.0) if kind == "days" else ("", 1.0)


def verdict_lines(one: Judged, verdict: Verdict, words: Words) -> list[str]:
    """What may be said of one measure, the plainest first."""
    if one.method == "none":
        return [sentence(tell("by {measure} nothing can be said: {why_not}", measure=tell(one.measure),
                              why_not=one.why_not))]
    told = [line for line in (_best(one, verdict), *_told(one, scale_of(one, words))) if line]
    return (
        [*told, *_untold(one, verdict), *_could_see(one, words)]
        if told
        else [*_nothing(one, verdict), *_could_see(one, words)]
    )


def _better(pair: Difference, kind: Kind) -> tuple[str, str]:
    """(the better, the other) of a pair; for days the lower is the better."""
    up = (pair.estimate > 0) != (kind == "days")
    return (pair.first, pair.second) if up else (pair.second, pair.first)


def _best(one: Judged, verdict: Verdict) -> str:
    """The variety that was told from all others, if there is one and it is the best."""
    first = one.standings[0].variety
    beaten = {other for best, other in (_better(pair, one.kind) for pair in one.told) if best == first}
    everyone = len(one.standings) - 1
    if verdict.standard is not None or everyone < 2 or len(beaten) < everyone:
        return ""
    return f"{first} {tell(MOST[one.kind])}."


def _told(one: Judged, scale: Scale) -> list[str]:
    lines = []
    for standing in one.standings:
        pairs = [pair for pair in one.told if _better(pair, one.kind)[0] == standing.variety]
        if pairs:
            ranges = len(pairs) <= CROWDED
            others = [
                f"{_better(pair, one.kind)[1]}{_by(pair, one, scale) if ranges else ''}" for pair in pairs
            ]
            lines.append(f"{standing.variety} {tell(MORE[one.kind])} {listed(others)}.")
    return lines


def _by(pair: Difference, one: Judged, scale: Scale) -> str:
    low, likely, high = pair.low, pair.estimate, pair.high
    if low is None or high is None:
        return ""
    if one.ratios:
        if likely < 0:
            low, likely, high = (1 / (1 + end) - 1 for end in (high, likely, low))
        return tell(" (by {likely}: {low} to {high})", likely=percent(likely), low=percent(low),
                    high=percent(high))
    if likely < 0:
        low, likely, high = -high, -likely, -low
    if one.kind == "came up":
        return tell(" (by {likely:.0f} in 100: {low:.0f} to {high:.0f})", likely=likely * 100, low=low * 100,
                    high=high * 100)
    return tell(" (by {likely}: {low} to {high})", likely=scale.said(likely), low=scale.bare(low),
                high=scale.bare(high))


def signed_percent(share: float) -> str:
    return f"{share * 100:+.0f} %"


def _untold(one: Judged, verdict: Verdict) -> list[str]:
    """Who can't be told apart, in the groups that share a letter."""
    if verdict.standard is not None:
        alike = [pair.first for pair in one.differences if not pair.told]
        return [tell("Can't be told from {standard}: {alike}.", standard=verdict.standard,
                     alike=listed(alike))] if alike else []
    marks = sorted({mark for standing in one.standings for mark in standing.group})
    groups = [[standing.variety for standing in one.standings if mark in standing.group] for mark in marks]
    many = [listed(group) for group in groups if len(group) > 1]
    return [tell("Can't be told apart: {many}.", many=tell("; nor ").join(many))] if many else []


def _nothing(one: Judged, verdict: Verdict) -> list[str]:
    whom = (
        tell("the varieties can't be told apart")
        if verdict.standard is None
        else (tell("no variety can be told from {standard}", standard=verdict.standard))
    )
    line = [sentence(tell("by {measure} {whom}: such differences may well be chance",
                          measure=tell(one.measure),
                          whom=whom))]
    if one.method != "ranks" or one.tastings is None or one.tastings_needed is None:
        return line
    if one.p is not None and one.p <= 1 - verdict.certainty:
        line = [tell("By taste something differs, but not so clearly that one may say which.")]
    if one.tastings < one.tastings_needed:
        line.append(
            tell("{tastings} tastings tell no pair apart, whatever is scored: it takes {tastings_needed} "
                 "or more that agree. A tasting is a block, or a taster where one block alone was tasted.",
                 tastings=one.tastings, tastings_needed=one.tastings_needed)
        )
    return line


def _could_see(one: Judged, words: Words) -> list[str]:
    if one.could_see is None:
        return []
    if one.ratios:
        size = percent(one.could_see)
    else:
        mean = sum(standing.figure for standing in one.standings) / len(one.standings)
        share = tell(" ({could_see} of the mean)",
                     could_see=percent(one.could_see / mean)) if mean > 0 else ""
        size = f"{scale_of(one, words).said(one.could_see)}{share}"
    return [tell("A true difference of {size} would be seen four times in five; smaller ones mostly stay "
                 "hidden.", size=size)]


def cautions(one: Judged, words: Words) -> list[str]:
    """What speaks against taking one measure's verdict as it stands."""
    found = [] if one.doubt is None else [_look(one.doubt, scale_of(one, words))]
    if one.grows:
        found.append(tell("Plots with larger figures stray farther. Judge it in ratios too: --ratios."))
    if one.dispersion is not None and one.dispersion_p is not None and one.dispersion_p < DOUBT:
        found.append(
            tell("Plots of one variety differ {dispersion:.1f} times as much as chance makes seeds "
                 "differ; the ranges are widened by that.", dispersion=one.dispersion)
        )
    if one.left_out:
        what = tell("tastings without every score") if one.kind == "score" else tell("plots without a figure")
        found.append(tell("Left out, never taken as nought: {what} ({left_out}).", what=what,
                          left_out=one.left_out))
    return found


def _look(far: Doubt, scale: Scale) -> str:
    return (
        tell("Look at plot {plot} ({variety}, block {block}): {value} where the others make one expect "
             "{expected}. If it was a slip or a mishap, mend it or call it lost. Without it the verdict "
             "{part}.", plot=far.plot, variety=far.variety, block=far.block, value=scale.said(far.value),
             expected=scale.said(far.expected), part=tell("differs") if far.changes else tell("is the same"))
    )


def listed(names: Sequence[str]) -> str:
    """'A', 'A and B', 'A, B and C'."""
    return names[0] if len(names) == 1 else tell("{names} and {names_2}", names=", ".join(names[:-1]),
                                                 names_2=names[-1])
