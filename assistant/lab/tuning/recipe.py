"""From sounds to an adapter: everybody held out in turn, then the last run on all.

Knows the order of the work; what it says goes to `tell`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from assistant.enrolment.augmentation import NoiseMaker
from assistant.enrolment.augmentation import noise as made_noise
from assistant.enrolment.examples import with_texts
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.torch_whisper import torch
from assistant.enrolment.training import TrainingSettings
from assistant.errors import InputWrongError
from assistant.lab.benches.number_takes import SOURCES
from assistant.lab.benches.recorded_noise import noise_recordings
from assistant.lab.tuning import card, evaluation
from assistant.lab.tuning.evaluation import NO_ADAPTER, EvaluationSet, SoundFolders, evaluate
from assistant.lab.tuning.number_examples import with_number_styles
from assistant.lab.tuning.runs import (
    TrainingRun,
    averaged_after,
    evaluation_after,
    steps_for,
    train_runs,
)
from assistant.lab.tuning.synthetic_voices import GROUPS
from assistant.lab.tuning.training_corpus import PEOPLE, TrainingCorpus, is_person
from assistant.lab.tuning.weight_averaging import averaged
from assistant.recogniser.adapter import read_adapter, write_adapter
from assistant.recogniser.snr import Noise

_Tell = Callable[[str], None]
_MASKING = SpecAugment(warp=0.1, bands=6, frames=8)
_STEPS = 620  # with fewer the NLL of a held-out speaker ends higher
# Side by side: they end in other places, and their mean is better (see `weight_averaging`).
FULL_RUNS = (
    TrainingSettings(steps=_STEPS),
    TrainingSettings(steps=_STEPS, masking=_MASKING),
    TrainingSettings(steps=_STEPS, rank=32, adapter_rate=7e-4, full_rate=1.4e-4, masking=_MASKING),
    TrainingSettings(steps=_STEPS, rank=32, adapter_rate=1e-3, full_rate=2e-4, masking=_MASKING),
)
SHARE, RANK = 0.75, 48
FEW_CLIPS, FEW_NUMBERS, MANY_NUMBERS = 120, 60, 1500
SMALL_RUNS = (
    TrainingSettings(steps=60, batch=16, rank=8, warm_up=8, evaluate_every=10),
)  # where there is no CUDA card
_SNRS_DB = (None, 20.0, 10.0, 5.0)
_OTHER_TALK_SNRS_DB = (None, 10.0)


@dataclass(frozen=True, slots=True)
class TrainingDevice:
    """Where the work is done."""

    device: str
    """ "cuda" or "cpu"."""
    processes: int
    """How many make examples and evaluate; 0: this one alone."""
    noise: Noise
    """The engine's, to evaluate in."""
    learnt_under: NoiseMaker = made_noise
    """What is mixed in while learning."""


@dataclass(frozen=True, slots=True)
class RecipeOptions:
    """What is wanted."""

    file: Path
    """The adapter that is made."""
    hold_out: tuple[str, ...]
    """Only the runs without these; none: everybody in turn, and the last run."""
    final: bool
    """Only the last run."""
    trials: int
    """Sounds in each evaluation set."""
    command: tuple[str, str]
    """What was asked for, and the date, for the card."""
    stage: int | None = None
    """How many courses of the last run are learnt before it stops, to go on when it is asked for
    again; None: all."""


def device_here() -> str:
    """Where to train: "cuda" where there is a card for it, else "cpu"."""
    return "cuda" if torch().cuda.is_available() else "cpu"


def runs_for(device: str, seed: int, steps: int | None) -> tuple[TrainingSettings, ...]:
    """The settings of the runs for a machine."""
    settings = FULL_RUNS if device == "cuda" else SMALL_RUNS
    return tuple(replace(each, seed=seed, steps=steps or each.steps) for each in settings)


def prepare_corpus(
    corpus: TrainingCorpus, machine: TrainingDevice, seed: int, tell: _Tell
) -> tuple[Teacher, TrainingCorpus]:
    """The teacher, and the corpus with pseudo-labels and number styles."""
    small = machine.device == "cpu"
    if small:
        corpus = corpus.some(FEW_CLIPS, seed)
    teacher = Teacher(machine.device, corpus.words(), corpus.every_prompt())
    people = sum(map(is_person, corpus.digits))
    voices = len(corpus.digits) - people
    tell(
        f"{len(corpus.clips)} clips, digits of {people} people and {voices} voices; "
        f"on {machine.device}"
    )
    numbers = FEW_NUMBERS if small else MANY_NUMBERS
    labelled = with_texts(corpus, teacher.best)
    return teacher, with_number_styles(labelled, teacher.best, seed, numbers)


def everybody(corpus: TrainingCorpus) -> tuple[str, ...]:
    """Who is held out in turn: each person of the digits, each source of numbers, each group of
    synthetic voices."""
    groups = {clip.group for clip in corpus.clips} - (PEOPLE - {*SOURCES})
    return (*corpus.people, *sorted(groups))


