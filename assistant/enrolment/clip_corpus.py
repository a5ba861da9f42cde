"""What there is to learn from: clips of known words, by who said them. Knows sounds and a folder.

A gathered folder (`clips.json`, `clips.ogg`) holds what takes long to make: the synthetic voices
and what people's orders were written as. People's own recordings are read where they lie.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.errors import InputWrongError
from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

Digits = Mapping[int, Sequence[Sound]]
_LONGEST_S = 8.0
PEAK = 0.5
READER = "reader"  # a person who read number words one by one, more of a throat than of a test
NO_VOICES = frozenset({"orders", "owner", READER})  # groups that are people
DIGIT = "digit"  # in place of a prompt: a single digit, to be joined to numbers


@dataclass(frozen=True, slots=True, eq=False)
class LabelledClip:
    """One utterance. speaker: a person's or a voice's name. group: "orders", "owner" or the kind of
    synthesiser. prompt: the short text an ear is given with it. ours: whether it is a sentence of
    the grammar; what is not ours is learnt too, so that it goes on fitting other words better.
    texts: what to write with the prompt and without, once that was found out.
    """

    sound: Sound
    words: Words
    speaker: str
    group: str
    prompt: str
    ours: bool = True
    texts: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True, eq=False)
class Corpus:
    """clips: whole utterances. digits: single digits of each person, to be joined to numbers; a
    voice's stand under "GROUP/NAME". prompts: the texts that go with a bare number. manners: how a
    number is written, by prompt and count of digits: how often in which manner."""

    clips: tuple[LabelledClip, ...]
    digits: Mapping[str, Digits] = field(default_factory=dict)
    prompts: tuple[str, ...] = ("",)
    manners: Mapping[tuple[str, int], Mapping[str, int]] = field(default_factory=dict)

    def without(self, held_out: str) -> Corpus:
        """The same without one person, voice or group."""
        return replace(
            self,
            clips=tuple(c for c in self.clips if held_out not in (c.speaker, c.group)),
            digits={who: own for who, own in self.digits.items() if held_out not in _of(who)},
        )

    def only(self, held_out: str) -> Corpus:
        """Nothing but one person, voice or group."""
        return replace(
            self,
            clips=tuple(c for c in self.clips if held_out in (c.speaker, c.group)),
            digits={who: own for who, own in self.digits.items() if held_out in _of(who)},
        )

    def some(self, count: int, seed: int) -> Corpus:
        """So many of the clips, drawn; the digits stay."""
        drawn = np.random.default_rng([seed, 3]).permutation(len(self.clips))[:count]
        return replace(self, clips=tuple(self.clips[int(at)] for at in np.sort(drawn)))

    @property
    def people(self) -> tuple[str, ...]:
        """Whose digits are recorded and may be judged by."""
        return tuple(sorted(who for who in self.digits if "/" not in who))

    def words(self) -> set[str]:
        """Every word in it."""
        return {word for clip in self.clips for word in clip.words}

    def every_prompt(self) -> set[str]:
        """Every prompt in it."""
        return {clip.prompt for clip in self.clips} | set(self.prompts)


def is_person(who: str) -> bool:
    """Whether digits under that name are a person's, not a voice's."""
    return "/" not in who or who.startswith(f"{READER}/")


def _of(who: str) -> tuple[str, ...]:
    """A person's name; or of a voice its group and name ("formant/en-us")."""
    return (who, *who.split("/"))


def people_digits(recordings: Path) -> dict[str, dict[int, list[Sound]]]:
    """Single digits by person, from files named DIGIT_PERSON_TAKE; raises InputWrongError."""
    found: dict[str, dict[int, list[Sound]]] = {}
    for file in sorted((recordings / "digits").glob("*_*_*.*")):
        digit, person, _ = file.stem.split("_", 2)
        if digit.isdigit():
            found.setdefault(person, {}).setdefault(int(digit), []).append(read_samples(file))
    if not found:
        raise InputWrongError(
            f"{recordings}: no recordings of people there (digits/DIGIT_PERSON_TAKE.flac wanted)"
        )
    return found


def at_peak(sound: Sound) -> Sound:
    """At the level that whatever is gathered has; silence stays silence."""
    peak = max(1e-4, float(np.abs(sound).max(initial=0.0)))
    return np.asarray(PEAK * sound / np.float32(peak), dtype=np.float32)


def trimmed(sound: Sound, around_s: float = 0.25, down_db: float = 35.0) -> Sound:
    """Without the quiet at both ends but `around_s`."""
    frame = SPEECH_RATE_HZ // 50
    power = (sound[: len(sound) // frame * frame].reshape(-1, frame) ** 2).mean(axis=1)
    if not len(power) or power.max() <= 0:
        return sound
    loud = np.nonzero(power > power.max() * 10 ** (-down_db / 10))[0]
    first, last = loud[0] * frame, (loud[-1] + 1) * frame
    around = int(around_s * SPEECH_RATE_HZ)
    return sound[max(0, first - around) : last + around]


def write_clips(
    folder: Path, clips: Sequence[LabelledClip], orders: Mapping[str, Sequence[str]]
) -> None:
    """Write a gathered folder. orders: recording's name to the words in it."""
    import soundfile

    folder.mkdir(parents=True, exist_ok=True)
    rows = [
        {"words": " ".join(c.words), "speaker": c.speaker, "group": c.group, "prompt": c.prompt,
         "ours": c.ours, "samples": len(c.sound)}
        for c in clips
    ]  # fmt: skip
    with soundfile.SoundFile(folder / "clips.ogg", "w", SPEECH_RATE_HZ, 1, format="OGG") as file:
        for clip in clips:
            file.write(clip.sound)
    told = {"clips": rows, "orders": {name: " ".join(words) for name, words in orders.items()}}
    (folder / "clips.json").write_text(json.dumps(told, indent=0), encoding="utf-8")


def read_clips(folder: Path) -> tuple[tuple[LabelledClip, ...], dict[str, Words]]:
    """What `write_clips` wrote: the clips, and the words of people's orders."""
    import soundfile

    try:
        told = json.loads((folder / "clips.json").read_text(encoding="utf-8"))
        every, _ = soundfile.read(folder / "clips.ogg", dtype="float32")
    except (OSError, ValueError, RuntimeError) as error:
        raise InputWrongError(f"{folder}: not a gathered folder ({error})") from error
    clips, at = [], 0
    for row in told["clips"]:
        sound = every[at : at + row["samples"]]
        at += row["samples"]
        clips.append(
            LabelledClip(sound, tuple(row["words"].split()), row["speaker"], row["group"],
                         row["prompt"], row["ours"])
        )  # fmt: skip
    return tuple(clips), {name: tuple(text.split()) for name, text in told["orders"].items()}


def order_clips(
    recordings: Path, words: Mapping[str, Words], prompt: str
) -> tuple[LabelledClip, ...]:
    """People's orders as clips: not ours, but held to a grammar of their own they are wanted."""
    clips = []
    for name in sorted(words):
        sound = trimmed(read_samples(recordings / "commands" / name), around_s=0.35)
        if len(sound) < _LONGEST_S * SPEECH_RATE_HZ:
            clips.append(LabelledClip(sound, words[name], name, "orders", prompt))
    return tuple(clips)
