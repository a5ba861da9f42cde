"""Whether the gauge stands still over a fire that should move it. Pure; knows no alarm.

Only where nothing holds the pressure: a bright fire with its air and its blower, no steam drawn, no
feed. Of a draught that nobody told it takes twice as long. Fresh coal lets it rest until the gauge
has risen again.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.messages import Report
from assistant.picture.fall import COALING_S, FED_S, OFF, ON
from assistant.picture.given import Given
from assistant.picture.heat import DRAUGHT, MOVING
from assistant.picture.readings import Reading, pressure_step, reading_of
from assistant.picture.report_log import ReportLog

EQUAL, LONG_S = 3, 600.0  # calls of one figure, or two so long apart
UNTOLD_S = 1200.0  # ... and so long where nothing was told of the draught. Judgement
STEPS = 2.0  # calling steps that it should have risen, or has moved
NEAR_VALVE = 0.9  # of where the valve moves: it may simmer untold, and hold it. Judgement
PIN = 0.015  # of working pressure: a needle that has never moved is another alarm's
BRIGHT = frozenset({"bright", "coal"})
AIR = frozenset({"half", "open"})
SURE_AGAIN = ("gauge trouble", "cured")


def still_since(given: Given) -> float | None:
    """From when it stands still [s]; None: it moves, or nothing says that it should.

    It ends when it is called two steps away, the draught is taken off, or the gauge was put right.
    """
    return given.reports.once(f"still {given.long_breaks}", lambda log: _fold(log, given))


def _fold(log: ReportLog, given: Given) -> float | None:
    following, breaks = _Following(given, pressure_step(log, given.engine)), list(given.long_breaks)
    for timed in log:
        while breaks and timed.at > breaks[0]:
            following = _Following(given, following.step)
            breaks.pop(0)
        reading = reading_of(timed, given.engine) if timed.report.what == "pressure" else None
        if reading is not None:
            following.called(reading)
        else:
            following.hear(timed.report, timed.at)
    return None if following.still is None or breaks else following.still.at


@dataclass
class _Following:
    """The gauge as far as the reports have come."""

    given: Given
    step: float
    """In which it is called [Pa]."""
    states: dict[str, str] = field(default_factory=dict)
    equal: list[Reading] = field(default_factory=list)
    """The calls of one figure since when nothing holds the pressure."""
    still: Reading | None = None
    rests_until: float = float("-inf")

    def hear(self, report: Report, at: float) -> None:
        """What is told of fire, draught, steam and feed."""
        told = report.what, str(report.value)
        if told in ON or told in OFF:
            self.states["feed"] = "on" if told in ON else "off"
            self.rests_until = max(self.rests_until, at + FED_S)
        elif told == SURE_AGAIN:
            self.still, self.equal = None, []
        else:
            self.states[report.what] = told[1]
        if told == ("fire", "coal"):
            self.rests_until = max(self.rests_until, at + COALING_S)
        if not self._has_air():
            self.still = None
        if not self._free():
            self.equal = []

    def called(self, reading: Reading) -> None:
        """The next call of the gauge."""
        value = reading.value or 0.0
        if self.still is not None and abs(value - (self.still.value or 0.0)) >= self._steps():
            self.still = None
        if self.equal and abs(value - (self.equal[0].value or 0.0)) > 0.1 * self.step:
            rose = value > (self.equal[0].value or 0.0)
            self.equal = []
            self.rests_until = reading.at if rose else self.rests_until
        engine = self.given.engine
        low = PIN * engine.working_pressure_gauge_pa
        if not low < value < NEAR_VALVE * engine.valve_moves_gauge_pa or not self._free():
            self.equal = []
            return
        if reading.at < self.rests_until:
            self.equal = [reading]
            return
        self.equal.append(reading)
        if self.still is None and self._should_have_moved():
            self.still = self.equal[0]

    def _should_have_moved(self) -> bool:
        first, last = self.equal[0], self.equal[-1]
        lapse = last.at - first.at
        if len(self.equal) < EQUAL and not (len(self.equal) > 1 and lapse >= LONG_S):
            return False
        if not all(what in self.states for what in DRAUGHT) and lapse < UNTOLD_S:
            return False
        risen = self.given.rise(first.at, last.at)
        return risen is not None and risen >= self._steps()

    def _steps(self) -> float:
        return STEPS * self.step * (1.0 - 1e-6)

    def _has_air(self) -> bool:
        """Whether neither damper nor blower was told to be shut or nearly so."""
        return all(self.states.get(what, "open") in AIR for what in DRAUGHT)

    def _free(self) -> bool:
        """Whether nothing holds the pressure."""
        states = self.states
        shut = states.get("regulator") != "open" and states.get("valve") not in MOVING
        bright = states.get("fire") in BRIGHT
        return bright and self._has_air() and shut and states.get("feed") != "on"
