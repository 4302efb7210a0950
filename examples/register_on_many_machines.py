"""A partitioned register of lots on a cluster: Dask maps the files, each worker sends back its sums
as bytes, and the sums of all add up with what they share in doubt.

    pip install 'feedstock[columns]' 'dask[distributed]'
    python register_on_many_machines.py register/part-0.parquet register/part-1.parquet ...

Without an address of a scheduler two processes of this machine are the cluster.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

import pyarrow.parquet as pq
from distributed import Client, LocalCluster

from feedstock import Burn
from feedstock.columns import Sums, appraise_table

BURN = Burn(burner="cone pit", width="1.2 m", depth="0.5 m")
BATCH = 100_000


def of_file(path: str) -> bytes:
    """The sums of one file of the register; this runs where the worker is."""
    parts = [
        appraise_table(batch, BURN)[1]
        for batch in pq.ParquetFile(path).iter_batches(batch_size=BATCH)
    ]
    return Sums.merge(parts).to_bytes()


def total(client: Client, paths: Sequence[str]) -> Sums:
    """The sums of all files."""
    return Sums.merge(map(Sums.from_bytes, client.gather(client.map(of_file, paths))))


if __name__ == "__main__":
    with LocalCluster(n_workers=2, threads_per_worker=1) as cluster, Client(cluster) as client:
        sums = total(client, sys.argv[1:])
        print(f"{sums.rows:,} lots: {sums.char_mass} of char, {sums.char_volume}")
