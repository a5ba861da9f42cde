"""How good an ear is on what it never learnt from: right, sure, wrong; posterior against truth;
what it lets pass that is not ours. The plain ear goes through the same sounds beside it.

Knows recordings, a gathered folder and files of differences; the engine's noise is handed in.
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

from assistant.enrolment.clip_corpus import LabelledClip, read_clips
from assistant.grammar.phrases import PROMPTS, grammar
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.drinks_grammar import Orders
from assistant.lab.benches.hear_people import Trial, order_names, order_trials, reading_trials
from assistant.messages import SPEECH_RATE_HZ, Answer, Expected, Meaning
from assistant.recogniser.base import Grammar, Sound
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model
from assistant.recogniser.snr import Noise, mix

_SURE = 0.99
NO_ADAPTER = Path()  # no file of differences
NOBODY = Answer("no")  # stands for "nothing of ours was said": never right, see `Heard.right`


@dataclass(frozen=True, slots=True)
class SoundFolders:
    """Where the sounds to judge by are."""

    recordings: Path | None
    gathered: Path | None
    noise: Noise


@dataclass(frozen=True, slots=True)
class EvaluationSet:
    """Some sounds to hear: `what` is "digits PERSON", "orders kitchen", "orders engine",
    "sentences GROUP", "talk GROUP" (not ours) or "noise"; snr_db None: as recorded."""

    what: str
    snr_db: float | None
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
        """Taken at once, without any help from the boiler."""
        return self.probability > probability and self.log_ratio >= -1 and self.average >= -1


def evaluate(
    tests: Sequence[EvaluationSet], ears: Sequence[Path], sounds: SoundFolders, processes: int
) -> dict[tuple[Path, EvaluationSet], list[TrialResult]]:
    """Every ear (a file of differences, or PLAIN) through every test, spread over processes."""
    parts = max(1, processes)
    jobs = [
        (ear, test, part, parts, sounds) for ear in ears for test in tests for part in range(parts)
    ]
    found: dict[tuple[Path, EvaluationSet], list[TrialResult]] = {}
    if processes < 2:
        for job in jobs:
            found.setdefault((job[0], job[1]), []).extend(_heard(job))
        return found
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        for job, outcomes in zip(jobs, pool.map(_heard, jobs), strict=True):
            found.setdefault((job[0], job[1]), []).extend(outcomes)
    return found


_Job = tuple[Path, EvaluationSet, int, int, SoundFolders]


def _heard(job: _Job) -> list[TrialResult]:
    ear_file, test, part, parts, sounds = job
    ear = _ear(ear_file)
    outcomes = []
    for held_to, trial in islice(_trials(test, sounds), part, None, parts):
        opinion = ear.hear(trial.sound, held_to)
        best = opinion.alternatives[0] if opinion.alternatives else None
        outcomes.append(
            TrialResult(
                best is not None and best.meaning == trial.meant and trial.meant is not NOBODY,
                best.probability if best else 0.0,
                -99.0 if opinion.log_ratio is None else opinion.log_ratio,
                -99.0 if opinion.average is None else opinion.average,
            )
        )
    return outcomes


@cache
def _ear(file: Path) -> ConstrainedWhisper:
    return ConstrainedWhisper(load_model(changes=None if file == NO_ADAPTER else file))


@cache
def _orders() -> Orders:
    return Orders()


@cache
def _gathered(folder: Path) -> tuple[LabelledClip, ...]:
    return read_clips(folder)[0]


def _trials(test: EvaluationSet, sounds: SoundFolders) -> Iterator[tuple[Grammar, Trial]]:
    what, _, which = test.what.partition(" ")
    if what == "digits" and sounds.recordings is not None:
        pressures = grammar(Expected("pressure"))
        for trial in reading_trials(
            sounds.recordings, [which], sounds.noise, test.snr_db, test.count, test.seed
        ):
            yield pressures, trial
    elif what == "orders" and sounds.recordings is not None:
        for trial in _order_trials(test, which, sounds.recordings, sounds.noise):
            yield _orders(), trial
    elif what in ("sentences", "talk") and sounds.gathered is not None:
        yield from _clip_trials(test, which, what == "sentences", sounds)
    elif what == "noise":
        for number in range(test.count):
            rng = np.random.default_rng([test.seed, number])
            yield grammar(Expected("any")), Trial(sounds.noise("mix", 2.0, rng), NOBODY)


def _order_trials(
    test: EvaluationSet, which: str, recordings: Path, noise: Noise
) -> Iterable[Trial]:
    names = order_names(recordings)[: test.count]
    if which == "kitchen":
        return order_trials(recordings, names, test.snr_db, test.seed)
    clean = order_trials(recordings, names, None, test.seed)
    return (
        Trial(_in_noise(trial.sound, noise, test.snr_db, [test.seed, at]), trial.meant)
        for at, trial in enumerate(clean)
    )


def _in_noise(sound: Sound, noise: Noise, snr_db: float | None, seed: list[int]) -> Sound:
    if snr_db is None:
        return sound
    under = noise("mix", len(sound) / SPEECH_RATE_HZ + 0.1, np.random.default_rng(seed))
    return mix(sound, under, snr_db)


def _clip_trials(
    test: EvaluationSet, group: str, is_ours: bool, sounds: SoundFolders
) -> Iterator[tuple[Grammar, Trial]]:
    assert sounds.gathered is not None
    kinds = {prompt: kind for kind, prompt in PROMPTS.items()}
    clips = [
        c for c in _gathered(sounds.gathered)
        if c.ours == is_ours and group in ("every", c.group) and c.prompt in kinds
    ]  # fmt: skip
    chosen = np.random.default_rng(test.seed).permutation(len(clips))[: test.count]
    for at in sorted(int(n) for n in chosen):
        clip = clips[at]
        held_to = grammar(Expected(kinds[clip.prompt]))
        meant: Meaning | None = held_to.meaning(clip.words)
        if (meant is None) == is_ours:
            continue  # the grammar has changed since this was gathered
        rng = np.random.default_rng([test.seed, at])
        around = np.pad(clip.sound, 4800)
        tone = around + bench_sounds.ROOM_TONE * rng.standard_normal(len(around))
        sound = _in_noise(tone.astype(np.float32), sounds.noise, test.snr_db, [test.seed, at])
        yield held_to, Trial(sound, NOBODY if meant is None else meant)


def result_row(name: str, outcomes: Sequence[TrialResult]) -> str:
    """Per cent right, sure and right, sure and wrong."""
    share = 100 / max(1, len(outcomes))
    right = sum(o.right for o in outcomes)
    sure_right = sum(o.right and o.sure() for o in outcomes)
    sure_wrong = sum(o.sure() and not o.right for o in outcomes)
    return (
        f"{name:<44}{len(outcomes):>5}{share * right:>8.1f}{share * sure_right:>8.1f}"
        f"{share * sure_wrong:>8.1f}"
    )


def result_table(
    tests: Sequence[EvaluationSet],
    found: Mapping[tuple[Path, EvaluationSet], Sequence[TrialResult]],
) -> Iterator[str]:
    """Check by test, every ear beside the others; then the calibration of each ear."""
    yield _HEADER
    ears = list(dict.fromkeys(ear for ear, _ in found))
    for test in tests:
        for ear in ears:
            snr = "clean" if test.snr_db is None else f"{test.snr_db:.0f} dB"
            yield result_row(f"{test.what}, {snr}, {_named(ear)}", found[ear, test])
    for ear in ears:
        yield f"calibration, {_named(ear)}"
        wanted = [test for test in tests if not test.what.startswith(("talk", "noise"))]
        yield from calibration([o for test in wanted for o in found[ear, test]])


def _named(ear: Path) -> str:
    return "plain" if ear == NO_ADAPTER else ear.stem


_HEADER = f"{'':<44}{'n':>5}{'right%':>8}{'sure%':>8}{'wrong%':>8}"
_STEPS = (0.0, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999, 1.01)


def calibration(outcomes: Sequence[TrialResult]) -> list[str]:
    """What the posterior says against what is true, bin by bin."""
    lines = []
    for low, high in pairwise(_STEPS):
        own = [o for o in outcomes if low <= o.probability < high]
        if own:
            says = 100 * np.mean([o.probability for o in own])
            true = 100 * np.mean([o.right for o in own])
            lines.append(
                f"  said {low:.3f} to {min(high, 1):.3f}: {len(own):>5} times, "
                f"says {says:5.1f} %, is right {true:5.1f} %"
            )
    return lines


def passed_at(
    ours: Sequence[TrialResult], others: Sequence[TrialResult], share: float
) -> tuple[float, float]:
    """Share of `others` that pass a gate set so that `share` of the right ones of `ours` pass it,
    and the least log ratio that gate asks for. The gate: probability over 0.95, average over -1.5,
    and a log ratio."""

    def fit(outcome: TrialResult) -> bool:
        return outcome.probability > 0.95 and outcome.average >= -1.5

    right = [o for o in ours if o.right]
    ratios = sorted((o.log_ratio for o in right if fit(o)), reverse=True)
    wanted = int(np.ceil(share * len(right)))
    least = ratios[min(wanted, len(ratios)) - 1] if ratios and wanted else 0.0
    passing = sum(fit(o) and o.log_ratio >= least for o in others)
    return passing / max(1, len(others)), least
