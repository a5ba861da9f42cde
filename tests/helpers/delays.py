"""Delays measured on a machine that may be busy."""

from __future__ import annotations

from collections.abc import Callable


def within(limit_s: float, measure: Callable[[], float]) -> float:
    """The least of up to three measurements of a delay: a busy machine may spoil one."""
    delays_s: list[float] = []
    while len(delays_s) < 3 and min(delays_s, default=limit_s + 1) > limit_s:
        delays_s.append(measure())
    return min(delays_s)
