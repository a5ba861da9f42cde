"""What a session is made of before its first event: the engine, the lists, earlier steam-ups."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from assistant.boiler.figures import Engine
from assistant.grammar.named_forms import named_forms
from assistant.messages import Report
from assistant.procedure import remedies
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.emergency import Emergencies


@dataclass(frozen=True)
class SessionConfig:
    """Everything `handle` may consult besides the events."""

    engine: Engine
    lists: tuple[Checklist, ...]
    """One checklist for each phase, in their order."""
    remedies: tuple[Checklist, ...] = ()
    """The lists that a symptom calls up."""
    past: tuple[Any, ...] = ()
    """Earlier steam-ups of this engine, for `estimate.begin`."""
    emergencies: Emergencies | None = None
    """What is said at once in an emergency."""
    dial: str = "psi"
    """The unit of the pressure gauge."""
    people: tuple[str, ...] = ()
    """The names in the engine file."""

    @cached_property
    def remedy_calls(self) -> tuple[tuple[str, Report], ...]:
        """Every spoken symptom with the remedy it calls for."""
        return remedies.remedy_calls(self.remedies)

    @cached_property
    def bypass_forms(self) -> tuple[tuple[str, Report], ...]:
        """What may be said of the bypass at any time: whether the pump feeds the boiler."""
        steps = (s for checklist in self.lists for s in checklist.steps if s.asks == "bypass")
        return tuple(answer for s in steps for answer in s.answers() if "bypass" in answer[0])

    @cached_property
    def named_forms(self) -> tuple[tuple[str, Report], ...]:
        """What answers a step of any list and says its subject: understood in every phase."""
        steps = [s for each in (*self.lists, *self.remedies) for s in each.steps]
        answers = [answer for step in steps for answer in step.answers()]
        return named_forms([*answers, *self.remedy_calls])

    def list_of(self, phase: Phase) -> Checklist | None:
        """The checklist of a phase, if there is one."""
        return next((c for c in self.lists if c.phase is phase), None)
