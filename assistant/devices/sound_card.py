"""The sound card, through PortAudio: lists, opens, plays. Knows nothing of what the sound means.

The only module that imports sounddevice, and only when asked to: PortAudio may be absent.
"""

from __future__ import annotations

import atexit
import contextlib
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import Any, Literal, TypeVar

import numpy as np
import numpy.typing as npt

from assistant.devices.bounded_call import NeverReturnedError, call_within
from assistant.devices.device_list import Device, Direction, choose
from assistant.devices.sound import BLOCK, Clip, at_rate
from assistant.devices.stderr_filter import filtered_stderr
from assistant.errors import InputWrongError, WorldFailedError
from assistant.messages import SPEECH_RATE_HZ

T = TypeVar("T")
_Take = Callable[[bytes], None]

NO_PORTAUDIO = (
    "the sound library PortAudio is missing (Debian and Ubuntu: apt-get install libportaudio2); "
    "without it use --typed"
)
HANGS = (
    "the sound library hangs, so devices are not looked for anew; if it stays so, start the "
    "program again"
)
CALL_S = 4.0  # a call on one device is given up then; a busy machine takes up to 2 s. Judgement
LIST_S = 10.0  # and the listing of all of them, which opens each
CLOSE_S = 2.0  # and the end of a stream, for which whoever closes the session waits
# Calls that were given up and have not returned: with so many no device is opened. Each keeps three
# threads and about ten descriptors.
MOST_LEFT = 16
HANGS_S = 15.0  # so long no device could be opened: only a new process has sound again. Judgement
# A stream ends by its own callback. PortAudio's abort cancels the thread that calls it, and one
# that is cancelled while it restarts a device that died keeps a lock for ever.
ENDS_S, LOOKS_S = 1.0, 0.005
PLAY_EXTRA_S = 2.0  # a sound that has not ended this long after its own length is given up
STALLED_S = 2.5  # and so is one for which the card has asked no more samples for this long
# Buffering asked of the card. A PulseAudio server with no other client wakes so seldom that 0.2 s
# runs dry at the speaker and 0.4 s does not. Hush empties the buffer, so it is not slowed by it.
LATENCY_S = {"microphone": 0.1, "speaker": 0.4}
RATES_HZ = (SPEECH_RATE_HZ, 48_000, 44_100, 32_000, 8_000)


class SoundCard:
    """PortAudio, opened; WorldFailedError when it cannot be. library: stands in for it in a test.

    PortAudio is global to the process and not thread-safe, so all instances share one lock and the
    count of open streams.

    A call into it may never return: on Linux its start of a stream waits for a thread of its own
    that ends without a word when the device goes just then. So every call that reaches a device is
    made in its own thread and is given up, as WorldFailedError, after `CALL_S` (`LIST_S`,
    `CLOSE_S`); nobody holds the lock for longer. A stream whose call was given up is left alone and
    counts as open, so that PortAudio is not ended under it; it is closed if the call returns after
    all. While an opening or a listing has not returned, no other is begun.
    """

    _lock = threading.Lock()
    _open_streams = 0
    _left = 0  # calls that were given up and have not returned
    _listing = False  # a listing is among them
    _opening: Direction | None = None  # and an opening
    _shut_s = 0.0  # since when no device can be opened, while none can

    def __init__(self, library: Any = None) -> None:
        self._portaudio: Any = library or _portaudio()

    def devices(self) -> tuple[Device, ...]:
        """All devices, with the default ones marked; WorldFailedError while a listing hangs."""
        with self._lock:
            if SoundCard._listing:
                raise WorldFailedError(HANGS)
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
        """The device of that name, as `choose` understands it.

        WorldFailedError when it may be absent only because devices cannot be listed anew.
        """
        try:
            return choose(name, self.devices(), direction)
        except InputWrongError as error:
            if SoundCard._left:
                raise WorldFailedError(f"{error} ({HANGS})") from error
            raise

    def refresh(self) -> bool:
        """List the devices again; False when streams are open and it must wait.

        WorldFailedError when the listing does not return within `LIST_S`.
        """
        with self._lock:
            if SoundCard._open_streams or SoundCard._left:
                return False
            try:
                with filtered_stderr():
                    call_within(LIST_S, "listing the devices", self._list_anew, self._listed_late)
            except NeverReturnedError as error:
                raise self._leave(error, listing=True) from error
            return True

    @classmethod
    def can_open(cls) -> bool:
        """Whether no call that hangs keeps this process from opening a device."""
        return not (cls._opening or cls._listing or cls._left >= MOST_LEFT)

    @classmethod
    def hangs(cls) -> bool:
        """Whether that has lasted so long that only a new process has sound again."""
        return not cls.can_open() and time.monotonic() - cls._shut_s >= HANGS_S

    def _list_anew(self) -> None:
        # Private: sounddevice lists the devices at import, and has no public call to do so again;
        # PortAudio itself lists them only when it is initialised.
        self._portaudio._terminate()
        self._portaudio._initialize()

    def _listed_late(self, _: None) -> None:
        with self._lock:
            SoundCard._listing = False
            SoundCard._left -= 1

    def _leave(
        self,
        error: NeverReturnedError,
        opening: Direction | None = None,
        listing: bool = False,
    ) -> NeverReturnedError:
        """A call was given up: count it, under the lock; the error to raise, with what follows."""
        if self.can_open():
            SoundCard._shut_s = time.monotonic()
        SoundCard._left += 1
        SoundCard._opening = opening or SoundCard._opening
        SoundCard._listing = listing or SoundCard._listing
        return error if self.can_open() else NeverReturnedError(f"{error}: {HANGS}")

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

    def available(self, device: Device, rate_hz: int, direction: Direction = "microphone") -> bool:
        """Whether it can still be opened, or is busy (a hardware device has one user).

        True as well where that cannot be tried, because another opening has not returned.
        """
        try:
            stream = self._stream(device, direction, lambda *_: None, rate_hz)
        except NeverReturnedError:
            return False
        except WorldFailedError:
            return SoundCard._opening not in (None, direction) or SoundCard._left >= MOST_LEFT
        except self._portaudio.PortAudioError as error:
            return "unavailable" in str(error).lower()
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
        opening = partial(_Stream, self._portaudio, device.index, direction, callback, rate_hz)
        with self._lock:
            if not self.can_open():
                raise WorldFailedError(HANGS)
            try:
                with filtered_stderr():
                    what = f"opening the {direction} {device.name!r}"
                    stream = call_within(CALL_S, what, opening, self._opened_late)
            except NeverReturnedError as error:
                raise self._leave(error, opening=direction) from error
            SoundCard._open_streams += 1
        return CardStream(self, stream, rate_hz)

    def _opened_late(self, stream: _Stream | None) -> None:
        """An opening that was given up has ended, with a stream or none."""
        with self._lock:
            SoundCard._opening = None
            SoundCard._left -= 1
            SoundCard._open_streams += stream is not None
        if stream is not None:
            self._close_stream(stream)

    def _start_stream(self, stream: _Stream) -> None:
        """Start it; NeverReturnedError: from here on it is nobody's, and must not be touched."""
        try:
            with self._lock, filtered_stderr():
                try:
                    late = partial(self._started_late, stream)
                    call_within(CALL_S, "starting the sound card", stream.start, late)
                except NeverReturnedError as error:
                    raise self._leave(error) from error
        except self._portaudio.PortAudioError as error:
            raise WorldFailedError(f"the sound card refuses to start: {_short(error)}") from error

    def _started_late(self, stream: _Stream, _: None) -> None:
        with self._lock:
            SoundCard._left -= 1
        self._close_stream(stream)

    def _close_stream(self, stream: _Stream) -> None:
        """Close it, waiting `CLOSE_S` for the lock and so long again for PortAudio at most."""
        if not self._lock.acquire(timeout=CLOSE_S):
            threading.Thread(target=self._close_later, args=(stream,), daemon=True).start()
            return
        try:
            self._close_now(stream)
        finally:
            self._lock.release()

    def _close_later(self, stream: _Stream) -> None:
        with self._lock:
            self._close_now(stream)

    def _close_now(self, stream: _Stream) -> None:
        try:
            with filtered_stderr():
                call_within(CLOSE_S, "closing the sound card", stream.end, self._closed_late)
            SoundCard._open_streams -= 1
        except NeverReturnedError as error:
            self._leave(error)

    def _closed_late(self, _: None) -> None:
        with self._lock:
            SoundCard._left -= 1
            SoundCard._open_streams -= 1


