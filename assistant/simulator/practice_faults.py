"""What each practice fault changes, in figures. Knows no boiler state, no operator, no words said.

All of it is common practice, no source, unless another origin stands beside it; sizes are invented.
"""

from __future__ import annotations

from collections.abc import Set as AbstractSet

import numpy as np

FROM_COLD = frozenset(
    {
        "feed stuck",  # the clack valve's ball sticks: the pump works, nothing arrives
        "gauge cock shut",  # the pressure gauge stays at zero
        "valve late",  # the safety valve lifts well above its setting
        "injector warm",  # hot from a leaking steam cock: it blows back and does not pick up
    }
)
FAULTS_AT_ONCE = FROM_COLD | {
    "low water",  # water is lost unseen
    "fire dies",
    "glass stuck",  # both passages choked: the shown level no longer moves
}
LATER_FAULTS = frozenset(
    {
        "feed weak",  # a third of the delivery arrives
        "lost prime",  # air in the pump: it delivers nothing until primed
        "no water in tank",
        "clack leaking",  # water goes back to the tank while the pump rests
        "tube weeping",  # a small loss of water
        "blow-down open",  # a large loss of water
        # "steam passage choked: reads falsely full and stays there" (Connor, The Stoker's
        # Catechism, 1906, 21-22): the steam shut in condenses, the water below pushes up
        "glass choked top",
        # "water passage choked: old level stays" (the same); steam that condenses in the glass
        # cannot run back and slowly adds to it
        "glass choked bottom",
        "gauge slow",  # the needle lags by minutes
        "valve stuck",  # the safety valve does not open
        "valve light",  # it opens well below its setting
        "fire too strong",  # half as hot again
        "damper stuck",  # its rod moves, it stays where it stood
        "priming",  # dirty water: it swells and goes over with the steam while she works
    }
)
FAULTS = FAULTS_AT_ONCE | LATER_FAULTS
# "lubricator empty" is not among them: this boiler has no motion that could wear.

_ONSET_S = 600.0  # the later faults begin within this of the pressure at which faults begin
_WEAK = 0.33
_GAUGE_LAG_S = 180.0
_GLASS_LOST_S = {"clack leaking": 3000.0, "tube weeping": 4800.0, "blow-down open": 300.0}
_CARRIED = 0.5  # kg of water with each kg of steam to the cylinders; judgement
_SWELL = 0.12  # of the glass, with the regulator open; judgement
_CLIMB_PER_S = {"glass choked top": 1 / 900.0, "glass choked bottom": 1 / 9000.0}


def onset_s(seed: int) -> float:
    """How long after faults may begin the later faults do [s]."""
    return float(np.random.default_rng([seed, 17]).uniform(0.0, _ONSET_S))


def feed_factor(active: AbstractSet[str], primed: bool) -> float:
    """The part of the pump's delivery that arrives."""
    if "lost prime" in active and not primed:
        return 0.0
    return _WEAK if "feed weak" in active else 1.0


def carried_factor(active: AbstractSet[str]) -> float:
    """Water that goes over, for each kilogram of steam that the engine takes."""
    return _CARRIED if "priming" in active else 0.0


def swell(active: AbstractSet[str], regulator: float) -> float:
    """How much higher the glass shows while she primes; regulator: 0 shut to 1 open."""
    return _SWELL * min(2.0 * regulator, 1.0) if "priming" in active else 0.0


def fire_factor(active: AbstractSet[str]) -> float:
    """On the heat of the fire."""
    return 1.5 if "fire too strong" in active else 1.0


def loss_glasses_per_s(active: AbstractSet[str], feeding: bool) -> float:
    """Water lost, in whole glasses a second; a leaking clack loses it only while the pump rests."""
    losing = {name for name in active if name != "clack leaking" or not feeding}
    return sum(1.0 / lasts for name, lasts in _GLASS_LOST_S.items() if name in losing)


def valve_factor(active: AbstractSet[str]) -> float:
    """On the pressures at which the safety valve feathers and lifts."""
    return 0.85 if "valve light" in active else 1.0


def glass_climb_per_s(active: AbstractSet[str]) -> float | None:
    """How fast a choked glass's shown height climbs by itself [1/s]; None: it shows the boiler."""
    climbs = [climb for name, climb in _CLIMB_PER_S.items() if name in active]
    return max(climbs, default=None)


def glass_returns(active: AbstractSet[str]) -> str:
    """How water comes back into a glass that is blown through (Connor, as above)."""
    if "glass stuck" in active or "glass choked bottom" in active:
        return "stays empty"
    return "fills and stays" if "glass choked top" in active else "comes back at once"


def needle_part(active: AbstractSet[str], dt_s: float) -> float:
    """The part of the way to the true pressure that the needle goes in dt_s [s]."""
    return min(dt_s / _GAUGE_LAG_S, 1.0) if "gauge slow" in active else 1.0
