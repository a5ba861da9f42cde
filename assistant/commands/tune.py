"""`footplate tune --mine`: the recogniser adapted to its owner's voice."""

from __future__ import annotations

import argparse

from assistant.commands import options
from assistant.commands.output import Out
from assistant.errors import InputWrongError
from assistant.messages import SPEECH_RATE_HZ

RECORD_S = 4.0


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `tune`."""
    parser.add_argument("--mine", action="store_true", help="learn its owner's voice")
    parser.add_argument("--forget", action="store_true", help="--mine: delete all of it")
    parser.add_argument("--microphone", metavar="NAME", help="--mine: which microphone")
    parser.add_argument("--seed", type=int, default=0)


def run(given: argparse.Namespace, out: Out) -> int:
    """Enrol the owner, or delete what an enrolment left; returns 0."""
    if not given.mine:
        raise InputWrongError(
            "--forget goes with --mine"
            if given.forget
            else "say --mine to learn its owner's voice; `footplate train` does the whole training"
        )
    return _forget(out) if given.forget else _enrol(given, out)


def _forget(out: Out) -> int:
    from assistant.enrolment.own_folder import VoiceFolder

    folder = VoiceFolder(options.own_voice_folder())
    existed = folder.forget()
    out.line(f"deleted {folder.path}" if existed else f"nothing to forget in {folder.path}")
    return 0


def _enrol(given: argparse.Namespace, out: Out) -> int:
    from assistant.enrolment.torch_whisper import torch

    torch()  # fails here rather than after twenty phrases were read aloud

    from assistant.devices.microphone import CardSource
    from assistant.devices.recorder import record
    from assistant.devices.sound import at_rate
    from assistant.devices.sound_card import SoundCard
    from assistant.enrolment import own_voice
    from assistant.enrolment.own_folder import VoiceFolder
    from assistant.simulator.noise import engine_noise

    source = CardSource(SoundCard(), given.microphone)
    folder = VoiceFolder(options.own_voice_folder())
    out.tell(f"the recordings stay in {folder.path}; `footplate tune --mine --forget` deletes them")
    own_voice.enrol(
        lambda: at_rate(record(source, RECORD_S), SPEECH_RATE_HZ).samples,
        _ask, out.line, folder, engine_noise, given.seed,
    )  # fmt: skip
    return 0


def _ask(prompt: str) -> str:
    try:
        return input(prompt)
    except EOFError:
        raise InputWrongError("--mine needs a keyboard") from None
