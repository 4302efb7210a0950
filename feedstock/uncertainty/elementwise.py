"""The few functions that the physics needs, on a float or on an array of floats alike.

An array is anything that follows the array API standard (numpy >= 2 does); floats never load an
array library.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable
from functools import reduce
from typing import Any


def exp(x: Any) -> Any:
    """e to the power of x, element by element."""
    return math.exp(x) if isinstance(x, (float, int)) else x.__array_namespace__().exp(x)


def log(x: Any) -> Any:
    """The natural logarithm, element by element; x above 0."""
    return math.log(x) if isinstance(x, (float, int)) else x.__array_namespace__().log(x)


def sqrt(x: Any) -> Any:
    """The square root, element by element; x of 0 and above."""
    return math.sqrt(x) if isinstance(x, (float, int)) else x.__array_namespace__().sqrt(x)


def sin(x: Any) -> Any:
    """The sine, element by element; x in radians."""
    return math.sin(x) if isinstance(x, (float, int)) else x.__array_namespace__().sin(x)


def arcsin(x: Any) -> Any:
    """The angle in radians whose sine is x, element by element; x from -1 to 1."""
    return math.asin(x) if isinstance(x, (float, int)) else x.__array_namespace__().asin(x)


def total(values: Iterable[Any]) -> Any:
    """The sum, element by element; of floats the nearest there is, whatever their order and the
    Python that adds them. Of nothing 0.
    """
    summands = list(values)
    if all(isinstance(x, (float, int)) for x in summands):
        return math.fsum(summands)
    return reduce(operator.add, summands)


def minimum(a: Any, b: Any) -> Any:
    """The smaller of two, element by element."""
    if a.__class__ is float and b.__class__ is float:  # the quickest question for what is usual
        return a if a <= b else b
    if isinstance(a, (float, int)) and isinstance(b, (float, int)):
        return a if a <= b else b
    array = b if isinstance(a, (float, int)) else a
    return array.__array_namespace__().where(a <= b, a, b)


def maximum(a: Any, b: Any) -> Any:
    """The larger of two, element by element."""
    if a.__class__ is float and b.__class__ is float:  # the quickest question for what is usual
        return a if a >= b else b
    if isinstance(a, (float, int)) and isinstance(b, (float, int)):
        return a if a >= b else b
    array = b if isinstance(a, (float, int)) else a
    return array.__array_namespace__().where(a >= b, a, b)
