"""How much water is in the boiler, and what of its change is feed, steam and unexplained loss.

The glass, rounded as people call it, is read through the temperature, so that expansion is never
taken for water.
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
from assistant.belief.water_process import (
    CHANCES,
    FEED_MEAN,
    TIGHT,
    Basis,
    LevelFit,
    PriorCovariance,
    level_fits,
)
from assistant.boiler import glass
from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.boiler.steam import saturated

MOST_LEVELS = 60  # levels fitted: the first and the newest; five hours at five minutes
MISREAD = 0.02  # of the glass: meniscus, movement, a glance; common practice, no source
SWELL_S = 120.0  # a level soon after steam is first taken is swell (Astrom & Bell 2000: 90 s)

FIRST_STEAM = {("regulator", "open"), ("valve", "open"), ("valve", "lifting")}


@dataclass(frozen=True, slots=True)
class WaterChange:
    """What the water changed by between two times [kg]."""

    fed: float
    taken: float
    """as steam"""
    lost: float
    """unexplained; positive: gone"""
    lost_sd: float


@dataclass(frozen=True)
class WaterBelief:
    """What is known of the water of one run, weighing three explanations (`CHANCES`): a tight
    boiler, one that loses water unseen all along, and one in which that sets in on the way."""

    engine: Engine
    history: History
    track: TemperatureTrack
    """the water's temperature over time"""
    flows: water_balance.NominalFlows
    """feed and steam as reported"""
    filled_kg: float
    """water at the start [kg]"""
    only: LevelFit | None = None
    """the one explanation to hold to, where given"""

    @cached_property
    def levels(self) -> tuple[Water, ...]:
        """Levels in sight, from the last one before the lighting on."""
        levels = tuple(w for w in self.history.waters if w.height is not None)
        lit_s = self.history.lit_s
        cold = [w.at_s for w in levels if lit_s is not None and w.at_s <= lit_s]
        run = tuple(w for w in levels if not cold or w.at_s >= cold[-1])
        return run if len(run) <= MOST_LEVELS else (run[0], *run[-MOST_LEVELS + 1 :])

    @cached_property
    def rounding(self) -> float:
        """What people round the glass to [fraction]."""
        return rounding_height(self.levels)

    @cached_property
    def span_kg(self) -> float:
        """Water between bottom and top of the glass, cold [kg]."""
        litres = [litre for _, litre in self.engine.glass.points]
        return (max(litres) - min(litres)) * LITRE_M3 * water_balance.KG_PER_M3

    @cached_property
    def _begun_s(self) -> float:
        first = self.history.acts[0].at_s if self.history.acts else 0.0
        return min((w.at_s for w in self.levels), default=first)

    @cached_property
    def _flows_at_start(self) -> tuple[Array, Array]:
        return self.flows.at((self._begun_s,))

    @cached_property
    def _level_times(self) -> tuple[float, ...]:
        return tuple(w.at_s for w in self.levels)

    @cached_property
    def _level_basis(self) -> Basis:
        return self._computed_basis(self._level_times)

    def _basis(self, times: tuple[float, ...]) -> Basis:
        """Feed, steam and time since the start at these times; caches the last times asked for."""
        if times is self._level_times:
            return self._level_basis
        if times not in self._last_basis:
            self._last_basis.clear()
            self._last_basis[times] = self._computed_basis(times)
        return self._last_basis[times]

    @cached_property
    def _last_basis(self) -> dict[tuple[float, ...], Basis]:
        return {}

    def _computed_basis(self, times: tuple[float, ...]) -> Basis:
        fed, taken = self.flows.at(times)
        fed_before, taken_before = self._flows_at_start
        return fed - fed_before, taken - taken_before, np.array(times) - self._begun_s

    def _covariance(self, a: tuple[float, ...], b: tuple[float, ...]) -> PriorCovariance:
        """Prior covariance between two lists of times."""
        return PriorCovariance(self.span_kg, self._basis(a), self._basis(b))

    def _prior_mean(self, times: tuple[float, ...]) -> Array:
        fed, taken, _ = self._basis(times)
        return np.asarray(self.filled_kg + FEED_MEAN * fed - taken, dtype=float)

    @cached_property
    def _fits(self) -> tuple[tuple[float, LevelFit], ...]:
        """The explanations with their probabilities; none when no level was seen."""
        if self.only is not None:
            return ((1.0, self.only),)
        if not self.levels:
            return ()
        times = np.array(self._level_times)
        kelvin = self.track.along(times)
        kg = [
            glass.water_shown_kg(self.engine, float(w.height or 0.0), k)
            for w, k in zip(self.levels, kelvin.tolist(), strict=True)
        ]
        deviation = np.array(kg) - self._prior_mean(self._level_times)
        prior = self._covariance(self._level_times, self._level_times)
        fits = level_fits(prior, deviation, self._noise_kg(self._swelling(times), kelvin))
        best = max(fit.log for fit in fits)
        weight = [CHANCES[fit.kind] * math.exp(max(fit.log - best, -100.0)) for fit in fits]
        return tuple((w / sum(weight), fit) for w, fit in zip(weight, fits, strict=True))

    def _noise_kg(self, swelling: NDArray[np.bool_], kelvin: Array) -> Array:
        """Standard deviation of each level [kg], by rounding, misreading, swell and temperature."""
        sd = math.hypot(self.rounding / math.sqrt(12.0), MISREAD) + np.where(swelling, 0.15, 0.0)
        kelvin_sd = np.where(kelvin < 375.0, 4.0, 1.5)  # how well the temperature is known [K]
        expansion_kg = 8e-4 * kelvin_sd * self.filled_kg  # per kelvin, IF97 near 100 C
        return np.asarray(np.hypot(sd * self.span_kg, expansion_kg), dtype=float)

    def swells(self, at_s: float) -> bool:
        """Whether the level at a time may be swell: steam was first taken just before."""
        return bool(self._swelling(np.array([at_s]))[0])

    def _swelling(self, times_s: Array) -> NDArray[np.bool_]:
        after = times_s[:, None] - np.array(self._first_steam_s)[None, :]
        return np.asarray(((after >= 0.0) & (after <= SWELL_S)).any(axis=1))

    @cached_property
    def _first_steam_s(self) -> tuple[float, ...]:
        """When taking steam began [s]."""
        return tuple(a.at_s for a in self.history.acts if (a.what, a.state) in FIRST_STEAM)

    def mass(self, at_s: float) -> tuple[float, float]:
        """Water in the boiler at a time [kg]: middle and standard deviation."""
        prior = self._covariance((at_s,), (at_s,))
        if not self.levels:
            return self.middle_kg(at_s), math.sqrt(prior.total(TIGHT)[0, 0])
        mean, square = 0.0, 0.0
        for share, fit, middle, across in self._middles(at_s):
            variance = float(prior.total(fit.kind)[0, 0] - across @ fit.inverse @ across)
            variance = max(variance, 1e-6)
            mean += share * middle
            square += share * (variance + middle**2)
        return max(mean, 0.02 * self.filled_kg), math.sqrt(max(square - mean**2, 1e-6))

    def middle_kg(self, at_s: float) -> float:
        """The middle alone of the water in the boiler at a time [kg]."""
        if not self.levels:
            return float(self._prior_mean((at_s,))[0])
        mean = 0.0
        for share, _, middle, _ in self._middles(at_s):
            mean += share * middle
        return max(mean, 0.02 * self.filled_kg)

    def _middles(self, at_s: float) -> Iterator[tuple[float, LevelFit, float, Array]]:
        """For each explanation its probability, the fit, the middle at a time [kg], and the prior
        covariance of that with the levels (n)."""
        prior_mean = float(self._prior_mean((at_s,))[0])
        prior = self._covariance((at_s,), self._level_times)
        for share, fit in self._fits:
            across = prior.total(fit.kind)[0]
            yield share, fit, prior_mean + float(across @ fit.pull), across

    def masses(self, times: Array) -> Array:
        """The middle of the water in the boiler at each of these times [kg]."""
        when = tuple(float(t) for t in times)
        middle, across = self._prior_mean(when), self._covariance(when, self._level_times)
        for share, fit in self._fits:
            middle += share * (across.total(fit.kind) @ fit.pull)
        return np.maximum(middle, 0.02 * self.filled_kg)

    @cached_property
    def losing(self) -> float:
        """Probability that water goes where nobody reported it."""
        if not self.levels:
            return 1.0 - CHANCES[TIGHT]
        return sum(share for share, fit in self._fits if fit.kind != TIGHT)

    @cached_property
    def likelier(self) -> WaterBelief:
        """The same water by the best explanation of the likelier case, tight or losing."""
        wanted = [fit for fit in self._fits if (fit[1].kind != TIGHT) == (self.losing > 0.5)]
        best = max(wanted, key=lambda fit: fit[0], default=None)
        return replace(self, only=best[1] if best else None)

    def change(self, from_s: float, to_s: float) -> WaterChange:
        """What the change of the water between two times is made of."""
        ends = (from_s, to_s)
        fed, taken, _ = self._basis(ends)
        change = np.array([FEED_MEAN * (fed[1] - fed[0]), taken[0] - taken[1], 0.0])
        variance = 0.0
        prior, prior_ends = self._covariance(ends, self._level_times), self._covariance(ends, ends)
        for share, fit in self._fits:
            across = (prior.feed, prior.steam, prior.loss(fit.kind))
            change += share * np.array([float((part[1] - part[0]) @ fit.pull) for part in across])
            loss = prior_ends.loss(fit.kind)
            slope = across[2][1] - across[2][0]
            spread = loss[0, 0] + loss[1, 1] - 2.0 * loss[0, 1]
            variance += share * max(float(spread - float(slope @ fit.inverse @ slope)), 0.0)
        return WaterChange(
            max(float(change[0]), 0.0),
            max(-float(change[1]), 0.0),
            -float(change[2]),
            math.sqrt(variance),
        )

    def glass_per_kg(self, kelvin: float) -> float:
        """How much of the glass one kilogram is, hot [1/kg]."""
        cold = saturated(288.15).vf
        return saturated(kelvin).vf / cold / self.span_kg

    def shown(self, at_s: float) -> tuple[float, float]:
        """What the glass shows at a time, middle and standard deviation [fraction]."""
        kelvin = self.track.at(at_s)
        kg, kg_sd = self.mass(at_s)
        middle = glass.shown_for(self.engine, kg, kelvin)
        return middle, math.hypot(kg_sd * self.glass_per_kg(kelvin), 0.025)


def out_of_sight(history: History) -> bool:
    """Whether at the last look at the glass no water was in sight."""
    return bool(history.waters) and history.waters[-1].height is None