def _portaudio() -> Any:
    try:
        with filtered_stderr():
            return call_within(LIST_S, "listing the devices", _imported, lambda _: None)
    except OSError as error:
        raise WorldFailedError(NO_PORTAUDIO) from error


def _imported() -> Any:
    import sounddevice  # lists the devices

    # At the end of the process it would end PortAudio, which waits for a call that hangs; streams
    # are closed by whoever opened them, and the system takes back the rest.
    atexit.unregister(sounddevice._exit_handler)
    return sounddevice


class _Stream:
    """A stream of PortAudio; any of its calls may never return."""

    def __init__(
        self,
        library: Any,
        index: int,
        direction: Direction,
        callback: Callable[..., None],
        rate_hz: int,
    ) -> None:
        ending = threading.Event()

        def until_it_ends(*given: Any) -> None:
            if ending.is_set():
                raise library.CallbackAbort
            callback(*given)

        open_stream = library.RawInputStream if direction == "microphone" else library.OutputStream
        self._library = library
        self._ending = ending
        self._stream: Any = open_stream(
            samplerate=rate_hz,
            blocksize=round(BLOCK * rate_hz / SPEECH_RATE_HZ),
            device=index,
            channels=1,
            dtype="float32",
            latency=LATENCY_S[direction],
            callback=until_it_ends,
        )

    def start(self) -> None:
        """Let the sound flow."""
        self._stream.start()

    def end(self) -> None:
        """Stop at once and release the device."""
        self._ending.set()
        with contextlib.suppress(self._library.PortAudioError):
            looks, pause = round(ENDS_S / LOOKS_S), threading.Event()
            while self._stream.active and looks > 0:
                looks -= 1
                pause.wait(LOOKS_S)
        with contextlib.suppress(self._library.PortAudioError):
            self._stream.abort()
        with contextlib.suppress(self._library.PortAudioError):
            self._stream.close()


class CardStream:
    """An open stream; `rate_hz` is the rate that the device took."""

    def __init__(self, card: SoundCard, stream: _Stream, rate_hz: int) -> None:
        self._card = card
        self._stream: _Stream | None = stream
        self._started = False
        self.rate_hz = rate_hz

    def start(self) -> None:
        """Start the flow of sound; WorldFailedError, with the device released, when it fails.

        A start that does not return keeps the device until it does.
        """
        if self._started or self._stream is None:
            return
        try:
            self._card._start_stream(self._stream)
            self._started = True
        except NeverReturnedError:
            self._stream = None
            raise
        except WorldFailedError:
            self.close()
            raise

    def close(self) -> None:
        """Stop at once and release the device; a second time does nothing."""
        stream, self._stream = self._stream, None
        if stream is not None:
            self._card._close_stream(stream)


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
