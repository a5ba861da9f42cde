"""Whole steam-ups in normal running: the watch stays quiet.

Limits: one alarm in ten minutes on average, at most two in any ten (EEMUA 191 practice, stricter).
"""

from __future__ import annotations

import pytest
from session_story import parts

from assistant.rehearsal.bench_alarms import steam_up
from assistant.session import Session


@pytest.mark.parametrize(("engine", "seed"), [("practice", 4), ("copper", 2), ("fullsize", 1)])
def test_a_steam_up_in_normal_running_is_quiet(engine: str, seed: int) -> None:
    made = parts(engine)
    heard = steam_up(Session(made), made.engine, made.lists, seed)
    assert heard.faults == (), "a bug of ours was caught and told"
    assert heard.ended == "all five phases done"
    assert heard.in_ten_minutes <= 1.0, heard.alarms
    assert heard.most_in_ten <= 2, heard.alarms
