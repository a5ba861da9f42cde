"""What is listened for when somebody says what he was not asked: five situations, two engines.

Knows the lists of a session and what is expected; no sound and no decision.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from assistant.dialogue.session_config import SessionConfig
from assistant.grammar.phrases import grammar
from assistant.messages import READINGS, Expected, Meaning, Report
from assistant.procedure import conditions
from assistant.procedure.checklist import Step

NOTHING, PRESSURE, WATER, YES_OR_NO, STATE = (
    "nothing open", "pressure asked", "water asked", "yes or no", "state asked",
)  # fmt: skip
SITUATIONS = (NOTHING, PRESSURE, WATER, YES_OR_NO, STATE)
IN_STEAM = frozenset({conditions.FIRE_IN, conditions.STEAM})
FIRE_IN = frozenset({conditions.FIRE_IN})
ENGINES = (IN_STEAM, FIRE_IN)
"""What she is known to be; "fire in" alone: nothing is known of steam."""
_BARE = {
    NOTHING: Expected(),
    PRESSURE: Expected("pressure"),
    WATER: Expected("water"),
    YES_OR_NO: Expected("answer", about="pressure"),
}


def engine_name(true: frozenset[str]) -> str:
    """A row's name.

    >>> engine_name(FIRE_IN)
    'fire in'
    """
    return ", ".join(sorted(true))


@dataclass(frozen=True)
class Situations:
    """The situations of a session with these lists."""

    config: SessionConfig
    _steps: dict[frozenset[str], tuple[tuple[Step, frozenset[str]], ...]] = field(
        default_factory=dict, compare=False, repr=False
    )

    @cached_property
    def forms(self) -> tuple[tuple[str, Meaning], ...]:
        """Every named form of all lists, with what it means where nothing is open.

        A form that is a sentence already keeps its meaning.
        """
        open_grammar = grammar(self.expected(NOTHING, FIRE_IN))
        return tuple(
            (form, open_grammar.meaning(form.split()) or report)
            for form, report in self.config.named_forms
        )

    def expected(
        self, situation: str, true: frozenset[str], said: str = "", turn: int = 0
    ) -> Expected:
        """What is listened for.

        true: what the engine is known to be. said: the state asked is of a list that has no such
        form; turn: which of the steps that may be asked then.
        """
        bare = _BARE.get(situation) or self._state_asked(true, said, turn)
        another_phase, impossible = self.config.out_of_phase(true)
        return replace(
            bare,
            elsewhere=self.config.named_forms,
            another_phase=another_phase,
            impossible=impossible,
        )

    def _state_asked(self, true: frozenset[str], said: str, turn: int) -> Expected:
        steps = [step for step, forms in self._askable(true) if said not in forms]
        return Expected("state", _answers(steps[turn % len(steps)]))

    def _askable(self, true: frozenset[str]) -> tuple[tuple[Step, frozenset[str]], ...]:
        """The steps answered by a state that such an engine may want, each with the forms of its
        list.
        """
        if true not in self._steps:
            self._steps[true] = tuple(
                (step, _forms_of(listed.steps) | frozenset(listed.symptom))
                for listed in (*self.config.lists, *self.config.remedies)
                for step in listed.steps
                if step.kind == "state" and step.asks not in READINGS and _may_be(step, true)
            )
        return self._steps[true]


def _answers(step: Step) -> tuple[tuple[str, Report], ...]:
    """Each form once."""
    return tuple(dict(step.answers()).items())


def _forms_of(steps: Sequence[Step]) -> frozenset[str]:
    return frozenset(form for step in steps for form, _ in step.answers())


def _may_be(step: Step, true: frozenset[str]) -> bool:
    """Whether the step is not known to be of another phase, or without its fire or steam."""
    return not (conditions.over(step.while_, true) or conditions.want_missing(step.while_, true))
