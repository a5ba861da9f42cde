"""`footplate bench talk --part anytime`: how what was not asked about is heard, in five tables.

Nothing is believed of a boiler but whether there are fire and steam; what its gauges cannot show
may be asked again, as in a session.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import MappingProxyType

from assistant.lab.benches import anytime_takes, anytime_tallies, question_changes, recognisers
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.anytime_situations import Situations
from assistant.lab.benches.anytime_takes import Take, share_of
from assistant.lab.benches.anytime_tallies import Judged
from assistant.lab.benches.decision_outcomes import DECISIONS, verdict_on
from assistant.lab.benches.decision_outcomes import LEGEND as DECISIONS_LEGEND
from assistant.lab.benches.hear_cost import Make
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.talk_trials import Utterances
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.understanding.context import Objection, no_objection

LEVELS: tuple[float | None, ...] = (10.0,)
MEMORY_SOUNDS = 7
_WHOLE: Make = partial(recognisers.recogniser, recognisers.WHOLE)
_NAMED_LEGEND = (
    f"{DECISIONS_LEGEND}. While yes or no is awaited the forms of the lists are not listened for, "
    "but for the few that are so at any time: there those asked for again or passed over count as "
    "right, and what is accepted in their place is wrong. The rows by fire and steam, and all, "
    "leave yes or no out. What belongs to another phase is asked about at best"
)
_PAIRS_LEGEND = (
    "how often; apart: phonemes between the two. right: accepted at once, and meant; asked: asked "
    "about, and meant; other, else: the other of the two, or a third meaning, was accepted (owed: "
    "no other); other?, else?: was asked about; again, ignored: asked for again, passed over"
)
_OTHERS_LEGEND = (
    "talk that was not for the assistant. taken: accepted as something; danger?: asked about as a "
    "danger; asked: asked about as something else; again: asked for again; ignored: passed over, "
    "which is right"
)
_YES_LEGEND = (
    "reports said while yes or no is awaited, how often. yes: yes was accepted (owed: never); "
    "yes?: was asked about; other: something else was accepted that was not meant, no among it; "
    "asked: asked about as another thing than yes, or as what was meant; again, ignored: asked for "
    "again, passed over; right: accepted, and meant"
)


@dataclass(frozen=True)
class AnytimeBench:
    """What is measured, and how."""

    situations: Situations
    pipeline: RecognitionPipeline
    utterances: Utterances
    recordings: Path | None = None
    share: int = 1
    levels: Sequence[float | None] = LEVELS
    """Speech over noise [dB]; None: a quiet room."""
    kinds: Sequence[str] = ("mix",)
    noise: Noise = engine_noise
    limits: Objection = no_objection
    """Why no gauge of the engine can show a report."""
    make: Make = _WHOLE
    """Loads a recogniser in another process, for the changes of question."""

    def judged(self, takes: Iterable[Take], where: Surroundings) -> list[Judged]:
        """Each take with what became of it."""
        trials = ((take, take.trial(where)) for take in takes)
        return [
            (take, verdict_on(self.pipeline, self.utterances, trial, limits=self.limits))
            for take, trial in trials
        ]

    def each_place(self, takes: Sequence[Take]) -> Iterator[tuple[str, list[Judged]]]:
        """A share of the takes beside each kind of noise at each level, with the place's name.

        Without noise they are heard once.
        """
        chosen = share_of(takes, self.share)
        for kind in self.kinds:
            for level in self.levels:
                if level is not None or kind == self.kinds[0]:
                    where = Surroundings(level, kind, self.noise)
                    yield _place(where), self.judged(chosen, where)

    def each_at_one_level(self, takes: Sequence[Take]) -> Iterator[Judged]:
        """A share of the takes, each at one of the levels and beside one kind of noise."""
        for take in share_of(takes, self.share):
            round_, level = divmod(take.turn, len(self.levels))
            kind = self.kinds[round_ % len(self.kinds)]
            where = Surroundings(self.levels[level], kind, self.noise)
            yield from self.judged([take], where)


def _place(where: Surroundings) -> str:
    """A level, and the kind of noise where it is not the usual mix."""
    usual = where.snr_db is None or where.kind == "mix"
    return level_name(where.snr_db) if usual else f"{level_name(where.snr_db)} {where.kind}"


def _named(bench: AnytimeBench) -> Iterator[str]:
    yield _NAMED_LEGEND
    yield DECISIONS.header()
    found: Counter[tuple[str, str, str]] = Counter()
    rules: Counter[str] = Counter()
    for place, judged in bench.each_place(anytime_takes.named_takes(bench.situations)):
        yield from anytime_tallies.named_rows(judged, place)
        found += anytime_tallies.mistakes(judged)
        rules += anytime_tallies.passed_over(judged)
    yield anytime_tallies.passed_over_line(rules)
    yield from anytime_tallies.mistake_lines(found)


def _nearest(bench: AnytimeBench) -> Iterator[str]:
    yield _PAIRS_LEGEND
    yield anytime_tallies.PAIRS_TABLE.header()
    judged = list(bench.each_at_one_level(anytime_takes.pair_takes(bench.situations)))
    yield from anytime_tallies.pair_rows(judged, dict(bench.situations.forms))
    yield from anytime_tallies.mistake_lines(anytime_tallies.mistakes(judged))


def _others(bench: AnytimeBench) -> Iterator[str]:
    yield _OTHERS_LEGEND
    yield anytime_tallies.OTHERS_TABLE.header()
    orders = bench_sounds.orders(bench.recordings)
    found: Counter[tuple[str, str, str]] = Counter()
    for place, judged in bench.each_place(anytime_takes.other_takes(bench.situations, orders)):
        yield from anytime_tallies.other_rows(judged, place)
        found += anytime_tallies.mistakes(judged)
    yield from anytime_tallies.mistake_lines(found)


def _yes(bench: AnytimeBench) -> Iterator[str]:
    yield _YES_LEGEND
    yield anytime_tallies.YES_TABLE.header()
    found: Counter[tuple[str, str, str]] = Counter()
    for place, judged in bench.each_place(anytime_takes.yes_takes(bench.situations)):
        yield anytime_tallies.yes_row(judged, place)
        found += anytime_tallies.mistakes(judged)
    yield from anytime_tallies.mistake_lines(found)


def _change(bench: AnytimeBench) -> Iterator[str]:
    questions = question_changes.practice_questions(bench.situations.config)
    takes = anytime_takes.named_takes(bench.situations)[:MEMORY_SOUNDS]
    sounds = [s for take in takes for s in bench.utterances(take.trial(Surroundings()).sound)]
    return question_changes.bench_lines(bench.make, questions, sounds)


_TABLES: Mapping[str, tuple[str, Callable[[AnytimeBench], Iterator[str]]]] = MappingProxyType(
    {
        "named": ("what answers a step of any list, in five situations", _named),
        "nearest": ("the forms that sound nearest and mean different things", _nearest),
        "others": ("other talk, in five situations", _others),
        "yes": ("reports while yes or no is awaited", _yes),
        "change": ("from one question to the next", _change),
    }
)
TABLES = tuple(_TABLES)


def bench_lines(bench: AnytimeBench, only: Sequence[str] = ()) -> Iterator[str]:
    """The tables of these names, or all of them, line by line."""
    for number, name in enumerate(only or TABLES):
        title, lines = _TABLES[name]
        if number:
            yield ""
        yield f"{name}: {title}"
        yield from lines(bench)
