"""How much water is in the boiler and where it goes. Knows no words of the operator."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from assistant.boiler import glass
from assistant.boiler.history import rounding_height

if TYPE_CHECKING:
    from assistant.boiler.estimate import Belief


def shown_now(belief: Belief) -> tuple[float, float]:
    """What the glass shows now, as middle and standard deviation [fraction of the glass]."""
    from assistant.boiler.estimate import temperature_at_k, temperature_now_k

    seen = [w for w in belief.history.waters if w.height is not None]
    step = rounding_height(belief.history.waters)
    now_k = temperature_now_k(belief)
    if not seen:
        return glass.shown_for(belief.engine, belief.filled_kg, now_k), 0.2
    newest = seen[-1]
    kg = glass.water_shown_kg(
        belief.engine, float(newest.height or 0.0), temperature_at_k(belief, newest.at_s)
    )
    age_min = (belief.at_s - newest.at_s) / 60.0
    spread = ((0.35 * step) ** 2 + 0.03**2 + (0.004 * age_min) ** 2) ** 0.5
    return glass.shown_for(belief.engine, kg, now_k), spread


@dataclass(frozen=True, slots=True)
class Trend:
    """word: rising, steady, falling, unknown; cause: expansion, feed, use, loss, unknown."""

    word: str
    cause: str
    why: str


def mass_kg(belief: Belief) -> float:
    """All water in the boiler now [kg]."""
    from assistant.boiler.estimate import temperature_at_k

    seen = [w for w in belief.history.waters if w.height is not None]
    if not seen:
        return belief.filled_kg
    newest = seen[-1]
    hot = temperature_at_k(belief, newest.at_s)
    return glass.water_shown_kg(belief.engine, float(newest.height or 0.0), hot)


def hourly_loss_kg(belief: Belief) -> float:
    """Water going nobody knows where [kg/h]."""
    return 0.0


def trend(belief: Belief) -> Trend:
    """Whether the shown level moves, and why, from the last two sights of the glass."""
    from assistant.boiler.estimate import temperature_at_k

    seen = [w for w in belief.history.waters if w.height is not None]
    if len(seen) < 2:
        return Trend("unknown", "unknown", "the glass was called fewer than two times")
    old, new = seen[-2], seen[-1]
    step = rounding_height(belief.history.waters)
    moved = float(new.height or 0.0) - float(old.height or 0.0)
    old_k, new_k = temperature_at_k(belief, old.at_s), temperature_at_k(belief, new.at_s)
    kg = glass.water_shown_kg(belief.engine, float(old.height or 0.0), old_k)
    by_itself = glass.shown_for(belief.engine, kg, new_k) - float(old.height or 0.0)
    fed = any(
        a.what == "feed" and a.state == "on" and a.at_s <= new.at_s for a in belief.history.acts
    )
    word = "rising" if moved > step / 2 else "falling" if moved < -step / 2 else "steady"
    why = f"glass {old.height:.2f} to {new.height:.2f}, {by_itself:+.2f} by expansion"
    if word == "rising":
        return Trend(word, "feed" if fed and by_itself < moved / 2 else "expansion", why)
    if word == "falling":
        drawn = belief.history.state("regulator") == "open"
        return Trend(word, "use" if drawn else "loss", why)
    return Trend(word, "loss" if by_itself > step else "unknown", why)
