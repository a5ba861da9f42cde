"""Accept an utterance, confirm it, ask for it again or ignore it: decided by expected cost.

Knows the recogniser's probabilities; asks the boiler through functions it is given.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.messages import Alternative, Answer, Correction, Expected, Heard, Meaning, Report
from assistant.understanding import gates
from assistant.understanding.costs import (
    TABLE,
    Care,
    Costs,
    MarkOf,
    cost_row_of,
    is_danger,
    no_mark,
    reports_in,
)
from assistant.understanding.phrase_form import phrase_form

Kind = Literal["accept", "confirm", "again", "ignore"]
_Source = Literal["ear", "boiler", "gauge"]
Chance = Callable[[Report], float | None]
Objection = Callable[[Report], str | None]

_SMALLEST = 1e-12


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do with an utterance."""

    kind: Kind
    meaning: Meaning | None
    """What it is taken for; for "confirm" what to ask about; None when there is nothing."""
    reason: str
    """In words and numbers; fit to be spoken when its source is the boiler or the gauge."""
    source: _Source = "ear"
    """Who gave the reason."""
    probability: float = 0.0
    """Of the meaning, all things considered."""
    rival: Meaning | None = None
    """The second best, when it is close ("fifteen or fifty?")."""


def no_chance(report: Report) -> float | None:
    """Without a boiler every report is as probable as its sound."""
    return None


def no_objection(report: Report) -> str | None:
    """Without a boiler nothing is objected to."""
    return None


def _boiler_weight(meaning: Meaning, chance: Chance) -> float | None:
    """The boiler's factor on a meaning; None where the boiler has no opinion."""
    known = [c for c in (chance(report) for report in reports_in(meaning)) if c is not None]
    return math.prod(known) if known else None


def meaning_posterior(
    alternatives: Sequence[Alternative], chance: Chance = no_chance
) -> tuple[Alternative, ...]:
    """The alternatives, best first, with the boiler's chances multiplied in.

    Probability moves only between readings of one kind, so that the recogniser's probability of
    each kind, and of "none of the sentences", stays as it was.
    """
    kinds: dict[object, list[Alternative]] = {}
    for alternative in _merged(alternatives):
        subjects = tuple((r.what, r.unit) for r in reports_in(alternative.meaning))
        kinds.setdefault(subjects, []).append(alternative)
    posterior: list[Alternative] = []
    for members in kinds.values():
        # the only one of its kind keeps its probability: the boiler need not be asked
        posterior += members if len(members) == 1 else _weighted(members, chance)
    return tuple(sorted(posterior, key=lambda alternative: -alternative.probability))


def _weighted(members: Sequence[Alternative], chance: Chance) -> list[Alternative]:
    weights = [_boiler_weight(alternative.meaning, chance) for alternative in members]
    pairs = list(zip(members, weights, strict=True))
    known = [(alternative, weight) for alternative, weight in pairs if weight is not None]
    return [*(alternative for alternative, weight in pairs if weight is None), *_reshare(known)]


def _merged(alternatives: Sequence[Alternative]) -> list[Alternative]:
    """One alternative for each meaning, in the words that were likeliest for it."""
    merged: dict[Meaning, Alternative] = {}
    for new in sorted(alternatives, key=lambda alternative: -alternative.probability):
        likelier = merged.get(new.meaning)
        total = new.probability + (likelier.probability if likelier else 0.0)
        words = likelier.words if likelier else new.words
        merged[new.meaning] = Alternative(new.meaning, words, total)
    return list(merged.values())


def _reshare(group: Sequence[tuple[Alternative, float]]) -> list[Alternative]:
    """The probability of a group shared out by weight."""
    mass = sum(alternative.probability for alternative, _ in group)
    weighted = sum(alternative.probability * weight for alternative, weight in group)
    if weighted <= 0:
        return [alternative for alternative, _ in group]
    return [
        Alternative(each.meaning, each.words, mass * each.probability * weight / weighted)
        for each, weight in group
    ]


def expected_cost(kind: Kind, probability: float, for_us: float, costs: Costs) -> float:
    """The expected cost of a way to treat an utterance, in needless questions.

    probability: of the best meaning; for_us: that anything was said to the assistant at all.

    >>> round(expected_cost("accept", 0.99, 1.0, TABLE["number"]), 2)
    1.02
    """
    match kind:
        case "accept":
            return (1 - probability) * costs.accept_wrong
        case "confirm":
            other = max(for_us - probability, 0.0) * costs.confirm_wrong
            return probability * costs.confirm_right + other + (1 - for_us) * costs.disturbed
        case "again":
            return for_us * costs.again + (1 - for_us) * costs.disturbed
        case "ignore":
            return for_us * costs.ignored


def _first_objection(objection: Objection, meaning: Meaning) -> str | None:
    return next((why for why in map(objection, reports_in(meaning)) if why), None)


