"""A partitioned register of lots on one machine: DuckDB reads and filters, the columns appraise.

    pip install '.[columns]' duckdb
    python register_on_one_machine.py 'register/*.parquet'

The register has the columns of a CSV file of lots; a mass as a number is kilograms here.
"""

from __future__ import annotations

import sys

import duckdb
import pyarrow as pa

from feedstock import Burn
from feedstock.columns import Sums, appraise_table

BURN = Burn(burner="cone pit", width="1.2 m", depth="0.5 m")
BATCH = 100_000


def with_units(batch: pa.RecordBatch) -> pa.RecordBatch:
    """Say what the numbers of the register mean: queries do not keep the metadata of fields."""
    at = batch.schema.get_field_index("mass")
    field = pa.field("mass", batch.schema.field(at).type, metadata={"unit": "kg"})
    return pa.RecordBatch.from_arrays(batch.columns, schema=batch.schema.set(at, field))


def total(pattern: str) -> Sums:
    """The sums of a register, read in batches."""
    query = duckdb.sql(
        "select material, mass, moisture, origin from read_parquet($pattern)",
        params={"pattern": pattern},
    )
    parts = [appraise_table(with_units(batch), BURN)[1] for batch in query.to_arrow_reader(BATCH)]
    return Sums.merge(parts)


if __name__ == "__main__":
    sums = total(sys.argv[1])
    print(f"{sums.rows:,} lots: {sums.char_mass} of char, {sums.char_volume}")
