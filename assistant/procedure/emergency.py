"""What is said at once in an emergency: values only, filled from the owner's or our general file.

Published sources disagree on much of this; only their common ground may stand in the general file.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.messages import Report

EMERGENCY = "emergency"  # `Report(SUBJECT, name)` is a spoken emergency
OVER = "over"  # `Report(SUBJECT, OVER)`: every called emergency is over
OVER_FORMS = ("danger is over", "all safe again")


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergency:
    """One emergency: how it is called, and at most three acts from memory.

    name: unique; a spoken call of it is `Report("emergency", name)`.
    spoken: forms of words that call it; may be empty where only an alarm does.
    alarms: names of the alarm rules that bring these acts.
    acts: what is said at once, in order, three at most.
    why: the reasons, said later and only when asked.
    """

    name: str
    acts: tuple[str, ...]
    why: str
    source: str
    spoken: tuple[str, ...] = ()
    alarms: tuple[str, ...] = ()
    line: int = 0

    def calls(self) -> tuple[tuple[str, Report], ...]:
        """Every spoken form with what it means."""
        return tuple((form, Report(EMERGENCY, self.name)) for form in self.spoken)


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergencies:
    """All of them, and the sentence that always ends them.

    general: True for ours, which knows no particular engine; an owner's file says False.
    """

    entries: tuple[Emergency, ...]
    ending: str
    general: bool = True
    file: str = ""

    def called(self, name: str) -> Emergency | None:
        """The emergency of that name."""
        return next((e for e in self.entries if e.name == name), None)

    def for_alarm(self, alarm: str) -> Emergency | None:
        """The emergency whose acts belong to an alarm, if any."""
        return next((e for e in self.entries if alarm in e.alarms), None)

    def calls(self, standing: bool = False) -> tuple[tuple[str, Report], ...]:
        """Every call of every emergency; while one stands, also that it is over."""
        over = tuple((form, Report(EMERGENCY, OVER)) for form in OVER_FORMS) if standing else ()
        return tuple(call for e in self.entries for call in e.calls()) + over

    def words(self, emergency: Emergency) -> tuple[str, ...]:
        """What is said, sentence by sentence: the acts, then the ending."""
        return (*emergency.acts, self.ending)
