"""What is said aloud, in which order, and what interrupts what. Knows no sentence's meaning."""

from __future__ import annotations

import contextlib
import heapq
import re
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Literal

import numpy as np

from assistant.devices.clock import Clock
from assistant.devices.echo_canceller import EchoReference
from assistant.devices.inbox import Inbox
from assistant.devices.player import Player, Playing
from assistant.devices.sound import Clip
from assistant.devices.tone import tone
from assistant.devices.voice import NUMBERS_WPM, ROUTINE_WPM, Voice
from assistant.errors import WorldFailedError
from assistant.messages import URGENCY_OF, DeviceBack, DeviceLost, Grade, Spoke, Urgency

CHAT_STALE_S = 10.0  # a forecast that has waited longer than this is out of date
WORDS_S = 15.0  # words not made by then are sounded as a tone. Judgement
SOUND_EXTRA_S = 10.0  # a sound this much longer than it is has met a dead loudspeaker. Judgement
MOST_WAITING = 200  # utterances; far more than anybody would listen to
PAUSE_S = 0.12  # between sentences
TRY_S = 2.0  # between trials of a loudspeaker that was lost
NUMBER_WORD = re.compile(
    r"\b(\d+|zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty"
    r"|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|point|half|quarters?|thirds?|eighths?)\b",
    re.IGNORECASE,
)
# Sounded when the words cannot be synthesised: the tone of about the same urgency.
FALLBACK_TONE = {Urgency.DANGER: Grade.DANGER, Urgency.ALARM: Grade.WARNING}


@dataclass(order=True, slots=True)
class Utterance:
    """Words or a tone waiting to be played; sorted most urgent, then oldest."""

    rank: int  # minus the urgency
    serial: int  # rises with each request
    urgency: Urgency = field(compare=False)
    text: str = field(compare=False)
    grade: Grade | None = field(compare=False)  # of a tone; None for words
    since_s: float = field(compare=False)  # when it was asked for


@dataclass(slots=True, eq=False)
class Making:
    """Words being synthesised, by the voice's own thread."""

    text: str
    urgency: Urgency
    dropped: bool = False  # nobody waits for it any more
    done: bool = False
    clip: Clip | None = None  # None when done: it could not be made


def paced(text: str, urgency: Urgency) -> tuple[tuple[str, int], ...]:
    """The sentences of a text, each with its pace in words a minute: numbers are read back slowly.

    >>> paced("Pressure. Seven five. Say again.", Urgency.ANSWER)
    (('Pressure.', 140), ('Seven five.', 100), ('Say again.', 140))
    """
    sentences = re.split(r"(?<=[.?!])\s+", text.strip())
    return tuple(
        (
            sentence,
            NUMBERS_WPM
            if urgency is Urgency.ANSWER and NUMBER_WORD.search(sentence)
            else ROUTINE_WPM,
        )
        for sentence in sentences
        if sentence
    )