def decide(
    heard: Heard,
    expected: Expected,
    chance: Chance = no_chance,
    objection: Objection = no_objection,
    *,
    limits: Objection = no_objection,
    care: Care = Care.USUAL,
    mark_of: MarkOf = no_mark,
    doubted: Report | None = None,
) -> Decision:
    """What to do with an utterance.

    chance, objection: the boiler's opinion of a report (`estimate.chance`, `estimate.objection`).
    limits: a reason if the report is off the gauge: such a value is never accepted.
    care: how careful the situation requires one to be; mark_of: where a water level stands.
    doubted: the reading that was just asked about; if it is repeated, the boiler's objection no
    longer counts.
    """
    if not heard.alternatives:
        kind: Kind = "again" if gates.typed(heard) else "ignore"
        return Decision(kind, None, "none of our sentences")
    ranked = meaning_posterior(heard.alternatives, chance)
    best = ranked[0]
    form = phrase_form(best.meaning, best.words, expected)
    agreed = doubted is not None and best.meaning == doubted
    danger = is_danger(best.meaning, mark_of)
    for_us = gates.for_us(heard, form, agreed, danger)
    if for_us != "yes":
        kind = "again" if for_us == "faint" and expected.kind != "any" else "ignore"
        return Decision(kind, None, "hardly for us", probability=best.probability)
    off_gauge = _first_objection(limits, best.meaning)
    if off_gauge:
        return Decision("again", best.meaning, off_gauge, "gauge", best.probability)
    row = cost_row_of(best.meaning, care, mark_of)
    options = _Options(ranked, TABLE[row], danger)
    decision = options.decision(options.cheapest())
    if decision.kind == "accept":
        doubt = _acoustic_doubt(
            heard, options, row, gates.gates_to_take(row, form, best.words, agreed)
        )
        decision = _accepted(options, doubt, _boiler_objection(best.meaning, objection, doubted))
    if (
        decision.kind == "accept"
        and isinstance(best.meaning, Correction)
        and expected.about is None
    ):
        decision = _correction_of_nothing(heard, options)
    if decision.kind != "accept" and best.meaning == Answer("yes") and expected.kind != "answer":
        return options.decision("ignore", "a doubtful yes that nobody waits for")
    return decision


def _correction_of_nothing(heard: Heard, options: _Options) -> Decision:
    """A correction with no reading to correct: accepted only if it was typed."""
    if gates.typed(heard):
        return options.decision("accept")
    return options.decision("confirm", "there was no reading to correct")


def _accepted(options: _Options, doubt: str | None, objection: str | None) -> Decision:
    """What its probability accepts, unless the sound or the boiler is against it."""
    if doubt:
        return options.decision(options.cheapest(("confirm", "again")), doubt)
    if objection and not options.danger:
        return options.decision("confirm", objection, "boiler")
    return options.decision("accept")


@dataclass(frozen=True, slots=True)
class _Options:
    """The ways to treat the best meaning, with their costs; a danger is at least confirmed."""

    ranked: Sequence[Alternative]
    costs: Costs
    danger: bool

    def cheapest(self, among: Sequence[Kind] = ("accept", "confirm", "again", "ignore")) -> Kind:
        """The way with the least expected cost."""
        for_us = min(sum(alternative.probability for alternative in self.ranked), 1.0)
        best = self.ranked[0].probability
        kinds = [kind for kind in among if not self.danger or kind in ("accept", "confirm")]
        return min(kinds, key=lambda kind: expected_cost(kind, best, for_us, self.costs))

    def decision(self, kind: Kind, reason: str | None = None, source: _Source = "ear") -> Decision:
        """The decision in full; the default reason is in numbers."""
        best = self.ranked[0]
        rival = self.ranked[1].meaning if self.margin < gates.LEAST_MARGIN else None
        reason = reason or f"{best.probability:.3f} against {self.costs.threshold:.3f} wanted"
        meaning = None if kind == "ignore" else best.meaning
        return Decision(kind, meaning, reason, source, best.probability, rival)

    @property
    def margin(self) -> float:
        """Nats between the best meaning and the second."""
        if len(self.ranked) < 2:
            return math.inf
        best, second = (max(each.probability, _SMALLEST) for each in self.ranked[:2])
        return math.log(best / second)


def _acoustic_doubt(
    heard: Heard, options: _Options, row: str, sufficient: Sequence[gates.Gate]
) -> str | None:
    """Acoustic reasons not to accept despite a high posterior; the boiler may not overrule them."""
    by_sound = max(_merged(heard.alternatives), key=lambda alternative: alternative.probability)
    meaning = options.ranked[0].meaning
    if meaning != by_sound.meaning:
        return "the boiler and the ear disagree"
    lasting = row == "lasting" or bool(reports_in(meaning))
    return gates.acoustic_doubt(heard, options.margin, sufficient, lasting)


def _boiler_objection(meaning: Meaning, objection: Objection, doubted: Report | None) -> str | None:
    """The boiler's objection, if it counts: not against a correction or a repetition."""
    if isinstance(meaning, Correction) or doubted in reports_in(meaning):
        return None
    return _first_objection(objection, meaning)
