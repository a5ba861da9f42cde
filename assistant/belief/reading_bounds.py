"""Unbroken rises, and the bounds that readings set on the position of the water. Values only."""

from __future__ import annotations

from dataclasses import dataclass

OUTLIER_CHANCE = 0.03  # part of readings misread or misheard: common practice, no source


@dataclass(frozen=True, slots=True)
class ReadingBound:
    """One reading: at this time of a segment the water was between two positions."""

    segment: int
    """its place in the list of segments"""
    at_s: float
    """when it was called [s]"""
    low: float
    """lower bound of the position [cells]"""
    high: float
    """upper bound of the position [cells]"""
    slack: float = 0.1
    """smear of both bounds [cells]"""
    outlier: float = OUTLIER_CHANCE
    """chance that it is an outlier and says nothing"""


@dataclass(frozen=True, slots=True)
class Segment:
    """An unbroken rise from a position."""

    start: float
    """position where it begins [cells]"""
    about_s: float
    """when it begins, roughly [s]"""
    spread_s: float
    """standard deviation of that time [s]"""
    from_lighting: bool = False
    """whether it begins with the lighting, so that the delay of the fire comes first"""
