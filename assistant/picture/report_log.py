"""The reports that are believed, in their order: what everything else is folded from. Pure."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from assistant.messages import Report
from assistant.picture.heat import BURNING, OUT

_Result = TypeVar("_Result")

Movement = Callable[[float, float], float | None]
"""By how much of the glass between two times [s]; None: unknown."""


@dataclass(frozen=True, slots=True)
class TimedReport:
    """A report that is believed, and when it was made."""

    report: Report
    at: float  # seconds since the session began


class ReportLog(tuple[TimedReport, ...]):
    """The believed reports, in order. Grouped by subject once: every tick asks for them so."""

    @cached_property
    def _by_subject(self) -> dict[str, tuple[TimedReport, ...]]:
        groups: dict[str, list[TimedReport]] = {}
        for timed in self:
            groups.setdefault(timed.report.what, []).append(timed)
        return {subject: tuple(group) for subject, group in groups.items()}

    @property
    def subjects(self) -> Collection[str]:
        """What the reports are about, in the order of the first report of each."""
        return self._by_subject.keys()

    def of(self, subject: str) -> tuple[TimedReport, ...]:
        """The reports of one subject, in order."""
        return self._by_subject.get(subject, ())

    def and_one(self, timed: TimedReport) -> ReportLog:
        """This log with one more report; results cached for other subjects are carried over."""
        subject, longer = timed.report.what, ReportLog((*self, timed))
        vars(longer)["_by_subject"] = {**self._by_subject, subject: (*self.of(subject), timed)}
        others = {k: v for k, v in self._results_by_subject.items() if k[0] != subject}
        vars(longer)["_results_by_subject"] = others
        vars(longer)["_moves"] = self._moves
        return longer

    @cached_property
    def _moves(self) -> dict[tuple[str, float, float], float | None]:
        return {}

    def move_once(self, name: str, from_s: float, to_s: float, work: Movement) -> float | None:
        """What `work` says of the level between two past times, as first told for these reports.

        name: under which it is cached.

        Kept as the log grows, so that a day's readings are not weighed anew at each report; a log
        from which a report was taken back begins afresh.
        """
        key = name, from_s, to_s
        if key not in self._moves:
            self._moves[key] = work(from_s, to_s)
        return self._moves[key]

    @cached_property
    def _results_by_subject(self) -> dict[tuple[str, str], Any]:
        return {}

    def once_of(
        self, subject: str, work: Callable[[tuple[TimedReport, ...]], _Result], name: str = ""
    ) -> _Result:
        """The result of `work` on the reports of one subject, cached under subject and `name`."""
        key = subject, name
        if key not in self._results_by_subject:
            self._results_by_subject[key] = work(self.of(subject))
        result: _Result = self._results_by_subject[key]
        return result

    @cached_property
    def _results(self) -> dict[str, Any]:
        return {}

    def once(self, name: str, work: Callable[[ReportLog], _Result]) -> _Result:
        """The result of `work` on the whole log, cached under `name`."""
        if name not in self._results:
            self._results[name] = work(self)
        result: _Result = self._results[name]
        return result

    @cached_property
    def lit_at(self) -> float | None:
        """When the fire was last lit: told again of a fire that is in, it counts from the first."""
        lit_at, burns = None, False
        for told in self.of("fire"):
            if told.report.value == "lit" and not burns:
                lit_at = told.at
            burns = (burns or told.report.value in BURNING) and told.report.value not in OUT
            lit_at = None if told.report.value in OUT else lit_at
        return lit_at


def began_warm(reports: ReportLog, warm_since: float | None) -> bool:
    """Whether she was warm from the first report on: taken over so, and not lit before that.

    warm_since: when she was taken over warm, or was found ahead of a cold list [s]; None: never.
    """
    if warm_since is None:
        return False
    return not any(t.at < warm_since and t.report.value == "lit" for t in reports.of("fire"))
