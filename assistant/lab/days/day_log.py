"""The log of a day, from its events and effects alone, against which promises are checked.

Reports count as accepted, corrected or taken back by the effects; nothing of the session's state is
read. Pressures are in Pa gauge, levels in parts of the glass.
"""

from __future__ import annotations

import bisect
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import (
    OUT_OF_SIGHT,
    AlarmChanged,
    Effect,
    Ended,
    Event,
    Grade,
    Heard,
    PhaseBegan,
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Say,
    Started,
    Urgency,
)
from assistant.picture.fire import BURNING
from assistant.procedure.scale import measure

STEAM_PA = 2.0 * PSI_PA  # a gauge called so high shows steam
FIRE_OUT = ("drawn", "dead", "run down")
FEEDS = {("feed", "on"), ("bypass", "shut")}
FED = {("feed", "off"), ("bypass", "open")}
MOVING = ("feathering", "lifting")
COLD_FACTOR = 3.0  # on the water interval with fire in a cold boiler


@dataclass(frozen=True, slots=True)
class Noted:
    """An accepted report."""

    at: float
    report: Report
    number: float | None
    """Of a reading; None for a state or a word."""


@dataclass(slots=True)
class Standing:
    """An alarm that stands."""

    grade: Grade
    since: float
    acknowledged: bool = False


