"""What there is to learn from: sounds of known words. Knows sounds; knows no folder."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound


@dataclass(frozen=True, slots=True, eq=False)
class LabelledClip:
    """One utterance."""

    sound: Sound
    words: Words
    speaker: str
    """A person's or a voice's name."""
    group: str
    """The kind of speaker: "owner", or one of the laboratory's."""
    prompt: str
    """The short text that the recogniser is given with it."""
    in_grammar: bool = True
    """Whether it is a sentence of the grammar. Others are trained on too, so that they go on
    fitting other words better."""
    texts: tuple[str, str] = ("", "")
    """The text to learn, with the prompt and without, once `with_texts` has chosen it."""


@dataclass(frozen=True, slots=True, eq=False)
class Corpus:
    """Clips, and the prompts that noise alone may come with."""

    clips: tuple[LabelledClip, ...]
    prompts: tuple[str, ...] = ("",)

    def words(self) -> set[str]:
        """Every word in it."""
        return {word for clip in self.clips for word in clip.words}

    def every_prompt(self) -> set[str]:
        """Every prompt in it."""
        return {clip.prompt for clip in self.clips} | set(self.prompts)


def trimmed(sound: Sound, around_s: float = 0.25, down_db: float = 35.0) -> Sound:
    """Without the quiet at both ends but `around_s`. down_db: below the loudest frame is quiet."""
    frame = SPEECH_RATE_HZ // 50
    power = (sound[: len(sound) // frame * frame].reshape(-1, frame) ** 2).mean(axis=1)
    if not len(power) or power.max() <= 0:
        return sound
    loud = np.nonzero(power > power.max() * 10 ** (-down_db / 10))[0]
    first, last = loud[0] * frame, (loud[-1] + 1) * frame
    around = int(around_s * SPEECH_RATE_HZ)
    return sound[max(0, first - around) : last + around]
