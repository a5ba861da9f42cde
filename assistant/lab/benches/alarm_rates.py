"""How often alarms sound in normal running: whole steam-ups with the simulated operator, silent.

Knows the simulator; where engine and checklists come from is for the caller to decide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.dialogue.session import Session
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import AlarmChanged, Effect, Event, Fault
from assistant.procedure.checklist import Checklist
from assistant.simulator import practice
from assistant.simulator.scene import NoWaiting
from assistant.simulator.sound_rig import TypedRig

TEN_MIN_S = 600.0


@dataclass(frozen=True, slots=True)
class AlarmCounts:
    """The alarms of one steam-up."""

    seconds: float
    ended: str  # how the practice ended
    alarms: tuple[tuple[float, str], ...]  # when each sounded [s], and its name
    faults: tuple[str, ...] = ()  # internal errors; there must be none

    @property
    def in_ten_minutes(self) -> float:
        """Alarms in ten minutes on average."""
        return len(self.alarms) * TEN_MIN_S / self.seconds

    @property
    def most_in_ten_minutes(self) -> int:
        """The most alarms in any ten minutes."""
        times = [at for at, _ in self.alarms]
        return max((sum(0 <= t - at <= TEN_MIN_S for t in times) for at in times), default=0)


def practice_alarms(
    session: Session, engine: Engine, lists: tuple[Checklist, ...], seed: int = 0
) -> AlarmCounts:
    """One whole steam-up without a failure of the boiler, words as if typed."""
    alarms: list[tuple[float, str]] = []
    faults: list[str] = []

    def process(event: Event) -> list[Effect]:
        effects = session.handle(event)
        raised = [e for e in effects if isinstance(e, AlarmChanged) and e.state == "raised"]
        alarms.extend((event.at, e.name) for e in raised)
        faults.extend(e.message for e in effects if isinstance(e, Fault))
        return effects

    cast = practice.Cast(engine, lists, TypedRig(), NoWaiting(), seed)
    tally = practice.play(cast, process, lambda: session.expected, lambda at, who, what: None)
    return AlarmCounts(tally.at_s, tally.ended, tuple(alarms), tuple(faults))


_TABLE = ResultTable(
    24,
    Column("min", 6, ".0f"),
    Column("in 10 min", 11, ".2f"),
    Column("at most", 9),
    corner="steam-up",
)


def bench_lines(
    runs: Sequence[tuple[str, int]], run_one: Callable[[str, int], AlarmCounts]
) -> Iterator[str]:
    """One row for each steam-up: engine and seed, how long, and its alarms."""
    yield f"{_TABLE.header()}  alarms"
    for name, seed in runs:
        run = run_one(name, seed)
        names = ", ".join(alarm for _, alarm in run.alarms) or "none"
        faults = f"; INTERNAL ERRORS: {len(run.faults)}" if run.faults else ""
        row = _TABLE.row(
            f"{name} {seed}", run.seconds / 60, run.in_ten_minutes, run.most_in_ten_minutes
        )
        yield f"{row}  {names} ({run.ended}){faults}"
