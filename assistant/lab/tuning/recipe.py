"""From sounds to the file of differences: everybody kept out in turn, then the last run.

Knows the order of the work; what it says goes to `tell`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from assistant.enrolment.clip_corpus import NO_VOICES, Corpus, is_person
from assistant.enrolment.examples import with_texts
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.training import TrainingSettings
from assistant.errors import InputWrongError
from assistant.lab.tuning import card, evaluation
from assistant.lab.tuning.evaluation import (
    NO_ADAPTER,
    EvaluationSet,
    SoundFolders,
    TrialResult,
    evaluate,
)
from assistant.lab.tuning.runs import TrainingRun, averaged_after, steps_for, train_run
from assistant.lab.tuning.weight_averaging import averaged
from assistant.recogniser.adapter import read_adapter, write_adapter
from assistant.recogniser.snr import Noise

_Tell = Callable[[str], None]
_VEIL = SpecAugment(warp=0.1, bands=6, moments=8)
_STEPS = 620  # a course of 480 ends 6 % of the nats higher for one who was kept out
# Side by side: they end in other places, and the middle hears people best (see `blend`).
FULL_RUNS = (
    TrainingSettings(steps=_STEPS),
    TrainingSettings(steps=_STEPS, veil=_VEIL),
    TrainingSettings(steps=_STEPS, rank=32, adapter_rate=7e-4, full_rate=1.4e-4, veil=_VEIL),
    TrainingSettings(steps=_STEPS, rank=32, adapter_rate=1e-3, full_rate=2e-4, veil=_VEIL),
)
SHARE, RANK = 0.75, 48
FEW_CLIPS, FEW_NUMBERS, MANY_NUMBERS = 120, 60, 1500
SMALL = (
    TrainingSettings(steps=60, batch=16, rank=8, warm_up=8, look=10),
)  # where there is no card


@dataclass(frozen=True, slots=True)
class TrainingDevice:
    """Where the work is done: "cuda" or "cpu", and how many processes make examples and judge."""

    device: str
    processes: int
    noise: Noise


def prepared(
    corpus: Corpus, place: TrainingDevice, seed: int, tell: _Tell
) -> tuple[Teacher, Corpus]:
    """The teacher, and the corpus with what the untaught ear would write."""
    few = place.device == "cpu"
    if few:
        corpus = corpus.some(FEW_CLIPS, seed)
    teacher = Teacher(place.device, corpus.words(), corpus.every_prompt())
    people = sum(map(is_person, corpus.digits))
    voices = len(corpus.digits) - people
    tell(
        f"{len(corpus.clips)} clips, digits of {people} people and {voices} voices; "
        f"on {place.device}"
    )
    return teacher, with_texts(corpus, teacher.best, seed, FEW_NUMBERS if few else MANY_NUMBERS)


def everybody(corpus: Corpus) -> tuple[str, ...]:
    """Who is kept out in turn: each person of the digits, each kind of synthesiser."""
    kinds = {clip.group for clip in corpus.clips} - NO_VOICES
    return (*corpus.people, *sorted(kinds))


def leave_one_out(
    teacher: Teacher,
    corpus: Corpus,
    courses: Sequence[TrainingSettings],
    place: TrainingDevice,
    tell: _Tell,
    who: Sequence[str] = (),
) -> list[TrainingRun]:
    """Runs without each of them (all by default), each to its end so that curves compare."""
    whole = [replace(own, patience=own.steps) for own in courses]
    return [
        made
        for one in who or everybody(corpus)
        for made in train_run(teacher, corpus, one, whole, place.noise, tell, place.processes)
    ]


def _evaluated(
    runs: Sequence[TrainingRun],
    folder: Path,
    sounds: SoundFolders,
    place: TrainingDevice,
    count: int,
    tell: _Tell,
) -> dict[str, dict[tuple[Path, EvaluationSet], list[TrialResult]]]:
    """What was learnt without each, judged by whom it kept out, at the step the other runs chose,
    the plain ear beside it."""
    found = {}
    everyone = list(dict.fromkeys(one.kept_out for one in runs))
    for who in everyone:
        own = [one for one in runs if one.kept_out == who]
        step = steps_for(who, runs) if len(everyone) > 1 else own[0].looks[-1].step
        file = folder / f"without_{who}.npz"
        write_adapter(file, averaged_after(own, step, SHARE, RANK))
        tests = tests_for(who, count)
        tell(f"without {who}: stopped after {step}, {SHARE:.0%} of the mean of {len(own)}")
        found[who] = evaluate(tests, (NO_ADAPTER, file), sounds, place.processes)
        for line in evaluation.result_table(tests, found[who]):
            tell(line)
    return found


def tests_for(kept_out: str, count: int) -> tuple[EvaluationSet, ...]:
    """What a run is judged by: numbers of a person, or sentences of a kind of voice."""
    from assistant.lab.tuning.synthetic_voices import GROUPS

    if kept_out in GROUPS:
        return (
            *(
                EvaluationSet(f"sentences {kept_out}", snr, count)
                for snr in (None, 20.0, 10.0, 5.0)
            ),
            *(EvaluationSet(f"talk {kept_out}", snr, count) for snr in (None, 10.0)),
        )
    return tuple(EvaluationSet(f"digits {kept_out}", snr, count) for snr in (None, 20.0, 10.0, 5.0))


@dataclass(frozen=True, slots=True)
class RecipeOptions:
    """What is to come of it. keep_out: only these runs, none for everybody; final: only the last
    run. judged: sounds for each test. command: what was asked for, and the date, for the card."""

    file: Path
    keep_out: tuple[str, ...]
    final: bool
    judged: int
    command: tuple[str, str]


def runs_for(device: str, seed: int, steps: int | None) -> tuple[TrainingSettings, ...]:
    """The courses for a machine."""
    courses = FULL_RUNS if device == "cuda" else SMALL
    return tuple(replace(own, seed=seed, steps=steps or own.steps) for own in courses)


def make(
    corpus: Corpus,
    sounds: SoundFolders,
    courses: Sequence[TrainingSettings],
    place: TrainingDevice,
    wanted: RecipeOptions,
    tell: _Tell,
) -> None:
    """Everything, or the part that is wanted; the file and its card are written last."""
    strangers = set(wanted.keep_out) - set(everybody(corpus))
    if strangers:
        told = f"{', '.join(sorted(strangers))}: not among {', '.join(everybody(corpus))}"
        raise InputWrongError(f"nobody of that name to keep out ({told})")
    teacher, corpus = prepared(corpus, place, courses[0].seed, tell)
    runs: list[TrainingRun] = []
    figures: list[str] = []
    if not wanted.final:
        runs = leave_one_out(teacher, corpus, courses, place, tell, wanted.keep_out)
        folder = wanted.file.parent / f"{wanted.file.stem}_runs"
        _evaluated(
            runs, folder, sounds, place, wanted.judged, lambda line: _both(line, figures, tell)
        )
    for one in runs:
        tell(one.line())
    if wanted.keep_out:
        return
    stop = (steps_for("", runs) if runs else courses[0].steps) or courses[0].look
    last_courses = [replace(own, stop=stop) for own in courses]
    last = train_run(teacher, corpus, "", last_courses, place.noise, tell, place.processes)
    write_adapter(wanted.file, averaged_after(last, stop, SHARE, RANK))
    command, date = wanted.command
    lines = [one.line() for one in (*runs, *last)]
    recipe = card.Recipe(command, date, last_courses, SHARE, RANK)
    beside = card.write(wanted.file, card.Card(recipe, corpus, lines, figures))
    tell(f"{wanted.file} and {beside}: delete or keep; --out models/speech/... puts it to use")


def mean_of(files: Sequence[Path], out: Path) -> None:
    """One file of several that were each learnt whole, from other sounds perhaps: their mean."""
    write_adapter(out, averaged([read_adapter(file) for file in files], 1.0, RANK))


def _both(line: str, figures: list[str], tell: _Tell) -> None:
    figures.append(line)
    tell(line)
