"""What must be true of the practice boiler for each alarm to be right, on a day without a fault.

Alarms that tell of the clock or of what somebody called are right by that alone. Margins are the
rounding of a call: half a step of the glass, five psi. Judgement.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence

from assistant.alarms.called_rules import CALLED
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.lab.alarms.alarm_day import AlarmDay, Truth

_GLASS = 0.07
_PA = 5.0 * PSI_PA
_LOOK_BACK_S = 600.0

# Of the clock, of a call, of a device, of a list or a plan: nothing of the boiler can deny them.
BY_THEMSELVES = frozenset(
    {
        "water not read", "water reading overdue", "pressure reading overdue",
        "fire in, water not seen", "fire in, water never seen", "valve over an unread gauge",
        "gauge not read at the valve", "step left open", "forecast far from plan",
        "microphone lost", "speaker lost", "too loud to hear", "nobody answers",
        "nobody watches her",
        "not to be steamed", "glass not proved", "glass stays empty", "level not known",
        "level unknown",
        "water doubted", "feed after lost water", "fire after lost water",
        "fire after a failure", "heat in an unfit boiler", "firebox weeping", "boiler leaking",
        "child inside the barrier", "gauge told wrong", "blow-down open",
        "regulator open, people near", "regulator open, in gear", "regulator open, drains shut",
        "regulator open, no oil", "regulator open, bearing hot",
        "drains shut, water coming",
        "steam escaping", "glass broken", "someone hurt", "fire outside",
    }
    | {rule.name for rule in CALLED}
)  # fmt: skip


class Then:
    """The truth at the time of an alarm, and some minutes back."""

    def __init__(self, engine: Engine, truth: Sequence[Truth], at: float) -> None:
        self.engine = engine
        until = bisect_right([each.at for each in truth], at + 1e-6)
        self.back = [each for each in truth[:until] if each.at >= at - _LOOK_BACK_S]
        self.now = self.back[-1]

    @property
    def rise_pa(self) -> float:
        """The most that the pressure rose between any two moments back to now [Pa]."""
        return self.now.gauge_pa - min(each.gauge_pa for each in self.back)

    @property
    def fall_pa(self) -> float:
        """The most that it fell from any moment back to now [Pa]."""
        return max(each.gauge_pa for each in self.back) - self.now.gauge_pa


def _feed_fails(then: Then) -> bool:
    return any(each.feeding and not each.arriving for each in then.back)


def _water_lost(then: Then) -> bool:
    return then.now.lost_kg > 0.0


def _at_most(margin: float) -> Callable[[Then], bool]:
    return lambda then: (
        min(each.height for each in then.back) <= then.engine.glass.lower_mark + margin + _GLASS
    )


def _at_least(height: Callable[[Engine], float]) -> Callable[[Then], bool]:
    return lambda then: max(each.height for each in then.back) >= height(then.engine) - _GLASS


def _valve_overdue(then: Then) -> bool:
    return any(
        each.gauge_pa >= then.engine.valve_moves_gauge_pa and each.valve == "shut"
        for each in then.back
    )


def _over_the_lift(then: Then) -> bool:
    return then.now.gauge_pa >= then.engine.valve_lifts_gauge_pa - _PA


def _high_and_rising(then: Then) -> bool:
    working = then.engine.working_pressure_gauge_pa
    return then.now.gauge_pa > working - _PA and then.rise_pa > 0.0


def _blower_on(then: Then) -> bool:
    return any(each.blower in ("half", "open") for each in then.back)


def _too_fast(then: Then) -> bool:
    limit = then.engine.rise_limit_pa_per_s or 0.0
    pairs = zip(then.back, then.back[12:], strict=False)  # about a minute apart
    return any(
        after.gauge_pa - before.gauge_pa > 0.8 * limit * (after.at - before.at)
        for before, after in pairs
        if after.at > before.at
    )


def _never(then: Then) -> bool:
    return False


TRUE_WHEN: Mapping[str, Callable[[Then], bool]] = {
    "low water": _at_most(0.0),
    "water out of sight": lambda then: then.now.height <= 0.0,
    "water perhaps low": _at_most(0.05),
    "water near the lower mark": _at_most(0.125),
    "water near the upper mark": _at_least(lambda engine: engine.glass.upper_mark - 0.02),
    "glass full": _at_least(lambda engine: 0.95),
    "water falling with feed on": _feed_fails,
    "feed dead": _feed_fails,
    "feed weak": _feed_fails,
    "feed fails near the mark": _feed_fails,
    "no feed works": _feed_fails,
    "no feed, urgent": _feed_fails,
    "no feed, water falling": _feed_fails,
    "tank empty": lambda then: not then.now.arriving,
    "water falling faster than use": _water_lost,
    "glass motionless": _never,
    "glass rises by itself": _never,
    "water says steam, gauge none": _never,
    "gauge not moving": _never,
    "gauge and valve disagree": _never,
    "gauge and valve unsettled": _never,
    "valve over a dead gauge": _never,
    "valve silent": _valve_overdue,
    "gauge stands still": _never,
    "water told low": _never,
    "pressure perhaps high": _never,
    "valve lifts early": _never,
    "valve does not reseat": lambda then: then.now.valve != "shut",
    "over-pressure": _over_the_lift,
    "pressure above working": _high_and_rising,
    "rising too fast": _too_fast,
    "lifts with the damper shut": _never,
    "blower left on": _blower_on,
    "fire not out": lambda then: then.rise_pa > _PA,
    "pressure falling": lambda then: then.fall_pa > _PA,
    "pressure lost": lambda then: then.fall_pa > 0.3 * then.engine.working_pressure_gauge_pa,
    "priming": _never,
}


def is_false(day: AlarmDay, name: str, at: float) -> bool | None:
    """Whether the truth denies it; None: it is not judged."""
    if name in BY_THEMSELVES:
        return False
    rule = TRUE_WHEN.get(name)
    if rule is None:
        return None
    return not rule(Then(day.engine, day.truth, at))
