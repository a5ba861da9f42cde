"""What is said at once in an emergency: values only, from the owner's or the general file.

Published sources disagree on much of this; only their common ground may stand in the general file.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.messages import Report

EMERGENCY = "emergency"  # `Report(EMERGENCY, name)` is a spoken emergency
OVER = "over"  # `Report(EMERGENCY, OVER)`: every called emergency is over
OVER_FORMS = (
    "danger is over", "all safe again", "danger over", "the danger is over", "emergency is over",
)  # fmt: skip
OUTSIDE = "fire outside"
# "fire is out" alone is said of the fire in her
OUTSIDE_OUT = (
    "fire outside is out", "the fire outside is out", "grass fire is out", "the grass fire is out",
    "grass is out",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergency:
    """One emergency: how it is called, and its immediate acts."""

    name: str
    """Unique; a spoken call of it is `Report(EMERGENCY, name)`."""
    acts: tuple[str, ...]
    """What is said at once, in order, three at most."""
    why: str
    """The reasons, said later and only when asked."""
    source: str
    """Where the acts come from."""
    spoken: tuple[str, ...] = ()
    """Forms of words that call it; empty where only an alarm does."""
    alarms: tuple[str, ...] = ()
    """Names of the alarm rules that bring these acts."""
    line: int = 0
    """The line in its file."""

    def calls(self) -> tuple[tuple[str, Report], ...]:
        """Every spoken form with what it means."""
        return tuple((form, Report(EMERGENCY, self.name)) for form in self.spoken)


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergencies:
    """All emergencies of one file."""

    entries: tuple[Emergency, ...]
    ending: str
    """The sentence that always follows the acts."""
    second_person: str = ""
    """Whom to call, as it is said ("Call Jo, oh one ..."); empty where the file names nobody."""
    general: bool = True
    """True for the shipped file, which knows no particular engine; False for an owner's."""
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
        """What is said, sentence by sentence: the acts, whom to call, then the ending."""
        call = (self.second_person,) if self.second_person else ()
        return (*emergency.acts, *call, self.ending)
