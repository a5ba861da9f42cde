"""Clips on disk: people's recorded orders, and a gathered folder. Knows sounds and files.

A gathered folder (`clips.json`, `clips.ogg`) holds what takes long to make: the synthetic voices,
and the words of people's orders.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import LabelledClip, trimmed
from assistant.errors import InputWrongError
from assistant.grammar.numbers import Words
from assistant.lab.tuning.training_corpus import ORDER_GROUP
from assistant.messages import SPEECH_RATE_HZ

_LONGEST_S = 8.0


def order_clips(
    recordings: Path, words: Mapping[str, Words], prompt: str
) -> tuple[LabelledClip, ...]:
    """People's orders as clips, of a grammar of their own."""
    clips = []
    for name in sorted(words):
        sound = trimmed(read_samples(recordings / "commands" / name), around_s=0.35)
        if len(sound) < _LONGEST_S * SPEECH_RATE_HZ:
            clips.append(LabelledClip(sound, words[name], name, ORDER_GROUP, prompt))
    return tuple(clips)


def write_clips(
    folder: Path, clips: Sequence[LabelledClip], orders: Mapping[str, Sequence[str]]
) -> None:
    """Write a gathered folder. orders: recording's name to the words in it."""
    import soundfile

    folder.mkdir(parents=True, exist_ok=True)
    rows = [
        {"words": " ".join(c.words), "speaker": c.speaker, "group": c.group, "prompt": c.prompt,
         "ours": c.in_grammar, "samples": len(c.sound)}
        for c in clips
    ]  # fmt: skip
    with soundfile.SoundFile(folder / "clips.ogg", "w", SPEECH_RATE_HZ, 1, format="OGG") as file:
        for clip in clips:
            file.write(clip.sound)
    table = {"clips": rows, "orders": {name: " ".join(words) for name, words in orders.items()}}
    (folder / "clips.json").write_text(json.dumps(table, indent=0), encoding="utf-8")


def read_clips(folder: Path) -> tuple[tuple[LabelledClip, ...], dict[str, Words]]:
    """What `write_clips` wrote: the clips, and the words of people's orders."""
    import soundfile

    try:
        table = json.loads((folder / "clips.json").read_text(encoding="utf-8"))
        every, _ = soundfile.read(folder / "clips.ogg", dtype="float32")
    except (OSError, ValueError, RuntimeError) as error:
        raise InputWrongError(f"{folder}: not a gathered folder ({error})") from error
    clips, at = [], 0
    for row in table["clips"]:
        sound = every[at : at + row["samples"]]
        at += row["samples"]
        clips.append(
            LabelledClip(sound, tuple(row["words"].split()), row["speaker"], row["group"],
                         row["prompt"], row["ours"])
        )  # fmt: skip
    return tuple(clips), {name: tuple(text.split()) for name, text in table["orders"].items()}
