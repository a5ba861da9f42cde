"""`footplate train`: the whole training of the adapter that ships with the program."""

from __future__ import annotations

import argparse
import os
import time
from pathlib import Path

from assistant.commands.output import Out
from assistant.errors import InputWrongError
from assistant.lab import outside

_TRIALS = {"cuda": 80, "cpu": 10}  # sounds evaluated for each person and level


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `train`."""
    parser.add_argument(
        "--recordings", type=Path, metavar="FOLDER",
        default=outside.speech_folder(),
        help="recordings of people: numbers/, commands/, and noise/",
    )  # fmt: skip
    parser.add_argument(
        "--gathered", type=Path, metavar="FOLDER", default=Path("gathered"),
        help="synthetic voices and orders in words; made there if it is not there",
    )  # fmt: skip
    parser.add_argument(
        "--numbers", type=Path, metavar="FOLDER", action="append", default=[],
        help="number words read by one more person: 0.wav to 20.wav, 30.wav to 90.wav, "
        "hundred.wav, or named by the words; may be given again",
    )  # fmt: skip
    parser.add_argument("--out", type=Path, metavar="FILE", default=Path("tuned_encoder.npz"))
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--steps", type=int, help="of the whole course")
    parser.add_argument(
        "--keep-out", metavar="NAME", action="append", default=[],
        help="only a run without this person or kind of voice, and how good it is there",
    )  # fmt: skip
    parser.add_argument(
        "--final", action="store_true", help="only the last run, without keeping anybody out"
    )
    parser.add_argument(
        "--courses", type=int, metavar="N",
        help="of the last run only so many courses now; the same command again goes on from there",
    )  # fmt: skip
    parser.add_argument(
        "--calibrate", type=Path, metavar="FILE",
        help="learn nothing: fit how sure an adapter's ear is, by people whom nothing is judged "
        "by, and write it into the file",
    )  # fmt: skip
    parser.add_argument(
        "--mean", type=Path, metavar="FILE", action="append", default=[],
        help="learn nothing: only make one of several files (given twice at least), their mean",
    )  # fmt: skip
    parser.add_argument("--gather", action="store_true", help="only make the gathered folder")


def run(given: argparse.Namespace, out: Out) -> int:
    """Gather, train, evaluate and write; returns 0."""
    if given.mean:
        return _mean(given, out)
    if given.calibrate:
        return _calibrate(given, out)
    if not given.gather:
        from assistant.enrolment.torch_whisper import torch

        torch()  # fails here rather than after minutes of gathering
    if given.gather or not (given.gathered / "clips.json").is_file():
        _gather(given, out)
    if not given.gather:
        _recipe(given, out)
    return 0


def _mean(given: argparse.Namespace, out: Out) -> int:
    from assistant.lab.tuning.recipe import average_files

    if len(given.mean) < 2:
        raise InputWrongError("--mean wants two files at least: give it again")
    average_files(given.mean, given.out)
    out.line(f"{given.out}: the mean of {len(given.mean)} files")
    return 0


def _calibrate(given: argparse.Namespace, out: Out) -> int:
    from assistant.lab.tuning.calibration import calibrated
    from assistant.simulator.noise import engine_noise

    jobs = len(os.sched_getaffinity(0))
    for line in calibrated(given.recordings, engine_noise, given.calibrate, jobs):
        out.line(line)
    return 0


def _gather(given: argparse.Namespace, out: Out) -> None:
    from assistant.lab.tuning.gather import gather
    from assistant.simulator.voices import SynthesiserVoice, speak

    recordings = given.recordings if given.recordings.is_dir() else None
    if recordings is None:
        out.tell(f"no recordings of people at {given.recordings}: synthetic voices only")
    gather(
        given.gathered, recordings,
        lambda program, voice, text, pace: speak(SynthesiserVoice(program, voice), text, pace),
        given.seed, out.tell, numbers=given.numbers,
    )  # fmt: skip


def _recipe(given: argparse.Namespace, out: Out) -> None:
    from assistant.lab.benches.recorded_noise import noises_to_learn_under
    from assistant.lab.tuning import recipe
    from assistant.lab.tuning.evaluation import SoundFolders
    from assistant.lab.tuning.gather import corpus
    from assistant.lab.tuning.noise_mixture import NoiseMixture
    from assistant.simulator.noise import engine_noise

    device = recipe.device_here()
    if device == "cpu":
        out.tell("no CUDA card here: a small course, which shows that it learns and no more")
    recordings = given.recordings if given.recordings.is_dir() else None
    recorded = noises_to_learn_under(recordings) if recordings else ()
    machine = recipe.TrainingDevice(device, _processes(), engine_noise, NoiseMixture(recorded))
    recipe.make(
        corpus(given.gathered, recordings),
        SoundFolders(recordings, given.gathered, engine_noise),
        recipe.runs_for(device, given.seed, given.steps),
        machine,
        recipe.RecipeOptions(
            given.out,
            tuple(given.keep_out),
            given.final,
            _TRIALS[device],
            _command(given),
            given.courses,
        ),
        out.line,
    )


def _processes() -> int:
    cores = len(os.sched_getaffinity(0))
    return cores - 1 if cores > 2 else 0


def _command(given: argparse.Namespace) -> tuple[str, str]:
    steps = f" --steps {given.steps}" if given.steps else ""
    seed = f" --seed {given.seed}"
    command = (
        f"footplate train --gathered FOLDER --recordings FOLDER{seed}{steps} --out {given.out.name}"
    )
    return command, time.strftime("%Y-%m-%d")
