"""Low, middle and high of an estimate: the 10, 50 and 90 % points. Values only."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Band:
    """The 10, 50 and 90 % points of one quantity."""

    low: float
    mid: float
    high: float


def weighted_quantile(values: Array, weight: Array, part: float) -> float:
    """The value below which this part of the weight lies, linear between neighbours."""
    order = np.argsort(values, kind="stable")
    cumulative = np.cumsum(weight[order])
    at = part * cumulative[-1]
    return float(np.interp(at, cumulative - 0.5 * weight[order], values[order]))


def band(values: Array, weight: Array) -> Band:
    """The band of weighted draws."""
    return Band(*(weighted_quantile(values, weight, part) for part in (0.1, 0.5, 0.9)))
