"""Earlier runs of one engine: what they say about all its steam-ups. No file, no tuning by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.boiler import glass
from assistant.boiler.figures import Engine
from assistant.boiler.rise import COLD_K, Shared, first_shared, ladder
from assistant.messages import Report


def past_run(rows: Iterable[tuple[float, Report]]) -> tuple[tuple[float, Report], ...]:
    """One earlier run, in order of time.

    Raises ValueError when it can teach nothing: no fire lit, or fewer than two pressures after it.
    """
    run = tuple(sorted(rows, key=lambda row: row[0]))
    lit = [at for at, report in run if (report.what, report.value) == ("fire", "lit")]
    if not lit:
        raise ValueError("an earlier run without the time of lighting teaches nothing")
    if sum(1 for at, report in run if report.what == "pressure" and at > lit[0]) < 2:
        raise ValueError("an earlier run with fewer than two pressures teaches nothing")
    return run


def learned(engine: Engine, past: Sequence[Sequence[tuple[float, Report]]]) -> Shared:
    """What all steam-ups of this engine share, after these runs."""
    filled = glass.water_shown_kg(engine, engine.glass.cold_fill, COLD_K)
    return first_shared(engine, ladder(engine, filled))
