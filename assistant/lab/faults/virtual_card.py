"""A virtual sound card: a private PulseAudio with a microphone to speak into and a speaker to hear.

It is reached as a live card is, through PortAudio and ALSA; only the server is private, in a
folder of its own, and it ends with whoever started it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import threading
import time
import wave
from itertools import takewhile
from pathlib import Path

import numpy as np

from assistant.devices.sound import Clip, Samples, at_rate
from assistant.errors import WorldFailedError

MICROPHONE = "cab_microphone"
SPEAKER = "cab_speaker"
OVERHEARS = "cab_overhears"  # a microphone that hears nothing but the speaker
RATE_HZ = 48_000

ASOUND = f"""
</usr/share/alsa/alsa.conf>
pcm.{MICROPHONE} {{ type pulse device "mic" hint {{ show on description "microphone" }} }}
pcm.{SPEAKER} {{ type pulse device "out_sink" hint {{ show on description "speaker" }} }}
pcm.{OVERHEARS} {{ type pulse device "out_sink.monitor" hint {{ show on description "echo" }} }}
"""


class VirtualCard:
    """The server with its microphone (`speak`, `unplug`, `plug`) and its speaker (`record`)."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._server: subprocess.Popen[bytes] | None = None
        self._module = self._speaker = ""

    def start(self) -> None:
        """Run the server; WorldFailedError where that cannot be done."""
        socket = self.folder / "native"
        self._server = subprocess.Popen(
            [
                "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
                "-L", f"module-native-protocol-unix auth-anonymous=1 socket={socket}",
                "-L", f"module-null-sink sink_name=mic_sink rate={RATE_HZ} channels=1",
            ],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "HOME": str(self.folder)},
        )  # fmt: skip
        for _ in range(100):
            if self._pactl("info") is not None:
                break
            time.sleep(0.05)
        else:
            raise WorldFailedError("a private PulseAudio server does not start here")
        self.put_speaker()
        self.plug()

    def stop(self) -> None:
        """End the server."""
        if self._server is not None:
            self._server.terminate()
            self._server.wait(5.0)

    def plug(self) -> None:
        """Put the microphone in."""
        made = self._pactl("load-module", "module-remap-source", "source_name=mic",
                           "master=mic_sink.monitor")  # fmt: skip
        assert made is not None
        self._module = made.strip()

    def unplug(self) -> None:
        """Pull the microphone out."""
        assert self._pactl("unload-module", self._module) is not None

    def hiss(self, loudness: float = 0.003) -> subprocess.Popen[bytes]:
        """A quiet noise into the microphone until it is ended: without it there is exact silence.

        loudness: of full scale.
        """
        noise = np.random.default_rng(5).normal(0, loudness * 32767, RATE_HZ * 10)
        file = self.folder / "hiss.raw"
        file.write_bytes(noise.astype("<i2").tobytes())
        return subprocess.Popen(
            ["sh", "-c", 'while cat "$1"; do :; done | pacat --playback --device=mic_sink --raw'
             f" --format=s16le --rate={RATE_HZ} --channels=1", "hiss", str(file)],
            start_new_session=True, stderr=subprocess.DEVNULL,
        )  # fmt: skip

    def mute(self) -> None:
        """The microphone gives digital silence."""
        assert self._pactl("set-source-mute", "mic", "1") is not None

    def unmute(self) -> None:
        """It gives sound again."""
        assert self._pactl("set-source-mute", "mic", "0") is not None

    def put_speaker(self) -> None:
        """Put the loudspeaker there."""
        made = self._pactl("load-module", "module-null-sink", "sink_name=out_sink",
                           f"rate={RATE_HZ}", "channels=1")  # fmt: skip
        assert made is not None
        self._speaker = made.strip()

    def take_speaker(self) -> None:
        """Take the loudspeaker away."""
        assert self._pactl("unload-module", self._speaker) is not None

    def speak(self, clip: Clip, into: str = "mic_sink") -> subprocess.Popen[bytes]:
        """Play a sound into the microphone (or into the room, where the speaker is: out_sink)."""
        file = self.folder / f"spoken-{time.monotonic_ns()}.wav"
        write_wav(file, at_rate(clip, RATE_HZ))
        return subprocess.Popen(
            ["pacat", "--playback", f"--device={into}", "--latency-msec=40",
             "--file-format=wav", str(file)]
        )  # fmt: skip

    def record(self) -> Recording:
        """A recording of what comes out of the speaker."""
        return Recording()

    def _pactl(self, *words: str) -> str | None:
        done = subprocess.run(["pactl", *words], capture_output=True, text=True, timeout=10)
        return done.stdout if done.returncode == 0 else None


