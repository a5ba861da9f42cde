"""Recording the owner's engine as noise, for practices and benches."""

from __future__ import annotations

import argparse
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.commands.output import Out
from assistant.config import paths
from assistant.config.atomic_write import write_whole
from assistant.config.private_files import make_private_folder
from assistant.devices.microphone import Source
from assistant.devices.recorder import record
from assistant.devices.sound import FILE_KINDS, Clip, as_file, at_rate
from assistant.errors import InputWrongError, WorldFailedError
from assistant.messages import SPEECH_RATE_HZ

if TYPE_CHECKING:
    from assistant.recogniser.base import Sound
    from assistant.simulator.noise_kinds import Noises

DEFAULT_S, MIN_S, MAX_S = 60.0, 5.0, 600.0
LEAD_S = 1.0  # left out at the start: the key press, and what was in the card's buffer
PROGRESS_EVERY_S = 10.0
HELP = "blower, chuff, valve, wind, clank, mix; recorded (your own); one of yours by name; a file"


def seconds(text: str) -> float:
    """How long to record, from the command line."""
    try:
        wanted = float(text)
    except ValueError:
        wanted = 0.0
    if not MIN_S <= wanted <= MAX_S:
        raise argparse.ArgumentTypeError(f"{MIN_S:.0f} to {MAX_S:.0f} seconds, not {text!r}")
    return wanted


def record_noise(source: Source, name: str, wanted_s: float, place: Path | None, out: Out) -> Path:
    """Record the engine alone for so many seconds and describe the recording; returns its path.

    name: the microphone's. WorldFailedError when nothing or only silence comes from it.
    """
    from assistant.devices.noise_level import measure_noise, noise_lines

    file = _file(place)
    make_private_folder(file.parent)
    out.tell(
        f"recording the engine for {wanted_s:.0f} seconds with {name}: be silent, and let nobody "
        "speak near it. Let it make the noise in which you will be heard (blower, pump)."
    )
    clip = at_rate(record(source, wanted_s + LEAD_S, _Progress(wanted_s, out)), SPEECH_RATE_HZ)
    clip = Clip(clip.samples[round(LEAD_S * SPEECH_RATE_HZ) :], SPEECH_RATE_HZ)
    level = measure_noise(clip)
    if level.silent:
        raise WorldFailedError(
            f"{name}: only silence came from it, and nothing was kept. Is it muted, or the wrong "
            "device?"
        )
    spoken = speech_in(clip.samples)
    write_whole(file, as_file(clip, FILE_KINDS[file.suffix.lower()]))
    out.record(
        {"file": str(file), "seconds": round(clip.duration_s, 1),
         "level_db": round(level.level_db, 1), "quietest_db": round(level.quietest_db, 1),
         "loudest_db": round(level.loudest_db, 1),
         "clipped_share": round(level.clipped_share, 5), "speech_s": spoken}
    )  # fmt: skip
    for line in (
        f"kept: {file} ({clip.duration_s:.0f} s)",
        *noise_lines(level),
        _speech_line(spoken),
    ):
        out.line(line)
    out.line(
        f"test with it: footplate rehearse --noise 10 --noise-kind {_kind(file)}; "
        "footplate bench talk --part noise"
    )
    return file


def _file(place: Path | None) -> Path:
    """The path of the recording. InputWrongError when it exists or is of another file type."""
    name = time.strftime("%Y-%m-%d-%H%M%S.flac")
    file = paths.noises_folder() / name if place is None else place
    if file.suffix.lower() not in FILE_KINDS:
        if file.suffix and not file.is_dir():
            raise InputWrongError(f"{file}: a noise is kept as .flac or .wav")
        file = file / name
    if file.exists():
        raise InputWrongError(f"{file}: is there already; choose another name")
    return file


def _kind(file: Path) -> str:
    """The name of the recording for --noise-kind."""
    return file.name if file.parent == paths.noises_folder() else str(file)


class _Progress:
    """Says every ten seconds how long the recording still takes."""

    def __init__(self, wanted_s: float, out: Out) -> None:
        self._whole_s = wanted_s + LEAD_S
        self._out = out
        self._next_s = PROGRESS_EVERY_S

    def __call__(self, done_s: float) -> None:
        if done_s >= self._next_s and self._whole_s - done_s >= PROGRESS_EVERY_S / 2:
            self._next_s += PROGRESS_EVERY_S
            self._out.tell(f"... {self._whole_s - done_s:.0f} s more")


def speech_in(sound: Sound) -> list[tuple[float, float]]:
    """(begin, end) [s] of the speech that the detector finds in a sound; close ones are joined."""
    from assistant.devices.sound import blocks
    from assistant.recogniser.detector import STEP, Detector, DetectorLimits

    detector, limits = Detector(), DetectorLimits()
    stretches: list[tuple[float, float]] = []
    began_s: float | None = None
    for number, block in enumerate(blocks(sound, STEP), start=1):
        for detected in detector.feed(block):
            now_s = number * STEP / SPEECH_RATE_HZ
            if detected.sound is None:
                began_s = now_s - limits.start_s
            elif began_s is not None:
                sound_s = len(detected.sound) / SPEECH_RATE_HZ
                stretches.append((began_s, began_s + sound_s - limits.before_s - limits.after_s))
                began_s = None
    if began_s is not None:
        stretches.append((began_s, len(sound) / SPEECH_RATE_HZ))
    return _joined(stretches, limits.gap_s)


def _joined(stretches: Sequence[tuple[float, float]], gap_s: float) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for begin, end in stretches:
        if joined and begin - joined[-1][1] <= gap_s:
            begin = joined.pop()[0]
        joined.append((round(begin, 1), round(end, 1)))
    return joined


def _speech_line(spoken: Sequence[tuple[float, float]]) -> str:
    if not spoken:
        return "no speech was found in it"
    shown = ", ".join(f"{begin:.0f} to {end:.0f} s" for begin, end in spoken[:6])
    more = f" and {len(spoken) - 6} more" if len(spoken) > 6 else ""
    return (
        f"note: speech was found in it, at {shown}{more}. If somebody spoke, record it again; if "
        "nobody did, the engine sounds like speech there, and that is worth testing with"
    )


def noises(wanted: Sequence[str]) -> tuple[Noises, tuple[str, ...]]:
    """A source of these kinds of noise, and their names in it; see `HELP`."""
    from assistant.simulator.noise_kinds import noises_for

    return noises_for(wanted, paths.noises_folder())


def recording_names() -> list[str]:
    """The owner's recordings, by name."""
    from assistant.simulator.noise_kinds import recordings

    return [file.name for file in recordings(paths.noises_folder())]
