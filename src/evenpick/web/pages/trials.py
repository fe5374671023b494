"""Trials: which variety is better here, from the layout to what the record bears."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.base.errors import BadTrial, EvenpickError, Problem
from evenpick.base.language import later, tell
from evenpick.garden.amounts import FOOT, POUND
from evenpick.garden.diary import Entry, TrialRecorded
from evenpick.report.trial import sheet_page
from evenpick.report.trial_verdict import verdict_page
from evenpick.service.book import keep
from evenpick.service.job_answers import there_already
from evenpick.service.kept_trials import KeptTrial, kept_sheet, kept_trials, take_in
from evenpick.trials.judge import judge
from evenpick.trials.layout import Bed, lay_out
from evenpick.trials.sheet import Sheet, measure_of, write_sheet
from evenpick.trials.sheet_reading import read_sheet
from evenpick.web.asked import check_id, check_token, figure, whole_number
from evenpick.web.blocks import html
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
WEIGHT, IN_POUNDS = "weight_kg", later("weight, lb")
MEASURES = ((WEIGHT, later("weight, kg")), ("count", later("how many")),
            ("days_to_picking", later("days to picking")),
            ("taste", later("taste, 1 to 5")))
PLOT_M, PLOT_FT = 2.0, 6.0
"""a plot's length where none is told"""
GUARD = 0.5
"""m at both ends that is not measured"""


@router.get("/trials")
def trials(request: Request) -> Response:
    return _page(request, Typed(plot=f"{PLOT_FT if served(request).words().imperial else PLOT_M:g}"))


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the form of a new trial; lengths as the garden measures, m or ft."""

    name: str = ""
    varieties: str = ""
    length: str = ""
    plot: str = ""


def _page(request: Request, given: Typed, refused: EvenpickError | None = None) -> Response:
    """All trials; after what was refused, with what was typed, to be mended."""
    return show(request, "trials.html", tell("Trials"), "/trials", trials=trials_of(served(request)),
                given=given, **as_refused(refused))


@router.get("/trials/{identity}")
def one_trial(request: Request, identity: str, kept: JustWritten = "") -> Response:
    return _one(request, identity, Figure(), **just_kept(served(request), kept))


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands in the form of a figure of one plot."""

    plot: str = ""
    measure: str = ""
    value: str = ""


def _one(
    request: Request, identity: str, given: Figure, refused: EvenpickError | None = None, **said: Any
) -> Response:
    about, words = served(request), served(request).words()
    kept = _kept(request, identity)
    sheet = sheet_of(about, kept.name)
    verdict = about.latest.get(("verdict", kept.name), lambda: judge(sheet))
    return show(
        request, "trial.html", kept.name, "/trials", trial=kept, given=given, **said,
        **as_refused(refused),
        measures=[(name, tell(IN_POUNDS if name == WEIGHT and words.imperial else told))
                  for name, told in MEASURES], plots=sheet.rows,
        sheet=html(sheet_page(sheet, words).blocks, words),
        verdict=html(verdict_page(verdict, words).blocks, words) if verdict.judged else "",
    )


@router.post("/trials")
def lay(
    request: Request, name: Annotated[str, Form(max_length=80)],
    varieties: Annotated[str, Form(max_length=1000)], length: Annotated[str, Form(max_length=20)],
    token: Annotated[str, Form()] = "", plot: Annotated[str, Form(max_length=20)] = "2",
) -> Response:
    """Lay a trial out along one bed, as many blocks as it holds, and keep its sheet."""
    check_token(request, token)
    about = served(request)
    kinds = [word.strip() for word in varieties.split(",") if word.strip()]
    called, foot = " ".join(name.split()), FOOT if about.words().imperial else 1.0
    try:
        layout = lay_out(called, kinds, None, [Bed("bed", figure(length, 0.1, 3300, "length") * foot)],
                         figure(plot, 0.1, 330, "plot") * foot, GUARD, DEFAULT_SEED)
        sheet = read_sheet(write_sheet(layout), called)
        taken = take_in(about.garden, sheet, about.clock(), Path(called))
    except EvenpickError as refused:
        return _page(request, Typed(name, varieties, length, plot), refused)
    return RedirectResponse(f"/trials/{taken.trial.id}", 303)


@router.post("/trials/{identity}")
def record(
    request: Request, identity: str, plot: Annotated[str, Form(max_length=20)],
    measure: Annotated[str, Form(max_length=60)], value: Annotated[str, Form(max_length=20)],
    entry: Annotated[str, Form(alias="id")], token: Annotated[str, Form()] = "",
) -> Response:
    """One figure of one plot."""
    check_token(request, token)
    about, kept = served(request), _kept(request, identity)
    try:
        fact = _recorded(about, kept, Figure(plot, measure, value))
    except EvenpickError as refused:
        return _one(request, identity, Figure(plot, measure, value), refused)
    if not there_already(about.garden, check_id(entry)):
        keep(about.garden, [Entry(entry, day_number(about.clock()), fact)])
    return RedirectResponse(f"/trials/{kept.id}?kept={entry}", 303)


def _recorded(about: Served, kept: KeptTrial, typed: Figure) -> TrialRecorded:
    measure_of(typed.measure)
    plot = whole_number(typed.plot, 1, 100_000, "plot")
    if plot not in {row.plot.number for row in sheet_of(about, kept.name).rows}:
        raise BadTrial(Problem(tell("the trial has no plot {plot}.",
                                    plot=plot), tell("Take a number of the sheet.")))
    value = figure(typed.value, 0, 1_000_000, "value")
    in_pounds = typed.measure == WEIGHT and about.words().imperial
    return TrialRecorded(kept.id, str(plot), typed.measure, value * POUND if in_pounds else value)


def trials_of(about: Served) -> tuple[KeptTrial, ...]:
    return about.latest.get("trials", lambda: kept_trials(about.garden))


def sheet_of(about: Served, name: str) -> Sheet:
    return about.latest.get(("sheet", name), lambda: kept_sheet(about.garden, name))


def _kept(request: Request, identity: str) -> KeptTrial:
    found = next((one for one in trials_of(served(request)) if one.id == identity), None)
    if found is None:
        raise BadTrial(Problem(tell("the book has no such trial."), tell("See the trials.")))
    return found
