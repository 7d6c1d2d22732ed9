"""Work on a cluster that is there already: a scheduler of dask.distributed, and workers that have this planner.

The same as `planner.batch.processes` does on one machine: each task with what became of it, as they
end. A worker that dies costs nothing: what it was at is done by another. A brief that kills its
worker again and again is told as such. Files need not be shared: a brief travels as its content.
"""

from collections.abc import Callable, Generator, Iterable
from concurrent.futures import CancelledError
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, TypeVar
from uuid import uuid4

from planner.batch.processes import Died, Overdue
from planner.errors import WrongUsage
from planner.kept.content import planner_key

if TYPE_CHECKING:
    from collections.abc import Iterator

    from distributed import Client, Future, WorkerPlugin

Answer = TypeVar("Answer")

_PATIENCE_S = 30.0
_GO_ON = "What is answered is kept; the same command goes on where this one ended."


class OtherPlanner(Exception):
    """A worker has another version of the planner than whoever asks."""


def worked_on_cluster(
    tasks: Iterable[Path], work: Callable[[Path], Answer], *, address: str, most_s: float
) -> Generator[tuple[Path, Answer | Died | Overdue], None, None]:
    """Each file with what became of it, as they end. Where none ends within `most_s` seconds all hang.

    `work` is sent to the workers, and finds there a file of the same name and content. Whoever stops asking for
    more calls off what is left. Raises WrongUsage where there is no such cluster, or not this planner on it.
    """
    paths = list(tasks)
    if not paths:
        return
    with _client(address) as client:
        yield from _endings(client, paths, work, most_s)


def _endings(
    client: "Client", paths: list[Path], work: Callable[[Path], Any], most_s: float
) -> Generator[tuple[Path, Any], None, None]:
    """`work` goes to every worker once, those that join later too; then each brief to whichever is free.

    A cluster blames all that waits on a worker for the worker's death. So what is blamed is tried once
    more, with nothing else on the cluster: only what then kills its worker again is to blame.
    """
    from distributed.scheduler import KilledWorker

    place = f"planner batch {uuid4()}"
    client.register_plugin(_held(work), name=place)
    suspects: list[Path] = []
    try:
        for path, future in _ended(client, paths, place, most_s):
            if not isinstance(future, Overdue) and isinstance(future.exception(), KilledWorker):
                suspects.append(path)
            else:
                yield path, _ending(future)
        for suspect in suspects:
            for path, future in _ended(client, [suspect], place, most_s):
                yield path, _ending(future)
    finally:
        if client.status == "running":
            client.unregister_worker_plugin(place)


def _ended(
    client: "Client", paths: list[Path], place: str, most_s: float
) -> Generator[tuple[Path, "Future | Overdue"], None, None]:
    """Each brief as it ends on some worker."""
    from distributed import wait

    sent = {
        client.submit(_done_there, place, planner_key(), path.name, _content(path), pure=False): path for path in paths
    }
    try:
        while sent:
            try:
                wait(list(sent), timeout=most_s, return_when="FIRST_COMPLETED")
            except TimeoutError:
                if not client.scheduler_info()["workers"]:
                    raise WrongUsage(f"the cluster has no worker left. {_GO_ON}") from None
                yield from ((path, Overdue()) for path in sent.values())
                return
            except CancelledError:  # nobody but the scheduler calls off what we wait for
                raise WrongUsage(f"the cluster has gone. {_GO_ON}") from None
            for future in [future for future in sent if future.status != "pending"]:
                yield sent.pop(future), future
    finally:
        if client.status == "running":
            client.cancel(list(sent), force=True)


def _held(work: Callable[[Path], Any]) -> "WorkerPlugin":
    """What a worker keeps of a batch."""
    from distributed import WorkerPlugin

    plugin = WorkerPlugin()
    plugin.work = work
    return plugin


def _ending(ended: "Future | Overdue") -> Any:
    """What became of a task that has ended on a worker."""
    from distributed.scheduler import KilledWorker

    if isinstance(ended, Overdue):
        return ended
    error = ended.exception()
    match error:
        case None:
            return ended.result()
        case KilledWorker():
            return Died("its workers died")
        case OtherPlanner() | ImportError():
            raise WrongUsage(
                f"a worker of the cluster cannot do this work: {error}. Install this version of the planner on all."
            ) from error
    return Died(f"its worker failed ({type(error).__name__}: {error})")


def _done_there(place: str, planner: str, name: str, content: bytes | None) -> Any:
    """Runs on a worker: the file is put there, if its sender could read it, and worked on."""
    from distributed import get_worker

    if planner_key() != planner:
        raise OtherPlanner("it has another version of the planner")
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        if content is not None:
            path.write_bytes(content)
        return get_worker().plugins[place].work(path)


def _content(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


@contextmanager
def _client(address: str) -> "Iterator[Client]":
    """A connection to a cluster that has a worker at least."""
    try:
        from distributed import Client
    except ImportError as error:
        raise WrongUsage(
            "work on a cluster needs the extra 'cluster': install it with pip install -e '.[cluster]'."
        ) from error
    try:
        client = Client(address, timeout=_PATIENCE_S, set_as_default=False)
    except (OSError, ValueError) as error:
        raise WrongUsage(f"no scheduler of a cluster answers at {address}: {error}.") from error
    with client, client.as_current():
        try:
            client.wait_for_workers(1, timeout=_PATIENCE_S)
        except TimeoutError as error:
            raise WrongUsage(f"the cluster at {address} has no worker. Start one, then run this again.") from error
        yield client
