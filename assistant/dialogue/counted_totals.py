"""What was counted on and in since the session began, in words, for "how much used"."""

from __future__ import annotations

from assistant.boiler.counted import coal_total, water_total
from assistant.boiler.scales import LITRE_M3
from assistant.dialogue.event_context import EventContext
from assistant.wording.counted_words import total_words
from assistant.wording.quantities import quantity_words


def totals(context: EventContext) -> list[str]:
    """A sentence for coal and one for water, each where some was counted."""
    engine = context.config.engine
    reports = [timed.report for timed in context.state.reports]
    words = []
    if (coal := coal_total(engine, reports)) is not None:
        about = None if coal.mid is None else quantity_words(float(round(coal.mid)), "kg")
        words.append(total_words("coal put on", coal.counts, about))
    if (water := water_total(engine, reports)) is not None:
        named = water.mid is None or [unit for unit, _ in water.counts] == ["litre"]
        litres = 0.0 if water.mid is None else float(round(water.mid / LITRE_M3))
        about = None if named else quantity_words(litres, "litre")
        words.append(total_words("water put in", water.counts, about))
    return words
