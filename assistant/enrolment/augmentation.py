"""Augmentation: speed, room, microphone and noise on the way to the recogniser.

Knows arrays and chance. The figures are the author's choice, wide enough that a real room and
microphone lie inside; none is fitted to a noise that a recogniser is evaluated in.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

NoiseMaker = Callable[[int, np.random.Generator], Sound]
"""(samples, rng) -> noise at any level."""
_FIRST_HZ = 60.0


@dataclass(frozen=True, slots=True)
class Augmentation:
    """How much is done. Shares are of all clips."""

    speed: tuple[float, float] = (0.78, 1.25)
    """Slowest and fastest."""
    room: float = 0.5
    """Share with a room's reverberation."""
    band: float = 0.6
    """Share with a microphone's band limits."""
    tilt_db: float = 5.0
    """Greatest spectral slope, dB an octave."""
    raised: float = 0.2
    """Share in a raised voice."""
    clipped: float = 0.08
    """Share that is clipped."""
    talk: float = 0.12
    """Share with the speech of others under it."""
    clean: float = 0.15
    """Share with 30 dB more than `snr_db`."""
    snr_db: tuple[float, float] = (-5.0, 30.0)
    """Speech over noise, drawn evenly."""


def at_speed(sound: Sound, rng: np.random.Generator, settings: Augmentation) -> Sound:
    """Faster and higher or slower and lower, as a smaller or larger person; sometimes stretched."""
    if rng.random() < 0.25:
        return sound
    low, high = np.log(settings.speed[0]), np.log(settings.speed[1])
    sound = _resampled(sound, float(np.exp(rng.uniform(low, high))))
    if rng.random() < 0.3:
        sound = time_stretched(sound, float(np.exp(rng.uniform(low, high))))
    return sound


def _resampled(sound: Sound, factor: float) -> Sound:
    at = np.arange(int(len(sound) / factor)) * factor
    return np.asarray(np.interp(at, np.arange(len(sound)), sound), dtype=np.float32)


def time_stretched(sound: Sound, speed: float) -> Sound:
    """Speed without pitch (WSOLA): overlapping pieces, each moved to where it fits the last."""
    piece, search = 400, 120
    hop_out, hop_in = piece // 2, int(piece / 2 * speed)
    if len(sound) < 4 * (piece + search):
        return sound
    window = np.hanning(piece + 1)[:-1].astype(np.float32)
    count = (len(sound) - piece - 2 * search) // hop_in
    stretched = np.zeros(count * hop_out + piece, np.float32)
    at = search
    for number in range(count):
        stretched[number * hop_out : number * hop_out + piece] += window * sound[at : at + piece]
        natural = sound[at + hop_out : at + hop_out + piece]  # what follows in the original
        nominal = search + (number + 1) * hop_in
        area = sound[nominal - search : nominal + search + piece]
        if len(natural) < piece or len(area) < piece + 2 * search:
            break
        similarity = np.correlate(area[::2], natural[::2], "valid")
        at = nominal - search + 2 * int(similarity.argmax())
    return stretched


