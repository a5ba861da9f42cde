"""Alarms for overdue readings, devices, calls for help, the plan and open steps."""

from __future__ import annotations

from alarm_story import Story, only  # type: ignore[import-not-found]

from assistant.alarms.inputs import TimedValue
from assistant.messages import Grade


def test_the_reading_is_forgotten(steaming: Story) -> None:
    assert steaming.pass_s(300) == []
    assert steaming.pass_s(10) == ["Warning. Water reading overdue. Where is the water?"]
    steaming.psi(70)
    steaming.at += 5
    steaming.water(0.6)
    assert steaming.names("cleared") == ["water reading overdue"]
    only(steaming, "water reading overdue", Grade.WARNING)


def test_fifty_forgotten_readings_are_each_told_within_ten_seconds(steaming: Story) -> None:
    for i in range(50):
        steaming.water(0.6)
        steaming.psi(70)
        before = len(steaming.changes)
        steaming.pass_s(310)
        told = [c.rule.name for _, c in steaming.changes[before:] if c.to_be_told]
        assert told == ["water reading overdue"], i


def test_the_microphone_goes_and_comes_back(steaming: Story) -> None:
    lost = steaming.see(
        lost_devices={"microphone": TimedValue("no frames for two seconds", steaming.at)}
    )
    assert lost == ["Warning. I cannot hear you. Check the microphone."]
    steaming.pass_s(310)
    suppressed = steaming.suppressed()
    assert suppressed == [], "the glass is not read, whoever is not heard"
    assert "water reading overdue" in steaming.names("raised")
    assert steaming.see(lost_devices={}) == []


def test_calls_for_help_are_told_at_once_and_end_when_called_over(steaming: Story) -> None:
    for name, text in (
        ("steam escaping", "Danger. Stand clear. Steam escaping."),
        ("glass broken", "Danger. Face away. Glass broken."),
        ("someone hurt", "Danger. Regulator shut, call help. Someone hurt."),
        ("fire outside", "Danger. Everybody back. Fire outside."),
    ):
        assert steaming.call(name) == [text]
        steaming.at += 1
        assert steaming.call("over") == []
        steaming.at += 1
    called = [name for name in steaming.names("raised") if name != "glass broken"]
    assert steaming.names("cleared") == called, "a broken glass is broken till another is in"


def test_the_forecast_runs_away_from_the_plan(steaming: Story) -> None:
    assert steaming.see(plan_at=7200.0, forecast_at=7800.0) == []
    told = steaming.see(forecast_at=8400.0)
    assert told == ["Caution. Time to pressure changed. Ask me why."]
    assert steaming.see(forecast_at=8000.0) == [], "inside, but not by the deadband"
    assert steaming.names("cleared") == []
    steaming.see(forecast_at=7500.0)
    assert steaming.names("cleared") == ["forecast far from plan"]


def test_a_step_left_open_is_a_caution_until_it_is_done(cold: Story) -> None:
    assert cold.see(left_open=("tubes and smokebox",)) == [
        "Caution. A step stays open. I ask again."
    ]
    cold.see(left_open=())
    assert cold.names("cleared") == ["step left open"]
