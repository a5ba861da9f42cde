"""Options that several commands share: the engine, the recogniser, pressures, readings files."""

from __future__ import annotations

import argparse
import math
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.output import Out
from assistant.config import engine_file
from assistant.config.calibration_file import calibrated, calibration_path
from assistant.config.engine_file import EngineFile
from assistant.config.paths import engines_folder, home_folder
from assistant.errors import InputWrongError
from assistant.grammar import names
from assistant.messages import Learner, Report

if TYPE_CHECKING:
    from assistant.recogniser.base import Sound
    from assistant.recogniser.detector import Detector
    from assistant.recogniser.pipeline import RecognitionPipeline

PRACTICE = "practice"
LONGEST_NAME = 40  # letters of a learner's name
NO_LIVE_ENGINE = "which engine? A live run wants your own engine's file: --engine FILE"
NO_LIVE_INVENTED = "its figures are invented and belong to no engine: no live run begins on it"
INVENTED_HERE = "the figures of this engine are invented: only to practise and to try"


def add_engine(parser: argparse.ArgumentParser) -> None:
    """--engine."""
    parser.add_argument(
        "--engine", metavar="FILE", help="engine file, or the name of one that ships"
    )


def add_checklist(parser: argparse.ArgumentParser) -> None:
    """--checklist."""
    parser.add_argument(
        "--checklist", metavar="FILE", action="append", default=[],
        help="an owner's own list, laid over ours; may be given more than once",
    )  # fmt: skip


def add_people(parser: argparse.ArgumentParser) -> None:
    """--people."""
    parser.add_argument(
        "--people", default="", metavar="NAMES",
        help='names that are understood, besides those of the engine file: "Ann, Bob"',
    )  # fmt: skip


def add_teach(parser: argparse.ArgumentParser) -> None:
    """--teach."""
    parser.add_argument(
        "--teach", metavar="NAME", help="somebody learns: the reason is told before each check that"
        " must be made, once; what is told unasked three times is asked no more",
    )  # fmt: skip


def learner_of(given: argparse.Namespace, folder: Path, engine: EngineFile) -> Learner | None:
    """Who learns, with what is kept beside the journals; None: nobody.

    Raises InputWrongError for what is no name, and for a file that is not what was kept.
    """
    if given.teach is None:
        return None
    name = " ".join(given.teach.split())
    if not 0 < len(name) <= LONGEST_NAME or not name.replace(" ", "").replace("-", "").isalnum():
        raise InputWrongError(f"--teach: {given.teach!r} is no name")
    from assistant.journal.learner_file import read_learner

    return read_learner(folder, engine.engine.name, name)


def people_of(given: argparse.Namespace, engine: EngineFile | None = None) -> tuple[str, ...]:
    """The names asked for; InputWrongError with every one that cannot be used."""
    wanted = names.names_in(given.people)
    known = () if engine is None else engine.people
    new = tuple(name for name in wanted if name not in known)
    against = [f"--people: {name}: {why}" for name, why in names.objections((*known, *new))]
    if against:
        raise InputWrongError("\n".join(against))
    return new


def add_ear(parser: argparse.ArgumentParser) -> None:
    """--ear, --speech."""
    parser.add_argument("--speech", metavar="FOLDER", type=Path, help="folder of a vosk model")
    parser.add_argument(
        "--ear", choices=("tuned", "plain"), default="tuned",
        help="plain: the bundled ear without what was learnt for noise",
    )  # fmt: skip


def engine_of(given: argparse.Namespace, out: Out) -> EngineFile:
    """The engine asked for, by default the practice engine, with a line about it.

    Its glass is as measured while filling, where a calibration is beside the file.
    """
    if given.engine is None:
        out.tell("no --engine given: using the invented practice engine")
    if given.engine is not None and not given.engine.strip():
        raise InputWrongError(f"--engine: it is empty; {NO_LIVE_ENGINE}")
    engine = engine_file.find_engine(PRACTICE if given.engine is None else given.engine)
    calibration = calibration_path(engine.path)
    if not calibration.is_file():
        return engine
    out.tell(f"glass as measured while filling: {calibration}")
    return replace(engine, engine=calibrated(engine.engine, engine.path))


