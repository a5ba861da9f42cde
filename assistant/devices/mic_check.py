"""Is this microphone good enough, and what would improve it? Pure sums over a recording.

The recording is about a second of silence and then a few of speech, as `devices --test` asks for.
Figures without a source beside them are the author's choice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from assistant.devices.sound import Clip, Samples

FRAME_S = 0.032
FULL_SCALE = 0.985
RATIO_REFUSE_DB = 6.0  # human-factors requirement 9: refuse voice readings below this
RATIO_GOOD_DB = 15.0
SPEECH_FAR_DB = -42.0  # dB of full scale, active speech
CLIPPED_SHARE = 0.001
CALL_BANDS_HZ = ((3_600.0, "telephone-quality"), (7_400.0, "wideband call-quality"))
BAND_DROP_DB = 35.0  # only a codec cuts off so sharply, not a mouth or a room


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault of a microphone."""

    serious: bool  # readings must not be trusted to it
    what: str  # the fault in words
    remedy: str


@dataclass(frozen=True, slots=True)
class MicMeasurement:
    """Levels of a recording, and the faults they show."""

    noise_db: float  # of full scale
    speech_db: float | None  # of full scale; None when no speech stood out from the noise
    ratio_db: float | None  # speech alone over noise; None likewise
    peak: float  # largest sample, 1 at full scale
    clipped_share: float  # of the samples
    top_hz: float  # where the spectrum ends
    rate_hz: int
    findings: tuple[Finding, ...]

    @property
    def usable(self) -> bool:
        """Whether spoken readings may be trusted to this microphone."""
        return not any(finding.serious for finding in self.findings)


def check_lines(measured: MicMeasurement) -> list[str]:
    """The measurements and findings, one line each, for the operator.

    >>> check_lines(measure_microphone(Clip(np.zeros(16_000, np.float32), 16_000)))[-1]
    'NOT USABLE: only digital silence comes from it. Is it muted, or the wrong device?'
    """
    speech = "none" if measured.speech_db is None else f"{measured.speech_db:.0f} dB"
    ratio = "unknown" if measured.ratio_db is None else f"{measured.ratio_db:.0f} dB"
    summary = (
        f"speech {speech}, noise {measured.noise_db:.0f} dB, speech over noise {ratio}, "
        f"{measured.rate_hz} Hz, sound up to {measured.top_hz:.0f} Hz"
    )
    if not measured.findings:
        return [summary, "nothing wrong with it"]
    return [summary] + [
        f"{'NOT USABLE' if finding.serious else 'note'}: {finding.what}. "
        f"{finding.remedy[0].upper()}{finding.remedy[1:]}"
        for finding in measured.findings
    ]


def measure_microphone(clip: Clip) -> MicMeasurement:
    """Everything that a recording of silence and speech shows."""
    levels = frame_levels_db(clip)
    noise_db = float(np.percentile(levels, 10))
    speech = levels[levels > noise_db + 6.0]
    enough = len(speech) * FRAME_S >= 0.3
    speech_db = float(10 * np.log10(np.mean(10 ** (speech / 10)))) if enough else None
    ratio_db = None if speech_db is None else speech_to_noise_db(speech_db, noise_db)
    measured = MicMeasurement(
        noise_db=noise_db,
        speech_db=speech_db,
        ratio_db=ratio_db,
        peak=float(np.abs(clip.samples).max(initial=0.0)),
        clipped_share=clipped_share(clip.samples),
        top_hz=top_of_band_hz(clip),
        rate_hz=clip.rate_hz,
        findings=(),
    )
    return replace(measured, findings=tuple(_findings(measured)))


def frame_levels_db(clip: Clip) -> npt.NDArray[np.float64]:
    """The level of each frame of 32 ms, in dB of full scale (a full-scale square wave is 0)."""
    size = max(1, int(FRAME_S * clip.rate_hz))
    whole = len(clip.samples) // size
    if whole == 0:
        return np.array([-120.0])
    frames = clip.samples[: whole * size].reshape(whole, size).astype(np.float64)
    frames -= frames.mean(axis=1, keepdims=True)
    return np.asarray(10 * np.log10(np.mean(frames**2, axis=1) + 1e-12))


