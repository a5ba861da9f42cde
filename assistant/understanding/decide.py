"""Is this taken at once, asked about, asked again, or passed over? Decided by expected cost.

Knows the ear's probabilities; asks the boiler through functions it is given. Knows no formula.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.messages import Alternative, Answer, Correction, Expected, Heard, Meaning, Report
from assistant.understanding import gates as refusal
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
    """What to do with an utterance.

    meaning: what it is taken for; for "confirm" what to ask about; None when nothing is.
    reason: in words and numbers; fit to be spoken when its source is the boiler or the gauge.
    source: who gave the reason.
    probability: of the meaning, all things weighed.
    rival: the second best, when it is close ("fifteen or fifty?").
    """

    kind: Kind
    meaning: Meaning | None
    reason: str
    source: _Source = "ear"
    probability: float = 0.0
    rival: Meaning | None = None


def no_chance(report: Report) -> float | None:
    """No boiler has a say."""
    return None


def no_objection(report: Report) -> str | None:
    """Nothing speaks against it."""
    return None


def _weight(meaning: Meaning, chance: Chance) -> float | None:
    """How much likelier than by its sound alone; None where the boiler has no say."""
    known = [c for c in (chance(report) for report in reports_in(meaning)) if c is not None]
    return math.prod(known) if known else None


def meaning_posterior(
    alternatives: Sequence[Alternative], chance: Chance = no_chance
) -> tuple[Alternative, ...]:
    """The alternatives, best first, with the boiler's chances weighed in.

    What the ear gave to all of them together is shared out anew, so that the share of "nothing of
    ours" stays as the ear left it. The boiler only moves shares between readings of one kind.
    """
    kinds: dict[object, list[Alternative]] = {}
    for alternative in _merged(alternatives):
        subjects = tuple((r.what, r.unit) for r in reports_in(alternative.meaning))
        kinds.setdefault(subjects, []).append(alternative)
    told: list[Alternative] = []
    for one_kind in kinds.values():
        # one alone keeps what it has: the boiler need not be asked
        told += one_kind if len(one_kind) == 1 else _weighed(one_kind, chance)
    return tuple(sorted(told, key=lambda one: -one.probability))


def _weighed(one_kind: Sequence[Alternative], chance: Chance) -> list[Alternative]:
    weights = [_weight(alternative.meaning, chance) for alternative in one_kind]
    pairs = list(zip(one_kind, weights, strict=True))
    known = [(alternative, weight) for alternative, weight in pairs if weight is not None]
    return [*(alternative for alternative, weight in pairs if weight is None), *_reshare(known)]


def _merged(alternatives: Sequence[Alternative]) -> list[Alternative]:
    """One alternative for each meaning, in the words that were likeliest for it."""
    found: dict[Meaning, Alternative] = {}
    for one in sorted(alternatives, key=lambda one: -one.probability):
        other = found.get(one.meaning)
        share = one.probability + (other.probability if other else 0.0)
        found[one.meaning] = Alternative(one.meaning, other.words if other else one.words, share)
    return list(found.values())


def _reshare(group: Sequence[tuple[Alternative, float]]) -> list[Alternative]:
    mass = sum(one.probability for one, _ in group)
    weighed = sum(one.probability * weight for one, weight in group)
    if weighed <= 0:
        return [one for one, _ in group]
    return [
        Alternative(one.meaning, one.words, mass * one.probability * weight / weighed)
        for one, weight in group
    ]


def expected_cost(kind: Kind, probability: float, ours: float, costs: Costs) -> float:
    """What a way of taking an utterance costs on average, in needless questions.

    probability: that the best meaning was meant; ours: that anything of ours was said at all.

    >>> round(expected_cost("accept", 0.99, 1.0, TABLE["number"]), 2)
    1.02
    """
    match kind:
        case "accept":
            return (1 - probability) * costs.accept_wrong
        case "confirm":
            other = max(ours - probability, 0.0) * costs.confirm_wrong
            return probability * costs.confirm_right + other + (1 - ours) * costs.disturbed
        case "again":
            return ours * costs.again + (1 - ours) * costs.disturbed
        case "ignore":
            return ours * costs.ignored


def _first(test: Objection, meaning: Meaning) -> str | None:
    return next((why for why in map(test, reports_in(meaning)) if why), None)


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
    """What to do with what was heard.

    chance, objection: the boiler's say on a report (`estimate.chance`, `estimate.objection`).
    limits: a reason if the report is off the gauge: such a value is never taken, but asked again.
    care: what the moment asks for; mark_of: where a reported water stands to the engine's marks.
    doubted: the reading that was asked about before this; said a second time, it is believed
    against the boiler's objection if the ear is sure.
    """
    if not heard.alternatives:
        kind: Kind = "again" if refusal.typed(heard) else "ignore"
        return Decision(kind, None, "none of our sentences")
    ranked = meaning_posterior(heard.alternatives, chance)
    best = ranked[0]
    how = phrase_form(best.meaning, best.words, expected)
    agreed = doubted is not None and best.meaning == doubted
    danger = is_danger(best.meaning, mark_of)
    ours = refusal.for_us(heard, how, agreed, danger)
    if ours != "yes":
        kind = "again" if ours == "faint" and expected.kind != "any" else "ignore"
        return Decision(kind, None, "hardly for us", probability=best.probability)
    off_gauge = _first(limits, best.meaning)
    if off_gauge:
        return Decision("again", best.meaning, off_gauge, "gauge", best.probability)
    row = cost_row_of(best.meaning, care, mark_of)
    weighing = _Weighing(ranked, TABLE[row], danger)
    made = weighing.decision(weighing.cheapest())
    if made.kind == "accept":
        gates = refusal.gates_to_take(row, how, best.words, agreed)
        doubt = _ear_doubt(heard, weighing, row, gates)
        made = _accepted(weighing, doubt, _protest(best.meaning, objection, doubted))
    if made.kind == "accept" and isinstance(best.meaning, Correction) and expected.about is None:
        made = _unless_typed(heard, weighing)
    if made.kind != "accept" and best.meaning == Answer("yes") and expected.kind != "answer":
        return weighing.decision("ignore", "a doubtful yes that nobody waits for")
    return made


def _unless_typed(heard: Heard, weighing: _Weighing) -> Decision:
    """What the ear alone does not settle."""
    if refusal.typed(heard):
        return weighing.decision("accept")
    return weighing.decision("confirm", "there was no reading to correct")


def _accepted(weighing: _Weighing, doubt: str | None, protest: str | None) -> Decision:
    """What is sure enough by its probability, once the sound and the boiler have been asked."""
    if doubt:
        return weighing.decision(weighing.cheapest(("confirm", "again")), doubt)
    if protest and not weighing.danger:
        return weighing.decision("confirm", protest, "boiler")
    return weighing.decision("accept")


@dataclass(frozen=True, slots=True)
class _Weighing:
    """The ways to take the best meaning, weighed; a danger is at least asked about."""

    ranked: Sequence[Alternative]
    costs: Costs
    danger: bool

    def cheapest(self, among: Sequence[Kind] = ("accept", "confirm", "again", "ignore")) -> Kind:
        """The way that costs least."""
        ours = min(sum(one.probability for one in self.ranked), 1.0)
        best = self.ranked[0].probability
        kinds = [kind for kind in among if not self.danger or kind in ("accept", "confirm")]
        return min(kinds, key=lambda kind: expected_cost(kind, best, ours, self.costs))

    def decision(self, kind: Kind, reason: str | None = None, source: _Source = "ear") -> Decision:
        """The decision in full; without a reason it is in numbers."""
        best = self.ranked[0]
        rival = self.ranked[1].meaning if self.margin < refusal.LEAST_MARGIN else None
        reason = reason or f"{best.probability:.3f} against {self.costs.sure:.3f} wanted"
        taken = None if kind == "ignore" else best.meaning
        return Decision(kind, taken, reason, source, best.probability, rival)

    @property
    def margin(self) -> float:
        """Nats between the best meaning and the second."""
        if len(self.ranked) < 2:
            return math.inf
        best, second = (max(one.probability, _SMALLEST) for one in self.ranked[:2])
        return math.log(best / second)


def _ear_doubt(
    heard: Heard, weighing: _Weighing, row: str, gates: Sequence[refusal.Gate]
) -> str | None:
    """Why the sound, likely as it is, is not enough; the boiler may not overrule the ear."""
    by_ear = max(_merged(heard.alternatives), key=lambda one: one.probability)
    meaning = weighing.ranked[0].meaning
    if meaning != by_ear.meaning:
        return "the boiler and the ear disagree"
    lasting = row == "lasting" or bool(reports_in(meaning))
    return refusal.acoustic_doubt(heard, weighing.margin, gates, lasting)


def _protest(meaning: Meaning, objection: Objection, doubted: Report | None) -> str | None:
    """The boiler's objection, if it counts: not against a correction or a repetition."""
    if isinstance(meaning, Correction) or doubted in reports_in(meaning):
        return None
    return _first(objection, meaning)
