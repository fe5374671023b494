"""Work done by a Dask cluster (the extra evenpick[cluster]). Nothing else in evenpick knows Dask.

Items' models stay warm in one actor at each worker, as they do in the processes of plan/bench.py.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import partial
from typing import Any, TypeVar

from evenpick.base.errors import BadRequest, Problem
from evenpick.plan.child import ChildLost
from evenpick.plan.desk import Desk
from evenpick.plan.hands import Asked, idle
from evenpick.plan.parts import part_of
from evenpick.plan.request import Request

S = TypeVar("S")
A = TypeVar("A")
B = TypeVar("B")
PATIENCE = 10  # s to wait for the scheduler, and for its first worker


class Actor:
    """A desk as it lives at a worker."""

    def __init__(self, request: Request, items: Sequence[int]) -> None:
        self.desk = Desk(request, {item: part_of(request, item) for item in items})

    def ask(self, question: str, item: int, *rest: Any) -> Any:
        return self.desk.ask(question, item, *rest)


class Seat:
    """A desk at one worker of the cluster."""

    def __init__(self, client: Any, worker: str) -> None:
        self._client, self._worker = client, worker
        self._made: Any = None

    def begin(self, request: Request, items: Sequence[int]) -> None:
        sent = self._client.scatter(request, workers=[self._worker], hash=False)
        self._made = self._client.submit(
            Actor, sent, list(items), actor=True, workers=[self._worker], pure=False
        )

    def ask(self, question: str, item: int, *rest: Any) -> Any:
        try:
            return self._made.result().ask(question, item, *rest).result()
        except OSError as lost:
            raise ChildLost(f"the worker {self._worker} was lost") from lost

    def close(self) -> None:
        self._client.cancel([self._made])


class Cluster:
    """The workers of a cluster, as hands."""

    def __init__(self, client: Any) -> None:
        self._client = client

    def map(
        self, work: Callable[[S, A], B], shared: S, several: Sequence[A],
        meanwhile: Callable[[], object] = idle,
    ) -> list[B]:
        once = self._client.scatter(shared, broadcast=True, hash=False)
        made = [self._client.submit(work, once, one, pure=False) for one in several]
        meanwhile()
        found: list[B] = self._client.gather(made)
        return found

    def together(self, calls: Sequence[Callable[[], B]]) -> list[B]:
        with ThreadPoolExecutor(max(len(calls), 1)) as pool:
            return [each.result() for each in [pool.submit(call) for call in calls]]

    def seats(self, several: int) -> Sequence[Callable[[], Asked]]:
        workers = sorted(self._client.scheduler_info(n_workers=-1)["workers"])
        return [partial(Seat, self._client, worker) for worker in workers]


@contextmanager
def cluster(address: str) -> Iterator[Cluster]:
    """The cluster whose scheduler is at an address such as 'tcp://10.0.0.5:8786'.

    BadRequest where Dask is not installed, nothing answers there, or it has no worker.
    """
    try:
        from distributed import Client
    except ImportError as error:
        what, mend = "a cluster needs Dask, which is not here.", "Install it: pip install 'evenpick[cluster]'"
        raise _refused(what, mend) from error
    connect: Callable[..., Any] = Client
    try:
        client = connect(address, timeout=PATIENCE)  # actors look for the default client
    except (OSError, TimeoutError, ValueError) as error:
        mend = "Start one with dask scheduler, and give the address that it tells."
        raise _refused(f"no scheduler answers at '{address}'.", mend) from error
    with client:
        try:
            client.wait_for_workers(1, timeout=PATIENCE)
        except TimeoutError as error:
            what = f"the cluster at '{address}' has no worker."
            raise _refused(what, f"Start some with: dask worker {address}") from error
        yield Cluster(client)


def _refused(what: str, mend: str) -> BadRequest:
    return BadRequest(Problem(what, mend, field="--cluster"))
