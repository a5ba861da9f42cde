"""What a session is made of before its first event: the engine, the lists, earlier steam-ups."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from assistant.boiler.figures import Engine
from assistant.grammar.named_forms import named_forms
from assistant.messages import Report
from assistant.procedure import conditions, remedies
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.emergency import Emergencies
from assistant.procedure.scale import options
from assistant.wording.fittings import FITTINGS


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

    @cached_property
    def fittings_missing(self) -> frozenset[str]:
        """Fittings of which steps and warnings speak and which this engine has not got."""
        return FITTINGS - options(self.engine)

    @cached_property
    def _meant_while(self) -> tuple[tuple[Report, str], ...]:
        """What answers a step of any list, with what the engine is then."""
        steps = [s for each in (*self.lists, *self.remedies) for s in each.steps]
        return tuple((report, step.while_) for step in steps for _, report in step.answers())

    def out_of_phase(self, true: frozenset[str]) -> tuple[frozenset[Report], frozenset[Report]]:
        """The answers of every list that are of another phase, and those that cannot be now.

        true: what the engine is known to be. What fits one step that asks it, fits.
        """
        if true not in self._by_conditions:
            missing: set[Report] = set()
            past: set[Report] = set()
            fits: set[Report] = set()
            for report, while_ in self._meant_while:
                if conditions.want_missing(while_, true):
                    missing.add(report)
                else:
                    (past if conditions.over(while_, true) else fits).add(report)
            impossible = frozenset(missing - fits)
            self._by_conditions[true] = frozenset(past - fits - missing), impossible
        return self._by_conditions[true]

    @cached_property
    def _by_conditions(
        self,
    ) -> dict[frozenset[str], tuple[frozenset[Report], frozenset[Report]]]:
        return {}

    def list_of(self, phase: Phase) -> Checklist | None:
        """The checklist of a phase, if there is one."""
        return next((c for c in self.lists if c.phase is phase), None)
