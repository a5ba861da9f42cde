"""Whether there was heat at a moment, followed through the reports in their order. Pure."""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.procedure.scale import measure

BURNING = frozenset({"lit", "built", "coal", "bright", "banked", "watched", "burning alone"})
DRAUGHT = ("blower", "damper")  # what lets air to the fire
OUT = frozenset({"drawn", "run down", "dead"})
PRESSED = 0.02  # of working pressure: above it there is heat, whatever was said of the fire
MOVING = frozenset({"feathering", "lifting"})
VENT_STEAM = frozenset({"blows steam", "steam"})  # the latter in journals of earlier versions


class Heat:
    """Fire in, or steam seen, as far as the reports have come."""

    def __init__(self, engine: Engine, warm: bool = False) -> None:
        self._pressed_pa = PRESSED * engine.working_pressure_gauge_pa
        self._engine = engine
        self._fire = self._pressed = self._blowing = self._told = False
        self._warm = warm

    @property
    def hot(self) -> bool:
        """Whether there is heat now. An engine taken over warm is hot until her fire is told."""
        return self._fire or self._pressed or self._blowing or self._warm

    @property
    def pressed(self) -> bool:
        """Whether the gauge was last called with pressure on it."""
        return self._pressed

    @property
    def steams(self) -> bool:
        """Whether there is steam: on the gauge, at the valve, or taken over warm."""
        return self._pressed or self._blowing or self._warm

    def hear(self, report: Report) -> None:
        """The next report."""
        match report.what:
            case "fire":
                self._fire, self._warm, self._told = report.value in BURNING, False, True
            case "pressure":
                self._pressed = (measure(report, self._engine) or 0.0) > self._pressed_pa
                self._blowing = self._blowing and (self._fire or self._pressed or not self._told)
            case "valve":
                self._blowing = report.value in MOVING