def leave_one_out(
    teacher: Teacher,
    corpus: TrainingCorpus,
    settings: Sequence[TrainingSettings],
    machine: TrainingDevice,
    tell: _Tell,
    who: Sequence[str] = (),
) -> list[TrainingRun]:
    """Runs without each of them (by default everybody), each to its end so that curves compare."""
    to_the_end = [replace(each, patience=each.steps) for each in settings]
    return [
        run
        for held_out in who or everybody(corpus)
        for run in train_runs(
            teacher,
            corpus,
            held_out,
            to_the_end,
            machine.noise,
            tell,
            machine.processes,
            machine.learnt_under,
        )
    ]


def sets_for(held_out: str, count: int) -> tuple[EvaluationSet, ...]:
    """What a run is evaluated on: numbers of a person or source, or sentences of a group of
    voices."""
    if held_out in SOURCES:
        return tuple(EvaluationSet(f"numbers {held_out}", snr, count) for snr in _SNRS_DB)
    if held_out not in GROUPS:
        return tuple(EvaluationSet(f"digits {held_out}", snr, count) for snr in _SNRS_DB)
    return (
        *(EvaluationSet(f"sentences {held_out}", snr, count) for snr in _SNRS_DB),
        *(EvaluationSet(f"talk {held_out}", snr, count) for snr in _OTHER_TALK_SNRS_DB),
    )


def _evaluate_folds(
    runs: Sequence[TrainingRun],
    folder: Path,
    sounds: SoundFolders,
    machine: TrainingDevice,
    count: int,
    tell: _Tell,
) -> None:
    """Each fold on whom it held out, at the step that the other folds chose, beside the plain
    recogniser; its adapter stays in the folder."""
    everyone = list(dict.fromkeys(run.held_out for run in runs))
    for held_out in everyone:
        fold = [run for run in runs if run.held_out == held_out]
        several = len(everyone) > 1
        step = steps_for(held_out, runs) if several else fold[0].evaluations[-1].step
        file = folder / f"without_{held_out}.npz"
        write_adapter(file, averaged_after(fold, step, SHARE, RANK))
        tell(f"without {held_out}: stopped after {step}, {SHARE:.0%} of the mean of {len(fold)}")
        sets = sets_for(held_out, count)
        results = evaluate(sets, (NO_ADAPTER, file), sounds, machine.processes)
        for line in evaluation.result_table(sets, results):
            tell(line)


def make(
    corpus: TrainingCorpus,
    sounds: SoundFolders,
    settings: Sequence[TrainingSettings],
    machine: TrainingDevice,
    wanted: RecipeOptions,
    tell: _Tell,
) -> None:
    """Everything, or the part that is wanted; the adapter and its card are written last."""
    unknown = set(wanted.hold_out) - set(everybody(corpus))
    if unknown:
        names = f"{', '.join(sorted(unknown))}: not among {', '.join(everybody(corpus))}"
        raise InputWrongError(f"nobody of that name to keep out ({names})")
    teacher, corpus = prepare_corpus(corpus, machine, settings[0].seed, tell)
    runs: list[TrainingRun] = []
    results: list[str] = []

    def tell_result(line: str) -> None:
        results.append(line)
        tell(line)

    if not wanted.final:
        runs = leave_one_out(teacher, corpus, settings, machine, tell, wanted.hold_out)
        folder = wanted.file.parent / f"{wanted.file.stem}_runs"
        _evaluate_folds(runs, folder, sounds, machine, wanted.trials, tell_result)
    for run in runs:
        tell(run.line())
    if wanted.hold_out:
        return
    stop = (steps_for("", runs) if runs else settings[0].steps) or settings[0].evaluate_every
    last_settings = [replace(each, stop=stop) for each in settings]
    pending = [at for at in range(len(settings)) if not _course_file(wanted.file, at).is_file()]
    now = pending[: wanted.stage]
    if now:
        last = train_runs(
            teacher, corpus, "", [last_settings[at] for at in now], machine.noise, tell,
            machine.processes, machine.learnt_under,
        )  # fmt: skip
        for at, run in zip(now, last, strict=True):
            write_adapter(_course_file(wanted.file, at), evaluation_after(run, stop).adapter)
    if len(pending) > len(now):
        tell(f"{len(pending) - len(now)} courses more: give the command again to go on")
        return
    courses = [read_adapter(_course_file(wanted.file, at)) for at in range(len(settings))]
    write_adapter(wanted.file, averaged(courses, SHARE, RANK))
    command, date = wanted.command
    recipe = card.Recipe(command, date, last_settings, SHARE, RANK)
    noises = (
        [one for one in noise_recordings(sounds.recordings) if not one.left_out]
        if (sounds.recordings)
        else []
    )
    made = card.Card(recipe, corpus, noises, [run.line() for run in runs], results)
    written = card.write(wanted.file, made)
    tell(f"{wanted.file} and {written}: delete or keep; --out models/speech/... puts it to use")


def _course_file(file: Path, number: int) -> Path:
    """Where what one course of the last run learnt is kept."""
    return file.parent / f"{file.stem}_runs" / f"course_{number + 1}.npz"


def average_files(files: Sequence[Path], out: Path) -> None:
    """The mean of adapters that were each trained whole, perhaps on other sounds."""
    write_adapter(out, averaged([read_adapter(file) for file in files], 1.0, RANK))
