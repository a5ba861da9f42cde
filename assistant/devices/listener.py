"""From blocks of sound to events: who speaks when, and what goes to the ear. Knows no card.

It runs no thread of its own: practice feeds it directly, a microphone feeds it from its thread.
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
from assistant.messages import SPEECH_RATE_HZ, DeviceBack, DeviceLost, Heard, SpeechBegan

HOLD_OFF_S = 0.3  # after our own voice: the room's echo, and what the card still holds
LONGEST_HELD_S = 8.0  # a key that is never let go
TOO_LOUD = "the noise is too loud to trust speech"

Hear = Callable[[Samples], Heard | None]


class Detected(Protocol):
    """Speech began (`sound` None), or ended and was this sound."""

    @property
    def sound(self) -> Samples | None:
        """16 kHz mono, or None."""


class Detector(Protocol):
    """Says when speech begins and ends, block by block of `BLOCK` samples at 16 kHz."""

    def feed(self, block: Samples) -> Iterable[Detected]:
        """What this block brought."""

    def reset(self) -> None:
        """Forget what was heard so far."""


class Listener:
    """Posts SpeechBegan and Heard. `hear` is the ear; what it gives None for is not told.

    hear_over: an ear for the stop words only, used for whatever was said while we spoke ourselves;
    without it nothing is heard then. over_talk: takes our own voice off what is heard meanwhile;
    without it `hear_over` is only of use in a headset, where there is no echo.
    by_key: only what is said after the talk key counts, until the key is let go or the speech ends.
    loudness: when it finds the noise too loud, that is told as a lost microphone, and nothing is
    heard until it is found clear.
    """

    def __init__(
        self,
        detector: Detector,
        hear: Hear,
        inbox: Inbox,
        hear_stop_words: Hear | None = None,
        by_key: bool = False,
        noise_gate: NoiseGate | None = None,
        barge_in: BargeInDetector | None = None,
    ) -> None:
        self._detector = detector
        self._hear = hear
        self._hear_stop_words = hear_stop_words
        self._inbox = inbox
        self._by_key = by_key
        self._noise_gate = noise_gate
        self._barge_in = barge_in
        self._key_down = False
        self._held: list[Samples] = []
        self._speaking_spans: deque[tuple[float, float]] = deque(maxlen=100)  # from, to [s]
        self._over = False

    def speaking(self, on: bool) -> None:
        """Our own voice begins or ends now; from any thread."""
        began_s, ended_s = self._speaking_spans[-1] if self._speaking_spans else (0.0, 0.0)
        if on and ended_s < inf:
            self._speaking_spans.append((self._inbox.now(), inf))
        elif not on and ended_s == inf:
            self._speaking_spans[-1] = (began_s, self._inbox.now())

    def key(self, down: bool | None = None) -> None:
        """The talk key is pressed or let go, or (None) pressed once more; from any thread."""
        self._key_down = not self._key_down if down is None else down

    def feed(self, block: Samples, at_s: float | None = None) -> None:
        """One block of `BLOCK` samples; the ear runs in here when speech has ended.

        at_s: when the block came from the card (None: now). While the ear works blocks wait, and
        what counts is whether we spoke when they were taken, not when they are looked at.
        """
        ours = self._ours(self._inbox.now() if at_s is None else at_s)
        if not ours:
            self._measure(block)
        if self._by_key:
            self._feed_by_key(block)
        elif ours and (self._hear_stop_words is None or self._barge_in is not None):
            if not self._over:
                self._detector.reset()
            self._over = True
            self._feed_barge_in(block, self._inbox.now() if at_s is None else at_s)
        else:
            if self._barge_in is not None:
                self._barge_in.reset()
            self._over = self._over and self._hear_stop_words is not None and self._barge_in is None
            self._feed_detector(block, ours)

    def _ours(self, at_s: float) -> bool:
        """Whether our own voice is, or may still be, in a block that came then."""
        return any(
            began_s <= at_s <= ended_s + HOLD_OFF_S
            for began_s, ended_s in list(self._speaking_spans)
        )

    def _measure(self, block: Samples) -> None:
        change = self._noise_gate.feed(block) if self._noise_gate is not None else None
        if change == "too loud":
            self._inbox.post(partial(DeviceLost, device="microphone", reason=TOO_LOUD))
        elif change == "clear":
            self._inbox.post(partial(DeviceBack, device="microphone"))

    def _feed_detector(self, block: Samples, ours: bool) -> None:
        for detected in self._detector.feed(block):
            if detected.sound is None:
                self._over = ours
                if not ours:
                    self._inbox.post(SpeechBegan)
            else:
                self._understand(detected.sound, self._over or ours)
                self._over = False
        self._over = self._over or ours

    def _feed_barge_in(self, block: Samples, at_s: float) -> None:
        if self._barge_in is not None:
            for sound in self._barge_in.feed(block, at_s):
                self._understand(sound, over=True)

    def _feed_by_key(self, block: Samples) -> None:
        if self._key_down and not self._held:
            self._detector.reset()
            self._inbox.post(SpeechBegan)
        if self._key_down:
            self._held.append(block)
            ended = any(detected.sound is not None for detected in self._detector.feed(block))
            if ended or len(self._held) * BLOCK / SPEECH_RATE_HZ >= LONGEST_HELD_S:
                self._key_down = False
        if self._held and not self._key_down:
            sound, self._held = np.concatenate(self._held), []
            self._understand(sound, over=False)

    def _understand(self, sound: Samples, over: bool) -> None:
        if self._noise_gate is not None and self._noise_gate.too_loud:
            return
        ear = self._hear_stop_words if over else self._hear
        heard = ear(sound) if ear is not None else None
        if heard is None:
            return
        if self._noise_gate is not None and heard.alternatives and not over:
            self._noise_gate.heard(sound)
        self._inbox.post(lambda at: replace(heard, at=at))
