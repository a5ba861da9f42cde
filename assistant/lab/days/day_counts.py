"""How often everything there is came up in the random days: alarms, phases, moves, orders, calls.

The names come from the tables themselves, so that a new row counts from nothing.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from assistant.alarms.rules import RULES
from assistant.dialogue.session_config import SessionConfig
from assistant.grammar.orders import ORDER_FORMS
from assistant.grammar.states import EMERGENCIES, STATE_FORMS
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import (
    AlarmChanged,
    Correction,
    DeviceBack,
    DeviceLost,
    Effect,
    Event,
    Fault,
    Heard,
    Order,
    PhaseBegan,
    ReadingAccepted,
    Report,
    Say,
    Started,
    StepAsked,
)
from assistant.procedure import phases, remedies
from assistant.procedure.checklist import Phase
from assistant.procedure.emergency import EMERGENCY, OVER

WANTED = 20  # each thing at least so often in `FULL` days
FULL = 2000
NOT_SAID = frozenset({"stop", "call", "note"})  # orders that no random driver gives
NEEDS = {
    "valve at its feather": re.compile(r"^It should feather by"),
    "valve at its lift": re.compile(r"^Valve should lift now"),
    "still rising": re.compile(r"^Blower off\?"),
    "fire asked": re.compile(r"^Pressure rises\. Is there fire in her"),
    "blower near working": re.compile(r"^Near the wanted pressure\. Blower"),
    "damper at working": re.compile(r"^Wanted pressure\. "),
    "steam in her": re.compile(r"^There is steam in her"),
    "water asked": re.compile(r"^Where is the water\?"),
    "pressure asked": re.compile(r"^What is the pressure\?"),
}  # rows of the agenda that are no alarms, by their words
OFFERED = "need: work offered"  # by its step: it has no words of its own


def wanted_names(config: SessionConfig) -> list[str]:
    """Everything that is to come up, as it is counted."""
    names = [f"alarm: {rule.name}" for rule in RULES]
    names += [f"phase: {phase.value}" for phase in Phase]
    for trigger, source, *_ in phases.MOVES_TABLE:
        names.append(f"move done: {trigger} from {source.value}")
    names += [f"move refused: {name}" for name in phases.MOVE_FORMS]
    names += [f"remedy: {remedy.name}" for remedy in config.remedies]
    names += [f"first act: {remedy.name}" for remedy in config.remedies]
    names += [*(f"need: {name}" for name in NEEDS), OFFERED]
    names += [f"emergency: {name}" for name in (*EMERGENCIES, OVER)]
    orders = (*ORDER_FORMS, "wait", "if feed")
    names += [f"order: {name}" for name in orders if name not in NOT_SAID]
    names += [f"state: {what} {value}" for what, value in STATE_FORMS]
    return [*names, "heard: correction", "device: lost", "device: back"]


class DayCounts:
    """Shown each event with its effects by `see`; counts names of `wanted_names` and others."""

    def __init__(self, config: SessionConfig) -> None:
        self._first_acts = {each.steps[0].id: each.name for each in config.remedies if each.steps}
        self._waiting = {step.id for each in config.lists for step in each.steps if step.waiting}
        self.counts: Counter[str] = Counter()
        self.faults: list[str] = []
        self._phase = Phase.PREPARATION.value

    def see(self, event: Event, effects: Sequence[Effect]) -> None:
        """One event and what came of it."""
        began = [e.phase for e in effects if isinstance(e, PhaseBegan)]
        meant = (
            event.alternatives[0].meaning
            if isinstance(event, Heard) and event.alternatives
            else None
        )
        match event:
            case Started(_, str(phase)):
                self._phase = phase
            case DeviceLost():
                self.counts["device: lost"] += 1
            case DeviceBack():
                self.counts["device: back"] += 1
            case Heard():
                self.counts["heard: words"] += 1
                self.counts["heard: not a sentence"] += meant is None
        if isinstance(meant, Order):
            self.counts[f"order: {meant.name}"] += 1
        if isinstance(meant, Correction):
            self.counts["heard: correction"] += 1
        if isinstance(meant, Report) and meant.what == phases.MOVE and not began:
            self.counts[f"move refused: {meant.value}"] += 1
        for effect in effects:
            self._effect(effect)
        for phase in began:
            self._phase_began(phase)

    def _effect(self, effect: Effect) -> None:
        match effect:
            case AlarmChanged(name, _, "raised"):
                self.counts[f"alarm: {name}"] += 1
            case ReadingAccepted(Report(phases.MOVE, _)):
                pass
            case ReadingAccepted(Report(remedies.REMEDY, name)):
                self.counts[f"remedy: {name}"] += 1
            case ReadingAccepted(Report(what, name)) if what == EMERGENCY:
                self.counts[f"emergency: {name}"] += 1
            case ReadingAccepted(Report(what, value)) if isinstance(value, str):
                self.counts[f"state: {what} {value}"] += 1
            case StepAsked(_, step) if step in self._first_acts:
                self.counts[f"first act: {self._first_acts[step]}"] += 1
            case StepAsked(_, step) if step in self._waiting:
                self.counts[OFFERED] += 1
            case Say(text):
                self.counts.update(
                    f"need: {name}" for name, words in NEEDS.items() if words.search(text)
                )
            case Fault(message):
                self.faults.append(message)

    def _phase_began(self, phase: str) -> None:
        self.counts[f"phase: {phase}"] += 1
        for trigger, source, goal, _ in phases.MOVES_TABLE:
            if (source.value, goal.value) == (self._phase, phase):
                self.counts[f"move done: {trigger} from {source.value}"] += 1
        self._phase = phase


def too_seldom(counts: Counter[str], names: Sequence[str]) -> list[str]:
    """What came up less often than wanted."""
    return [name for name in names if counts[name] < WANTED]


_TABLE = ResultTable(48, Column("times", 8), corner="what, least first")


def table_lines(counts: Counter[str], names: Sequence[str]) -> Iterator[str]:
    """The counts, the least first."""
    yield _TABLE.header()
    for name in sorted(dict.fromkeys(names), key=lambda each: (counts[each], each)):
        yield _TABLE.row(name, counts[name])
