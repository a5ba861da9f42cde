"""What becomes of trials once they are recognised and decided: counted, and as rows of a table.

Knows recogniser and decision. Nothing is believed of a boiler unless it is passed in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from time import perf_counter

from assistant.lab.benches.table import Column, ResultTable, median_and_95
from assistant.lab.benches.talk_trials import DecisionTrial, Utterances
from assistant.messages import Meaning
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.understanding.context import Chance, Context, Objection, no_chance, no_objection
from assistant.understanding.decide import decide
from assistant.understanding.decision import Decision


@dataclass(frozen=True, slots=True)
class Verdict:
    """What became of one trial."""

    kind: str
    """One of `KINDS`."""
    decisions: tuple[Decision, ...]
    """Of each piece in which the detector found it."""
    seconds: float
    """From the end of speech to the decision, of a piece on average."""

    @property
    def understood(self) -> tuple[Meaning, ...]:
        """What was accepted where anything was, otherwise what was asked about."""
        decided = {d.kind for d in self.decisions}
        counts = "accept" if "accept" in decided else "confirm"
        return tuple(d.meaning for d in self.decisions if d.kind == counts and d.meaning)


class Outcomes:
    """How a number of trials went."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()  # of each of `KINDS`
        self.wrong: list[str] = []  # a line for each meaning taken wrongly
        self.seconds: list[float] = []  # from the end of speech to the decision

    def add(self, others: Outcomes) -> None:
        """Count others in."""
        self.counts += others.counts
        self.wrong += others.wrong
        self.seconds += others.seconds

    def figures(self) -> tuple[float, ...]:
        """How many, the share of each kind in per cent, and the times: a row of `DECISIONS`."""
        trials = max(1, sum(self.counts.values()))
        shares = (100 * self.counts[kind] / trials for kind in KINDS)
        return (trials, *shares, *median_and_95(self.seconds))


KINDS = ("right", "asked", "asked-", "again", "ignored", "wrong")
DECISIONS = ResultTable(
    26,
    Column("n", 6),
    *(Column(f"{kind}%", 9, ".1f") for kind in KINDS),
    *(Column(name, 8, ".2f") for name in ("med s", "95% s")),
)
LEGEND = (
    "right: accepted at once, and meant; asked / asked-: read back as a question, right "
    "or wrong; again, ignored: asked for again, passed over (right for talk that was not for the "
    "assistant); wrong: accepted at once, and not meant; seconds from the end of speech to the "
    "decision"
)


def decide_trials(
    pipeline: RecognitionPipeline,
    utterances: Utterances,
    trials: Iterable[DecisionTrial],
    chance: Chance = no_chance,
    objection: Objection = no_objection,
    limits: Objection = no_objection,
) -> Outcomes:
    """Recognise them all and decide. chance, objection: the boiler's prior on a reading and its
    protest; limits: why a reading is on no gauge; none by default."""
    outcomes = Outcomes()
    for trial in trials:
        verdict = verdict_on(pipeline, utterances, trial, chance, objection, limits)
        outcomes.seconds.append(verdict.seconds)
        outcomes.counts[verdict.kind] += 1
        if verdict.kind == "wrong":
            meant = trial.meant or "other talk"
            outcomes.wrong += [
                f"{meant} taken for {d.meaning}" for d in verdict.decisions if d.meaning
            ]
    return outcomes


def verdict_on(
    pipeline: RecognitionPipeline,
    utterances: Utterances,
    trial: DecisionTrial,
    chance: Chance = no_chance,
    objection: Objection = no_objection,
    limits: Objection = no_objection,
) -> Verdict:
    """Recognise one trial and decide. For the boiler's part see `decide_trials`."""
    sounds = utterances(trial.sound)
    begin = perf_counter()
    heard = [pipeline.heard(sound, trial.expected, 0.0) for sound in sounds]
    moment = Context(trial.expected, chance, objection, limits)
    decisions = tuple(decide(each, moment) for each in heard)
    seconds = (perf_counter() - begin) / max(1, len(sounds))
    return Verdict(kind_of(decisions, trial.meant), decisions, seconds)


def kind_of(decisions: Sequence[Decision], meant: Meaning | None) -> str:
    """Which of `KINDS` an utterance counts as; in several pieces it counts as the worst."""
    kinds = {_outcome(d.kind, d.meaning, meant) for d in decisions} or {"ignored"}
    return max(kinds, key=_PRECEDENCE.index)


# An utterance that falls into several pieces counts as the last of these.
_PRECEDENCE = ("ignored", "again", "asked-", "asked", "right", "wrong")


def _outcome(kind: str, meaning: Meaning | None, meant: Meaning | None) -> str:
    same = meant is not None and meaning == meant
    if kind == "accept":
        return "right" if same else "wrong"
    if kind == "confirm":
        return "asked" if same else "asked-"
    return "again" if kind == "again" else "ignored"
