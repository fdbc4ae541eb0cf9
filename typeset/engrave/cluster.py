"""Engraving on other machines: batches go to an existing Dask cluster, and their blocks come back."""

from __future__ import annotations

import atexit
import logging
import os
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from ..compose.engraving import Engraving
from ..problem import OutsideError
from ..style.music import Staff
from .block import Finish
from .running import Engravers
from .session import Sessions
from .store import maker_of
from .workers import Batch, Results, batches, engrave_batch

if TYPE_CHECKING:
    from distributed import Client, Future

_CONNECT = 5
"""Seconds within which a cluster answers."""

_PATIENCE = 30.0
"""Seconds after which a cluster that has no worker left is given up."""

_READY = 10.0
"""Seconds for which a worker's LilyPond waits for another batch."""

_SAME = "install the same versions of Python, shedbook and LilyPond on it as here, and start it again"


class _Other(Exception):
    """A worker would make other blocks than this machine."""


@dataclass(frozen=True)
class Cluster:
    """Batches are engraved by the workers of a Dask cluster, as many at once as these have threads.

    The work of a worker that goes away is done by another.
    """

    address: str

    def engrave(
        self, engravings: Sequence[Engraving], staff: Staff, finish: Finish
    ) -> Iterator[tuple[Batch, Results]]:
        """Engrave everything as an Executor does."""
        with self._client() as client:
            maker = maker_of(finish)
            running = {
                client.submit(_engrave_there, batch, staff, finish, maker, pure=False): batch
                for batch in batches(engravings, sum(client.nthreads().values()))
            }
            try:
                for done in self._as_completed(client, list(running)):
                    yield running[done], self._result(done)
            finally:
                with suppress(Exception):
                    client.cancel(list(running))

    @contextmanager
    def _client(self) -> Iterator[Client]:
        """A connection to the cluster, once it has a worker. Raises OutsideError."""
        try:
            from distributed import Client
        except ImportError:
            raise OutsideError("engraving on a cluster needs the extra: pip install 'shedbook[cluster]'") from None
        logging.getLogger("distributed").setLevel(logging.CRITICAL)
        try:
            client = Client(self.address, timeout=_CONNECT, name="shedbook")
        except (OSError, ValueError) as error:
            raise OutsideError(
                f"there is no Dask cluster at {self.address}; give the address that its scheduler prints, "
                "such as tcp://192.168.0.10:8786, or leave out --cluster to engrave here"
            ) from error
        try:
            self._wait_for_worker(client)
            yield client
        finally:
            with suppress(Exception):
                client.close(timeout=1)

    def _wait_for_worker(self, client: Client) -> None:
        try:
            client.wait_for_workers(1, timeout=_CONNECT)
        except TimeoutError as error:
            raise OutsideError(
                f"the cluster at {self.address} has no workers; start some with `dask worker {self.address}`"
            ) from error

    def _as_completed(self, client: Client, futures: Sequence[Future]) -> Iterator[Future]:
        """Futures as they are done. Raises OutsideError where no worker is left to do them."""
        from distributed import wait

        left, lonely = set(futures), 0.0
        while left:
            try:
                done = wait(left, timeout=1, return_when="FIRST_COMPLETED").done
            except TimeoutError:
                lonely = 0.0 if client.nthreads() else lonely + 1
                if lonely > _PATIENCE:
                    raise OutsideError(
                        f"the cluster at {self.address} lost its last worker; what it engraved is kept"
                    ) from None
                continue
            left -= done
            yield from done

    def _result(self, done: Future) -> Results:
        try:
            result: Results = done.result()
        except (OutsideError, KeyboardInterrupt):
            raise
        except _Other as error:
            raise OutsideError(f"a worker of the cluster at {self.address} {error}; {_SAME}") from error
        except Exception as error:
            raise OutsideError(
                f"the cluster at {self.address} failed ({type(error).__name__}: {error}); "
                "what it engraved by then is kept"
            ) from error
        return result


def _engrave_there(batch: Batch, staff: Staff, finish: Finish, maker: str) -> Results:
    """Engrave a batch on a worker, if that would make the same blocks as the machine that asks for them."""
    if maker_of(finish) != maker:
        raise _Other("has another version")
    return _ready().engrave(batch, staff, finish)


@cache
def _ready() -> _Ready:
    """The sessions of this worker's process."""
    return _Ready()


class _Ready:
    """A worker's sessions, one for each core at most, which end when nothing was asked of them for a while."""

    def __init__(self) -> None:
        self._sessions = Sessions(os.cpu_count() or 1, Engravers())
        self._lock = threading.Lock()
        self._end: threading.Timer | None = None
        atexit.register(self._sessions.close)

    def engrave(self, batch: Batch, staff: Staff, finish: Finish) -> Results:
        """Engrave a batch as `engrave_batch` does."""
        try:
            return engrave_batch(batch, staff, finish, sessions=self._sessions)
        finally:
            self._end_in_a_while()

    def _end_in_a_while(self) -> None:
        with self._lock:
            if self._end:
                self._end.cancel()
            self._end = threading.Timer(_READY, self._sessions.close)
            self._end.daemon = True
            self._end.start()