class Recording:
    """What comes out of the speaker, as it comes. Use as a context; ready when entered."""

    def __enter__(self) -> Recording:
        self._parec = subprocess.Popen(
            ["pacat", "--record", "--device=out_sink.monitor", "--latency-msec=20", "--raw",
             "--format=s16le", f"--rate={RATE_HZ}", "--channels=1"],
            stdout=subprocess.PIPE, bufsize=0,
        )  # fmt: skip
        self._parts: list[tuple[float, Samples]] = []
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        end = time.monotonic() + 8.0
        while not self._parts and time.monotonic() < end:
            time.sleep(0.02)
        assert self._parts, "nothing is recorded from the virtual speaker"
        return self

    def __exit__(self, *_: object) -> None:
        self._parec.terminate()
        self._parec.wait(5.0)
        self._reader.join(5.0)

    def samples(self) -> Samples:
        """All of it so far, at `RATE_HZ`."""
        return np.concatenate([part for _, part in self._parts])

    def last_loud_s(self) -> float:
        """When, by the monotonic clock, the last loud part arrived here; 0 when there was none."""
        return next((at_s for at_s, part in reversed(list(self._parts)) if _loud(part)), 0.0)

    def first_loud_s(self, since_s: float) -> float | None:
        """When the first loud part since then arrived here, by the monotonic clock."""
        parts = reversed(list(self._parts))
        since = takewhile(lambda timed: timed[0] >= since_s, parts)
        return min((at_s for at_s, part in since if _loud(part)), default=None)

    def wait_loud(self, seconds: float) -> float:
        """Until something loud comes; when, by the monotonic clock."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            for at_s, part in list(self._parts):
                if _loud(part):
                    return at_s
            time.sleep(0.02)
        raise AssertionError("nothing came out of the speaker")

    def wait_quiet(self, seconds: float, silent_s: float = 1.5) -> None:
        """Until nothing loud has come for `silent_s`."""
        end = time.monotonic() + seconds
        while time.monotonic() - self.last_loud_s() < silent_s:
            assert time.monotonic() < end, "the speaker does not go silent"
            time.sleep(0.02)

    def _read(self) -> None:
        assert self._parec.stdout is not None
        while raw := self._parec.stdout.read(1024):
            part = (np.frombuffer(raw[: len(raw) // 2 * 2], "<i2") / 32768.0).astype(np.float32)
            self._parts.append((time.monotonic(), part))


def _loud(part: Samples) -> bool:
    return bool(np.abs(part).max(initial=0.0) > 0.02)


def why_absent() -> str:
    """Which part of the virtual sound card is not installed; empty: it is all there."""
    for program in ("pulseaudio", "pactl", "pacat"):
        if shutil.which(program) is None:
            return f"no virtual sound card: {program} is not installed"
    if not any(Path("/usr/lib").glob("*/alsa-lib/libasound_module_pcm_pulse.so")):
        return "no virtual sound card: libasound2-plugins is not installed"
    return ""


def environment(folder: Path) -> dict[str, str]:
    """What a program must find in its environment to use the virtual card of this folder."""
    (folder / "asound.conf").write_text(ASOUND)
    return {
        "XDG_RUNTIME_DIR": str(folder),
        "PULSE_RUNTIME_PATH": str(folder),
        "PULSE_SERVER": f"unix:{folder / 'native'}",
        "PULSE_COOKIE": str(folder / "cookie"),
        "ALSA_CONFIG_PATH": str(folder / "asound.conf"),
    }


def write_wav(file: Path, clip: Clip) -> None:
    """A mono 16-bit WAV file."""
    with wave.open(str(file), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(clip.rate_hz)
        out.writeframes((np.clip(clip.samples, -1, 1) * 32767).astype("<i2").tobytes())