def speech_to_noise_db(speech_db: float, noise_db: float) -> float:
    """The ratio of speech alone to noise: the noise under the speech is subtracted first.

    >>> round(speech_to_noise_db(-20.0, -26.0), 1)
    4.7
    """
    alone = max(10 ** (speech_db / 10) - 10 ** (noise_db / 10), 1e-12)
    return float(10 * np.log10(alone) - noise_db)


def clipped_share(samples: Samples) -> float:
    """The share of samples in flat tops: at the largest value, several in a row.

    A microphone may clip below full scale, so the recording's own largest value counts.
    """
    if len(samples) == 0:
        return 0.0
    loud = np.abs(samples)
    top = float(loud.max())
    if top < 0.05:
        return 0.0
    flat = (loud[1:] >= top * FULL_SCALE) & (loud[:-1] >= top * FULL_SCALE)
    flat &= np.abs(np.diff(samples)) < 1e-4
    return float(flat.mean())


def top_of_band_hz(clip: Clip) -> float:
    """Where the sound's spectrum ends: a codec's sharp edge below half the sample rate.

    Half the sample rate when there is no such edge.
    """
    spectrum_db, step_hz = _loud_spectrum_db(clip)
    for edge_hz, _ in CALL_BANDS_HZ:
        inside = spectrum_db[int((edge_hz - 900) / step_hz) : int((edge_hz - 300) / step_hz)]
        outside = spectrum_db[int((edge_hz + 700) / step_hz) : int((edge_hz + 1300) / step_hz)]
        rest = spectrum_db[int((edge_hz + 700) / step_hz) :]
        if len(outside) < 5 or len(rest) < 5:
            continue
        if np.median(inside) - max(np.median(outside), np.median(rest)) > BAND_DROP_DB:
            return edge_hz
    return clip.rate_hz / 2


def _loud_spectrum_db(clip: Clip) -> tuple[npt.NDArray[np.float64], float]:
    """The mean power spectrum of the louder half of the recording, and its step in Hz."""
    size = 1024
    if len(clip.samples) < 4 * size:
        return np.zeros(0), clip.rate_hz / size
    whole = len(clip.samples) // size
    frames = clip.samples[: whole * size].reshape(whole, size).astype(np.float64)
    energy = np.mean(frames**2, axis=1)
    loud = frames[energy >= np.median(energy)]
    power = np.mean(np.abs(np.fft.rfft(loud * np.hanning(size), axis=1)) ** 2, axis=0)
    return 10 * np.log10(power + 1e-15), clip.rate_hz / size


def _findings(m: MicMeasurement) -> Iterator[Finding]:
    if m.peak == 0.0:
        remedy = "is it muted, or the wrong device?"
        yield Finding(True, "only digital silence comes from it", remedy)
        return
    yield from _about_band(m)
    yield from _about_level(m)


def _about_band(m: MicMeasurement) -> Iterator[Finding]:
    remedy = "a Bluetooth headset in call mode? use a wired or a USB microphone"
    for edge_hz, quality in CALL_BANDS_HZ:
        if m.top_hz == edge_hz or m.rate_hz / 2 <= edge_hz + 400:
            what = f"{quality} sound: nothing above {edge_hz:.0f} Hz"
            yield Finding(edge_hz < 4_000, what, remedy)
            return


def _about_level(m: MicMeasurement) -> Iterator[Finding]:
    if m.clipped_share > CLIPPED_SHARE:
        remedy = "turn its level down, or speak past it rather than into it"
        yield Finding(
            m.clipped_share > 0.02, f"it clips ({m.clipped_share:.1%} of the time)", remedy
        )
    if m.speech_db is None or m.ratio_db is None:
        what = f"no speech stood out from the noise ({m.noise_db:.0f} dB)"
        yield Finding(True, what, "is it the right microphone? speak 5 cm from it")
        return
    over = f"speech is {m.ratio_db:.0f} dB above the noise"
    if m.ratio_db < RATIO_REFUSE_DB:
        remedy = "bring it within 5 cm of the mouth, or use a headset with a boom"
        yield Finding(True, f"{over}: too little for readings", remedy)
    elif m.ratio_db < RATIO_GOOD_DB:
        yield Finding(False, f"{over}: expect questions", "bring it nearer to the mouth")
    if m.speech_db < SPEECH_FAR_DB:
        what = f"speech is faint ({m.speech_db:.0f} dB): too far, or turned down"
        yield Finding(False, what, "bring it nearer, or turn its level up")
