"""One silent practice, kept whole: what was called, raised and said, and what was true meanwhile.

Knows the session's effects and the practice boiler; judges nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.dialogue.session import Session
from assistant.messages import (
    AlarmChanged,
    Effect,
    Event,
    Fault,
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Say,
)
from assistant.procedure.checklist import Checklist
from assistant.simulator import practice
from assistant.simulator.manners import RIGHTLY
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.scene import NoWaiting
from assistant.simulator.sound_rig import TypedRig

HEALTHY = ""  # no fault
_ROUNDED_PSI, _ROUNDED_GLASS = 8.0, 0.16


@dataclass(frozen=True, slots=True)
class Truth:
    """The boiler at one moment."""

    at: float
    gauge_pa: float
    """The true pressure [Pa gauge]."""
    height: float
    """What a sound glass would show, 0 bottom to 1 top."""
    feeding: bool
    arriving: bool
    """Water, were the feed on."""
    lost_kg: float
    """Gone by leaks until now [kg]."""
    damper: str
    blower: str
    regulator: str
    valve: str


def truth_of(boiler: PracticeBoiler, at: float) -> Truth:
    """The boiler as it is now."""
    return Truth(
        at, boiler.true_gauge_pa, boiler.true_height, boiler.state("bypass") == "shut",
        boiler.delivers, boiler.lost_kg, boiler.state("damper"), boiler.state("blower"),
        boiler.state("regulator"), boiler.valve_state,
    )  # fmt: skip


@dataclass
class AlarmDay:
    """Everything of one practice that is judged."""

    engine: Engine
    fault: str
    """The name of the practice fault; HEALTHY for none."""
    operator: str
    seed: int
    seconds: float = 0.0
    ended: str = ""
    """How the practice ended."""
    begun_at: float | None = None
    """When the fault began [s]."""
    trouble_at: float | None = None
    """When the faults of the seed's time begin, or would [s]."""
    reports: list[tuple[float, Report]] = field(default_factory=list)
    """What was accepted, what was taken back left out."""
    misread: list[tuple[float, str]] = field(default_factory=list)
    """When a reading was accepted that was not what was to be seen [s], and of which gauge."""
    alarms: list[tuple[float, AlarmChanged]] = field(default_factory=list)
    said: list[tuple[float, str]] = field(default_factory=list)
    truth: list[Truth] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    """Internal errors; there must be none."""

    def take(self, at: float, effects: list[Effect]) -> None:
        """What came of one event."""
        for effect in effects:
            match effect:
                case ReadingAccepted():
                    self.reports.append((at, effect.report))
                case ReadingCorrected():
                    self._take_back(effect.old)
                case AlarmChanged():
                    self.alarms.append((at, effect))
                case Say():
                    self.said.append((at, effect.text))
                case Fault():
                    self.errors.append(effect.message)

    def _take_back(self, old: Report) -> None:
        for place in range(len(self.reports) - 1, -1, -1):
            if self.reports[place][1] == old:
                del self.reports[place]
                return


def _is_misread(report: Report, boiler: PracticeBoiler) -> bool:
    """Farther from what is to be seen than people round."""
    if isinstance(report.value, str):
        return False
    if report.what == "pressure" and report.unit == "psi":
        return abs(report.value - boiler.gauge_pressure_gauge_pa / PSI_PA) > _ROUNDED_PSI
    level = boiler.glass_fraction
    return report.what == "water" and (level is None or abs(report.value - level) > _ROUNDED_GLASS)


def play(
    session: Session,
    engine: Engine,
    lists: tuple[Checklist, ...],
    fault: str = HEALTHY,
    operator: str = RIGHTLY,
    seed: int = 1,
) -> AlarmDay:
    """One whole practice, words as if typed."""
    day = AlarmDay(engine, fault, operator, seed)
    boilers: list[PracticeBoiler] = []

    def process(event: Event) -> list[Effect]:
        effects = session.handle(event)
        day.take(event.at, effects)
        if boilers:
            day.truth.append(truth_of(boilers[0], event.at))
            accepted = [e.report for e in effects if isinstance(e, ReadingAccepted)]
            day.misread += [(event.at, r.what) for r in accepted if _is_misread(r, boilers[0])]
        return effects

    faults = (fault,) if fault else ()
    cast = practice.Cast(engine, lists, TypedRig(), NoWaiting(), seed, faults, operator)
    tally = practice.play(
        cast, process, lambda: session.expected, lambda at, who, what: None, boilers.append
    )
    day.seconds, day.ended = tally.at_s, tally.ended
    day.begun_at = boilers[0].begun.get(fault)
    day.trouble_at = boilers[0].trouble_at
    return day
