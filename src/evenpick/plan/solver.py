"""The only place that knows the solver (HiGHS): linear and integer programmes over arrays.

highspy is imported when the first model is made, because it is slow to load.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints

INF = float("inf")


class SolverFailed(RuntimeError):
    """The solver answered something that no plan should rest on: a bug, not the grower's fault."""


@dataclass(frozen=True, slots=True)
class Answer:
    """`x` and `value` of the best point found (None if none), and a bound no point can better."""

    x: Floats | None
    value: float
    bound: float
    duals: Floats


def _quiet() -> Any:
    """A solver that never writes to the terminal: callbacks are enabled while it is made, and that would
    print a banner unless output is off before."""
    import highspy

    solver: Any = highspy.Highs

    class Quiet(solver):  # type: ignore[misc]
        def enableCallbacks(self) -> None:  # noqa: N802
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()

    made: Any = Quiet
    return made()


class Model:
    """A minimisation with columns in [lower, upper]; rows are only added. One thread, fixed seed."""

    def __init__(self, cost: Floats, lower: Floats, upper: Floats, seed: int) -> None:
        import highspy

        self._highs: Any = _quiet()
        self._done = highspy.HighsModelStatus.kOptimal
        self._infeasible = highspy.HighsModelStatus.kInfeasible
        self._partial = {
            highspy.HighsModelStatus.kTimeLimit, highspy.HighsModelStatus.kSolutionLimit,
            highspy.HighsModelStatus.kIterationLimit, highspy.HighsModelStatus.kInterrupt,
            highspy.HighsModelStatus.kObjectiveBound, highspy.HighsModelStatus.kObjectiveTarget,
        }
        self._basic = highspy.HighsBasisStatus.kBasic
        self._integer = highspy.HighsVarType.kInteger
        for name, value in (("threads", 1), ("random_seed", seed % 2**31)):
            self.option(name, value)
        self._all = np.arange(len(cost), dtype=np.int32)
        self._highs.addVars(len(cost), lower, upper)
        self.set_cost(cost)

    def option(self, name: str, value: object) -> None:
        self._highs.setOptionValue(name, value)

    def set_cost(self, cost: Floats) -> None:
        self._highs.changeColsCost(len(self._all), self._all, cost)

    def set_bounds(self, lower: Floats, upper: Floats) -> None:
        self._highs.changeColsBounds(len(self._all), self._all, lower, upper)

    def set_row_limits(self, first: int, upper: Floats) -> None:
        """Other upper limits of the rows from `first` on that have no lower one."""
        rows = first + np.arange(len(upper), dtype=np.int32)
        self._highs.changeRowsBounds(len(rows), rows, np.full(len(rows), -INF), upper)

    def add_columns(self, lower: Floats, upper: Floats) -> None:
        """Further columns, without cost."""
        self._highs.addVars(len(lower), lower, upper)

    def set_some_bounds(self, columns: Ints, lower: Floats, upper: Floats) -> None:
        self._highs.changeColsBounds(len(columns), columns.astype(np.int32), lower, upper)

    def set_integer(self, columns: Ints) -> None:
        kinds = np.array([self._integer.value] * len(columns), dtype=np.uint8)
        self._highs.changeColsIntegrality(len(columns), columns.astype(np.int32), kinds)

    def add_rows(self, lower: Floats, upper: Floats, starts: Ints, columns: Ints, values: Floats) -> None:
        """Rows in compressed form: row r has entries starts[r] to starts[r+1] (the last to the end)."""
        self._highs.addRows(
            len(lower), lower, upper, len(columns), starts.astype(np.int32), columns.astype(np.int32),
            values,
        )

    def drop_slack_rows(self, first: int) -> Bools:
        """Take out the rows from `first` on that are slack at the answer, which stays as it is; whether each
        of them was kept."""
        basis = self._highs.getBasis()
        slack = np.array([status == self._basic for status in basis.row_status])
        slack[:first] = False
        out: Ints = np.flatnonzero(slack).astype(np.int32)
        self._highs.deleteRows(len(out), out)
        basis.row_status = [status for status, off in zip(basis.row_status, slack, strict=True) if not off]
        self._highs.setBasis(basis)
        return np.asarray(~slack[first:])

    def solve(self) -> Answer:
        """Solve a linear programme to optimality (x None if none is feasible); else raises SolverFailed."""
        self._highs.run()
        status = self._highs.getModelStatus()
        if status == self._infeasible:
            return Answer(None, INF, INF, np.empty(0))
        if status != self._done:
            raise SolverFailed(f"linear programme ended with {status}")
        value = self._highs.getInfo().objective_function_value
        solution = self._highs.getSolution()
        return Answer(np.array(solution.col_value), value, value, np.array(solution.row_dual))

    def solve_integer(
        self, nodes: int, gap: float, seconds: float, late: Callable[[], bool] = lambda: False
    ) -> Answer:
        """Branch until `gap` (relative), `nodes` or `seconds`, or until `late` says so, which is asked now
        and then; the bound holds in every case (x None and a bound of infinity if nothing is feasible)."""
        self._highs.cbMipInterrupt.subscribe(lambda event: event.interrupt(late()))
        self.option("mip_max_nodes", nodes)
        self.option("mip_rel_gap", gap)
        self.option("time_limit", max(seconds, 0.01))
        self._highs.run()
        status = self._highs.getModelStatus()
        if status == self._infeasible:
            return Answer(None, INF, INF, np.empty(0))
        if status != self._done and status not in self._partial:
            raise SolverFailed(f"integer programme ended with {status}")
        info = self._highs.getInfo()
        found = info.primal_solution_status == 2 and np.isfinite(info.objective_function_value)
        x = np.array(self._highs.getSolution().col_value) if found else None
        value = info.objective_function_value if found else INF
        return Answer(x, value, min(info.mip_dual_bound, value), np.empty(0))


def pack(rows: list[tuple[Ints, Floats]]) -> tuple[Ints, Ints, Floats]:
    """Starts, columns and values of sparse rows."""
    starts = np.concatenate([[0], np.cumsum([len(columns) for columns, _ in rows])[:-1]]).astype(np.int64)
    return starts, np.concatenate([c for c, _ in rows]), np.concatenate([v for _, v in rows])
