"""Calls in the words of another school: each is the danger that it means."""

from __future__ import annotations

from pathlib import Path

import pytest
from day_story import taken_over

from assistant.config.emergencies_file import load_emergencies, shipped_emergencies


@pytest.mark.parametrize(
    ("words", "alarm"),
    [
        ("soft plug blew", "plug has gone"),
        ("check valve stuck open", "clack is stuck open"),
        ("water glass broke", "glass broken"),
        ("in the bottom nut", "water out of sight"),
        ("water in the stack", "priming"),
        ("someone is caught", "someone is trapped"),
        ("somebody is caught", "someone is trapped"),
    ],
)
def test_it_is_the_danger_that_it_means(words: str, alarm: str) -> None:
    day = taken_over("standing by")
    day.reply(words)
    assert alarm in day.standing


def test_gauge_at_nothing_is_a_reading() -> None:
    day = taken_over("standing by")
    assert "Pressure zero: is that right?" in day.reply("gauge at nothing")
    day.reply("that's right")
    assert "pressure lost" in day.standing


def test_somebody_caught_is_freed_before_he_is_treated() -> None:
    day = taken_over("standing by")
    said = day.reply("someone is caught")
    assert "Drain cocks open, mid gear." in said and "by hand only to free" in said


def test_an_owners_file_that_has_it_under_someone_hurt_still_stands(tmp_path: Path) -> None:
    shipped = Path(shipped_emergencies().file).read_text(encoding="utf-8")
    own = shipped.replace("someone is caught, hand", "hand").replace(
        "call an ambulance]", "call an ambulance, someone is caught]"
    )
    (tmp_path / "own.yaml").write_text(own.replace("general: yes", "general: no"), encoding="utf-8")
    entry = load_emergencies(tmp_path / "own.yaml").called("someone hurt")
    assert entry is not None and "someone is caught" in entry.spoken
