"""A story begun from a kept moment goes on as one that was played from the beginning."""

from __future__ import annotations

from day_story import WARM, Day, taken_over

LATER = "1:00 water half\n3:00 pressure seventy\n4:00 water three eighths\n9:00 coal on"


def test_it_goes_on_as_if_it_had_been_played() -> None:
    played = Day(from_phase="standing by")
    played.tell(
        WARM.format(pressure="pressure sixty", valve="valve agreed today", fire="fire is built")
    )
    one, other = taken_over("standing by"), taken_over("standing by")
    for day in (played, one):
        day.tell(LATER)
    assert one.came == played.came
    assert one.events == played.events
    other.tell("1:00 no water in sight")
    assert "water out of sight" in other.dangers and not one.dangers, "each is a story of its own"
