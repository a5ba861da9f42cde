"""Readings as points of a chart: their values on its axes. Pure, draws nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from assistant.boiler.scales import LENGTH_M, PRESSURE_PA, pressure_gauge_pa
from assistant.messages import Report
from assistant.report.story import Story
from assistant.report.story_values import Call
from assistant.report.terms import Terms


@dataclass(frozen=True, slots=True)
class Dial:
    """One axis of a chart."""

    what: str
    """subject of the readings on it"""
    of: Callable[[Report], float | None]
    """value of a report; None: not on this axis"""

    def points(self, calls: Sequence[Call]) -> tuple[list[float], list[float]]:
        """Times [s] and values of the calls that have one."""
        values = [
            (call.at_s, self.of(call.report)) for call in calls if call.report.what == self.what
        ]
        points = [(at_s, value) for at_s, value in values if value is not None]
        return [at_s for at_s, _ in points], [value for _, value in points]


def pressure_dial(terms: Terms) -> Dial:
    """Gauge pressure in the owner's unit."""

    def of(report: Report) -> float | None:
        if isinstance(report.value, str) or report.unit not in PRESSURE_PA:
            return None
        return in_unit(terms, pressure_gauge_pa(report))

    return Dial("pressure", of)


def in_unit(terms: Terms, gauge_pa: float) -> float:
    """A gauge pressure in the owner's unit, not rounded."""
    return gauge_pa / PRESSURE_PA[terms.pressure]


def glass_dial(story: Story) -> Dial:
    """The water as a fraction of the visible glass; lengths need the engine's own glass."""
    visible_m = None if story.engine is None else story.engine.engine.glass.visible_m

    def of(report: Report) -> float | None:
        if isinstance(report.value, str):
            return None
        if report.unit == "glass":
            return float(report.value)
        if visible_m is None or report.unit not in LENGTH_M:
            return None
        return float(report.value) * LENGTH_M[report.unit] / visible_m

    return Dial("water", of)
