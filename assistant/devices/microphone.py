"""A live microphone: its threads, its loss and its return. Knows no speech and no sound library."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from functools import partial
from queue import Empty, SimpleQueue
from typing import Protocol

import numpy as np

from assistant.devices.clock import Clock
from assistant.devices.inbox import Inbox
from assistant.devices.sound import BLOCK, Clip, Samples, blocks
from assistant.devices.sound_card import CardStream, SoundCard
from assistant.devices.watchdog import OPENING_S, Watchdog
from assistant.errors import FootplateError, WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, DeviceBack, DeviceLost

CHECK_S = 0.2
REOPEN_S = 1.0
MOST_BLOCKS = 1250  # waiting to be heard, 40 s; of more the oldest are dropped
LATE_S = 8.0  # the hearing is told to be so far behind that it is of no use. Judgement
LATE_CHECKS = 5  # in a row: after a shut lid it is behind for a moment
CAUGHT_UP_S = 2.0
FAULT_OVER_S = 4.0  # without another fault the hearing counts as mended. Judgement

OnBlock = Callable[[bytes], None]


class Source(Protocol):
    """Where blocks of sound come from."""

    def open(self, on_block: OnBlock) -> int:
        """Begin: `on_block` gets float32 blocks as bytes. Their rate in Hz; or WorldFailedError."""

    def close(self) -> None:
        """Stop."""

    def available(self) -> bool:
        """Whether it can be opened, or is only busy."""


class CardSource:
    """A microphone of the sound card, looked up by its name whenever it is opened.

    own_rate: open it at its own rate, for the microphone test, not at SPEECH_RATE_HZ.
    """

    def __init__(self, card: SoundCard, name: str | None = None, own_rate: bool = False) -> None:
        self._card = card
        self._name = name
        self._own_rate = own_rate
        self._stream: CardStream | None = None

    def open(self, on_block: OnBlock) -> int:
        """Open it at the first rate that it takes."""
        self._card.refresh()
        device = self._card.find(self._name, "microphone")
        wanted_hz = device.rate_hz if self._own_rate else SPEECH_RATE_HZ
        self._stream = self._card.listen(device, on_block, wanted_hz)
        return self._stream.rate_hz

    def close(self) -> None:
        """Release it."""
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def available(self) -> bool:
        """Open it a second time for a moment."""
        stream = self._stream
        if stream is None:
            return False
        try:
            device = self._card.find(self._name, "microphone")
        except FootplateError:
            return False
        return self._card.available(device, stream.rate_hz)


def trouble_with(source: Source) -> str:
    """Why a microphone cannot be used now, in one line; empty when it can. Opens it briefly."""
    try:
        source.open(lambda block: None)
    except FootplateError as error:
        return str(error)
    source.close()
    return ""


class FakeSource:
    """A microphone in memory: a test speaks into it, pulls its plug and puts it back."""

    def __init__(self, rate_hz: int = SPEECH_RATE_HZ) -> None:
        self._rate_hz = rate_hz
        self._on_block: OnBlock | None = None
        self.plugged = True

    def open(self, on_block: OnBlock) -> int:
        """Open, unless the plug is out."""
        if not self.plugged:
            raise WorldFailedError("there is no microphone on this machine")
        self._on_block = on_block
        return self._rate_hz

    def close(self) -> None:
        """Close."""
        self._on_block = None

    def available(self) -> bool:
        """Whether the plug is in."""
        return self.plugged

    def speak(self, samples: Samples) -> None:
        """Give these samples, in blocks as a card would."""
        for block in blocks(samples, round(BLOCK * self._rate_hz / SPEECH_RATE_HZ)):
            if self._on_block is not None:
                self._on_block(block.tobytes())


class FileSource:
    """A recording in place of a microphone, played at the pace of the clock, then silence."""

    def __init__(self, clip: Clip, clock: Clock) -> None:
        self._clip = clip
        self._clock = clock
        self._stop = threading.Event()

    def open(self, on_block: OnBlock) -> int:
        """Begin to play it from the start."""
        self._stop.clear()
        threading.Thread(target=self._play, args=(on_block,), name="recording", daemon=True).start()
        return self._clip.rate_hz

    def close(self) -> None:
        """Stop playing."""
        self._stop.set()

    def available(self) -> bool:
        """A file does not go away."""
        return True

    def _play(self, on_block: OnBlock) -> None:
        size = round(BLOCK * self._clip.rate_hz / SPEECH_RATE_HZ)
        silence = np.zeros(size, np.float32).tobytes()
        unplayed = iter(blocks(self._clip.samples, size))
        due_s = self._clock.now()
        while not self._stop.is_set():
            block = next(unplayed, None)
            on_block(silence if block is None else block.tobytes())
            due_s += size / self._clip.rate_hz
            self._clock.sleep(due_s - self._clock.now())


class Microphone:
    """Feeds a listener from a source in one thread, and watches over the source in another.

    `feed` gets blocks of `BLOCK` samples at 16 kHz with their capture times. When a source dies,
    DeviceLost is posted within 2 s and it is reopened once a second; once open it has `OPENING_S`
    for its first block (an idle sound server may take two seconds), and DeviceBack is posted then.
    lost: it was told lost before.
    """

    def __init__(
        self,
        source: Source,
        feed: Callable[[Samples, float], None],
        inbox: Inbox,
        clock: Clock,
        lost: bool = False,
    ) -> None:
        self._source = source
        self._feed = feed
        self._inbox = inbox
        self._clock = clock
        self._queue: SimpleQueue[tuple[int, float, bytes] | None] = SimpleQueue()
        self._closing = threading.Event()
        self._opening = 0  # counts the openings: blocks of an earlier one are dropped
        self._losing = threading.Lock()
        self._lost_parts = {"source"} if lost else set()  # what is wrong with it now
        self._fault_s: float | None = None  # of the last fault in hearing
        self._in_hand_s: float | None = None  # when the block that is being heard was captured
        self._late_checks = 0
        self._reopen_s = 0.0
        self._rate_hz = SPEECH_RATE_HZ
        self._threads: list[threading.Thread] = []
        self._watchdog = Watchdog(source.available, clock.now(), lost)

    def start(self) -> None:
        """Open the source, then listen and watch; errors as of `open`."""
        self.open()
        for work, name in ((self._hear, "hearing"), (self._watch, "watching the microphone")):
            self._threads.append(threading.Thread(target=work, name=name, daemon=True))
            self._threads[-1].start()

    def close(self) -> None:
        """Stop listening; blocks still queued are dropped."""
        self._closing.set()
        self._queue.put(None)
        for thread in self._threads:
            thread.join(2.0)
        self._source.close()

    def open(self) -> None:
        """Open the source; WorldFailedError (or InputWrongError for its name) when that fails."""
        self._opening += 1
        self._reopen_s = self._clock.now() + OPENING_S
        self._watchdog.opened(self._clock.now())
        self._rate_hz = self._source.open(partial(self._enqueue, self._opening))

    def _enqueue(self, opening: int, block: bytes) -> None:
        """Runs in the sound card's thread: queue the block and return at once."""
        if opening == self._opening:
            at_s = self._clock.now()
            self._watchdog.block(at_s, float(block.count(0) != len(block)))
            self._queue.put((opening, at_s, block))
            if self._queue.qsize() > MOST_BLOCKS:
                with contextlib.suppress(Empty):
                    self._queue.get_nowait()

    def _hear(self) -> None:
        current, resampler = 0, BlockResampler(SPEECH_RATE_HZ)
        while (item := self._queue.get()) is not None and not self._closing.is_set():
            opening, at_s, raw = item
            self._in_hand_s = at_s
            if opening != current:
                current, resampler = opening, BlockResampler(self._rate_hz)
            try:
                for block in resampler.feed(raw):
                    self._feed(block, at_s)
            except Exception as error:  # a bug here must not end the listening in silence
                self._fault_s = self._clock.now()
                self._lost("hearing", f"a fault in hearing: {error!r}")
            self._in_hand_s = None

    def _watch(self) -> None:
        while not self._closing.wait(CHECK_S):
            try:
                self.check()
                self._back("watching")
            except Exception as error:  # nor must one end the watch over it
                self._lost("watching", f"a fault in watching it: {error!r}")

    def _lost(self, part: str, reason: str) -> None:
        """Post the loss, unless another is posted already."""
        with self._losing:
            told = bool(self._lost_parts)
            self._lost_parts.add(part)
        if not told:
            self._inbox.post(partial(DeviceLost, device="microphone", reason=reason))

    def _back(self, part: str) -> None:
        """Post the return, if nothing else is wrong."""
        with self._losing:
            last = self._lost_parts == {part}
            self._lost_parts.discard(part)
        if last:
            self._inbox.post(partial(DeviceBack, device="microphone"))

    def _check_hearing(self, now_s: float) -> None:
        """Whether the hearing keeps up with what is said, and has got over a fault."""
        in_hand_s = self._in_hand_s
        behind_s = 0.0 if in_hand_s is None else now_s - in_hand_s
        self._late_checks = self._late_checks + 1 if behind_s > LATE_S else 0
        if self._late_checks >= LATE_CHECKS:
            self._lost("lateness", f"the hearing is {behind_s:.0f} s behind")
        elif behind_s < CAUGHT_UP_S:
            self._back("lateness")
        if self._fault_s is not None and now_s - self._fault_s > FAULT_OVER_S:
            self._fault_s = None
            self._back("hearing")

    def check(self) -> None:
        """Report the source's loss or return, and reopen it when that is due; every `CHECK_S`."""
        now_s = self._clock.now()
        self._check_hearing(now_s)
        change = self._watchdog.check(now_s)
        if change == "lost":
            self._reopen_s = now_s
            self._lost("source", self._watchdog.reason)
        elif change == "back":
            self._back("source")
        if self._watchdog.gone and now_s >= self._reopen_s:
            self._reopen_s = now_s + (OPENING_S if self._reopen() else REOPEN_S)

    def _reopen(self) -> bool:
        """Whether it opened; if so it gets time for its first block before the next attempt."""
        self._source.close()
        try:
            self.open()
        except FootplateError:
            self._opening += 1
            return False
        if self._closing.is_set():  # `close` did not wait for it
            self._source.close()
        return True


class BlockResampler:
    """Blocks of any rate and size in, blocks of `BLOCK` samples at 16 kHz out, without clicks."""

    def __init__(self, rate_hz: int) -> None:
        self._remainder = np.zeros(0, np.float32)
        self._resample: Callable[[Samples], Samples] | None = None
        if rate_hz != SPEECH_RATE_HZ:
            import soxr

            self._resample = soxr.ResampleStream(rate_hz, SPEECH_RATE_HZ, 1).resample_chunk

    def feed(self, block: bytes) -> list[Samples]:
        """The whole blocks that are ready now."""
        samples: Samples = np.frombuffer(block, np.float32)
        if self._resample is not None:
            samples = self._resample(samples)
        joined = np.concatenate([self._remainder, samples])
        whole = len(joined) - len(joined) % BLOCK
        self._remainder = joined[whole:]
        return [joined[start : start + BLOCK] for start in range(0, whole, BLOCK)]
