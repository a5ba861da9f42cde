"""Told after its step was answered, what must not be before the match still holds the match."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest
from day_story import Day

DAY = Path(__file__).parent / "days" / "practice.tsv"
FOUND = {
    "safety valve is screwed down": ("The safety valve must be free.", "safety valve free"),
    "blow down is open": ("Shut the blow-down first.", "blow down shut"),
    "mud door is leaking": ("Have the leak put right.", "boiler tight"),
    "plug is weeping": ("Have the leak put right.", "firebox is dry"),
    "glass comes back slowly": ("Clear it, or your engine's instructions.", "comes back at once"),
    "gear is in": ("Brake and chocks first. Then out of gear.", "out of gear"),
    "certificate has expired": ("Then no steam today. Ask your inspector.", "papers in date"),
    "regulator open": ("Shut the regulator, then tell me.", "regulator shut"),
}
TO_THE_MATCH = """
23:00 barrier is up
23:10 water half
23:20 damper wide open
23:30 blower open a crack
23:40 extension on
23:50 it draws well
"""


@lru_cache(maxsize=1)
def prepared() -> Day:
    """The practice day up to the barrier, everything of the cold list answered."""
    day = Day("practice")
    for line in DAY.read_text(encoding="utf-8").splitlines():
        clock, _, words = line.partition("\t")
        hours, minutes, seconds = clock.split(":")
        at = 3600.0 * int(hours) + 60.0 * int(minutes) + float(seconds)
        if at > 1260.0:
            return day
        day.until(at)
        if words:
            day.say(words, after_s=0.0)
    raise AssertionError("the day is shorter than its preparation")


@pytest.mark.parametrize("words", list(FOUND))
def test_the_last_word_of_it_counts(words: str) -> None:
    day, (answer, mended) = prepared().copied(), FOUND[words]
    said = day.tell(f"21:30 {words}\n21:40")
    assert answer in said and ("Do not light." in said or "no steam" in said)
    said = day.tell(TO_THE_MATCH + "25:30")
    assert "Light a small fire" not in said and answer in said
    assert "Light a small fire" in day.tell(f"25:40 {mended}\n25:50 water half\n27:40")


def test_lit_all_the_same_a_held_valve_is_a_danger_and_an_open_blow_down_a_warning() -> None:
    day = prepared().copied()
    day.tell("21:30 safety valve is screwed down\n21:40 blow down is open" + TO_THE_MATCH)
    assert "Danger. Damper and blower shut. Valve stuck." in day.tell("25:00 fire lit\n25:10")
    assert "blow-down open" in day.standing
    day.tell("25:30 blow down shut\n25:40 safety valve free")
    assert not day.standing.keys() & {"safety valve is stuck", "blow-down open"}
