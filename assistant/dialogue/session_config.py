"""What a session is made of before its first event: the engine, the lists, earlier steam-ups."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.procedure import remedies as cures
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.emergency import Emergencies


@dataclass(frozen=True)
class SessionConfig:
    """Everything `handle` may consult besides the events.

    lists: one checklist a phase, in walking order. cures: lists called up by a symptom.
    past: earlier steam-ups of this engine, for `estimate.begin`. emergencies: what is said at once.
    dial: the unit of the pressure gauge.
    """

    engine: Engine
    lists: tuple[Checklist, ...]
    cures: tuple[Checklist, ...] = ()
    past: tuple[Any, ...] = ()
    emergencies: Emergencies | None = None
    dial: str = "psi"

    @cached_property
    def cure_calls(self) -> tuple[tuple[str, Report], ...]:
        """Every spoken symptom with the cure it calls for."""
        return cures.remedy_calls(self.cures)

    @cached_property
    def bypass_forms(self) -> tuple[tuple[str, Report], ...]:
        """What may be said of the bypass at any time: whether the pump feeds the boiler."""
        said = (step for listed in self.lists for step in listed.steps if step.asks == "bypass")
        return tuple(answer for step in said for answer in step.answers() if "bypass" in answer[0])

    def list_of(self, phase: Phase) -> Checklist | None:
        """The checklist of a phase, if there is one."""
        return next((c for c in self.lists if c.phase is phase), None)
