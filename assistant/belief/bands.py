"""Low, middle and high of what is believed: the 10, 50 and 90 % points. Values only."""

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


def weighted_quantile(
    values: NDArray[np.float64], weight: NDArray[np.float64], part: float
) -> float:
    """The value below which this part of the weight lies, between neighbours by a straight line."""
    order = np.argsort(values, kind="stable")
    passed = np.cumsum(weight[order])
    return float(np.interp(part * passed[-1], passed - 0.5 * weight[order], values[order]))


def band(values: NDArray[np.float64], weight: NDArray[np.float64]) -> Band:
    """The band of weighted draws."""
    return Band(*(weighted_quantile(values, weight, part) for part in (0.1, 0.5, 0.9)))