@dataclass
class DayLog:
    """Call `take` with each event and its effects, in order."""

    engine: Engine
    dial: str = "psi"
    at: float = 0.0
    phase: str = "preparation"
    warm_at: float | None = None
    """When a warm engine was taken over."""
    reports: list[Noted] = field(default_factory=list)
    alarms: dict[str, Standing] = field(default_factory=dict)
    said: list[tuple[float, Say]] = field(default_factory=list)
    heard_at: float = 0.0
    heard: str = ""
    """The words of this event; "" where nobody spoke."""
    ended: bool = False
    _of: dict[str, list[Noted]] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)
    """The conversation so far."""
    steam_since: float = math.inf
    """Since when there is steam by the reports [s]; infinity without."""
    rested_at: float = -math.inf
    """When the fire was last out with the gauge at rest [s]; minus infinity for never."""
    quiet_until: float = 0.0
    """The end of a quiet that was granted."""
    cleared: dict[str, Standing] = field(default_factory=dict)
    """The alarms that ended in this event."""
    taken_back: bool = False
    """Whether a report was taken back or corrected in this event."""
    taken_back_at: float = -math.inf
    """When that last happened [s]; minus infinity for never."""
    corrected: str = ""
    """The subject of a report that was replaced by another in this event; "" for none."""
    other_unit_heard: bool = False
    """Whether a pressure was ever reported in another unit than the dial's."""

    def take(self, event: Event, effects: Sequence[Effect]) -> None:
        """Note one event and what came of it."""
        self.at, self.heard, self.corrected, self.taken_back = event.at, "", "", False
        self.cleared = {}
        if isinstance(event, Started):
            warm = event.from_phase not in (None, "preparation", "firing")
            self.warm_at = event.at if warm else None
            self.phase = event.from_phase or self.phase
        if isinstance(event, Heard):
            self.heard, self.heard_at = event.text, event.at
            self.lines.append(f"{_clock(event.at)} >> {event.text}")
        for effect in effects:
            self._note(effect)
        self.rested_at = self.at if self.at_rest else self.rested_at
        self.steam_since = min(self.steam_since, self.at) if self.steam else math.inf

    def _note(self, effect: Effect) -> None:
        match effect:
            case ReadingAccepted(report):
                self._add(report)
            case ReadingCorrected(old, new):
                self._take_back(old, new)
            case AlarmChanged(name, grade, "raised"):
                self.alarms[name] = Standing(grade, self.at)
                self.lines.append(f"{_clock(self.at)}    [{name}: raised]")
            case AlarmChanged(name, _, "acknowledged") if name in self.alarms:
                self.alarms[name].acknowledged = True
            case AlarmChanged(name, _, "cleared"):
                if name in self.alarms:
                    self.cleared[name] = self.alarms.pop(name)
                self.lines.append(f"{_clock(self.at)}    [{name}: cleared]")
            case PhaseBegan(phase):
                self.phase = phase
                self.lines.append(f"{_clock(self.at)}    [phase {phase}]")
            case Say(text):
                self.said.append((self.at, effect))
                self.lines.append(f"{_clock(self.at)} -> {text}")
                if text.startswith(("Quiet for", "Not so long")):
                    self.quiet_until = self.at + self.engine.water_interval_s
            case Ended():
                self.ended = True

    def _add(self, report: Report) -> None:
        self._enter(Noted(self.at, report, measure(report, self.engine)))
        other = report.what == "pressure" and report.unit not in (None, self.dial)
        self.other_unit_heard = self.other_unit_heard or other

    def _take_back(self, old: Report, new: Report | None) -> None:
        self.taken_back, self.taken_back_at = True, self.at
        taken = next((n for n in reversed(self.reports) if n.report == old), None)
        if taken is None:
            return
        self.reports.remove(taken)
        self._of[old.what].remove(taken)
        if new is not None:
            self.corrected = new.what
            self._enter(Noted(taken.at, new, measure(new, self.engine)))

    def _enter(self, noted: Noted) -> None:
        for kept in (self.reports, self._of.setdefault(noted.report.what, [])):
            bisect.insort_right(kept, noted, key=lambda each: each.at)

    # --- what follows from it

    def all_of(self, subject: str) -> list[Noted]:
        """Every report of a subject, oldest first."""
        return self._of.get(subject, [])

    def last(self, subject: str) -> Noted | None:
        """The last report of a subject."""
        of = self._of.get(subject)
        return of[-1] if of else None

    def state(self, subject: str) -> str:
        """The last reported state of a subject; "" for none."""
        last = self.last(subject)
        return str(last.report.value) if last is not None else ""

    def number(self, gauge: str) -> float | None:
        """The last reading of a gauge, where it was a number."""
        last = self.last(gauge)
        return last.number if last is not None else None

    def since(self, subject: str, values: Iterable[str]) -> float:
        """Since when a subject has been in one of these states [s]; infinity where it is not."""
        wanted, since = set(values), math.inf
        for noted in self.all_of(subject):
            since = min(since, noted.at) if noted.report.value in wanted else math.inf
        return since

    def feed_runs(self) -> list[tuple[float, float]]:
        """When a feed ran: beginnings and ends [s]; one that still runs ends at infinity."""
        runs: list[tuple[float, float]] = []
        for noted in self.reports:
            subject, value = noted.report.what, noted.report.value
            if (subject, value) in FEEDS and (not runs or runs[-1][1] < math.inf):
                runs.append((noted.at, math.inf))
            elif (subject, value) in FED and runs and runs[-1][1] == math.inf:
                runs[-1] = (runs[-1][0], noted.at)
        return runs

    @property
    def fire_in(self) -> bool:
        """Whether a fire was reported and not its end; a warm engine has one until told."""
        fire = self.state("fire")
        return fire in BURNING or (self.warm_at is not None and not fire and self.steam)

    @property
    def steam(self) -> bool:
        """Whether the gauge, or failing that the valve or a warm start, shows steam.

        A valve told to move before she was at rest tells nothing of now.
        """
        pressure, valve = self.number("pressure"), self.last("valve")
        if valve is not None and self.state("valve") in MOVING and valve.at > self.rested_at:
            return True
        return pressure >= STEAM_PA if pressure is not None else self.warm_at is not None

    @property
    def at_rest(self) -> bool:
        """Whether the fire is out and the gauge was called at rest."""
        return self.state("fire") in FIRE_OUT and (self.number("pressure") or 0.0) < STEAM_PA

    @property
    def interval_s(self) -> float:
        """How long the water may go unread [s]."""
        return self.engine.water_interval_s * (1.0 if self.steam else COLD_FACTOR)

    @property
    def out_of_sight(self) -> bool:
        """Whether the last word of the water is that none is in sight."""
        last = self.last("water")
        return last is not None and last.report.value == OUT_OF_SIGHT

    def dangers(self) -> list[str]:
        """The dangers that stand."""
        return [name for name, alarm in self.alarms.items() if alarm.grade is Grade.DANGER]

    def said_now(self) -> list[Say]:
        """What is said in this event."""
        return [say for at, say in self.said[-12:] if at == self.at]

    def last_said(self, words: re.Pattern[str]) -> float:
        """When something with these words was last said [s]; minus infinity for never."""
        found = (at for at, say in reversed(self.said) if words.search(say.text.lower()))
        return next(found, -math.inf)


def is_danger(say: Say) -> bool:
    """Whether something is said as a danger."""
    return say.urgency is Urgency.DANGER or say.text.lower().startswith("danger")


def _clock(at: float) -> str:
    return f"{int(at // 3600)}:{int(at // 60) % 60:02d}:{int(at % 60):02d}"
