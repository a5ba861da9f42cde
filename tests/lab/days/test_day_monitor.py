"""The monitor on events and effects made by hand: what counts as broken, and what does not."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from session_story import parts

from assistant.lab.days.day_monitor import DayMonitor
from assistant.messages import (
    OUT_OF_SIGHT,
    AlarmChanged,
    Effect,
    Ended,
    Grade,
    Heard,
    PhaseBegan,
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Say,
    Started,
    Tick,
    Urgency,
)


class Day:
    """A monitor that is shown what a test makes up."""

    def __init__(self, from_phase: str | None = None) -> None:
        self.monitor = DayMonitor(parts().engine)
        self.monitor.see(Started(0.0, from_phase), [])

    def heard(self, at: float, *effects: Effect, words: str = "words") -> None:
        self.monitor.see(Heard(at, "test", (), text=words), effects)

    def reported(self, at: float, what: str, value: float | str, unit: str | None = None) -> None:
        self.heard(at, ReadingAccepted(Report(what, value, unit)))

    def water(self, at: float, value: float | str) -> None:
        self.reported(at, "water", value, "glass" if isinstance(value, float) else None)

    def pressure(self, at: float, psi: float) -> None:
        self.reported(at, "pressure", psi, "psi")

    def ticks(self, start: float, end: float, *effects: Effect) -> None:
        at = start
        while at <= end:
            self.monitor.see(Tick(at), effects)
            at += 5.0

    def says(self, at: float, *texts: str) -> None:
        self.monitor.see(Tick(at), [Say(text) for text in texts])

    @property
    def broken(self) -> set[str]:
        return set(self.monitor.violations)


def raised(name: str, grade: Grade) -> AlarmChanged:
    return AlarmChanged(name, grade, "raised")


def steaming() -> Day:
    day = Day()
    day.reported(1.0, "fire", "coal")
    day.pressure(2.0, 60.0)
    day.water(3.0, 0.5)
    return day


def test_an_alarm_that_stands_keeps_the_first_promise() -> None:
    day = steaming()
    day.heard(200.0)
    day.monitor.see(Tick(304.0), [raised("water reading overdue", Grade.WARNING)])
    day.ticks(305.0, 330.0, Say("Where is the water?"))
    assert day.broken == set()


def test_an_alarm_about_something_else_does_not() -> None:
    day = steaming()
    day.monitor.see(Tick(304.0), [raised("tank empty", Grade.WARNING)])
    day.ticks(305.0, 330.0, Say("Where is the water?"))
    assert day.broken == {"P1 steam"}


def test_a_caution_is_no_alarm_for_unseen_water() -> None:
    day = steaming()
    day.monitor.see(Tick(304.0), [raised("water near the lower mark", Grade.CAUTION)])
    day.ticks(305.0, 330.0, Say("Where is the water?"))
    assert "P1 steam" in day.broken


@pytest.mark.parametrize(("minutes", "broken"), [(14.0, set()), (16.0, {"P1 cold"})])
def test_a_cold_boiler_has_three_intervals(minutes: float, broken: set[str]) -> None:
    day = Day()
    day.water(1.0, 0.5)
    day.reported(2.0, "fire", "lit")
    day.ticks(5.0, 60.0 * minutes, Say("Fire."))
    assert day.broken == broken


def test_a_fire_that_is_out_wants_no_water() -> None:
    day = steaming()
    day.reported(10.0, "fire", "drawn")
    day.ticks(15.0, 3000.0)
    assert day.broken == set()


def test_no_water_in_sight_is_a_look_at_the_glass() -> None:
    day = Day()
    day.reported(1.0, "fire", "lit")
    day.water(2.0, OUT_OF_SIGHT)
    day.ticks(5.0, 60.0, Say("Fire."))
    assert day.broken == set()


def test_the_feed_is_proved_by_a_gain_while_it_ran() -> None:
    day = steaming()
    day.reported(10.0, "feed", "on")
    day.water(130.0, 0.625)
    day.says(135.0, "Feed proved. You can stand by.")
    assert day.broken == set()


@pytest.mark.parametrize("second", [0.5, 0.375])
def test_the_feed_is_not_proved_by_a_word(second: float) -> None:
    day = steaming()
    day.reported(10.0, "feed", "on")
    day.reported(100.0, "delivery", "gaining")
    day.water(130.0, second)
    day.says(135.0, "Feed proved. You can stand by.")
    assert day.broken == {"P2 feed"}


def test_a_gain_before_the_feed_proves_nothing() -> None:
    day = steaming()
    day.water(10.0, 0.625)
    day.reported(20.0, "feed", "on")
    day.says(60.0, "Feed proved.")
    assert day.broken == {"P2 feed"}


def test_not_proved_may_always_be_said() -> None:
    day = steaming()
    day.says(20.0, "Feed not proved. Look again in four minutes.")
    assert day.broken == set()


def test_danger_is_over_by_a_persons_word_alone_while_no_other_danger_stands() -> None:
    day = Day()
    called = Report("emergency", "fire outside")
    day.heard(1.0, ReadingAccepted(called), raised("fire outside", Grade.DANGER))
    over = ReadingAccepted(Report("emergency", "over"))
    cleared = AlarmChanged("fire outside", Grade.DANGER, "cleared")
    day.heard(9.0, over, cleared, Say("Danger is over."))
    assert day.broken == set()
    day.heard(20.0, raised("low water", Grade.DANGER))
    day.heard(22.0, over, Say("Danger is over."))
    assert day.broken == {"P2 danger over"}


def test_a_danger_cleared_by_nothing_is_found() -> None:
    day = steaming()
    day.water(10.0, OUT_OF_SIGHT)
    day.monitor.see(Tick(11.0), [raised("water out of sight", Grade.DANGER)])
    day.monitor.see(Tick(40.0), [AlarmChanged("water out of sight", Grade.DANGER, "cleared")])
    assert day.broken == {"P2 end of water out of sight"}


@pytest.mark.parametrize(("psi", "broken"), [(130.0, set()), (20.0, {"P2 gauge and valve"})])
def test_gauge_and_valve_are_settled_by_both(psi: float, broken: set[str]) -> None:
    day = steaming()
    day.reported(10.0, "valve", "lifting")
    day.pressure(20.0, psi)
    day.says(25.0, "Gauge fits the valve.")
    assert day.broken == broken


def test_a_danger_is_spoken_every_half_minute_until_acknowledged() -> None:
    day = steaming()
    day.heard(10.0, raised("low water", Grade.DANGER), Say("Danger.", Urgency.DANGER))
    day.ticks(15.0, 45.0)
    assert day.broken == set()
    day.heard(46.0, AlarmChanged("low water", Grade.DANGER, "acknowledged"))
    day.ticks(50.0, 250.0)
    assert "P3 danger" not in day.broken
    day.ticks(255.0, 360.0)
    assert "P3 danger told" in day.broken


def test_a_danger_left_unspoken_is_found() -> None:
    day = steaming()
    day.heard(10.0, raised("low water", Grade.DANGER), Say("Danger.", Urgency.DANGER))
    day.ticks(15.0, 50.0)
    assert day.broken == {"P3 danger"}


def test_the_blower_is_not_due_once_it_was_reported_shut() -> None:
    for state, broken in (("shut", set()), ("half", {"P3 blower"})):
        day = steaming()
        day.monitor.see(Tick(4.0), [PhaseBegan("raising steam")])
        day.reported(5.0, "blower", state)
        day.pressure(10.0, 105.0)
        day.ticks(15.0, 150.0, Say("Fire."))
        assert day.broken == broken


def test_a_valve_that_moved_once_is_not_asked_about() -> None:
    day = steaming()
    day.monitor.see(Tick(4.0), [PhaseBegan("standing by")])
    day.pressure(10.0, 135.0)
    day.reported(11.0, "valve", "feathering")
    day.ticks(15.0, 200.0, Say("Fire."))
    assert day.broken == set()


def test_a_person_who_speaks_is_not_left_in_quiet() -> None:
    day = steaming()
    for at in range(200, 1200, 200):
        day.water(float(at), 0.5)
        day.ticks(at + 5.0, at + 195.0)
    assert "P4 quiet" not in day.broken


def test_an_ended_session_promises_nothing_more() -> None:
    day = steaming()
    day.heard(10.0, Ended("asked for"))
    day.ticks(15.0, 1000.0)
    assert day.broken == set()


@pytest.mark.parametrize(
    "said",
    [
        "Clear ash pan and bars.", "Water perhaps low. Look now.", "No water in sight?",
        "No minutes to wanted pressure.", "Open the blower.", "Safety valve free.",
        "Stop the heat if it is safe.", "Feed now.",
    ],
)  # fmt: skip
def test_what_contradicts_nothing_may_be_said(said: str) -> None:
    day = steaming()
    day.reported(10.0, "blower", "shut")
    day.says(15.0, said)
    assert day.broken == set()


def test_a_reading_in_another_unit_may_be_named_in_it() -> None:
    day = steaming()
    day.reported(10.0, "pressure", 4.0, "bar")
    day.says(11.0, "Pressure four bar.")
    assert day.broken == set()


def test_a_report_taken_back_witnesses_nothing() -> None:
    day = steaming()
    gain = Report("water", 0.75, "glass")
    day.reported(10.0, "feed", "on")
    day.heard(100.0, ReadingAccepted(gain))
    day.heard(110.0, ReadingCorrected(gain, None))
    day.says(120.0, "Feed proved.")
    assert day.broken == {"P2 feed"}


def test_the_first_of_each_kind_is_kept_and_all_are_counted() -> None:
    day = steaming()
    day.says(20.0, "Water is low.")
    day.says(25.0, "Water is low.")
    assert day.monitor.times == {"P5 water low": 2}
    assert day.monitor.violations["P5 water low"].at == 20.0


def check(effects: Sequence[Effect]) -> set[str]:
    day = steaming()
    day.heard(10.0, *effects)
    return day.broken


def test_lower_words_after_a_low_reading_are_true() -> None:
    low = ReadingAccepted(Report("water", 0.25, "glass"))
    assert check([low, Say("Danger. Water low.", Urgency.DANGER)]) == set()


@pytest.mark.parametrize(
    ("said", "broken"),
    [
        ("In trouble: tube has burst. Also: danger is over.", set()),
        ("Now: water half; danger is over.", set()),
        ("Taken back: danger is over.", set()),
        ("Now: danger is over.", {"P2 danger over"}),
        ("Heard. Danger is over.", {"P2 danger over"}),
    ],
)
def test_words_that_are_offered_claim_nothing(said: str, broken: set[str]) -> None:
    day = steaming()
    day.says(15.0, said)
    assert day.broken == broken


def test_a_danger_at_rest_may_be_silent_and_counts_anew_from_the_next_fire() -> None:
    day = Day()
    day.heard(5.0, raised("someone hurt", Grade.DANGER), Say("Danger.", Urgency.DANGER))
    day.reported(6.0, "fire", "drawn")
    day.pressure(7.0, 0.0)
    day.ticks(10.0, 1000.0)
    day.reported(1002.0, "fire", "lit")
    assert day.broken == set()
    day.ticks(1005.0, 1340.0, Say("Where is the water?"))
    assert "P3 danger told" in day.broken


def test_the_valve_may_be_spoken_of_by_what_it_does() -> None:
    for said, broken in (("It should feather by 132. Does it?", set()), ("Coal.", {"P3 valve"})):
        day = steaming()
        day.monitor.see(Tick(4.0), [PhaseBegan("standing by")])
        day.pressure(10.0, 135.0)
        day.ticks(15.0, 150.0, Say(said))
        assert day.broken == broken


def test_to_open_less_is_not_to_open() -> None:
    for said, broken in (
        ("Open the regulator less, and slowly.", set()),
        ("Open the regulator.", {"P5 open or shut"}),
    ):
        day = steaming()
        day.reported(10.0, "regulator", "open")
        day.says(15.0, said)
        assert day.broken == broken
