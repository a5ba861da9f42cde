"""What the practice operator does to the boiler: what a step asks, and tending fire and feed.

Knows steps and the boiler's fittings; says nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from assistant.boiler.scales import PSI_PA
from assistant.procedure.checklist import Step
from assistant.simulator.practice_boiler import PracticeBoiler

EVERY_FIRING_S = 420.0  # a round of wood or coal; common practice, no source
_NEAR_UPPER_MARK = 0.01  # of the glass: a gain must show before the feed is taken off

# Does what a step asks; the state that is then seen, None for "not yet".
_Act = Callable[[Step, Sequence[str]], str | None]


class OperatorActs:
    """The operator's hands."""

    def __init__(self, boiler: PracticeBoiler) -> None:
        self._boiler = boiler
        self._fired_at: float | None = None
        self._on_coal = False
        self._has_fed = False
        self._looked_in_at: float | None = None
        self.saw_leak = False
        """Whether water was seen in the firebox."""
        self._acts: Mapping[str, _Act] = {
            "fire": self._fire,
            "valve": self._look_at_valve,
            "vent": self._look_at_vent,
            "damper": self._damper,
            "blower": self._blower,
            "regulator": self._regulator,
            "drains": self._drains,
            "bypass": self._bypass,
            "feed": self._feed,
            "delivery": self._look_at_delivery,
            "pipe": self._look_at_pipe,
            "injector": self._try_injector,
            "glass": self._blow_through,
        }

    def do(self, step: Step) -> str | None:
        """Do what the step asks; the state that is then seen, None for "not yet"."""
        states = [reply.state for reply in step.replies if reply.passes]
        act = self._acts.get(step.asks)
        if act is not None:
            return act(step, states)
        return states[0] if states else None

    def tend(self, at: float) -> bool:
        """What is done without being asked: wood, then coal, little and often, and the feed taken
        off near the upper mark. Whether it was.
        """
        stopped = self._stop_feed_near_upper_mark()
        self._make_up(at)
        return stopped

    def _make_up(self, at: float) -> None:
        self._look_in(at)
        if self._fired_at is None or at - self._fired_at < EVERY_FIRING_S:
            return
        if self._boiler.gauge_pressure_gauge_pa > self._boiler.engine.working_pressure_gauge_pa:
            return  # nobody stokes then
        self._fired_at = at
        if self._on_coal:
            self._boiler.coal(0.7)
        else:
            self._boiler.wood(0.8)

    def _look_in(self, at: float) -> None:
        """The fire is looked at as often as it would be made up."""
        if self._fired_at is None or at - (self._looked_in_at or self._fired_at) < EVERY_FIRING_S:
            return
        self._looked_in_at = at
        self.saw_leak = self.saw_leak or self._boiler.firebox_is_wet

    def stop_draught(self) -> None:
        """Take the draught off the fire."""
        self._boiler.damper("shut")
        self._boiler.blower("shut")

    def _stop_feed_near_upper_mark(self) -> bool:
        level, marks = self._boiler.glass_fraction, self._boiler.engine.glass
        high = level is not None and level > marks.upper_mark - _NEAR_UPPER_MARK
        stops = high and self._boiler.state("bypass") == "shut"
        if stops:
            self._boiler.feed(False)
        return stops

    def _fire(self, step: Step, states: Sequence[str]) -> str | None:
        if "lit" in states:
            self._boiler.damper("open")
            self._boiler.light()
            self._fired_at = self._boiler.at_s
        elif "coal" in states:
            self._boiler.coal()
            self._on_coal = True
            self._fired_at = self._boiler.at_s
        elif "built" in states:
            self._boiler.wood()
        elif "drawn" in states:
            self._boiler.draw_fire()
            self._fired_at = None
        return states[0] if states else None

    def _look_at_valve(self, step: Step, states: Sequence[str]) -> str | None:
        return self._boiler.valve_state if self._boiler.valve_state in states else None

    def _look_at_vent(self, step: Step, states: Sequence[str]) -> str | None:
        return "blows steam" if self._boiler.true_gauge_pa > 2 * PSI_PA else None

    def _damper(self, step: Step, states: Sequence[str]) -> str:
        opening = "crack" if "crack" in states and "open" not in states else states[0]
        self._boiler.damper(opening)
        if opening == "shut":
            self._boiler.blower("crack")  # never quite shut while the firehole may be opened
        return opening

    def _blower(self, step: Step, states: Sequence[str]) -> str:
        opening = _opening(step, ["half"] if "half" in states else states, states)
        self._boiler.blower(opening)
        return opening

    def _regulator(self, step: Step, states: Sequence[str]) -> str:
        opening = _opening(step, states, states)
        self._boiler.regulator("half" if opening == "open" else opening)
        return opening

    def _drains(self, step: Step, states: Sequence[str]) -> str:
        opening = _opening(step, states, states)
        self._boiler.drains(opening)
        return opening

    def _bypass(self, step: Step, states: Sequence[str]) -> str:
        opening = _opening(step, states, states)
        self._boiler.feed(opening == "shut", opening)
        self._has_fed = self._has_fed or opening == "shut"
        return opening

    def _feed(self, step: Step, states: Sequence[str]) -> str:
        self._boiler.feed(states[0])
        self._has_fed = self._has_fed or states[0] == "on"
        return states[0]

    def _look_at_delivery(self, step: Step, states: Sequence[str]) -> str:
        arrives = self._has_fed and self._boiler.delivers
        return states[0] if arrives else "gives no gain"

    def _look_at_pipe(self, step: Step, states: Sequence[str]) -> str:
        return "hot" if self._boiler.delivery_is_hot else states[0]

    def _blow_through(self, step: Step, states: Sequence[str]) -> str:
        returns = self._boiler.glass_returns
        return returns if returns in {reply.state for reply in step.replies} else states[0]

    def _try_injector(self, step: Step, states: Sequence[str]) -> str:
        return states[0] if self._boiler.injector_picks_up else "fails"


def _opening(step: Step, usual: Sequence[str], states: Sequence[str]) -> str:
    """The opening that the step's words name, else the usual one."""
    named = [state for state in states if state in step.say.lower()]
    return (named or usual)[0]
