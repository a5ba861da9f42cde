"""How often the watch speaks in normal running: whole steam-ups with the practice operator, silent.

Knows the scene and counts; where engine and lists come from is the caller's business.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.dialogue.session import Session
from assistant.messages import AlarmChanged, Effect, Event, Fault
from assistant.procedure.checklist import Checklist
from assistant.simulator import practice
from assistant.simulator.scene import NoWaiting
from assistant.simulator.sound_rig import TypedRig

TEN_MIN_S = 600.0


@dataclass(frozen=True, slots=True)
class AlarmCounts:
    """One steam-up: how long, how far, and when an alarm sounded [s, its name].

    faults: what was caught of our own bugs; none is the only good number.
    """

    seconds: float
    ended: str
    alarms: tuple[tuple[float, str], ...]
    faults: tuple[str, ...] = ()

    @property
    def in_ten_minutes(self) -> float:
        """Alarms in ten minutes on average."""
        return len(self.alarms) * TEN_MIN_S / self.seconds

    @property
    def most_in_ten(self) -> int:
        """The most alarms in any ten minutes."""
        times = [at for at, _ in self.alarms]
        return max((sum(0 <= t - at <= TEN_MIN_S for t in times) for at in times), default=0)


def practice_alarms(
    session: Session, engine: Engine, lists: tuple[Checklist, ...], seed: int = 0
) -> AlarmCounts:
    """One whole steam-up without a fault, words as if typed."""
    alarms: list[tuple[float, str]] = []
    faults: list[str] = []

    def turn(event: Event) -> list[Effect]:
        effects = session.handle(event)
        raised = [e for e in effects if isinstance(e, AlarmChanged) and e.state == "raised"]
        alarms.extend((event.at, e.name) for e in raised)
        faults.extend(e.message for e in effects if isinstance(e, Fault))
        return effects

    cast = practice.Cast(engine, lists, TypedRig(), NoWaiting(), seed)
    tally = practice.play(cast, turn, lambda: session.expected, lambda at, who, what: None)
    return AlarmCounts(tally.at_s, tally.ended, tuple(alarms), tuple(faults))


def rates_table(
    runs: Sequence[tuple[str, int]], one: Callable[[str, int], AlarmCounts]
) -> Iterator[str]:
    """One line for each steam-up: engine, seed, minutes, alarms in ten minutes, the most in any."""
    for name, seed in runs:
        run = one(name, seed)
        names = ", ".join(what for _, what in run.alarms) or "none"
        faults = f"; FAULTS OF OURS: {len(run.faults)}" if run.faults else ""
        yield (
            f"{name} {seed}: {run.seconds / 60:.0f} min, {run.in_ten_minutes:.2f} in ten minutes, "
            f"at most {run.most_in_ten}: {names} ({run.ended}){faults}"
        )
