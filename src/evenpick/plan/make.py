"""From a request to a plan with its proof: prices, a first plan, descent, replanting, and the bound
(planner.md, 6 to 10)."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.bench import Bench, halves
from evenpick.plan.choice import Choice, Sowings
from evenpick.plan.course import Course, gap_between
from evenpick.plan.effort import Effort
from evenpick.plan.ground import ground_rows
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.nodes import Nodes
from evenpick.plan.price import Prices, Reply
from evenpick.plan.request import Request
from evenpick.plan.search import descend, room_left
from evenpick.plan.whole import Whole, all_whole

TOLERANCE, ROUNDS = 0.15, 6  # of the whole gap, all items together; each one's rounds at one set of prices
MORE_STEPS, CLOSING = 6, 0.05  # of the prices, while each closes so much of the gap
SMALL = 0.02  # of all items' own gaps: an item with less is not kicked
FEW, IDLE = 1e-3, 2  # of the whole gap: an item whose kicks gain less, so often, is not kicked again
BUSY, IDLY = 2000, 6  # successions put in beside a choice, times the candidates; and without a choice
MANY = 0.02  # of the whole gap: a plan better by so much is another one
FINE = 2e-4  # of the stake: how near to their best the areas are brought at the end
BRANCH_GAP = 1e-4  # of an item's stake: where its branching ends
PLANTED, TO_THE_END = 0.03, 40  # the same for the prices that are branched at
TOGETHER_NODES = 2000
REACHED = 1.5  # times `near`: from farther off more rounds of branching do not come there


@dataclass(frozen=True, slots=True)
class Plan:
    """Areas in m² per candidate, their exact cost, the proven bound, and what sowing nothing costs."""

    areas: Floats
    value: float
    bound: float
    nothing: float
    seconds: dict[str, float]
    rounds: dict[str, int]
    whole: bool
    """False when a limit or a stop cut the work short"""

    @property
    def gap(self) -> float:
        """(plan − bound) / (nothing − bound); 0 where nothing is at stake."""
        return gap_between(self.value, self.bound, self.nothing)


def make_plan(request: Request, effort: Effort | None = None, hands: Hands = HERE) -> Plan:
    """The best plan found within the effort, with the gap proven. Stopped early it hands over the best
    so far; what each process has in hand for one item, or a choice, is finished first (some seconds at a
    market's size)."""
    began = time.monotonic()
    with Bench(request, hands) as bench:
        return _Making(request, effort or Effort(), bench, began).run()


@dataclass(slots=True)
class _Making:
    request: Request
    effort: Effort
    bench: Bench
    began: float
    idle: Ints = field(init=False)
    task: Exact = field(init=False)
    course: Course = field(init=False)
    prices: Prices = field(init=False)
    choice: Choice = field(init=False)
    trees: Nodes = field(init=False)
    areas: Floats = field(init=False)
    forced: set[Sowings] = field(default_factory=set)
    """what was put into the present plan in vain"""

    def run(self) -> Plan:
        self.task = Exact(self.request, self.bench.parts, ground_rows(self.request))
        self.areas = np.zeros(len(self.request.candidates))
        self.course = course = Course(
            self.effort, lambda: self.bench.over, self.began, self.task.cost(self.areas)
        )
        self.idle = np.zeros(len(self.task.parts), dtype=np.int64)
        if len(self.areas):
            self.prices = Prices(
                self.request, self.task.parts, self.task.rows, partial(self._every, "relax")
            )
            self.choice = Choice(self.task)
            e = self.effort
            course.stage("sounding", e.soundings, self._sound)
            course.stage("descent", e.descents, self._descent)
            course.stage("search", e.turns, self._turn)
            course.stage("branching", e.branch_rounds, self._branch)
            if course.gap <= REACHED * e.near:
                course.stage("branching", e.more_rounds, self._branch, e.near)
            course.stage("polish", 1, self._polish)
            course.stage("together", int(len(self.areas) <= e.together), self._together)
        return Plan(
            self.areas, course.value, course.proven, course.nothing, course.seconds, course.rounds,
            not course.cut_short,
        )  # fmt: skip

    def _every(self, question: str, *rest: Any, **how: Any) -> list[Any]:
        return self.bench.every(question, *rest, late=self.course.late, **how)

    def _offer(self, x: Floats) -> None:
        """Keep areas if they fit and cost less; the first to do so are told at once."""
        value, first = self.task.cost(x), self.course.value == self.course.nothing
        if value < self.course.value - 1e-9 and self.task.fits(x):
            self.areas, self.course.value = x, value
            if first:
                self.course.tell()

    def _prove(self, steps: int, share: float, rounds: int, more: int = 0) -> Callable[[], None]:
        """Steps of the prices, to be done beside what may better the plan; they go by the present one. Up to
        so many `more` while two together still close enough of the gap."""
        value, items = self.course.value, len(self.task.parts)

        def prove() -> None:
            bounds = [self.course.proven]
            for step in range(steps + more):
                closed = bounds[-1] - bounds[-3:][0]
                if self.course.late() or (step >= steps and closed < 2 * CLOSING * (value - bounds[-1])):
                    return
                self.prices.step(share * (value - self.course.proven) / items, rounds)
                self.course.prove(self.prices.bound)
                bounds.append(self.course.proven)

        return prove

    def _sound(self, k: int) -> None:
        """Whole sowings of each item from bare ground; what they take of the ground sets the first prices."""
        self._take_in(self._descents(self.prices.trial))

    def _descent(self, k: int) -> None:
        """Every item from bare ground at prices, beside a plan put together from those found before."""
        prices, replies = self.prices.trial, list[Reply]()
        if k:
            prices = 0.5 * (prices + self.choice.prices())
        self.bench.beside(lambda: replies.extend(self._descents(prices)), self._choose)
        self._take_in(replies)

    def _descents(self, prices: Floats) -> list[Reply]:
        return self._every("descent", self.prices.charge(prices), self.effort.descent_steps)

    def _take_in(self, replies: Sequence[Reply]) -> None:
        self.prices.learn(replies)
        for item, reply in enumerate(replies):
            self.choice.add_own(item, reply.areas[-1])

    def _turn(self, k: int) -> None:
        """Kicks, then all on the ground there is, beside some steps of proof."""
        self._kick(self._kicked())
        self.bench.beside(self._prove(self.effort.proof_steps, TOLERANCE, ROUNDS, MORE_STEPS), self._choose)

    def _kick(self, among: Ints) -> None:
        """Some items' cheapest succession bettered by kicks, at prices between the relaxation's and those of
        whole successions."""
        e, prices = self.effort, 0.5 * (self.prices.best + self.choice.prices())
        charge = self.prices.charge(prices)
        start = [(areas,) for areas in self.choice.cheapest(charge)]
        turn = self.course.rounds.get("search", 0) + self.course.rounds.get("branching", 0)
        replies = self._every("kicks", charge, e.kicks, e.descent_steps, turn, each=start, among=among)
        before = self.choice.least(charge)
        self.prices.learn(replies)
        for item in among:
            for areas in replies[item].areas:
                self.choice.add_own(item, areas)
        gained = before - self.choice.least(charge) > FEW * (self.course.value - self.course.proven)
        self.idle[among] = np.where(gained[among], 0, self.idle[among] + 1)

    def _kicked(self) -> Ints:
        """Items with something left to better, and not kicked in vain."""
        if not self.prices.steps:
            return np.arange(len(self.task.parts))
        gaps = self._own_gaps()
        return np.flatnonzero((gaps >= SMALL * gaps.sum()) & (self.idle < IDLE))

    def _own_gaps(self) -> Floats:
        """What each item's cheapest succession costs above its bound, at the best prices."""
        charge = self.prices.charge(self.prices.best)
        return np.maximum(self.choice.least(charge) - self.prices.own, 0.0)

    def _choose(self) -> None:
        """The best choice not tried yet, settled even where it costs more than the best plan."""
        if self.course.late():
            return
        chosen = self.choice.best(self.course.value, self.course.late)
        if chosen is not None:
            self._offer(chosen)
        self._settle(self.areas if chosen is None else chosen)

    def _settle(self, start: Floats) -> None:
        """Descend item by item on the ground the others leave, re-make the areas, and offer both."""
        x, cost = start.copy(), self.request.candidates.cost
        for part in self.task.parts:
            if self.course.late():
                break
            room = room_left(part, self.task.rows, x, cost)
            x[part.members] = descend(part, room, x[part.members], self.effort.descent_steps)[-1].x
        for areas in (start, x, best_areas(self.task, x, FINE, 60)):
            self._offer(areas)
            self.choice.add(areas)
            self.choice.tried(areas)

    def _force(self, trials: int) -> None:
        """Put what the mixture makes and the plan does not into the plan, one succession at a time, and
        settle the rest round it: several items may have to give way at once."""
        for _ in range(trials):
            left = (each for each in self.choice.unmade(self.areas) if each[0] not in self.forced)
            if self.course.late() or (following := next(left, None)) is None:
                return
            (item, _), areas = following
            before, x = self.course.value, self.areas.copy()
            x[self.task.parts[item].members] = areas
            self.forced.add(following[0])
            self._settle(best_areas(self.task, x))
            if before - self.course.value > MANY * (before - self.course.proven):
                self.forced.clear()

    def _choose_and_force(self) -> None:
        self._choose()
        self._force(BUSY // len(self.areas))

    def _polish(self, k: int) -> None:
        def settle() -> None:
            self._choose()
            self._offer(best_areas(self.task, self.areas, FINE, 60))

        self.bench.beside(lambda: None, settle)

    def _branch(self, k: int) -> None:
        kicked = self._kicked()
        if kicked.size:
            self._kick(kicked)
        if k:
            self._tend(self._choose_and_force if kicked.size else partial(self._force, IDLY))
        else:
            self._plant()

    def _tend(self, beside: Callable[[], None]) -> None:
        """Items' own whole sowings at the best prices; their bounds, added up, bound the whole."""
        charge, dealt = self.prices.charge(self.prices.best), self.trees.deal()
        if not dealt.any():
            return
        start = list(zip(self.choice.cheapest(charge), dealt.tolist(), strict=True))
        found: dict[int, Whole] = {}
        fine = PLANTED * (self.course.value - self.course.proven) / len(self.task.parts)
        self.bench.beside(partial(self._grow, charge, start, fine, found), beside)
        for i, whole in found.items():
            self.trees.learn(i, int(dealt[i]), whole.value - self.prices.own[i])
            self.choice.add_own(i, whole.x)

    def _plant(self) -> None:
        """Relaxations to their end, half-way to the prices of whole successions, to which branching leads."""
        self.prices.trial = 0.5 * (self.prices.best + self.choice.prices())
        self.bench.beside(self._prove(1, PLANTED, TO_THE_END), self._choose)
        charge = self.prices.charge(self.prices.best)
        sown = np.array([np.count_nonzero(areas) for areas in self.choice.cheapest(charge)])
        size = np.array([part.size for part in self.task.parts])
        stake = self.course.nothing - self.course.proven
        self.trees = Nodes(halves(self.request), size, self._own_gaps(), sown, stake)

    def _grow(
        self, charge: Floats, start: list[tuple[Floats, int]], fine: float, found: dict[int, Whole]
    ) -> None:
        among = [i for i, (_, nodes) in enumerate(start) if nodes]
        rent = float(self.prices.best @ self.task.rows.limit)

        def heard(i: int, whole: Whole) -> None:
            self.prices.own[i] = max(self.prices.own[i], whole.bound)
            self.course.prove(float(self.prices.own.sum()) - rent)

        replies = self._every("whole", charge, BRANCH_GAP, fine, each=start, among=among, heard=heard)
        found.update((i, replies[i]) for i in among)

    def _together(self, k: int) -> None:
        """All items at once; only for a task of few candidates."""
        found = all_whole(self.task, self.areas, TOGETHER_NODES, BRANCH_GAP)
        self.course.proven = max(self.course.proven, found.bound)
        self._offer(found.x)
        self._polish(k)
