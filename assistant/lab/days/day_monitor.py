"""The monitor of a day: sees events and effects only, and says which promise was broken, and when.

P1 water unseen with fire in is an alarm. P2 nothing is called proved or over without its witnesses.
P3 no grave need waits for a lesser one. P4 never quiet with fire in. P5 nothing said contradicts
what was last reported. The checks stand in `timely_checks` and `spoken_checks`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.lab.days import spoken_checks, timely_checks
from assistant.lab.days.day_log import DayLog
from assistant.messages import Effect, Event

LINES_KEPT = 14

Found = tuple[str, str]  # the key of a promise's part ("P3 blower"), and what was seen
Check = Callable[[DayLog], Iterator[Found]]


@dataclass(frozen=True, slots=True)
class Violation:
    """A promise that was broken."""

    seed: int
    key: str
    """The promise and its part: "P1 overdue", "P5 units" ..."""
    at: float
    what: str
    last: tuple[str, ...]
    """The last lines of the conversation."""

    @property
    def promise(self) -> str:
        """P1 to P5."""
        return self.key.split()[0]

    def story(self) -> str:
        """The violation with the conversation before it."""
        head = f"{self.key}, seed {self.seed}, {self.at:.0f} s: {self.what}"
        return "\n".join((head, *(f"    {line}" for line in self.last)))


class DayMonitor:
    """Shown each event with its effects by `see`; keeps the first violation of each key."""

    def __init__(self, engine: Engine, dial: str = "psi", seed: int = 0) -> None:
        self.log = DayLog(engine, dial)
        self._seed = seed
        self.violations: dict[str, Violation] = {}
        self.times: dict[str, int] = {}
        """How often each key was found in this day."""
        self._checks: tuple[Check, ...] = (
            timely_checks.water_unseen, timely_checks.danger_silent, timely_checks.water_not_asked,
            *timely_checks.acts_due(), timely_checks.quiet, spoken_checks.unproved,
            spoken_checks.unfounded_end, spoken_checks.contradictions,
        )  # fmt: skip

    def see(self, event: Event, effects: Sequence[Effect]) -> None:
        """One event and what came of it."""
        self.log.take(event, effects)
        if self.log.ended:
            return
        for check in self._checks:
            for key, what in check(self.log):
                self._found(key, what)

    def _found(self, key: str, what: str) -> None:
        self.times[key] = self.times.get(key, 0) + 1
        if key not in self.violations:
            last = tuple(self.log.lines[-LINES_KEPT:])
            self.violations[key] = Violation(self._seed, key, self.log.at, what, last)