class Speaker:
    """Says one thing at a time from a thread of its own; every method returns at once.

    The synthesiser works in a second thread, so that a tone waits for no words being made; a third
    finds out whether a loudspeaker that was lost is back.
    A higher urgency interrupts a lower one; equals wait their turn. `speaking` is called with True
    before sound goes out and with False after it, so that the listener can mute itself.
    echo_reference, if given, records what was played for the echo canceller. Each text ends in
    exactly one Spoke: said, cut (or never begun), or failed. A speaker that does not work posts
    DeviceLost once, and DeviceBack when the player says that it would play, which is asked every
    `TRY_S`, or when a later sound gets through. lost: it was told lost before.
    """

    def __init__(
        self,
        voice: Voice,
        player: Player,
        inbox: Inbox,
        clock: Clock,
        speaking: Callable[[bool], None] = lambda on: None,
        echo_reference: EchoReference | None = None,
        lost: bool = False,
    ) -> None:
        self._voice = voice
        self._player = player
        self._inbox = inbox
        self._clock = clock
        self._speaking = speaking
        self._echo_reference = echo_reference
        self._queue: list[Utterance] = []
        self._current: Utterance | None = None
        self._playing: Playing | None = None
        self._cut = False
        self._serial = 0
        self._lost = lost
        self._closing = False
        self._change = threading.Condition()
        self._trying = threading.Lock()  # held while the lost loudspeaker is tried, or a sound goes
        self._to_make: deque[Making] = deque()
        self._sound_due_s: float | None = None  # when the sound in hand should be over
        self._threads = [
            threading.Thread(target=work, name=name, daemon=True)
            for work, name in (
                (self._run, "speaker"),
                (self._make, "voice"),
                (self._try_lost, "loudspeaker's return"),
            )
        ]
        for thread in self._threads:
            thread.start()

    def say(self, text: str, urgency: Urgency = Urgency.PROMPT) -> None:
        """Say this when its turn comes."""
        if text.strip():
            self._add(urgency, text, None)

    def tone(self, grade: Grade) -> None:
        """Sound a tone when its turn comes: before any words of that grade asked for later."""
        self._add(URGENCY_OF[grade], "", grade)

    def hush(self) -> None:
        """Stop at once and drop what is queued."""
        with self._change:
            dropped, self._queue = self._queue, []
            self._cut_current()
        for utterance in sorted(dropped):
            self._report(utterance, "cut")

    def idle(self, timeout_s: float) -> bool:
        """Wait until everything has been said; False when that takes longer."""
        with self._change:
            return self._change.wait_for(
                lambda: not self._queue and self._current is None, timeout_s
            )

    def trouble(self) -> str:
        """Why nothing more is heard, when a sound does not come to its end; empty otherwise."""
        due_s = self._sound_due_s
        late = due_s is not None and self._clock.now() > due_s
        return "the loudspeaker does not go on" if late else ""

    def close(self) -> None:
        """Stop speaking for good."""
        self.hush()
        with self._change:
            self._closing = True
            self._change.notify_all()
        self._threads[0].join(2.0)
        self._voice.close()
        self._threads[1].join(2.0)

    def _add(self, urgency: Urgency, text: str, grade: Grade | None) -> None:
        with self._change:
            self._serial += 1
            now_s = self._clock.now()
            utterance = Utterance(-urgency, self._serial, urgency, text, grade, now_s)
            heapq.heappush(self._queue, utterance)
            dropped = self._dropped_of_too_many()
            if self._current is not None and urgency > self._current.urgency:
                self._cut_current()
            self._change.notify_all()
        if dropped is not None:
            self._report(dropped, "cut")

    def _dropped_of_too_many(self) -> Utterance | None:
        """The least urgent and newest of too many that wait."""
        if len(self._queue) <= MOST_WAITING:
            return None
        last = max(self._queue)
        self._queue.remove(last)
        heapq.heapify(self._queue)
        return last

    def _cut_current(self) -> None:
        self._cut = self._current is not None
        if self._playing is not None:
            self._playing.hush()

    def _run(self) -> None:
        while (utterance := self._next()) is not None:
            try:
                how = self._perform(utterance)
            except Exception as error:  # a bug here must not silence the assistant for good
                self._post_lost(f"a fault in speaking: {error!r}")
                how = "failed"
            self._report(utterance, how)
            with self._change:
                self._current = None
                self._change.notify_all()

    def _next(self) -> Utterance | None:
        with self._change:
            if not self._queue:
                self._speaking(False)
            self._change.wait_for(lambda: self._queue or self._closing)
            if self._closing:
                return None
            self._current = heapq.heappop(self._queue)
            self._cut = False
            return self._current

    def _perform(self, utterance: Utterance) -> Literal["said", "cut", "failed"]:
        waited_s = self._clock.now() - utterance.since_s
        if utterance.urgency is Urgency.CHAT and waited_s > CHAT_STALE_S:
            return "cut"
        if utterance.grade is not None:
            return self._play(tone(utterance.grade))
        clip = self._synthesised(utterance)
        if self._cut:
            return "cut"
        if clip is not None:
            return self._play(clip)
        self._play(tone(FALLBACK_TONE.get(utterance.urgency, Grade.CAUTION)))
        return "failed"

    def _synthesised(self, utterance: Utterance) -> Clip | None:
        """The words as sound; None when they cannot be made in time, or were cut meanwhile."""
        making = Making(utterance.text, utterance.urgency)
        with self._change:
            self._to_make.append(making)
            self._change.notify_all()
            self._change.wait_for(lambda: making.done or self._cut or self._closing, WORDS_S)
            making.dropped = True
            return making.clip

    def _make(self) -> None:
        """The voice's thread: words into sound, in the order wanted."""
        with contextlib.suppress(Exception):  # `make` tells it when words are wanted
            self._voice.prepare()
        while True:
            with self._change:
                self._change.wait_for(lambda: self._to_make or self._closing)
                if self._closing:
                    return
                making = self._to_make.popleft()
            try:
                clip = self._made(making)
            except Exception as fault:  # a bug here must not silence the assistant for good
                self._post_lost(f"a fault in speaking: {fault!r}")
                clip = None
            with self._change:
                making.clip, making.done = clip, True
                self._change.notify_all()

    def _made(self, making: Making) -> Clip | None:
        clips = []
        for sentence, pace_wpm in paced(making.text, making.urgency):
            clip = None if making.dropped else self._voice.make(sentence, pace_wpm)
            if clip is None:
                return None
            clips.append(clip)
        return _concatenated(clips)

    def _play(self, clip: Clip) -> Literal["said", "cut", "failed"]:
        self._sound_due_s = self._clock.now() + clip.duration_s + SOUND_EXTRA_S
        try:
            with self._trying:
                return self._played(clip)
        finally:
            self._sound_due_s = None

    def _played(self, clip: Clip) -> Literal["said", "cut", "failed"]:
        self._speaking(True)
        if self._echo_reference is not None:
            self._echo_reference.began(clip)  # before the card has it: an echo is never early
        try:
            playing = self._player.play(clip)
        except WorldFailedError as error:
            self._post_lost(str(error))
            return "failed"
        with self._change:
            self._playing = playing
            if self._cut:
                playing.hush()
        how = playing.wait()
        if self._echo_reference is not None:
            self._echo_reference.ended()
        with self._change:
            self._playing = None
        if how == "failed":
            self._post_lost("it takes no sound")
        elif how == "said":
            self._post_back()
        return how

    def _try_lost(self) -> None:
        """The third thread: ask for a loudspeaker that was lost, between the sounds."""
        while True:
            with self._change:
                self._change.wait_for(lambda: self._lost or self._closing)
                if self._change.wait_for(lambda: self._closing, TRY_S):
                    return
            with self._trying:
                if self._lost and self._ready():
                    self._post_back()

    def _ready(self) -> bool:
        try:
            return self._player.ready()
        except Exception:  # a bug here must not end the asking
            return False

    def _post_lost(self, reason: str) -> None:
        with self._change:
            if not self._lost:
                self._lost = True
                self._inbox.post(partial(DeviceLost, device="speaker", reason=reason))
                self._change.notify_all()

    def _post_back(self) -> None:
        with self._change:
            if self._lost:
                self._lost = False
                self._inbox.post(partial(DeviceBack, device="speaker"))

    def _report(self, utterance: Utterance, how: Literal["said", "cut", "failed"]) -> None:
        if utterance.grade is None:
            self._inbox.post(partial(Spoke, text=utterance.text, ended=how))


class FakeSpeaker:
    """For practice without waiting: everything is said the moment it is asked for."""

    def __init__(self, inbox: Inbox) -> None:
        self._inbox = inbox
        self.said: list[str] = []
        self.tones: list[Grade] = []

    def say(self, text: str, urgency: Urgency = Urgency.PROMPT) -> None:
        """Said."""
        self.said.append(text)
        self._inbox.post(partial(Spoke, text=text))

    def tone(self, grade: Grade) -> None:
        """Sounded."""
        self.tones.append(grade)

    def hush(self) -> None:
        """There is never anything left to stop."""

    def close(self) -> None:
        """Nothing to release."""


def _concatenated(clips: list[Clip]) -> Clip | None:
    """Several clips of one rate as one, with short pauses between them."""
    if not clips:
        return None
    pause = np.zeros(int(PAUSE_S * clips[0].rate_hz), np.float32)
    parts = [part for clip in clips for part in (clip.samples, pause)]
    return Clip(np.concatenate(parts[:-1]), clips[0].rate_hz)
