"""The promises that have a time: P1 (water unseen), P3 (nothing grave waits), P4 (never quiet).

Each check is called once for every event with the log as it is after it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from assistant.dialogue.agenda import engine_rows, heat_rows
from assistant.dialogue.state import NOT_TODAY
from assistant.lab.days.day_log import FIRE_OUT, MOVING, DayLog, is_danger
from assistant.messages import Grade

GRAIN_S = 10.0  # two ticks
LIT_GRACE_S = 10.0  # "at once", for fire lit with the water never called
STEAM_GRACE_S = 60.0  # for the interval that shortens as steam comes
DANGER_AGAIN_S, DANGER_SLACK_S = 30.0, 5.5
DANGER_DONE_S = 300.0
WATER_AGAIN_S, WATER_SLACK_S = 60.0, 10.0
WATER_AGAIN_IN_DANGER_S = 120.0
ACT_WITHIN_S = 120.0
GLASS_BROKEN, UNREAD = "glass broken", "water not read"
UNWATCHED = "nobody watches her"
OFTEN, SELDOM_S = 3, 300.0  # what was put so often is said again after this
NEAR_WORKING = 0.85
STOPPED = "stop the heat|let the fire die|not to be steamed"  # says more than that draught be eased
NO_FEED = "no feed"  # how the dangers of failed feeds begin
# Dangers whose first act is to stop the heat: done where the fire is out.
HEAT_DANGERS = frozenset(
    {"low water", "water out of sight", "over-pressure", "level not known",
     "no feed, water falling", "valve over a dead gauge", "fire in, water never seen",
     "level unknown", "glass stays empty"}
)  # fmt: skip
WATER_WORDS = re.compile(r"\b(water|glass)\b")
ABOUT_WATER = ("water", "glass")
STEAMING = ("raising steam", "tick-over", "pumping", "standing by")


def water_unseen(log: DayLog) -> Iterator[tuple[str, str]]:
    """P1: with fire in and the water not seen within its interval an alarm stands."""
    if not log.fire_in or _water_alarm(log):
        return
    seen = log.last("water")
    lit = log.since("fire", ("lit", "built", "coal", "bright", "banked"))
    if seen is None and lit < math.inf:
        if log.at > lit + LIT_GRACE_S:
            yield "P1 never called", f"fire in for {log.at - lit:.0f} s, water never called"
        return
    from_s = seen.at if seen is not None else log.warm_at or 0.0
    lit_due = lit + log.interval_s if lit < math.inf else 0.0
    graced = log.steam_since + STEAM_GRACE_S if log.steam else lit_due
    fire = log.last("fire")  # it may shorten the interval: the alarm has until the next look
    due = max(from_s + log.interval_s, graced, fire.at if fire is not None else 0.0)
    if log.at > due + GRAIN_S:
        coming = log.steam and log.at - log.steam_since < log.interval_s
        key = "P1 steam coming" if coming else "P1 steam" if log.steam else "P1 cold"
        yield key, f"no water for {(log.at - from_s) / 60.0:.0f} min, no alarm"


def _water_alarm(log: DayLog) -> bool:
    return any(
        alarm.grade is Grade.DANGER
        or (alarm.grade is Grade.WARNING and any(word in name for word in ABOUT_WATER))
        for name, alarm in log.alarms.items()
    )


# acts of one danger only; "" for any state
OWN_ACTS: dict[str, set[tuple[str, str]]] = {
    "regulator is stuck open": {("engine", "stopped"), ("reverser", "mid gear")},
    "flames out of the firehole": {("firehole", "shut")},
    "driver is ill": {("on watch", "")},
}


def danger_silent(log: DayLog) -> Iterator[tuple[str, str]]:
    """P3: a danger whose acts are not reported is spoken every half minute."""
    dangers = log.dangers()
    if GLASS_BROKEN in {*log.alarms, *log.cleared}:
        dangers = [name for name in dangers if name != UNREAD]  # nothing can be read in it
    if len(dangers) > 1:  # nobody is asked to stay where another sends everybody away
        dangers = [name for name in dangers if name != UNWATCHED]
    if not dangers or log.at_rest:
        return
    since = min(log.alarms[name].since for name in dangers)
    spoken = next((at for at, say in reversed(log.said) if is_danger(say)), -math.inf)
    if all(name.startswith(NO_FEED) for name in dangers):
        since = -math.inf  # its acts are states: a damper that was shut before is shut
    answered = (log.alarms[name].acknowledged or _heat_is_out(log, name) for name in dangers)
    eased = all(answered) or _acts_reported(log, since)
    allowed = DANGER_DONE_S if eased else DANGER_AGAIN_S
    raised = min(log.alarms[name].since for name in dangers)
    last = max(spoken, raised, log.rested_at, log.taken_back_at)  # an act taken back counts anew
    if log.at - last > allowed + DANGER_SLACK_S:
        key = "P3 danger told" if eased else "P3 danger"
        yield key, f"{', '.join(dangers)}: not spoken for {log.at - last:.0f} s"


def _heat_is_out(log: DayLog, name: str) -> bool:
    """Whether a danger wants no more than the heat out, and no fire is in."""
    return not log.fire_in and name in HEAT_DANGERS


def _acts_reported(log: DayLog, since: float) -> bool:
    """Whether something was reported since that may be the act a danger wants."""
    acts = {("damper", "shut"), ("fire", "drawn"), ("fire", "banked"), ("fire", "dead"),
            ("fire", "run down"), ("feed", "off"), ("regulator", "shut"), ("boiler", "looked at"),
            ("blower", "shut"), ("glass", "comes back at once"),
            ("glass cocks", "shut")}  # fmt: skip
    for name in log.dangers():
        acts |= OWN_ACTS.get(name, set())
    told = ((n.report.what, n.report.value) for n in log.reports if n.at >= since)
    return any(each in acts or (each[0], "") in acts for each in told)


def water_not_asked(log: DayLog) -> Iterator[tuple[str, str]]:
    """P3: with steam up, water that is overdue is asked for or warned of every minute."""
    if not (log.fire_in and log.steam) or any("broken" in name for name in log.alarms):
        return
    seen = log.last("water")
    overdue = log.at - (seen.at if seen else log.warm_at or log.at) - log.interval_s
    if overdue <= WATER_AGAIN_S:
        return
    lit = log.since("fire", ("lit", "built", "coal", "bright", "banked"))
    lit = lit if lit < math.inf else 0.0  # wanted again from then on
    back = log.taken_back_at  # a fire that was never out is in again from then on
    last = max(log.last_said(WATER_WORDS), log.at - overdue, log.steam_since, lit, back)
    allowed = WATER_AGAIN_IN_DANGER_S if log.dangers() else WATER_AGAIN_S
    if log.at - last > allowed + WATER_SLACK_S:
        yield "P3 water", f"overdue by {overdue:.0f} s, not spoken of for {log.at - last:.0f} s"


@dataclass
class ActDue:
    """P3: an act that the pressure makes due is spoken of within two minutes."""

    key: str
    due: Callable[[DayLog], bool]
    words: re.Pattern[str]
    need: str
    """What was told to be done for today is not wanted again."""
    since: float = math.inf

    def __call__(self, log: DayLog) -> Iterator[tuple[str, str]]:
        done = any(n.report.value == self.need for n in log.all_of(NOT_TODAY))
        held = done or log.dangers() or log.at < log.quiet_until or log.phase not in STEAMING
        if held or not self.due(log):
            self.since = math.inf
            return
        self.since = min(self.since, log.at)
        said = sum(1 for _, say in log.said if self.words.search(say.text.lower()))
        within_s = SELDOM_S if said >= OFTEN else ACT_WITHIN_S
        if log.at - self.since <= within_s + GRAIN_S:
            return
        if log.last_said(self.words) < self.since - within_s:
            yield self.key, f"due for {log.at - self.since:.0f} s and not spoken of"


def acts_due() -> tuple[ActDue, ...]:
    """The acts that pressure makes due, each with the words that speak of it."""
    return (
        ActDue("P3 blower", _blower_due, re.compile(rf"\bblower\b|{STOPPED}"), heat_rows.NEAR),
        ActDue("P3 damper", _damper_due, re.compile(rf"\bdamper\b|{STOPPED}"), heat_rows.AT),
        ActDue(
            "P3 valve",
            _valve_due,
            re.compile(r"\bvalve\b|\bfeather|\blift"),
            engine_rows.AT_ITS_FEATHER,
        ),
    )


def _part(log: DayLog) -> float:
    return (log.number("pressure") or 0.0) / log.engine.working_pressure_gauge_pa


def _raising(log: DayLog) -> bool:
    """Whether steam is raised, and the fire not told to be out: then it has no draught to lose."""
    return log.phase == "raising steam" and log.state("fire") not in FIRE_OUT


def _blower_due(log: DayLog) -> bool:
    open_or_unknown = log.state("blower") not in ("shut", "crack") and not _stuck(log, "blower")
    return _part(log) >= NEAR_WORKING and _raising(log) and open_or_unknown


def _stuck(log: DayLog, part: str) -> bool:
    """Whether it was told not to shut, and not told shut since: nobody is sent to it."""
    fault, told = log.last(f"{part} fault"), log.last(part)
    if fault is None:
        return False
    return told is None or told.at < fault.at or told.report.value != "shut"


def _damper_due(log: DayLog) -> bool:
    open_or_unknown = log.state("damper") in ("open", "half", "") and not _stuck(log, "damper")
    return _part(log) >= 1.0 and _raising(log) and open_or_unknown


def _valve_due(log: DayLog) -> bool:
    moved = any(n.report.value in MOVING for n in log.all_of("valve"))
    pressure = log.number("pressure") or 0.0
    return pressure >= log.engine.valve_moves_gauge_pa and not moved


def quiet(log: DayLog) -> Iterator[tuple[str, str]]:
    """P4: with fire in and a driver who says nothing, it speaks within the water's interval."""
    if not log.fire_in:
        return
    lit = log.since("fire", ("lit", "built", "coal", "bright", "banked", "watched"))
    lit = (log.warm_at or 0.0) if lit == math.inf else lit
    spoken = log.said[-1][0] if log.said else 0.0
    silent = log.at - max(spoken, log.heard_at, lit)
    if silent > log.interval_s + GRAIN_S:
        yield "P4 quiet", f"not a word for {silent / 60.0:.1f} min with fire in"
