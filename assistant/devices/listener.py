"""From blocks of sound to events: who speaks when, and what is recognised. Knows no sound card.

It runs no thread of its own: practice feeds it directly, a microphone from its own thread.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from math import inf
from typing import Protocol

import numpy as np

from assistant.devices.barge_in import BargeInDetector
from assistant.devices.inbox import Inbox
from assistant.devices.noise_gate import NoiseGate
from assistant.devices.sound import BLOCK, Samples
from assistant.messages import (
    SPEECH_RATE_HZ,
    TOO_LOUD,
    DeviceBack,
    DeviceLost,
    Heard,
    SpeechBegan,
)

HOLD_OFF_S = 0.3  # after the assistant has spoken: the room's echo, and what the card still holds
LONGEST_KEY_S = 8.0  # a talk key that is never released

Hear = Callable[[Samples], Heard | None]


class Detected(Protocol):
    """Speech began (`sound` None), or ended with this sound."""

    @property
    def sound(self) -> Samples | None:
        """16 kHz mono, or None."""


class Detector(Protocol):
    """Says when speech begins and ends, block by block of `BLOCK` samples at 16 kHz."""

    def feed(self, block: Samples) -> Iterable[Detected]:
        """What was detected with this block."""

    def reset(self) -> None:
        """Forget what was heard so far."""


class Listener:
    """Posts SpeechBegan and Heard. `hear` is the recogniser; nothing is posted where it gives None.

    hear_stop_words: a recogniser of the stop words only, for what is said while the assistant
    speaks; without it nothing is heard then. barge_in: takes the assistant's own voice off what is
    heard meanwhile; without it `hear_stop_words` serves only a headset, where there is no echo.
    push_to_talk: only what is said after the talk key counts, until it is released or the speech
    ends. noise_gate: while it finds the noise too loud, nothing is heard and the microphone is
    posted as lost.
    """

    def __init__(
        self,
        detector: Detector,
        hear: Hear,
        inbox: Inbox,
        hear_stop_words: Hear | None = None,
        push_to_talk: bool = False,
        noise_gate: NoiseGate | None = None,
        barge_in: BargeInDetector | None = None,
    ) -> None:
        self._detector = detector
        self._hear = hear
        self._hear_stop_words = hear_stop_words
        self._inbox = inbox
        self._push_to_talk = push_to_talk
        self._noise_gate = noise_gate
        self._barge_in = barge_in
        self._block_s = 0.0  # when the block in hand was captured
        self._key_changes: deque[tuple[float, bool | None]] = deque(maxlen=100)
        self._key_down = False  # when the block in hand was captured
        self._key_blocks: list[Samples] = []
        self._speaking_spans: deque[tuple[float, float]] = deque(maxlen=100)  # from, to [s]
        self._overlaps = False  # the utterance in hand overlaps the assistant's own speech

    def speaking(self, on: bool) -> None:
        """The assistant begins or stops speaking now; from any thread."""
        began_s, ended_s = self._speaking_spans[-1] if self._speaking_spans else (0.0, 0.0)
        if on and ended_s < inf:
            self._speaking_spans.append((self._inbox.now(), inf))
        elif not on and ended_s == inf:
            self._speaking_spans[-1] = (began_s, self._inbox.now())

    def key(self, down: bool | None = None) -> None:
        """The talk key is pressed or released, or (None) toggled; from any thread."""
        self._key_changes.append((self._inbox.now(), down))

    def feed(self, block: Samples, at_s: float | None = None) -> None:
        """One block of `BLOCK` samples; the recogniser runs in here when speech has ended.

        at_s: when the block was captured (None: now). Blocks queue up while the recogniser works,
        so each is judged by its capture time.
        """
        self._block_s = self._inbox.now() if at_s is None else at_s
        own_speech = self._spoke_at(self._block_s)
        if not own_speech:
            self._follow_noise(block)
        if self._push_to_talk:
            self._feed_push_to_talk(block)
        elif own_speech and (self._hear_stop_words is None or self._barge_in is not None):
            if not self._overlaps:
                self._detector.reset()
            self._overlaps = True
            self._feed_barge_in(block, self._block_s)
        else:
            if self._barge_in is not None:
                self._barge_in.reset()
            self._overlaps = (
                self._overlaps and self._hear_stop_words is not None and self._barge_in is None
            )
            self._feed_detector(block, own_speech)

    def _spoke_at(self, at_s: float) -> bool:
        """Whether the assistant's voice is, or may still be, in a block captured then."""
        return any(
            began_s <= at_s <= ended_s + HOLD_OFF_S
            for began_s, ended_s in list(self._speaking_spans)
        )

    def _follow_noise(self, block: Samples) -> None:
        change = self._noise_gate.feed(block) if self._noise_gate is not None else None
        if change == "too loud":
            self._inbox.post(partial(DeviceLost, device="microphone", reason=TOO_LOUD))
        elif change == "clear":
            self._inbox.post(partial(DeviceBack, device="microphone"))

    def _feed_detector(self, block: Samples, own_speech: bool) -> None:
        for detected in self._detector.feed(block):
            if detected.sound is None:
                self._overlaps = own_speech
                if not own_speech:
                    self._inbox.post(SpeechBegan)
            else:
                self._recognise(detected.sound, self._overlaps or own_speech)
                self._overlaps = False
        self._overlaps = self._overlaps or own_speech

    def _feed_barge_in(self, block: Samples, at_s: float) -> None:
        if self._barge_in is not None:
            for sound in self._barge_in.feed(block, at_s):
                self._recognise(sound, overlapping=True)

    def _follow_key(self) -> None:
        """The key as it was when this block was captured: it may be long up again."""
        while self._key_changes and self._key_changes[0][0] <= self._block_s:
            _, down = self._key_changes.popleft()
            self._key_down = not self._key_down if down is None else down

    def _feed_push_to_talk(self, block: Samples) -> None:
        self._follow_key()
        if self._key_down and not self._key_blocks:
            self._detector.reset()
            self._inbox.post(SpeechBegan)
        if self._key_down:
            self._key_blocks.append(block)
            ended = any(detected.sound is not None for detected in self._detector.feed(block))
            if ended or len(self._key_blocks) * BLOCK / SPEECH_RATE_HZ >= LONGEST_KEY_S:
                self._key_down = False
        if self._key_blocks and not self._key_down:
            sound, self._key_blocks = np.concatenate(self._key_blocks), []
            self._recognise(sound, overlapping=False)

    def _recognise(self, sound: Samples, overlapping: bool) -> None:
        if self._noise_gate is not None and self._noise_gate.too_loud:
            return
        hear = self._hear_stop_words if overlapping else self._hear
        heard = hear(sound) if hear is not None else None
        if heard is None:
            return
        if self._noise_gate is not None and heard.alternatives and not overlapping:
            self._noise_gate.add_utterance(sound)
        said_s = self._block_s
        self._inbox.post(lambda at: replace(heard, at=at, late_s=max(0.0, at - said_s)))
