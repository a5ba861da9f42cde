"""One utterance at its moment, and what a rule may ask of it. Decides nothing.

Everything is worked out once, and only when a rule asks: the boiler is not asked in vain.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property

from assistant.grammar import notes
from assistant.messages import Alternative, DecisionKind, Heard, Meaning, Order
from assistant.understanding import gates
from assistant.understanding.context import Context, Objection
from assistant.understanding.costs import TABLE, Costs, cost_row_of, expected_cost
from assistant.understanding.decision import Decision, Source
from assistant.understanding.meanings import is_danger, reports_in
from assistant.understanding.phrase_form import PhraseForm, phrase_form
from assistant.understanding.posterior import meaning_posterior, merged
from assistant.understanding.retries import fused

_SMALLEST = 1e-12
MOST_TEXT_RATIO = 2  # a text of more than so many times the words is not that sentence
ALL_KINDS: tuple[DecisionKind, ...] = ("accept", "confirm", "again", "ignore")


class Case:
    """An utterance, its moment, and what follows from the two.

    by_words: what becomes of it by its words alone, leaving out whether it was said to us, is the
    words of a note or was just denied.
    """

    def __init__(
        self, heard: Heard, context: Context, by_words: Callable[[Case], Decision]
    ) -> None:
        self.context = context
        self.heard = replace(heard, alternatives=fused(heard, context.evidence, context.at))
        self._by_words = by_words

    @cached_property
    def by_words(self) -> Decision:
        """What becomes of it by its words alone."""
        return self._by_words(self)

    # --- what was said

    @cached_property
    def ranked(self) -> tuple[Alternative, ...]:
        """The meanings by sound and boiler together, best first; empty: none of our sentences."""
        return meaning_posterior(self.heard.alternatives, self.context.chance)

    @property
    def best(self) -> Alternative:
        """The best of them; there must be one."""
        return self.ranked[0]

    @property
    def meaning(self) -> Meaning:
        """The best meaning."""
        return self.best.meaning

    @cached_property
    def by_sound(self) -> Meaning:
        """The best meaning by its sound alone."""
        alternatives = merged(self.heard.alternatives)
        return max(alternatives, key=lambda alternative: alternative.probability).meaning

    @cached_property
    def danger(self) -> bool:
        """Whether the best meaning is a danger, which is at least confirmed."""
        return is_danger(self.meaning, self.context.mark_of)

    @property
    def danger_understood(self) -> bool:
        """Whether it would be accepted as a danger, or asked about as one."""
        meaning = self.by_words.meaning
        if meaning is None or self.by_words.kind not in ("accept", "confirm"):
            return False
        return is_danger(meaning, self.context.mark_of)

    @cached_property
    def note(self) -> str | None:
        """The words of a note, if it may be one."""
        if self.context.note_expected:
            return self.heard.text
        return notes.in_one_breath(self.heard.text) if self.context.takes_notes else None

    @property
    def is_sentence(self) -> bool:
        """Whether it is a sentence of the grammar rather than the words of a note.

        It must be accepted and account for most of the words; of a danger a likely one is enough.
        """
        meaning = self.by_words.meaning
        if meaning is None or meaning == Order("note"):
            return False
        if is_danger(meaning, self.context.mark_of):
            return self.danger_understood
        words = next(
            (a.words for a in self.heard.alternatives if a.meaning == meaning), self.heard.text
        )
        short = MOST_TEXT_RATIO * len(words.split()) < len(self.heard.text.split())
        return self.by_words.kind == "accept" and not short

    # --- how well it was heard

    @cached_property
    def form(self) -> PhraseForm:
        """The form of the best phrase."""
        return phrase_form(self.meaning, self.best.words, self.context.expected)

    @property
    def agreed(self) -> bool:
        """Whether it repeats the value that was just asked about."""
        return self.context.doubted is not None and self.meaning == self.context.doubted

    @cached_property
    def for_us(self) -> gates.ForUs:
        """Whether it was said to the assistant, by its sound."""
        return gates.for_us(self.heard, self.form, self.agreed, self.danger)

    @property
    def sufficient(self) -> Sequence[gates.Gate]:
        """The gates of which it must pass one to be accepted."""
        return gates.gates_to_take(self.cost_row, self.form, self.best.words, self.agreed)

    @property
    def lasting(self) -> bool:
        """Whether accepting it is entered in the book, or changes what is asked."""
        return self.cost_row == "lasting" or bool(reports_in(self.meaning))

    @property
    def margin(self) -> float:
        """Nats between the best meaning and the second."""
        if len(self.ranked) < 2:
            return math.inf
        best, second = (max(each.probability, _SMALLEST) for each in self.ranked[:2])
        return math.log(best / second)

    # --- what the boiler says

    @cached_property
    def off_gauge(self) -> str | None:
        """Why no gauge can show it."""
        return _first_reason(self.context.limits, self.meaning)

    @cached_property
    def objection(self) -> str | None:
        """Why the belief contradicts it."""
        return _first_reason(self.context.objection, self.meaning)

    @property
    def fitting(self) -> tuple[Alternative, ...]:
        """The meanings that a gauge can show and the belief does not contradict; every danger."""
        context = self.context
        return tuple(
            each
            for each in self.ranked
            if is_danger(each.meaning, context.mark_of)
            or (
                not _first_reason(context.limits, each.meaning)
                and not _first_reason(context.objection, each.meaning)
            )
        )

    # --- what it costs

    @cached_property
    def cost_row(self) -> str:
        """The row of the loss table."""
        return cost_row_of(self.meaning, self.context.care, self.context.mark_of)

    @property
    def costs(self) -> Costs:
        """The cost of each mistake."""
        return TABLE[self.cost_row]

    def cheapest(self, among: Sequence[DecisionKind] = ALL_KINDS) -> DecisionKind:
        """The way to treat it with the least expected cost; a danger is at least confirmed."""
        for_us = min(sum(alternative.probability for alternative in self.ranked), 1.0)
        kinds = [kind for kind in among if not self.danger or kind in ("accept", "confirm")]
        best = self.best.probability
        return min(kinds, key=lambda kind: expected_cost(kind, best, for_us, self.costs))

    def decision(
        self, kind: DecisionKind, reason: str | None = None, source: Source = "ear"
    ) -> Decision:
        """The decision in full; the default reason is in numbers."""
        best = self.best
        rival = self.ranked[1].meaning if self.margin < gates.LEAST_MARGIN else None
        reason = reason or f"{best.probability:.3f} against {self.costs.threshold:.3f} wanted"
        meaning = None if kind == "ignore" else best.meaning
        return Decision(kind, meaning, reason, source, best.probability, rival)


def _first_reason(objection: Objection, meaning: Meaning) -> str | None:
    return next((why for why in map(objection, reports_in(meaning)) if why), None)
