"""Whether the safety valve failed at its lift, followed through the reports in order. Pure."""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.picture.heat import MOVING
from assistant.picture.readings import reading_of
from assistant.picture.report_log import TimedReport
from assistant.picture.valve import MOVED_BEFORE_S, SET_TOLERANCE

GRAIN = 1e-6


class FailedValve:
    """The pressure over the lift, and no valve lifting, as far as the reports have come."""

    def __init__(self, engine: Engine) -> None:
        self._engine, self._lift = engine, engine.valve_lifts_gauge_pa
        self._gauge_pa = 0.0
        self._over_at: float | None = None  # the first of the last calls at the lift or over it
        self._moved_at = float("-inf")
        self._lifting = False

    def hear(self, timed: TimedReport) -> bool:
        """The next report. Whether it shows that the valve does not lift at its figure."""
        reading = reading_of(timed, self._engine) if timed.report.what == "pressure" else None
        if reading is not None:
            return self._gauge_called(reading.value or 0.0, timed.at)
        if timed.report.what != "valve":
            return False
        self._lifting = timed.report.value == "lifting"
        if timed.report.value in MOVING:
            self._moved_at = timed.at
            return False
        return self._over and not self._moved

    @property
    def _over(self) -> bool:
        return self._gauge_pa > self._lift * (1.0 + GRAIN)

    @property
    def _moved(self) -> bool:
        """Whether it moved at the lift, or shortly before."""
        return self._over_at is None or self._moved_at >= self._over_at - MOVED_BEFORE_S

    def _gauge_called(self, gauge_pa: float, at: float) -> bool:
        self._gauge_pa = gauge_pa
        if gauge_pa < self._lift * (1.0 - GRAIN):
            self._over_at = None
            return False
        asked = self._over_at is not None
        self._over_at = at if self._over_at is None else self._over_at
        far = gauge_pa > self._lift * SET_TOLERANCE * (1.0 + GRAIN)
        return not self._lifting and (far or (asked and self._over and not self._moved))
