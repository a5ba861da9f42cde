"""Evaluation of adapters on what they were not trained on: right, sure, wrong; calibration.

Knows recordings, a gathered folder and adapters; the engine's noise is handed in. The plain
recogniser hears the same sounds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from itertools import islice, pairwise
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import LabelledClip
from assistant.grammar.phrases import PROMPTS, grammar
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.drinks_grammar import Orders
from assistant.lab.benches.hear_numbers import in_place
from assistant.lab.benches.hear_people import Trial, order_names, order_trials, reading_trials
from assistant.lab.benches.number_takes import pressure_takes
from assistant.lab.tuning.gathered_clips import read_clips
from assistant.messages import Answer, Expected, Meaning
from assistant.recogniser.base import Grammar
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model
from assistant.recogniser.snr import Noise, in_noise

_SURE = 0.99
NO_ADAPTER = Path()  # stands for the plain recogniser
NOTHING_MEANT = Answer("no")  # no sentence of the grammar was said: no answer is right


@dataclass(frozen=True, slots=True)
class SoundFolders:
    """Where the sounds to evaluate on are."""

    recordings: Path | None
    gathered: Path | None
    """A gathered folder."""
    noise: Noise


@dataclass(frozen=True, slots=True)
class EvaluationSet:
    """Some sounds to hear."""

    name: str
    """ "digits PERSON", "numbers SOURCE", "orders kitchen", "orders engine",
    "sentences GROUP", "talk GROUP" (not of the grammar) or "noise"."""
    snr_db: float | None
    """None: as recorded."""
    count: int
    seed: int = 500


@dataclass(frozen=True, slots=True)
class TrialResult:
    """What became of one sound."""

    right: bool
    probability: float
    log_ratio: float
    average: float

    def sure(self, probability: float = _SURE) -> bool:
        """Whether it would be accepted at once, without the help of the boiler's belief."""
        return self.probability > probability and self.log_ratio >= -1 and self.average >= -1


def evaluate(
    sets: Sequence[EvaluationSet], adapters: Sequence[Path], sounds: SoundFolders, processes: int
) -> dict[tuple[Path, EvaluationSet], list[TrialResult]]:
    """Every adapter (or NO_ADAPTER) on every set, spread over processes."""
    parts = max(1, processes)
    jobs = [
        (adapter, each, part, parts, sounds)
        for adapter in adapters
        for each in sets
        for part in range(parts)
    ]
    results: dict[tuple[Path, EvaluationSet], list[TrialResult]] = {}
    if processes < 2:
        for job in jobs:
            results.setdefault((job[0], job[1]), []).extend(_heard(job))
        return results
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        for job, heard in zip(jobs, pool.map(_heard, jobs), strict=True):
            results.setdefault((job[0], job[1]), []).extend(heard)
    return results


_Job = tuple[Path, EvaluationSet, int, int, SoundFolders]


def _heard(job: _Job) -> list[TrialResult]:
    adapter, evaluation_set, part, parts, sounds = job
    recogniser = _recogniser(adapter)
    results = []
    for live, trial in islice(_trials(evaluation_set, sounds), part, None, parts):
        n_best = recogniser.hear(trial.sound, live)
        best = n_best.alternatives[0] if n_best.alternatives else None
        meant_something = trial.meant is not NOTHING_MEANT
        results.append(
            TrialResult(
                best is not None and best.meaning == trial.meant and meant_something,
                best.probability if best else 0.0,
                -99.0 if n_best.log_ratio is None else n_best.log_ratio,
                -99.0 if n_best.average is None else n_best.average,
            )
        )
    return results


@cache
def _recogniser(adapter: Path) -> ConstrainedWhisper:
    return ConstrainedWhisper(load_model(adapters=None if adapter == NO_ADAPTER else adapter))


@cache
def _orders() -> Orders:
    return Orders()


@cache
def _gathered(folder: Path) -> tuple[LabelledClip, ...]:
    return read_clips(folder)[0]


def _trials(evaluation_set: EvaluationSet, sounds: SoundFolders) -> Iterator[tuple[Grammar, Trial]]:
    kind, _, which = evaluation_set.name.partition(" ")
    if kind == "digits" and sounds.recordings is not None:
        pressures = grammar(Expected("pressure"))
        for trial in reading_trials(
            sounds.recordings,
            [which],
            sounds.noise,
            evaluation_set.snr_db,
            evaluation_set.count,
            evaluation_set.seed,
        ):
            yield pressures, trial
    elif kind == "numbers" and sounds.recordings is not None:
        yield from _number_trials(evaluation_set, which, sounds)
    elif kind == "orders" and sounds.recordings is not None:
        for trial in _order_trials(evaluation_set, which, sounds.recordings, sounds.noise):
            yield _orders(), trial
    elif kind in ("sentences", "talk") and sounds.gathered is not None:
        yield from _clip_trials(evaluation_set, which, kind == "sentences", sounds)
    elif kind == "noise":
        for number in range(evaluation_set.count):
            rng = np.random.default_rng([evaluation_set.seed, number])
            yield grammar(Expected("any")), Trial(sounds.noise("mix", 2.0, rng), NOTHING_MEANT)


