"""A partitioned register of lots on a cluster: Dask maps the files, each worker sends back its sums
as bytes, and the sums of all add up with what they share in doubt.

    pip install '.[columns]' distributed
    python register_on_many_machines.py register/part-0.parquet register/part-1.parquet ...

With the address of a scheduler in DASK_SCHEDULER_ADDRESS that cluster does it, and its workers must
see the files; without, two processes of this machine are the cluster.
"""

from __future__ import annotations

import contextlib
import sys
import tempfile
from collections.abc import Iterator, Sequence

import dask
import pyarrow.parquet as pq
from distributed import Client, LocalCluster, wait

from feedstock import Burn
from feedstock.columns import Sums, appraise_table

BURN = Burn(burner="cone pit", width="1.2 m", depth="0.5 m")
BATCH = 100_000
MOST_SECONDS = 3600
"""A cluster that has lost its workers waits for ever if nobody says for how long."""


def of_file(path: str) -> bytes:
    """The sums of one file of the register; this runs where the worker is."""
    parts = [
        appraise_table(batch, BURN)[1]
        for batch in pq.ParquetFile(path).iter_batches(batch_size=BATCH)
    ]
    return Sums.merge(parts).to_bytes()


def total(client: Client, paths: Sequence[str]) -> Sums:
    """The sums of all files. Raises TimeoutError."""
    futures = client.map(of_file, paths)
    wait(futures, timeout=MOST_SECONDS)
    return Sums.merge(map(Sums.from_bytes, client.gather(futures)))


@contextlib.contextmanager
def cluster(workers: int = 2) -> Iterator[Client]:
    """The cluster that is there, or one of processes of this machine: no page to watch it by, which
    would take a port, and what it writes goes into a folder that is taken away.
    """
    if address := dask.config.get("scheduler-address", None):
        with Client(address, timeout=60) as client:
            yield client
        return
    with (
        tempfile.TemporaryDirectory() as folder,
        dask.config.set({"temporary-directory": folder}),
        LocalCluster(
            n_workers=workers, threads_per_worker=1, processes=True, dashboard_address=None
        ) as local,
        Client(local, timeout=60) as client,
    ):
        client.wait_for_workers(workers, timeout=60)
        yield client


if __name__ == "__main__":
    with cluster() as client:
        sums = total(client, sys.argv[1:])
        machines = len(client.nthreads())
    print(f"{sums.rows:,} lots by {machines} workers: {sums.char_mass} of char, {sums.char_volume}")
