"""Many lots as columns: Arrow tables in and out, at the speed of arrays (the extra `columns`).

from feedstock.columns import appraise_table

result, sums = appraise_table(table, burn)
"""

from ..errors import missing_extra

try:
    from .sums import Sums as Sums
    from .table import appraise_table as appraise_table
except ModuleNotFoundError as why:
    if (why.name or "").partition(".")[0] not in ("numpy", "pyarrow"):
        raise
    raise ImportError(str(missing_extra("columns"))) from why