def _number_trials(
    evaluation_set: EvaluationSet, source: str, sounds: SoundFolders
) -> Iterator[tuple[Grammar, Trial]]:
    """Pressures that people of one source said, who are not learnt from."""
    assert sounds.recordings is not None
    pressures = grammar(Expected("pressure"))
    takes = [
        (take, meant)
        for take, meant in pressure_takes(sounds.recordings, "judge")
        if take.source == source
    ]
    for at, (take, meant) in enumerate(takes[: evaluation_set.count]):
        sound = in_place(
            read_samples(take.file), sounds.noise, "mix", evaluation_set.snr_db,
            [evaluation_set.seed, at],
        )  # fmt: skip
        yield pressures, Trial(sound, meant)


def _order_trials(
    evaluation_set: EvaluationSet, which: str, recordings: Path, noise: Noise
) -> Iterable[Trial]:
    names = order_names(recordings)[: evaluation_set.count]
    if which == "kitchen":
        return order_trials(recordings, names, evaluation_set.snr_db, evaluation_set.seed)
    clean = order_trials(recordings, names, None, evaluation_set.seed)
    return (
        Trial(
            in_noise(trial.sound, noise, evaluation_set.snr_db, [evaluation_set.seed, at]),
            trial.meant,
        )
        for at, trial in enumerate(clean)
    )


def _clip_trials(
    evaluation_set: EvaluationSet, group: str, in_grammar: bool, sounds: SoundFolders
) -> Iterator[tuple[Grammar, Trial]]:
    assert sounds.gathered is not None
    kinds = {prompt: kind for kind, prompt in PROMPTS.items()}
    clips = [
        c for c in _gathered(sounds.gathered)
        if c.in_grammar == in_grammar and group in ("every", c.group) and c.prompt in kinds
    ]  # fmt: skip
    chosen = np.random.default_rng(evaluation_set.seed).permutation(len(clips))[
        : evaluation_set.count
    ]
    for at in sorted(int(n) for n in chosen):
        clip = clips[at]
        live = grammar(Expected(kinds[clip.prompt]))
        meant: Meaning | None = live.meaning(clip.words)
        if (meant is None) == in_grammar:
            continue  # the grammar has changed since the folder was gathered
        rng = np.random.default_rng([evaluation_set.seed, at])
        around = np.pad(clip.sound, 4800)
        tone = around + bench_sounds.ROOM_TONE * rng.standard_normal(len(around))
        sound = in_noise(
            tone.astype(np.float32), sounds.noise, evaluation_set.snr_db, [evaluation_set.seed, at]
        )
        yield live, Trial(sound, NOTHING_MEANT if meant is None else meant)


def result_row(name: str, results: Sequence[TrialResult]) -> str:
    """Per cent right, sure and right, sure and wrong."""
    share = 100 / max(1, len(results))
    right = sum(r.right for r in results)
    sure_right = sum(r.right and r.sure() for r in results)
    sure_wrong = sum(r.sure() and not r.right for r in results)
    return (
        f"{name:<44}{len(results):>5}{share * right:>8.1f}{share * sure_right:>8.1f}"
        f"{share * sure_wrong:>8.1f}"
    )


def result_table(
    sets: Sequence[EvaluationSet],
    results: Mapping[tuple[Path, EvaluationSet], Sequence[TrialResult]],
) -> Iterator[str]:
    """Set by set, every adapter beside the others; then the calibration of each."""
    yield _HEADER
    adapters = list(dict.fromkeys(adapter for adapter, _ in results))
    for each in sets:
        for adapter in adapters:
            snr = "clean" if each.snr_db is None else f"{each.snr_db:.0f} dB"
            yield result_row(f"{each.name}, {snr}, {_name(adapter)}", results[adapter, each])
    for adapter in adapters:
        yield f"calibration, {_name(adapter)}"
        meant = [each for each in sets if not each.name.startswith(("talk", "noise"))]
        yield from calibration([r for each in meant for r in results[adapter, each]])


def _name(adapter: Path) -> str:
    return "plain" if adapter == NO_ADAPTER else adapter.stem


_HEADER = f"{'':<44}{'n':>5}{'right%':>8}{'sure%':>8}{'wrong%':>8}"
_BINS = (0.0, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999, 1.01)


def calibration(results: Sequence[TrialResult]) -> list[str]:
    """Reliability of the posterior: what it says beside what is true, bin by bin."""
    lines = []
    for low, high in pairwise(_BINS):
        binned = [r for r in results if low <= r.probability < high]
        if binned:
            says = 100 * np.mean([r.probability for r in binned])
            true = 100 * np.mean([r.right for r in binned])
            lines.append(
                f"  said {low:.3f} to {min(high, 1):.3f}: {len(binned):>5} times, "
                f"says {says:5.1f} %, is right {true:5.1f} %"
            )
    return lines