def live_engine_of(given: argparse.Namespace, out: Out) -> EngineFile:
    """The engine of a live run: one must be named, and its figures must not be invented.

    Raises InputWrongError, with how to get a file, otherwise.
    """
    if given.engine is None:
        raise InputWrongError(f"{NO_LIVE_ENGINE}; {_how_to_get_a_file()}")
    engine = engine_of(given, out)
    refuse_invented(engine)
    return engine


def refuse_invented(engine: EngineFile) -> None:
    """Raise InputWrongError for an engine file with invented figures, with how to get another."""
    if engine.invented:
        raise InputWrongError(f"{engine.path}: {NO_LIVE_INVENTED}; {_how_to_get_a_file()}")


def _how_to_get_a_file() -> str:
    return (
        f"copy {engines_folder() / f'{PRACTICE}.yaml'}, put in the figures of your engine and take"
        " 'invented' out, then footplate check FILE; to practise: footplate rehearse"
    )


def decibel(text: str) -> float:
    """A level or a ratio [dB] for argparse, from -60 to 100."""
    return number_for_argparse(text, -60.0, 100.0)


def pounds(text: str) -> float:
    """A pressure [psi] for argparse, from 0 to 600."""
    return number_for_argparse(text, 0.0, 600.0)


def number_for_argparse(text: str, least: float, most: float) -> float:
    """A number between two limits, for argparse."""
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not least <= number <= most:  # neither is it for a number that is none
        raise argparse.ArgumentTypeError(f"{text!r} is no number from {least:g} to {most:g}")
    return number


def pressure_pa(text: str) -> float:
    """A pressure as text ("120 psi"), gauge [Pa]."""
    from assistant.config.units import gauge_pressure_pa

    return gauge_pressure_pa(text)


def readings_of_file(path: Path, engine: EngineFile) -> list[tuple[float, Report]]:
    """The rows of a readings file or a journal, checked against the engine."""
    from assistant.journal.earlier_runs import past_readings

    return list(past_readings(path, engine.engine).rows)


def past_runs(paths: list[Path], engine: EngineFile) -> tuple[Any, ...]:
    """Earlier steam-ups to learn from, in readings files and journals of the same engine."""
    from assistant.belief.learning import past_run

    runs = []
    for path in paths:
        try:
            runs.append(past_run(readings_of_file(path, engine)))
        except ValueError as why:
            raise InputWrongError(f"{path}: {why}") from None
    return tuple(runs)


def sound_of(path: Path) -> Sound:
    """A sound file as one channel at SPEECH_RATE_HZ."""
    from assistant.devices.sound import read_samples

    return read_samples(path)


def hearer(given: argparse.Namespace, out: Out, wake: bool = False) -> RecognitionPipeline:
    """The recogniser asked for, or the best one here, with a line about which it is.

    wake: what is said to the assistant begins with the wake phrase.
    """
    from assistant.grammar.wake_phrase import Wake
    from assistant.recogniser.adapter import OWN_FILE
    from assistant.recogniser.choose import choose_recogniser
    from assistant.recogniser.pipeline import RecognitionPipeline

    chosen = choose_recogniser(
        given.speech, plain=given.ear == "plain", own=own_voice_folder() / OWN_FILE
    )
    out.tell(chosen.line)
    return RecognitionPipeline(chosen.recogniser, chosen.dictation, Wake() if wake else None)


def own_voice_folder() -> Path:
    """The folder of the owner's recordings and the adapter trained on them."""
    return home_folder() / "voice"


def utterances(sound: Sound) -> list[Sound]:
    """The stretches of speech that a fresh detector finds in a sound."""
    import numpy as np

    from assistant.recogniser.detector import STEP

    detector = _detector()
    detector.reset()
    padded = np.pad(sound, (0, -len(sound) % STEP)).astype(np.float32)
    sounds = [d.sound for block in padded.reshape(-1, STEP) for d in detector.feed(block)]
    return [speech for speech in sounds if speech is not None]


@lru_cache(maxsize=1)
def _detector() -> Detector:
    from assistant.recogniser.detector import Detector

    return Detector()
