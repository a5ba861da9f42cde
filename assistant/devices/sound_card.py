"""The sound card, through PortAudio: lists, opens, plays. Knows nothing of what the sound means.

The only module that imports sounddevice, and only when asked to: PortAudio may be absent.
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from assistant.devices.device_list import Device, Direction, choose
from assistant.devices.sound import BLOCK, Clip, at_rate
from assistant.devices.stderr_filter import filtered_stderr
from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ

_Take = Callable[[bytes], None]

NO_PORTAUDIO = (
    "the sound library PortAudio is missing (Debian and Ubuntu: apt-get install libportaudio2); "
    "without it use --typed"
)
PLAY_EXTRA_S = 2.0  # a sound that has not ended this long after its own length is given up
STALLED_S = 2.5  # and so is one for which the card has asked no more samples for this long
# Buffering asked of the card. A PulseAudio server with no other client wakes so seldom that 0.2 s
# runs dry at the speaker and 0.4 s does not. Hush empties the buffer, so it is not slowed by it.
LATENCY_S = {"microphone": 0.1, "speaker": 0.4}
ANSWERS_S = 5.0  # a call to the library that takes longer keeps nobody else waiting. Judgement
# A stream that is closed ends by its own callback. PortAudio's abort cancels its thread, and one
# that is cancelled while it restarts a device that died keeps a lock for ever.
ENDS_S, LOOKS_S = 1.0, 0.005
UNANSWERED = 3  # calls running that waited so long in vain: the library hangs. Judgement
NO_ANSWER = "the sound library does not answer"
RATES_HZ = (SPEECH_RATE_HZ, 48_000, 44_100, 32_000, 8_000)


class SoundCard:
    """PortAudio, opened; WorldFailedError when it cannot be. library: stands in for it in a test.

    PortAudio is global to the process and not thread-safe, so all instances share one lock and the
    count of open streams. A call that does not return (a device that died while it was closed)
    keeps the lock: others fail after `ANSWERS_S`, and what is not closed by then is left open.
    """

    _lock = threading.Lock()
    _open_streams = 0
    _unanswered = 0

    def __init__(self, library: Any = None) -> None:
        self._portaudio: Any = library or _portaudio()

    @contextlib.contextmanager
    def _library(self) -> Iterator[None]:
        """While inside, nobody else calls PortAudio; WorldFailedError where somebody does not come
        out of it.
        """
        if not self._lock.acquire(timeout=ANSWERS_S):
            SoundCard._unanswered += 1
            raise WorldFailedError(NO_ANSWER)
        SoundCard._unanswered = 0
        try:
            yield
        finally:
            self._lock.release()

    @classmethod
    def hangs(cls) -> bool:
        """Whether a call has not come back for so long that only a new process has sound again."""
        return cls._unanswered >= UNANSWERED

    def devices(self) -> tuple[Device, ...]:
        """All devices, with the default ones marked; WorldFailedError when there is no answer."""
        with self._library():
            return self._list()

    def _list(self) -> tuple[Device, ...]:
        hosts = self._portaudio.query_hostapis()
        listed = self._portaudio.query_devices()
        defaults = set(self._portaudio.default.device)
        return tuple(
            Device(
                index=index,
                name=entry["name"],
                through=hosts[entry["hostapi"]]["name"],
                inputs=entry["max_input_channels"],
                outputs=entry["max_output_channels"],
                rate_hz=int(entry["default_samplerate"]),
                default=index in defaults,
            )
            for index, entry in enumerate(listed)
        )

    def find(self, name: str | None, direction: Direction) -> Device:
        """The device of that name, as `choose` understands it."""
        return choose(name, self.devices(), direction)

    def refresh(self) -> bool:
        """List the devices again; False when streams are open and it must wait.

        WorldFailedError when there is no answer.
        """
        with self._library():
            if self._open_streams:
                return False
            with filtered_stderr():
                # Private: sounddevice lists the devices at import, and has no public call to do
                # so again; PortAudio itself lists them only when it is initialised.
                self._portaudio._terminate()
                self._portaudio._initialize()
            return True

    def listen(self, device: Device, take: _Take, wanted_hz: int = SPEECH_RATE_HZ) -> CardStream:
        """Open a microphone: `take` gets each block as bytes of float32 at the stream's rate_hz.

        wanted_hz: the rate asked for first; then the device's own, then the usual ones.
        `take` runs in the sound card's own thread and must return at once.
        """

        def callback(block: Any, frames: int, times: Any, status: Any) -> None:
            take(bytes(block))

        stream = self._first_open(device, "microphone", callback, wanted_hz)
        stream.start()
        return stream

    def available(self, device: Device, rate_hz: int) -> bool:
        """Whether a microphone can still be opened, or is busy (a hardware device has one user).

        True where there is no answer: nothing says that it is gone.
        """
        try:
            stream = self._stream(device, "microphone", lambda *_: None, rate_hz)
        except self._portaudio.PortAudioError as error:
            return "unavailable" in str(error).lower()
        except WorldFailedError:
            return True
        stream.close()
        return True

    def play(self, clip: Clip, device: Device) -> _Playing:
        """Begin to play a sound."""
        return _Playing(self, clip, device)

    def _first_open(
        self, device: Device, direction: Direction, callback: Callable[..., None], wanted_hz: int
    ) -> CardStream:
        tried_hz: list[str] = []
        for rate_hz in dict.fromkeys((wanted_hz, device.rate_hz, *RATES_HZ)):
            try:
                return self._stream(device, direction, callback, rate_hz)
            except self._portaudio.PortAudioError as error:
                refusal = _short(error)
                tried_hz.append(str(rate_hz))
                if "sample rate" not in refusal.lower():
                    break
        else:
            refusal += f" ({', '.join(tried_hz)} Hz were tried)"
        raise WorldFailedError(f"the {direction} {device.name!r} cannot be opened: {refusal}")

    def _stream(
        self, device: Device, direction: Direction, callback: Callable[..., None], rate_hz: int
    ) -> CardStream:
        library = self._portaudio
        ending = threading.Event()

        def until_it_ends(*given: Any) -> None:
            if ending.is_set():
                raise library.CallbackAbort
            callback(*given)

        open_stream = library.RawInputStream if direction == "microphone" else library.OutputStream
        with self._library(), filtered_stderr():
            stream = open_stream(
                samplerate=rate_hz,
                blocksize=round(BLOCK * rate_hz / SPEECH_RATE_HZ),
                device=device.index,
                channels=1,
                dtype="float32",
                latency=LATENCY_S[direction],
                callback=until_it_ends,
            )
            SoundCard._open_streams += 1
        return CardStream(self, stream, rate_hz, ending)

    def _start_stream(self, stream: Any) -> None:
        try:
            with self._library(), filtered_stderr():
                stream.start()
        except self._portaudio.PortAudioError as error:
            raise WorldFailedError(f"the sound card refuses to start: {_short(error)}") from error

    def _close_stream(self, stream: Any, ending: threading.Event) -> None:
        ending.set()
        with contextlib.suppress(WorldFailedError), self._library(), filtered_stderr():
            with contextlib.suppress(self._portaudio.PortAudioError):
                looks, pause = round(ENDS_S / LOOKS_S), threading.Event()
                while stream.active and looks > 0:
                    looks -= 1
                    pause.wait(LOOKS_S)
            with contextlib.suppress(self._portaudio.PortAudioError):
                stream.abort()
            with contextlib.suppress(self._portaudio.PortAudioError):
                stream.close()
            SoundCard._open_streams -= 1


def _portaudio() -> Any:
    try:
        with filtered_stderr():
            import sounddevice
    except OSError as error:
        raise WorldFailedError(NO_PORTAUDIO) from error
    return sounddevice


class CardStream:
    """An open stream; `rate_hz` is the rate that the device took."""

    def __init__(self, card: SoundCard, stream: Any, rate_hz: int, ending: threading.Event) -> None:
        self._card = card
        self._stream: Any = stream
        self._ending = ending
        self._started = False
        self.rate_hz = rate_hz

    def start(self) -> None:
        """Start the flow of sound; WorldFailedError, with the device released, when it fails."""
        if self._started:
            return
        try:
            self._card._start_stream(self._stream)
            self._started = True
        except WorldFailedError:
            self.close()
            raise

    def close(self) -> None:
        """Stop at once and release the device; a second time does nothing."""
        stream, self._stream = self._stream, None
        if stream is not None:
            self._card._close_stream(stream, self._ending)


class _Playing:
    """A sound being played. `wait` until it has ended, `hush` to end it."""

    def __init__(self, card: SoundCard, clip: Clip, device: Device) -> None:
        self._samples = clip.samples
        self._rate_hz = clip.rate_hz
        self._next = 0
        self._drain_s = LATENCY_S["speaker"]  # from the last samples handed over to the last heard
        self._last_request_s = time.monotonic()  # when the card last asked for samples
        self._hushed = threading.Event()
        self._ended = threading.Event()
        self._stream = card._first_open(device, "speaker", self._fill, clip.rate_hz)
        if self._stream.rate_hz != clip.rate_hz:
            self._samples = at_rate(clip, self._stream.rate_hz).samples
            self._rate_hz = self._stream.rate_hz
        self._stream.start()

    def _fill(self, out: npt.NDArray[np.float32], frames: int, times: Any, status: Any) -> None:
        self._last_request_s = time.monotonic()
        out.fill(0.0)
        if self._hushed.is_set():
            return
        part = self._samples[self._next : self._next + frames]
        out[: len(part), 0] = part
        self._next += len(part)
        if self._next >= len(self._samples) and not self._ended.is_set():
            delay_s = times.outputBufferDacTime - times.currentTime + frames / self._rate_hz
            self._drain_s = min(max(delay_s, 0.1), PLAY_EXTRA_S)
            self._ended.set()

    def wait(self) -> Literal["said", "cut", "failed"]:
        """Return when it has ended, was hushed, or is so late that the device must be dead."""
        late_s = time.monotonic() + len(self._samples) / self._rate_hz + PLAY_EXTRA_S
        while not self._hushed.is_set() and time.monotonic() < min(
            late_s, self._last_request_s + STALLED_S
        ):
            if self._ended.wait(0.02):
                self._hushed.wait(self._drain_s)
                break
        self._stream.close()
        if self._hushed.is_set():
            return "cut"
        return "said" if self._ended.is_set() else "failed"

    def hush(self) -> None:
        """Go silent at once."""
        self._hushed.set()


def _short(error: Exception) -> str:
    """The sentence in a PortAudio error, without its numbers."""
    text = str(error.args[0]) if error.args else str(error)
    return text.rpartition("Stream: ")[2].split(" [")[0]