def through_room_and_microphone(
    sound: Sound, rng: np.random.Generator, settings: Augmentation
) -> Sound:
    """A short room, a raised voice's brighter spectrum, a microphone's slope and band limits."""
    from scipy import fft

    count = fft.next_fast_len(len(sound) + SPEECH_RATE_HZ // 4, real=True)
    spectrum = fft.rfft(sound, count)
    hz = np.linspace(0, SPEECH_RATE_HZ / 2, len(spectrum), dtype=np.float32)
    octaves = np.log2((hz + 100) / 1000)
    slope_db = rng.uniform(-settings.tilt_db, settings.tilt_db)
    if rng.random() < settings.raised:  # Lombard speech: flatter, its upper bands rise
        slope_db += rng.uniform(2, 5)
    gain = 10 ** (slope_db * octaves / 20)
    if rng.random() < settings.band:
        low, high = rng.uniform(0, 250), rng.uniform(3200, 8000)
        gain = (
            gain
            / (1 + np.exp(-(hz - low) / 30))
            / (1 + np.exp(-np.clip((high - hz) / 200, -60, 60)))
        )
    if rng.random() < settings.room:
        spectrum = spectrum * fft.rfft(_room(rng), count)
    return np.asarray(fft.irfft(spectrum * gain, count)[: len(sound)], dtype=np.float32)


def _room(rng: np.random.Generator) -> Sound:
    """The direct sound and a tail that dies away in 30 to 250 ms (60 dB)."""
    count = int(0.24 * SPEECH_RATE_HZ)
    tail = rng.standard_normal(count, np.float32)
    tail *= np.exp(
        -6.9 * np.arange(count, dtype=np.float32) / SPEECH_RATE_HZ / rng.uniform(0.03, 0.25)
    )
    tail *= rng.uniform(0, 0.12)
    tail[:16] = 0
    tail[0] = 1
    return tail


def noise(count: int, rng: np.random.Generator) -> Sound:
    """Coloured noise at an RMS of 1: a slope, three bumps or dips, beating or steady, knocks."""
    from scipy import fft

    size = fft.next_fast_len(max(count, 512), real=True)
    spectrum = fft.rfft(rng.standard_normal(size, np.float32))
    hz = np.linspace(0, SPEECH_RATE_HZ / 2, len(spectrum), dtype=np.float32)
    gain_db = rng.uniform(-10, 4) * np.log2((hz + _FIRST_HZ) / 1000)
    for _ in range(3):
        centre = np.exp(rng.uniform(np.log(90), np.log(7000)))
        width = rng.uniform(0.2, 1.2)
        gain_db += rng.uniform(-15, 15) * np.exp(-((np.log2((hz + 20) / centre) / width) ** 2))
    sound = fft.irfft(spectrum * 10 ** (np.clip(gain_db, -60, 60) / 20), size)[:count]
    sound = _beating(sound.astype(np.float32), rng)
    sound = unit_rms(sound)
    return unit_rms(sound + _knocks(count, rng)) if rng.random() < 0.15 else sound


def _beating(sound: Sound, rng: np.random.Generator) -> Sound:
    seconds = np.arange(len(sound), dtype=np.float32) / SPEECH_RATE_HZ
    phase = np.mod(seconds * np.exp(rng.uniform(np.log(0.4), np.log(12))) + rng.random(), 1.0)
    decaying = rng.random() < 0.5
    shape = (
        np.exp(-phase * rng.uniform(0, 8)) if decaying else 0.5 + 0.5 * np.cos(2 * np.pi * phase)
    )
    depth = rng.random() ** 1.5
    return np.asarray(sound * (1 - depth + depth * shape), dtype=np.float32)


def _knocks(count: int, rng: np.random.Generator) -> Sound:
    """Metal or wood struck now and then."""
    knocks = np.zeros(count, np.float32)
    for _ in range(max(1, int(count / SPEECH_RATE_HZ * rng.uniform(0.5, 3)))):
        start = int(rng.integers(count))
        seconds = (
            np.arange(min(SPEECH_RATE_HZ // 4, count - start), dtype=np.float32) / SPEECH_RATE_HZ
        )
        for hz in rng.uniform(200, 5000, 4):
            knocks[start : start + len(seconds)] += (
                rng.uniform(0.5, 4) * np.sin(2 * np.pi * hz * seconds)
                * np.exp(-seconds / rng.uniform(0.01, 0.1))
            )  # fmt: skip
    return knocks


def stretch(sound: Sound, count: int, rng: np.random.Generator) -> Sound:
    """So many samples of a sound, repeated, from anywhere in it, at an RMS of 1."""
    return unit_rms(np.roll(np.resize(sound, count), int(rng.integers(max(1, count)))))


def speech_level(sound: Sound) -> float:
    """RMS over the 20 ms frames within 25 dB of the loudest."""
    frame = SPEECH_RATE_HZ // 50
    power = (sound[: len(sound) // frame * frame].reshape(-1, frame) ** 2).mean(axis=1)
    if not len(power) or power.max() <= 0:
        return 1e-4
    return float(np.sqrt(power[power >= power.max() * 10**-2.5].mean()))


def at_random_level(sound: Sound, rng: np.random.Generator, settings: Augmentation) -> Sound:
    """Peak between -1 and -27 dB of full scale; now and then clipped."""
    peak = max(1e-6, float(np.abs(sound).max()))
    if rng.random() < settings.clipped:
        driven = np.clip(sound / peak * rng.uniform(1.2, 4), -0.98, 0.98)
        return np.asarray(driven, dtype=np.float32)
    return (sound / peak * 0.9 * 10 ** (-rng.uniform(0, 1.3))).astype(np.float32)


def augmented(
    sound: Sound,
    rng: np.random.Generator,
    settings: Augmentation,
    talkers: Sequence[Sound] = (),
    make_noise: NoiseMaker = noise,
) -> Sound:
    """The sound as a microphone may get it. talkers: speech of others, mixed in now and then."""
    sound = at_speed(sound, rng, settings)
    sound = through_room_and_microphone(sound, rng, settings)
    level = speech_level(sound)
    under = unit_rms(make_noise(len(sound), rng))
    if talkers and rng.random() < settings.talk:
        other = stretch(talkers[int(rng.integers(len(talkers)))], len(sound), rng)
        under = unit_rms(under + rng.uniform(0.2, 1.2) * other)
    snr_db = rng.uniform(*settings.snr_db) + (30.0 if rng.random() < settings.clean else 0.0)
    both = sound + under * (level * 10 ** (-snr_db / 20))
    return at_random_level(both.astype(np.float32), rng, settings)


def unit_rms(sound: Sound) -> Sound:
    """Scaled to an RMS of 1."""
    return np.asarray(sound / max(1e-9, float(np.sqrt(np.mean(sound**2)))), dtype=np.float32)
