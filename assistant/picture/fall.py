"""Whether the pressure falls, and what explains it. Pure; knows no alarm.

Fresh coal and feed take heat for some minutes, steam that is drawn or blows off takes it away, and
with the damper shut or the fire banked she is meant to fall.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.picture.fire import Fire
from assistant.picture.given import Given
from assistant.picture.part import Told
from assistant.picture.readings import Reading, pressures

FALLING = 0.03  # of working pressure, below the highest of `PEAK_S`. Judgement
PEAK_S = 900.0
COALING_S = 480.0  # fresh coal takes heat for some minutes: common practice, no source
FED_S = 240.0  # cold feed goes on taking heat so long after it stopped. Judgement
SUDDEN = 0.4  # of the gauge, within `SUDDEN_S`, from `SUDDEN_FROM` on: no use of steam does it
SUDDEN_S = 150.0
SUDDEN_FROM = 0.15  # of working pressure
GONE, GONE_S = 0.6, 600.0  # of the gauge, over a fire, with no steam told to go. Judgement
FEED_TAKES = 0.4  # of the gauge, over a fire, in `PEAK_S`: no feed takes more. Judgement
UNDRAWN = frozenset({"", "fresh coal"})  # explanations of a fall by which no steam goes out
ON = frozenset({("feed", "on"), ("bypass", "shut")})
OFF = frozenset({("feed", "off"), ("bypass", "open")})


@dataclass(frozen=True, slots=True)
class Fall:
    """A pressure lower than the one called before it."""

    peak_pa: float
    """The highest of the last quarter of an hour [Pa gauge]."""
    now_pa: float
    """The last one called [Pa gauge]."""
    clear: bool
    """Whether it has fallen by more than hunting."""
    sudden: bool
    """Whether most of it went between two calls, as no use of steam takes it."""
    because: str
    """What explains it; empty: nothing does."""
    damper_in: bool
    """Whether the damper, shut or nearly, may be all that is wrong."""

    @property
    def unexplained(self) -> bool:
        """Whether nothing that was reported explains it."""
        return self.sudden or not self.because


def fall_of(given: Given, fire: Fire, damper: Told) -> Fall | None:
    """How the pressure falls now; None while it does not."""
    called = pressures(given.reports, given.engine)
    if len(called) < 2:
        return None
    now, before = called[-1].value or 0.0, called[-2].value or 0.0
    if now >= before:
        return None
    working = given.engine.working_pressure_gauge_pa
    peak = max(r.value or 0.0 for r in called if r.at >= called[-1].at - PEAK_S)
    clear = peak - now >= FALLING * working
    peaks = [r.at for r in called if r.value == peak and r.at >= called[-1].at - PEAK_S]
    because = _because(given, called[-1], peaks[-1], fire, damper)
    if because == "fed" and peak - now > FEED_TAKES * peak:
        because = ""
    held = damper.value in ("shut", "crack")
    sudden = _went(called, working, SUDDEN, SUDDEN_S) or (
        because in UNDRAWN and _went(called, working, GONE, GONE_S)
    )
    return Fall(peak, now, clear, sudden, because, held)


def _open_since(given: Given, what: str, states: tuple[str, ...], since: float) -> bool:
    """Whether it stood in one of these states at any time since then."""
    reports = given.reports.of(what)
    then = [t for t in reports if t.at <= since][-1:]
    later = [t for t in reports if t.at > since]
    return any(t.report.value in states for t in (*then, *later))


def _because(given: Given, last: Reading, since: float, fire: Fire, damper: Told) -> str:
    """What explains a fall from a peak at `since` [s]; empty: nothing does."""
    if not fire.burning:
        return "no fire in"
    if fire.value == "banked" or damper.value == "shut":
        return "fire held back"
    if _open_since(given, "regulator", ("open",), since) or _open_since(
        given, "valve", ("feathering", "lifting"), since
    ):
        return "steam goes out"
    coaled = (t.at for t in reversed(given.reports.of("fire")) if t.report.value == "coal")
    if last.at - next(coaled, float("-inf")) < COALING_S:
        return "fresh coal"
    return "fed" if _fed(given, last.at) else ""


def _fed(given: Given, at: float) -> bool:
    """Whether a feed runs, or stopped a short time before the reading."""
    reports = (t for t in reversed(given.reports) if t.report.what in ("feed", "bypass"))
    last = next((t for t in reports if t.at <= at), None)
    if last is None:
        return False
    told = (last.report.what, str(last.report.value))
    return told in ON or (told in OFF and at - last.at < FED_S)


def _went(called: tuple[Reading, ...], working_pa: float, part: float, within_s: float) -> bool:
    """Whether more than that part of the gauge went between two calls so near to each other."""
    now, before = called[-1], called[-2]
    high = (before.value or 0.0) > SUDDEN_FROM * working_pa
    near = now.at - before.at <= within_s
    return high and near and (now.value or 0.0) < (1.0 - part) * (before.value or 0.0)
