"""Text -> sound, with pyttsx3. Knows no speaker: the sound is played elsewhere.

pyttsx3 is only trusted to write one file at a time, in a process of its own and in the thread that
made the engine. That process is this module run as a program; when a sentence misses its deadline
the process is killed and the next sentence gets a fresh one. (An engine that hangs in runAndWait
cannot be stopped from within its process, and its driver prints on the standard output.)
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import select
import subprocess
import sys
import tempfile
import threading
import time
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol

import numpy as np

from assistant.devices.sound import Clip

ROUTINE_WPM = 140  # human-factors: routine prompts at 130-150 words a minute
NUMBERS_WPM = 100  # read-back numbers at no more than 100 (ICAO Annex 10 for what is written down)
SENTENCE_S = 5.0  # deadline; a sentence takes some 10 ms, the first also starts the process
LONGEST_ANSWER = 10_000  # bytes
BACKOFF_S = 20.0  # after a failure only cached sentences are spoken this long
CACHE_FILES = 4000  # the most sentences kept
_PEAK = 0.89  # -1 dB of full scale: every sentence is normalised to it

# espeak-ng 1.51 at rate r speaks r / 1.02 words a minute, pauses included, over the ten sentences
# of test_pace_over_ordinary_sentences.
ENGINE_RATE_PER_WPM = 1.02


class Voice(Protocol):
    """A speech synthesiser."""

    def prepare(self) -> None:
        """Get ready, so that the first sentence need not wait."""

    def make(self, text: str, pace_wpm: int = ROUTINE_WPM) -> Clip | None:
        """The sound of a sentence, or None when it cannot be made in time."""

    def close(self) -> None:
        """Release everything."""


class SpokenVoice:
    """The voice of pyttsx3, each sentence cached on disk. For one thread at a time.

    cache: folder for the sentences (`cache_folder()`); None caches none. name: an espeak voice such
    as "gmw/en-us"; None for English. `trouble`: why the last sentence failed, empty if none has.
    """

    def __init__(
        self,
        cache: Path | None = None,
        name: str | None = None,
        deadline_s: float = SENTENCE_S,
        command: tuple[str, ...] = (sys.executable, "-m", "assistant.devices.voice"),
        cache_files: int = CACHE_FILES,
    ) -> None:
        self._cache = cache
        self._cache_files = cache_files
        self._name = name
        self._deadline_s = deadline_s
        self._command = command
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()
        self._backoff_until_s = 0.0
        self.trouble = ""

    def prepare(self) -> None:
        """Start the synthesiser's process, and prune the cache while it starts."""
        with contextlib.suppress(OSError):  # `make` reports it when a sentence is wanted
            self._process = self._process or self._start_process()
        if self._cache is not None:
            prune(self._cache, self._cache_files)

    def make(self, text: str, pace_wpm: int = ROUTINE_WPM) -> Clip | None:
        """The sound of a sentence; None, with `trouble` set, when it cannot be made in time."""
        cached = self._cache_file(text, pace_wpm)
        if cached is not None and (clip := _read(cached)) is not None:
            with contextlib.suppress(OSError):  # a read-only cache still serves
                os.utime(cached)  # used now: pruned last
            return clip
        if time.monotonic() < self._backoff_until_s:
            return None
        try:
            with self._lock, tempfile.TemporaryDirectory(prefix="footplate-voice-") as folder:
                target = Path(folder) / "sentence.wav"
                order = {"text": text, "wpm": pace_wpm, "voice": self._name, "to": str(target)}
                clip = self._synthesise(order, target)
        except OSError as trouble:  # no folder for temporary files, or it is full
            self.trouble = f"no sound can be made: {trouble.strerror or trouble}"
            return None
        if clip is not None and cached is not None:
            _write_cache(clip, cached)
        return clip

    def _synthesise(self, order: dict[str, Any], target: Path) -> Clip | None:
        """The sentence; a file without sound is asked for once more, of a new process.

        On a busy machine the library rarely reports success and has written no sound.
        """
        for _ in range(2):
            if not self._request(order):
                return None
            clip = _read(target)
            if clip is not None:
                return clip
            self.close()
        self.trouble = "the synthesiser made no sound"
        return None

    def close(self) -> None:
        """End the synthesiser's process."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                if pipe is not None:
                    pipe.close()

    def _cache_file(self, text: str, pace_wpm: int) -> Path | None:
        if self._cache is None:
            return None
        key = json.dumps([1, text, pace_wpm, self._name])
        return self._cache / (hashlib.sha256(key.encode()).hexdigest()[:32] + ".wav")

    def _request(self, order: dict[str, Any]) -> bool:
        """One sentence through the process; a process that fails or is late is killed."""
        try:
            if self._process is None:
                self._process = self._start_process()
            answer = self._exchange(self._process, json.dumps(order).encode() + b"\n")
        except OSError as error:
            answer = f"the synthesiser cannot be started: {error}"
        if answer != "made":
            self.trouble = answer
            self._backoff_until_s = time.monotonic() + BACKOFF_S
            self.close()
        return answer == "made"

    def _start_process(self) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            start_new_session=True,  # a Ctrl-C must not reach the synthesiser
        )

    def _exchange(self, process: subprocess.Popen[bytes], line: bytes) -> str:
        assert process.stdin is not None and process.stdout is not None
        process.stdin.write(line)
        process.stdin.flush()
        answer = b""
        due_s = time.monotonic() + self._deadline_s
        while not answer.endswith(b"\n"):  # half an answer is none
            wait_s = due_s - time.monotonic()
            if wait_s <= 0.0 or not select.select([process.stdout], [], [], wait_s)[0]:
                return f"the synthesiser took more than {self._deadline_s:g} s"
            more = os.read(process.stdout.fileno(), 4096)
            if not more:
                return "the synthesiser died"
            answer += more
            if len(answer) > LONGEST_ANSWER:
                return "the synthesiser does not come to the end of its answer"
        return answer.decode(errors="replace").strip()


class FakeVoice:
    """A voice for tests: a hum as long as the sentence would take, without delay."""

    rate_hz = 16_000

    def __init__(self, fails: Callable[[str], bool] = lambda text: False) -> None:
        self._fails = fails
        self.made: list[tuple[str, int]] = []

    def prepare(self) -> None:
        """Always ready."""

    def make(self, text: str, pace_wpm: int = ROUTINE_WPM) -> Clip | None:
        """A hum, or None for a sentence that `fails` picks."""
        if self._fails(text):
            return None
        self.made.append((text, pace_wpm))
        length = int(self.rate_hz * 60 * max(1, len(text.split())) / pace_wpm)
        hum = 0.3 * np.sin(2 * np.pi * 150 * np.arange(length) / self.rate_hz)
        return Clip(hum.astype(np.float32), self.rate_hz)

    def close(self) -> None:
        """Nothing to release."""


def cache_folder() -> Path | None:
    """Where sentences are cached between sessions; None when no such folder can be written."""
    import platformdirs

    folder = Path(platformdirs.user_cache_dir("footplate")) / "voice"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None


def prune(folder: Path, keep: int = CACHE_FILES) -> None:
    """Remove the least recently used sentences when there are more than `keep`."""
    with contextlib.suppress(OSError):  # another session may prune the same folder just now
        newest_first = sorted(
            folder.glob("*.wav"), key=lambda file: file.stat().st_mtime, reverse=True
        )
        for file in newest_first[keep:]:
            file.unlink(missing_ok=True)


def _read(file: Path) -> Clip | None:
    """A mono 16-bit WAV file; None when it is missing, incomplete or silent."""
    try:
        with wave.open(str(file), "rb") as sound:
            rate_hz = sound.getframerate()
            frames = np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2")
    except (OSError, EOFError, wave.Error):
        return None
    if len(frames) < rate_hz // 20 or not frames.any():
        return None
    samples = (frames / 32768.0).astype(np.float32)
    return Clip(samples * (_PEAK / np.abs(samples).max()), rate_hz)


def _write_cache(clip: Clip, file: Path) -> None:
    """Write atomically; a full or read-only disk only costs the cache."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, unfinished = tempfile.mkstemp(dir=file.parent, suffix=".part")
    except OSError:
        return
    try:
        with os.fdopen(handle, "wb") as out, wave.open(out, "wb") as sound:
            sound.setnchannels(1)
            sound.setsampwidth(2)
            sound.setframerate(clip.rate_hz)
            sound.writeframes((clip.samples * 32767).astype("<i2").tobytes())
        Path(unfinished).replace(file)
    except OSError:
        with contextlib.suppress(OSError):
            Path(unfinished).unlink()


def _serve() -> None:
    """The synthesiser's process: one JSON order a line in, "made" or the error a line out."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)  # the driver prints on the standard output
    engine: Any = None
    written = threading.Event()
    for line in sys.stdin:
        try:
            order = json.loads(line)
            if engine is None:
                import pyttsx3

                engine = pyttsx3.init()
                engine.connect("finished-utterance", lambda name, completed: written.set())
            if order["voice"]:
                engine.setProperty("voice", order["voice"])
            engine.setProperty("rate", round(order["wpm"] * ENGINE_RATE_PER_WPM))
            written.clear()
            engine.save_to_file(order["text"], order["to"])
            engine.runAndWait()
            written.wait()  # runAndWait of pyttsx3 2.99 may return before espeak's thread ends
            answer = "made"
        except Exception as error:  # whatever the engine does wrong, the caller is told
            answer = (
                f"the synthesiser failed: {' '.join(str(error).split()) or type(error).__name__}"
            )
        print(answer, file=answers, flush=True)


if __name__ == "__main__":
    _serve()
