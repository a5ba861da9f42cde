"""The watch's story with the picture that belongs to it, gauge against valve folded as in a run."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from alarm_story import Story, bright_fire_in  # type: ignore[import-not-found]

from assistant.alarms.inputs import TimedValue
from assistant.alarms.watch import look
from assistant.belief.gauge_and_valve import compared
from assistant.belief.history import History, fact_of
from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.picture.given import Given
from assistant.picture.picture import picture_of
from assistant.picture.report_log import ReportLog, TimedReport


@dataclass
class PressureStory(Story):  # type: ignore[misc]
    """One steam-up as the watch sees it: pressures in psi and states, each kept in order."""

    log: list[TimedReport] = field(default_factory=list)

    def psi(self, value: float) -> list[str]:
        self.log.append(TimedReport(Report("pressure", value, "psi"), self.at))
        called = (*self.inputs.pressure, TimedValue(value * PSI_PA, self.at))
        self.inputs = replace(self.inputs, pressure=called)
        return self.look()

    def water(self, value: float | str) -> list[str]:
        report = Report("water", value, None if isinstance(value, str) else "glass")
        self.log.append(TimedReport(report, self.at))
        return super().water(value)  # type: ignore[no-any-return]

    def state(self, what: str, value: str) -> list[str]:
        self.log.append(TimedReport(Report(what, value), self.at))
        states = {**self.inputs.states, what: TimedValue(value, self.at)}
        self.inputs = replace(self.inputs, states=states)
        return self.look()

    def look(self, retracted: tuple[str, ...] = ()) -> list[str]:
        engine, history = self.inputs.engine, History()
        for timed in self.log:
            fact = fact_of(engine, timed.report, timed.at)
            history = history if fact is None else history.with_fact(fact)
        stand = compared(history, engine)
        conflict = stand.conflict
        given = Given(
            engine,
            ReportLog(self.log),
            self.at,
            conflict=None if conflict is None else conflict.grade,
            conflict_since=None if conflict is None else conflict.since_s,
            unread_since=stand.unread_s,
            agreed=stand.agreed_s is not None,
            heard_at=self.log[-1].at if self.log else self.at,
        )
        seen = replace(self.inputs, picture=picture_of(given))
        self.watch, changes = look(self.watch, seen, self.at, retracted)
        self.changes += [(self.at, c) for c in changes]
        return [c.rule.text for c in changes if c.to_be_told]


def a_bright_fire() -> PressureStory:
    """A bright fire at sixty pounds, with every report kept in order."""
    return bright_fire_in(PressureStory())  # type: ignore[no-any-return]
