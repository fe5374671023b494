"""The jobs that planned sowings and sowings under way ask for (docs/design/record.md, R9)."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from evenpick.base.days import day_date, day_number, monday_of, short_date
from evenpick.base.language import tell, together
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.sown import Amount, amount, apart_in_pots
from evenpick.crops.tending import Step, tending_steps
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Answered
from evenpick.garden.garden import Garden, Wish
from evenpick.garden.record import Sowing
from evenpick.plan.pots import in_pots
from evenpick.service.expectation import Expected
from evenpick.service.plan_answer import PlannedSowing
from evenpick.service.today_answer import Drill, Job, JobKind
from evenpick.service.water_days import LIKELY

WAIT = timedelta(days=13)
"""a sowing put off longer is another sowing: the next one is made for those weeks"""
HARDENING = timedelta(days=8)
"""of nights ever colder before planting out (common practice, no source)"""
FROST_NEAR = 0.2
"""share of years with a killing frost in the coming nights from which a cover is worth the walk"""
SHOWS_UP = ("thinned", "pricked out", "potted on", "earthed up", "supported")
"""what is done to plants alone: who did it has seen that they are up"""
PICK_AGAIN = 6
"""days after a picking until the sowing is worth another look"""
KIND: dict[str, JobKind] = {
    "thinned": "thin", "pricked out": "prick out", "potted on": "pot on", "earthed up": "earth up",
    "supported": "support", "covered": "net", "weeded": "weed",
}


def tag(identity: str) -> str:
    """Four characters that stand for a job on one page."""
    return hashlib.sha256(identity.encode()).hexdigest()[:4]


def can_wait(sowing: PlannedSowing) -> date:
    """The last day on which a planned sowing may be made as that sowing."""
    return min(sowing.latest, sowing.sow + WAIT)


def of_planned(sowing: PlannedSowing, made: bool) -> Iterator[Job]:
    """Sow it; and where no diary is kept (`made`: take it as carried out) plant it out and clear it."""
    beds = _beds(sowing)
    place = _bench(sowing.cover) if sowing.way == "raised" else beds
    verb: JobKind = "plant" if sowing.way == "planted" else "sow"
    wait = can_wait(sowing)
    yield _planned_job(sowing, verb, sowing.sow, place, sowing.because, wait)
    if not made:
        return
    if sowing.plant_out is not None:
        said = tell("sown {sow}; when it is ready and the ground is warm enough", sow=short_date(sowing.sow))
        yield _planned_job(sowing, "plant out", sowing.plant_out, beds, said, None)
    if not load_catalogue().crop(sowing.crop).harvest.years:
        over = tell("over by now in four years of five, or no more of it is wished for")
        yield _planned_job(sowing, "clear", sowing.clear, beds, over, None)


def put_off(job: Job, answers: Mapping[str, Answered]) -> Job | None:
    """The job as it now stands; None where it was done or refused."""
    said = answers.get(job.id)
    if said is None:
        return job
    if said.answer != "put off" or said.until is None:
        return None
    until = day_date(said.until)
    wait = None if job.can_wait_until is None else max(job.can_wait_until, until)
    return replace(job, when=max(job.when, until), can_wait_until=wait)


def _planned_job(
    sowing: PlannedSowing, kind: JobKind, when: date, where: str, why: str, wait: date | None
) -> Job:
    identity = f"{kind}:{sowing.id}"
    sows = kind in ("sow", "plant")
    return Job(
        identity, tag(identity), when, kind, sowing.crop, sowing.name, sowing.area_m2, sowing.row_m,
        sowing.plants, sowing.seeds if sows else None, sowing.grams if sows else None,
        _drill(sowing) if sows else None, where, why, wait, False, sowing.number, sowing.id, None,
    )


def _drill(sowing: PlannedSowing) -> Drill:
    space = load_catalogue().crop(sowing.crop).told_as(sowing.name).spacing
    if sowing.way == "raised":
        return Drill(space.depth, space.in_row, space.row, sowing.plants)
    if space.layout == "row":
        return Drill(space.depth, space.in_row, 0.0 if sowing.row_m is None else space.row, None)
    apart = apart_in_pots(space, sowing.area_m2, sowing.plants, len(sowing.beds))
    return Drill(space.depth, *((space.in_row, space.row) if apart is None else (apart, 0.0)), None)


def of_sowing(
    sowing: Sowing, expect: Expected, on: date, garden: Garden
) -> Iterator[Job]:
    """What a sowing under way asks, from looking whether it is up to clearing: when it is over, or when no
    more of it is wished for."""
    crop = in_pots(load_catalogue().crop(sowing.fact.crop), sowing.cover, garden)
    about = _Sown(sowing, crop, garden.wishes)
    if sowing.state(day_number(on)) == "lost":
        yield about.job("clear", on, tell("nothing of it is left; its ground can be sown again"))
    if sowing.over(day_number(on)):
        return
    yield from about.raising(expect, on)
    yield from about.steps(expect)
    yield from about.frost(expect, on)
    yield from about.water(expect, on)
    yield from about.picking(expect, on)


class _Sown:
    """One sowing with its crop, and the jobs made of it."""

    def __init__(self, sowing: Sowing, crop: Crop, wishes: Sequence[Wish]) -> None:
        self.sowing, self.crop = sowing, crop
        self.wishes = [wish for wish in wishes if crop.key in wish.crops]
        self.amount: Amount = amount(crop, way_of(crop, sowing.fact.way), sowing.area, 1.0)

    def job(self, kind: JobKind, when: date, why: str, wait: date | None = None, part: str = "") -> Job:
        sowing, made = self.sowing, self.amount
        identity = f"{kind}:{sowing.id}{part}"
        raising = self.sowing.on_bench and kind != "plant out"
        place = _bench(sowing.cover) if raising else sowing.ground or tell(sowing.cover)
        return Job(
            identity, tag(identity), when, kind, self.crop.key, sowing.named(self.crop.name), sowing.area,
            made.row_m, made.plants, None, None, None, place, why, wait, False, None, sowing.fact.planned,
            sowing.id,
        )

    def raising(self, expect: Expected, on: date) -> Iterator[Job]:
        """Up yet? Hardened off, planted out. Where it is to be picked by now that is looked at by picking."""
        sown = tell("sown {day}", day=short_date(day_date(self.sowing.day)))
        ripe = expect.first is not None and expect.first[1] <= on
        if not self._seen_up() and not ripe and expect.up is not None:
            late = tell("{sown}; nine years in ten it is up by now: if not, dig for a seed and sow again "
                        "in time", sown=sown)
            if self.sowing.fact.way == "planted":
                late = tell("{sown}; nine years in ten it is up by now: if not, dig one up to see, and plant "
                            "again in time", sown=sown)
            if expect.dried >= LIKELY:
                yield self.job("look", min(on, expect.up[2]), self._dry(sown, expect.dried))
            else:
                yield self.job("look", expect.up[2], late)
        if self.sowing.on_bench and expect.out is not None:
            out = expect.out[1]
            if self.sowing.cover != "tunnel" and not self._had("hardened off"):
                yield self.job("harden off", out - HARDENING, tell(
                        "it goes out about {out}", out=short_date(out)), out)
            yield self.job("plant out", out,
                           tell("{sown}; when it is ready and the ground is warm enough",
                                                  sown=sown))

    def _dry(self, sown: str, dried: float) -> str:
        dead = tell("its seed had sprouted when the drill dried") if dried > 0.98 else tell(
            "in {dried:.0f} years of 10 its seed had sprouted when the drill dried", dried=dried * 10)
        return tell("{sown}, not watered since: {dead}; dig for a seed, and sow again before rain, or where "
                    "a can keeps it moist until it is up", sown=sown, dead=dead)

    def _seen_up(self) -> bool:
        sowing = self.sowing
        return (sowing.up is not None or sowing.planted_out is not None or bool(sowing.pickings)
                or any(self._had(what) for what in SHOWS_UP))

    def steps(self, expect: Expected) -> Iterator[Job]:
        had: dict[str, int] = {}
        for step in tending_steps(self.crop.key, self.sowing.fact.way):
            number = had[step.what] = had.get(step.what, 0) + 1
            when = self._day_of(step, expect)
            if when is not None and self._had(step.what) < number:
                part = "" if number == 1 else f":{number}"
                yield self.job(KIND[step.what], when, step.why, when + WAIT, part)

    def _had(self, what: str) -> int:
        return sum(done == what for _day, done in self.sowing.tended)

    def _day_of(self, step: Step, expect: Expected) -> date | None:
        """The day at a share of a stage; None where that is not to be expected, or not yet or no more."""
        if step.stage == "raising":
            if not self.sowing.on_bench or expect.up is None or expect.out is None:
                return None
            return expect.up[1] + (expect.out[1] - expect.up[1]) * step.share
        began = expect.out if self.sowing.fact.way == "raised" else expect.up
        if self.sowing.on_bench or began is None or expect.first is None:
            return None
        return began[1] + (expect.first[1] - began[1]) * step.share

    def frost(self, expect: Expected, on: date) -> Iterator[Job]:
        stands = expect.out if self.sowing.fact.way == "raised" else expect.up
        if self.sowing.on_bench or stands is None or stands[1] > on or expect.frost < FROST_NEAR:
            return
        often = tell("a frost that kills it comes in the next three nights in {frost:.0f} years of 10",
                     frost=expect.frost * 10)
        near = tell("the next three nights bring a frost that kills it") if expect.frost > 0.98 else often
        yield self.job("cover", on, near, on, f":{on.isoformat()}")

    def water(self, expect: Expected, on: date) -> Iterator[Job]:
        if expect.thirst >= LIKELY and expect.litres:
            dry = expect.thirst_why
            why = dry if expect.thirst > 0.98 else tell(
                "{dry}, in {thirst:.0f} years of 10; leave it after rain", dry=dry, thirst=expect.thirst * 10)
            job = self.job("water", on, why, on, f":{on.isoformat()}")
            yield replace(job, litres_per_m=expect.litres)

    def picking(self, expect: Expected, on: date) -> Iterator[Job]:
        if expect.first is None or expect.last is None or self.sowing.on_bench:
            return
        taken = [picked.day for picked in self.sowing.pickings]
        week = f":{monday_of(on).isoformat()}"
        ripe = taken or expect.first[1] <= on
        if ripe and expect.last[2] >= on and not (taken and day_number(on) - max(taken) < PICK_AGAIN):
            until = expect.last[1] if expect.last[1] >= on else expect.last[2]
            yield self.job("pick", on, self._ripe(bool(taken), expect.last[1], on), until, week)
        over = tell("over by now in nine years of ten")
        unwanted = self._unwanted_from(expect.first[1], expect.last[2])
        if unwanted is not None:
            over = tell("no more of it is wished for; its ground can be sown again")
        if not self.crop.harvest.years:  # what stands for years is not cleared for a season's end
            yield self.job("clear", unwanted or expect.last[2], over)

    def _unwanted_from(self, first: date, last: date) -> date | None:
        """The day after the last one on which it could serve a wish; None where that is as long as it lasts,
        where it goes to store or is put by, and where it serves none."""
        if self.crop.harvest.profile == "stored" or any(wish.keep for wish in self.wishes):
            return None
        days = (last - timedelta(days=n) for n in range((last - first).days + 1))
        end = next((day for day in days if any(w.wanted_on(day.month, day.day) for w in self.wishes)), None)
        return None if end is None or end == last else end + timedelta(days=1)

    def _ripe(self, begun: bool, last: date, on: date) -> str:
        if self.crop.harvest.profile in ("picking", "cut"):
            return tell("picked often it goes on; left on the plant it stops")
        if last < on:
            return tell("in half of the years its picking is over by now: look for what is left")
        until = tell("it stands until about {last}", last=short_date(last))
        return until if begun else tell("ripe by now in half of the years; {until}", until=until)


def _beds(sowing: PlannedSowing) -> str:
    """'long bed', 'long bed under fleece'; the cover alone where no bed is known."""
    if not sowing.beds:
        return tell(sowing.cover)
    cover = tell(", under {cover}", cover=tell(sowing.cover)) if sowing.cover in ("fleece", "cloche") else ""
    return f"{together(sowing.beds)}{cover}"


def _bench(cover: str) -> str:
    return tell("raising bench, for {cover}", cover=tell(cover))
