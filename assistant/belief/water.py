"""How much water is in the boiler, and what of its change is feed, use and unexplained loss.

A Gaussian process over time, all in kilograms: a start, feed and use in proportion to what was
reported, a steady loss, and a loss that may set in at any time. The glass, rounded as people call
it, is read through the temperature, so expansion is never taken for water.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from assistant.belief import water_balance
from assistant.belief.bands import Array
from assistant.belief.history import History, Water, rounding_height
from assistant.belief.temperature_track import TemperatureTrack
from assistant.boiler import glass
from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.boiler.steam import saturated

MOST = 60  # levels that are weighed: the first and the newest; five hours at five minutes
MISREAD = 0.02  # of the glass: meniscus, movement, a glance; common practice, no source
SWELL_S = 120.0  # a level soon after steam is first taken is swell (Astrom & Bell 2000: 90 s)


@dataclass(frozen=True, slots=True)
class WaterChange:
    """Change of the water between two times [kg]: middle of feed, use and loss (lost: positive)."""

    fed: float
    taken: float
    lost: float
    lost_sd: float


@dataclass(frozen=True, eq=False)
class _Fit:
    """One explanation of the levels seen: covariance, weighted surprise, log evidence."""

    kind: str
    covariance: Array
    pull: Array
    log: float

    @cached_property
    def inverse(self) -> Array:
        """Of the covariance: how sure the explanation is."""
        return np.asarray(np.linalg.inv(self.covariance), dtype=float)


Basis = tuple[Array, Array, Array]  # feed, use and time since the start at some times


@dataclass(frozen=True, eq=False)
class _Covariance:
    """Prior covariance between the water at some times and at others, by what it is made of.

    span_kg: water between bottom and top of the glass, cold.
    """

    span_kg: float
    a: Basis
    b: Basis

    @cached_property
    def feed(self) -> Array:
        return FEED_SD**2 * np.outer(self.a[0], self.b[0])

    @cached_property
    def use(self) -> Array:
        return USE_SD**2 * np.outer(self.a[1], self.b[1])

    @cached_property
    def _told(self) -> Array:
        """All but the loss."""
        return (0.35 * self.span_kg) ** 2 + self.feed + self.use

    @cached_property
    def _since(self) -> Array:
        return np.outer(self.a[2], self.b[2])

    def loss(self, kind: str) -> Array:
        """Of the loss, by one explanation of the levels."""
        steady: Array = (self.span_kg / 40.0 / 3600.0) ** 2 * self._since
        if kind == "leaking":
            return steady + (self.span_kg / 3.0 / 3600.0) ** 2 * self._since
        if kind == "sets in":
            early = np.minimum(self.a[2][:, None], self.b[2][None, :])
            late = np.maximum(self.a[2][:, None], self.b[2][None, :])
            hourly = (self.span_kg / 3600.0) ** 2 / 1200.0
            return steady + hourly * early**2 * (3.0 * late - early) / 6.0
        return steady

    def all(self, kind: str) -> Array:
        """Of all of it, by one explanation."""
        return self._told + self.loss(kind)


@dataclass(frozen=True)
class WaterBelief:
    """What is known of the water of one run. warmth: its temperature; passed: what was reported to
    come and to go.

    Three explanations are weighed: a tight boiler, one that has lost water unseen all along, and
    one in which that sets in on the way (`CHANCES`).
    """

    engine: Engine
    history: History
    track: TemperatureTrack
    passed: water_balance.Passed
    filled_kg: float
    only: _Fit | None = None  # hold to one explanation

    @cached_property
    def seen(self) -> tuple[Water, ...]:
        """Levels in sight, from the last one before the lighting on."""
        levels = tuple(w for w in self.history.waters if w.height is not None)
        lit_s = self.history.lit_s
        cold = [w.at_s for w in levels if lit_s is not None and w.at_s <= lit_s]
        told = tuple(w for w in levels if not cold or w.at_s >= cold[-1])
        return told if len(told) <= MOST else (told[0], *told[-MOST + 1 :])

    @cached_property
    def step(self) -> float:
        """What people round the glass to."""
        return rounding_height(self.seen)

    @cached_property
    def span_kg(self) -> float:
        """Water between bottom and top of the glass, cold [kg]."""
        litres = [litre for _, litre in self.engine.glass.points]
        return (max(litres) - min(litres)) * LITRE_M3 * water_balance.KG_PER_M3

    @cached_property
    def _begun_s(self) -> float:
        first = self.history.acts[0].at_s if self.history.acts else 0.0
        return min((w.at_s for w in self.seen), default=first)

    @cached_property
    def _at_start(self) -> tuple[Array, Array]:
        return self.passed.at((self._begun_s,))

    @cached_property
    def _basis_seen(self) -> Basis:
        return self._basis_at(self._times)

    def _basis(self, times: tuple[float, ...]) -> Basis:
        """Feed, use and time since the start at these times; of the last times asked for kept."""
        if times is self._times:
            return self._basis_seen
        if times not in self._bases:
            self._bases.clear()
            self._bases[times] = self._basis_at(times)
        return self._bases[times]

    @cached_property
    def _bases(self) -> dict[tuple[float, ...], Basis]:
        return {}

    def _basis_at(self, times: tuple[float, ...]) -> Basis:
        fed, taken = self.passed.at(times)
        fed_before, taken_before = self._at_start
        return fed - fed_before, taken - taken_before, np.array(times) - self._begun_s

    def _covariance(self, a: tuple[float, ...], b: tuple[float, ...]) -> _Covariance:
        """Prior covariance between two lists of times."""
        return _Covariance(self.span_kg, self._basis(a), self._basis(b))

    def _mean(self, times: tuple[float, ...]) -> Array:
        fed, taken, _ = self._basis(times)
        return np.asarray(self.filled_kg + FEED_MEAN * fed - taken, dtype=float)

    @cached_property
    def _covariance_seen(self) -> _Covariance:
        return self._covariance(self._times, self._times)

    @cached_property
    def _times(self) -> tuple[float, ...]:
        return tuple(w.at_s for w in self.seen)

    @cached_property
    def _fits(self) -> tuple[tuple[float, _Fit], ...]:
        """The explanations with their probabilities; none when no level was seen."""
        if self.only is not None:
            return ((1.0, self.only),)
        if not self.seen:
            return ()
        times = np.array(self._times)
        kelvin = self.track.along(times)
        kg = [
            glass.water_shown_kg(self.engine, float(w.height or 0.0), k)
            for w, k in zip(self.seen, kelvin.tolist(), strict=True)
        ]
        surprise = np.array(kg) - self._mean(self._times)
        fits = self._fitted(surprise, self._noise_kg(self._swelling(times), kelvin))
        best = max(fit.log for fit in fits)
        weight = [CHANCES[fit.kind] * math.exp(max(fit.log - best, -100.0)) for fit in fits]
        return tuple((w / sum(weight), fit) for w, fit in zip(weight, fits, strict=True))

    def _fitted(self, surprise: Array, noise: Array) -> list[_Fit]:
        """Student's t noise by reweighting, so that one wild glass costs little; every explanation
        at once, each until its weights rest."""
        prior = np.stack([self._covariance_seen.all(kind) for kind in CHANCES])
        count = len(noise)
        covariance, pull = np.empty_like(prior), np.empty((len(prior), count))
        weight = np.ones((len(prior), count))
        moving = np.arange(len(prior))
        diagonal = np.arange(count)
        for _ in range(6):
            own = prior[moving]
            noisy = own.copy()
            noisy[:, diagonal, diagonal] += noise**2 / weight[moving]
            pulled = np.linalg.solve(noisy, surprise[:, None])
            left = (surprise - (own @ pulled)[..., 0]) / noise
            before, now = weight[moving], (FREEDOM + 1.0) / (FREEDOM + left**2)
            covariance[moving], pull[moving], weight[moving] = noisy, pulled[..., 0], now
            moving = moving[np.abs(now - before).max(axis=1) >= 1e-3]
            if not len(moving):
                break
        half = FREEDOM / 2.0
        logs = -0.5 * pull @ surprise - 0.5 * np.linalg.slogdet(covariance)[1]
        logs += (half * (np.log(weight) - weight + 1.0) - np.log(weight)).sum(axis=1)
        return [
            _Fit(kind, covariance[n], pull[n], float(logs[n])) for n, kind in enumerate(CHANCES)
        ]

    def _noise_kg(self, swelling: NDArray[np.bool_], kelvin: Array) -> Array:
        sd = math.hypot(self.step / math.sqrt(12.0), MISREAD) + np.where(swelling, 0.15, 0.0)
        warm_sd = np.where(kelvin < 375.0, 4.0, 1.5)  # how well the temperature is known [K]
        by_warmth = 8e-4 * warm_sd * self.filled_kg  # expansion per kelvin, IF97 near 100 C
        return np.asarray(np.hypot(sd * self.span_kg, by_warmth), dtype=float)

    def swells(self, at_s: float) -> bool:
        """Whether the level at a time may be swell: steam was first taken just before."""
        return bool(self._swelling(np.array([at_s]))[0])

    def _swelling(self, times_s: Array) -> NDArray[np.bool_]:
        after = times_s[:, None] - np.array(self._taken)[None, :]
        return np.asarray(((after >= 0.0) & (after <= SWELL_S)).any(axis=1))

    @cached_property
    def _taken(self) -> tuple[float, ...]:
        """When steam was first taken."""
        taken = {("regulator", "open"), ("valve", "open"), ("valve", "lifting")}
        return tuple(a.at_s for a in self.history.acts if (a.what, a.state) in taken)

    def mass(self, at_s: float) -> tuple[float, float]:
        """Water in the boiler at a time [kg]: middle and standard deviation."""
        own_prior = self._covariance((at_s,), (at_s,))
        if not self.seen:
            return self.middle_kg(at_s), math.sqrt(own_prior.all(TIGHT)[0, 0])
        mean, square = 0.0, 0.0
        for share, fit, middle, across in self._middles(at_s):
            own = own_prior.all(fit.kind)[0, 0]
            variance = max(float(own - across @ fit.inverse @ across), 1e-6)
            mean += share * middle
            square += share * (variance + middle**2)
        return max(mean, 0.02 * self.filled_kg), math.sqrt(max(square - mean**2, 1e-6))

    def middle_kg(self, at_s: float) -> float:
        """The middle alone of the water in the boiler at a time [kg]."""
        if not self.seen:
            return float(self._mean((at_s,))[0])
        mean = 0.0
        for share, _, middle, _ in self._middles(at_s):
            mean += share * middle
        return max(mean, 0.02 * self.filled_kg)

    def _middles(self, at_s: float) -> Iterator[tuple[float, _Fit, float, Array]]:
        """Of each explanation its share, its middle at a time [kg], and what that rests on."""
        prior_mean = float(self._mean((at_s,))[0])
        prior = self._covariance((at_s,), self._times)
        for share, fit in self._fits:
            across = prior.all(fit.kind)[0]
            yield share, fit, prior_mean + float(across @ fit.pull), across

    def masses(self, times: Array) -> Array:
        """The middle of the water in the boiler at each of these times [kg]."""
        when = tuple(float(t) for t in times)
        middle, across = self._mean(when), self._covariance(when, self._times)
        for share, fit in self._fits:
            middle += share * (across.all(fit.kind) @ fit.pull)
        return np.maximum(middle, 0.02 * self.filled_kg)

    @cached_property
    def losing(self) -> float:
        """Probability that water goes where nobody reported it."""
        if not self.seen:
            return 1.0 - CHANCES[TIGHT]
        return sum(share for share, fit in self._fits if fit.kind != TIGHT)

    @cached_property
    def likelier(self) -> WaterBelief:
        """The same water by the likeliest explanation alone, tight or losing."""
        wanted = [fit for fit in self._fits if (fit[1].kind != TIGHT) == (self.losing > 0.5)]
        best = max(wanted, key=lambda fit: fit[0], default=None)
        return replace(self, only=best[1] if best else None)

    def parts(self, from_s: float, to_s: float) -> WaterChange:
        """What the change of the water between two times is made of."""
        ends = (from_s, to_s)
        fed, taken, _ = self._basis(ends)
        change = np.array([FEED_MEAN * (fed[1] - fed[0]), taken[0] - taken[1], 0.0])
        variance = 0.0
        prior, prior_own = self._covariance(ends, self._times), self._covariance(ends, ends)
        for share, fit in self._fits:
            across = (prior.feed, prior.use, prior.loss(fit.kind))
            change += share * np.array([float((part[1] - part[0]) @ fit.pull) for part in across])
            own = prior_own.loss(fit.kind)
            slope = across[2][1] - across[2][0]
            spread = own[0, 0] + own[1, 1] - 2.0 * own[0, 1] - float(slope @ fit.inverse @ slope)
            variance += share * max(float(spread), 0.0)
        return WaterChange(
            max(float(change[0]), 0.0),
            max(-float(change[1]), 0.0),
            -float(change[2]),
            math.sqrt(variance),
        )

    # --- as the glass shows it -------------------------------------------------------------------

    def glass_per_kg(self, kelvin: float) -> float:
        """How much of the glass one kilogram is, hot [1/kg]."""
        cold = saturated(288.15).vf
        return saturated(kelvin).vf / cold / self.span_kg

    def shown(self, at_s: float, kelvin: float | None = None) -> tuple[float, float]:
        """What the glass shows at a time, middle and standard deviation [fraction].

        kelvin: of the water then, where it is not as called.
        """
        hot = self.track.at(at_s) if kelvin is None else kelvin
        kg, spread = self.mass(at_s)
        middle = glass.shown_for(self.engine, kg, hot)
        return middle, math.hypot(spread * self.glass_per_kg(hot), 0.025)


FEED_MEAN, FEED_SD = 0.85, 0.25  # what arrives of the pump's figure; small pumps slip (from memory)
TIGHT = "tight"
# Chances before any look; kept alert to a loss (common practice, no source).
CHANCES: dict[str, float] = {TIGHT: 0.8, "leaking": 0.1, "sets in": 0.1}
FREEDOM = 8.0  # of the t distribution of what is called
USE_SD = 0.5  # how far steam taken may be off its nominal figure


def out_of_sight(history: History) -> bool:
    """Whether the newest word on the glass is that no water is in sight."""
    return bool(history.waters) and history.waters[-1].height is None
