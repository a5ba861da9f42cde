"""The life of an alarm: acknowledged, shelved, cleared; readings that hunt round a limit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import Story  # type: ignore[import-not-found]

from assistant.alarms.inputs import TimedValue
from assistant.alarms.rules import RULES
from assistant.alarms.watch import acknowledge, shelve
from assistant.messages import Grade


def test_two_readings_inside_by_the_deadband_clear_it(steaming: Story) -> None:
    steaming.water(0.25)
    for value, cleared in (
        (0.28, False),
        (0.31, False),
        (0.29, False),
        (0.31, False),
        (0.35, True),
    ):
        steaming.at += 50
        steaming.water(value)
        assert (steaming.alarm("low water") is None) is cleared, value
    assert steaming.names("raised") == ["low water"]


def test_looking_again_at_the_same_reading_counts_once(steaming: Story) -> None:
    steaming.water(0.25)
    steaming.at += 30
    steaming.water(0.5)
    steaming.pass_s(200)
    assert steaming.alarm("low water") is not None


@pytest.mark.parametrize(
    ("limit", "name"),
    [
        (0.25, "low water"),
        (0.38, "water near the lower mark"),
        (0.83, "water near the upper mark"),
        (0.97, "glass full"),
    ],
)
def test_a_glass_that_hunts_round_a_limit_is_told_once(
    steaming: Story, limit: float, name: str
) -> None:
    steaming.state("regulator", "open")  # that is why it stands elsewhere now
    steaming.state("regulator", "shut")
    for i in range(20):
        steaming.at += 30
        steaming.water(limit + (0.005 if i % 2 else -0.005))
        steaming.watch, _ = acknowledge(steaming.watch, steaming.at)
    assert steaming.names("raised").count(name) == 1


@pytest.mark.parametrize(
    ("limit", "name"), [(145.0 * 1.03, "over-pressure"), (120.0, "blower left on")]
)
def test_a_gauge_that_hunts_round_a_limit_is_told_once(
    steaming: Story, limit: float, name: str
) -> None:
    steaming.state("damper", "half")
    for i in range(20):
        steaming.at += 30
        steaming.water(0.6)
        steaming.psi(limit * (1.005 if i % 2 else 0.995))
        steaming.watch, _ = acknowledge(steaming.watch, steaming.at)
    assert steaming.names("raised").count(name) == 1


def test_an_alarm_that_was_heard_stands_until_it_clears(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.watch, changes = acknowledge(steaming.watch, steaming.at)
    assert [c.state for c in changes] == ["acknowledged"]
    assert steaming.pass_s(120) == []
    assert steaming.alarm("low water") is not None, "heard is not cured"


def test_a_reading_that_is_overdue_is_never_put_aside(steaming: Story) -> None:
    steaming.pass_s(steaming.inputs.engine.water_interval_s + 10.0)
    assert steaming.alarm("water reading overdue") is not None
    _, changes, why = shelve(steaming.watch, steaming.at, "busy")
    assert changes == () and why == "Not with steam up. Look, and tell me."


def test_after_it_cleared_the_same_trouble_sounds_again(steaming: Story) -> None:
    for value in (0.24, 0.35, 0.35, 0.2):
        steaming.at += 50
        steaming.water(value)
    assert steaming.names("raised") == ["low water", "low water"]


def test_danger_is_never_put_aside(steaming: Story) -> None:
    steaming.water(0.2)
    watch, changes, why = shelve(steaming.watch, steaming.at, "I know")
    assert (watch, changes) == (steaming.watch, ())
    assert why == "Danger is never put aside."


def test_a_warning_is_not_put_aside_either(steaming: Story) -> None:
    steaming.tank(0.0)
    watch, changes, why = shelve(steaming.watch, steaming.at, "busy")
    assert (watch, changes) == (steaming.watch, ())
    assert why == "A warning stays until it is put right."


def test_a_caution_is_put_aside_once_for_a_quarter_of_an_hour(steaming: Story) -> None:
    steaming.water(0.84)
    assert shelve(steaming.watch, steaming.at, " ")[2] == "Give a reason."
    steaming.watch, changes, why = shelve(steaming.watch, steaming.at, "filling")
    assert why == "" and [(c.state, c.reason) for c in changes] == [("shelved", "filling")]
    for _ in range(3):
        steaming.at += 290
        steaming.water(0.84)
        steaming.psi(60)
    end = steaming.pass_s(60)
    assert end == ["Caution. Water near upper mark. No feed."], "its end is announced"
    assert "shelf ended" in [c.state for _, c in steaming.changes]
    _, changes, why = shelve(steaming.watch, steaming.at, "again")
    assert changes == () and why == "It was put aside once already."


def test_nothing_stands_nothing_is_put_aside(cold: Story) -> None:
    assert shelve(cold.watch, 0.0, "why not") == (cold.watch, (), "No alarm stands.")
    assert acknowledge(cold.watch, 0.0) == (cold.watch, ())


def test_the_gravest_of_one_look_comes_first(steaming: Story) -> None:
    steaming.pass_s(300)
    steaming.at += 20
    call = TimedValue("someone hurt", steaming.at)
    steaming.inputs = replace(steaming.inputs, emergencies=(call,))
    told = steaming.look()
    assert told[0] == "Danger. Regulator shut, call help. Someone hurt."
    assert told[1].startswith("Warning. Water reading overdue")


def test_every_danger_can_be_told_even_while_another_stands(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.at += 30
    assert steaming.water("out of sight") == ["Danger. Stop the heat. No water in sight."]
    assert all(r.suppression == "never" for r in RULES if r.grade is Grade.DANGER)
