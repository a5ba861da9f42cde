"""What the agenda promises, each promise as a driver meets it. See the agenda in DEVELOPERS.md."""

from __future__ import annotations

from itertools import pairwise

import pytest
from day_story import Day, taken_over

from assistant.messages import Grade, PhaseBegan, ReadingAccepted, Report, Say


def first_line(day: Day) -> str:
    return day.said()[0]


def test_a_doubt_ranks_by_the_gravest_that_it_may_mean() -> None:
    """Eighty to five pounds: misheard or burst. No step of the list is put beside it."""
    day = taken_over("raising steam", "copper", "pressure eighty")
    said = day.reply("pressure five", after_s=60.0)
    assert said.endswith("is that right?")
    assert "Coal" not in day.silence(0.2)


def test_to_stop_an_act_while_a_danger_stands_comes_before_that_danger() -> None:
    day = taken_over("standing by", "fullsize", "pressure eighty", "coal on the fire")
    day.tell("1:00 no water in sight\n1:10 correct")
    assert "Stop the feed" in day.reply("injector running").splitlines()[0]


def test_what_must_not_have_been_done_is_answered_before_any_reminder() -> None:
    """His report is taken, and the act against it comes in the same event; before it only a danger
    that grew out of a warning by that very report: unread water, from which steam is drawn now.
    """
    day = taken_over("tick-over", "copper", "pressure eighty")
    day.tell("6:30 drains shut")
    assert "water reading overdue" in day.standing
    assert "water not read" not in day.standing
    day.reply("regulator open")
    assert ReadingAccepted(Report("regulator", "open")) in day.effects
    assert first_line(day) == "Danger. Water not read. Look at the glass."
    assert "Regulator shut" in day.said()[1]


@pytest.mark.parametrize("words", ["no water in sight", "fire lit", "damper wide open"])
def test_a_report_is_a_fact_however_unwelcome(words: str) -> None:
    day = taken_over("standing by", "practice", "pressure eighty")
    day.tell("1:00 water one eighth\n1:10 damper shut")
    day.reply(words)
    assert day.got(ReadingAccepted), words


def test_while_the_first_acts_of_a_danger_are_open_nothing_less_is_said() -> None:
    day = taken_over("raising steam", "fullsize", "pressure fifty")
    day.tell("1:00 no water in sight\n1:05 correct")
    said = day.silence(0.9)
    for line in filter(None, said.splitlines()):
        assert "Danger" in line or "water" in line.lower() or "pressure" in line.lower(), line


def test_water_goes_on_being_asked_through_a_danger() -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("1:00 chimney fire\n1:10 damper shut")
    assert "Where is the water?" in day.silence(8.0)


def test_a_need_that_was_put_does_not_hold_the_floor() -> None:
    """Nobody answers the drain cocks; the pressure that comes due is asked all the same."""
    day = taken_over("standing by", "practice", "pressure eighty")
    said = day.silence(6.0)
    assert "Drain cocks open." in said and "What is the pressure?" in said


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_a_danger_is_named_every_half_minute_and_every_five_once_its_acts_are_done(
    engine: str,
) -> None:
    day = taken_over("standing by", engine, "pressure sixty")
    day.tell("1:00 steam escaping")
    (alarm,) = day.session.state.watch.alarms
    day.tell("6:00")
    times = day.times_of(alarm.rule.text)
    assert max(b - a for a, b in pairwise(times)) <= 35.0
    assert min(b - a for a, b in pairwise(times)) >= 25.0
    day.tell("6:10 damper shut")
    mark = day.at
    day.until(mark + 900.0)
    later = [at for at in day.times_of(alarm.rule.text) if at > mark]
    assert 2 <= len(later) <= 5


def test_only_the_grave_grows_louder_by_silence() -> None:
    """A step of the list stays what it is for an hour; the glass does not."""
    day = taken_over("standing by", "copper", "pressure sixty")
    day.silence(30.0)
    steps = [e.text for _, e in day.came if isinstance(e, Say) and "rain cocks open" in e.text]
    assert not any(text.startswith(("Warning", "Danger")) for text in steps)
    assert "water not read" in day.dangers
    times = day.times_of("Drain cocks open.")
    assert all(later - earlier >= 120.0 for earlier, later in pairwise(times))


def test_a_latch_is_folded_from_the_log_a_report_that_is_withdrawn_undoes_it() -> None:
    day = taken_over("standing by", "copper", "pressure thirty")
    day.tell("1:10 valve lifting\n1:20 the valve did not lift")
    assert "is that right?" in day.text(), "read back before it goes"
    day.reply("yes")
    assert not day.dangers


def test_water_out_of_sight_is_ended_by_a_look_and_not_by_a_word() -> None:
    day = taken_over("standing by", "copper", "pressure eighty", "coal on the fire")
    day.tell("1:00 no water in sight\n1:10 correct\n1:20 damper shut\n2:00 all safe again")
    assert day.dangers
    day.tell("3:00 water half\n4:10 water half")
    day.reply("moving off")
    assert not day.got(PhaseBegan)


def test_gauge_against_valve_ends_by_both_together_and_not_by_one() -> None:
    day = taken_over("standing by", "copper", "pressure thirty")
    day.tell("1:10 valve lifting\n1:30 damper shut")
    day.tell("2:00 valve shut\n6:00 pressure ninety")
    assert any("gauge" in name for name in day.standing)
    assert "No time" in day.reply("how long")


@pytest.mark.parametrize(
    "trouble", ["no water in sight", "glass has burst", "valve lifting", "water one eighth"]
)
def test_no_list_no_minutes_no_heat_beside_what_forbids_them(trouble: str) -> None:
    day = taken_over("raising steam", "copper", "pressure thirty")
    day.tell(f"1:00 {trouble}\n1:10 yes")
    said = day.tell("1:30 damper shut\n2:30 pressure thirty three\n4:00")
    assert day.standing
    for forbidden in ("to wanted pressure", "Blower on.", "Coal now", "hand pump"):
        assert forbidden not in said, (forbidden, said)


def test_a_proof_is_yes_no_or_not_yet_to_be_told() -> None:
    """Copper, pump on the boiler: a minute tells nothing, five without a gain tell no."""
    day = taken_over("pumping", "copper", "pressure eighty")
    day.tell("1:30 water half\n1:40 tank full\n1:50 people are clear\n1:55 regulator open")
    day.tell("2:00 bypass shut\n2:10 feed is running\n2:20 glass is gaining")
    early = day.tell("3:10 water half")
    assert "Feed proved" not in early and not day.standing
    late = day.tell("8:00 water half\n8:10")
    assert "gain" in late.lower()


def test_an_alarm_does_not_flicker_about_its_mark() -> None:
    """A third, a hair over it, a third again: told once."""
    day = taken_over("standing by", "practice", "pressure eighty")
    day.tell("1:00 water three eighths\n2:00 water one third\n3:00 water three eighths")
    day.tell("4:00 water one third\n5:00 water three eighths")
    raised = day.times_of("lower mark")
    assert len(raised) <= 3
    assert "no longer" not in day.heard


def test_a_step_is_done_by_what_proves_it_whichever_list_asks() -> None:
    """The glass was blown through on taking over: raising steam does not ask for it again."""
    day = taken_over("raising steam", "practice", "pressure sixty")
    assert "Blow the glass through" not in day.silence(4.0)


def test_who_looked_at_the_boiler_is_asked_for() -> None:
    day = taken_over("standing by", "copper", "pressure sixty", "coal on the fire")
    day.tell("1:00 no water in sight\n1:10 correct\n1:20 fire drawn\n3:00 water half")
    day.tell("60:00 pressure nothing")
    assert "whom" in day.reply("boiler has been looked at").lower()


@pytest.mark.parametrize("words", ["be quiet", "wait sixty minutes"])
def test_quiet_does_not_come_by_asking_for_it_with_a_fire_in(words: str) -> None:
    day = taken_over("standing by", "copper", "pressure sixty")
    day.reply(words)
    assert day.silence(7.0), "the glass is asked for"


def test_a_bare_answer_belongs_to_what_was_put_last() -> None:
    """Yes to a doubt is not an answer to the drain cocks that were asked before it."""
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("2:00 pressure ten")
    day.reply("yes")
    assert [a.report.value for a in day.got(ReadingAccepted)] == [10.0]
    assert day.session.state.latest("drains") is None


def test_silence_neither_confirms_nor_dismisses_a_doubt() -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("2:00 pressure ten")
    day.silence(3.0)
    latest = day.session.state.latest("pressure")
    assert latest is not None and latest.report.value == 80.0
    assert "pressure" in day.silence(3.0).lower()


def test_not_today_ends_a_step_and_no_reading() -> None:
    day = taken_over("standing by", "practice", "pressure eighty")
    day.silence(0.5)
    assert "Left out" in day.reply("not today")
    day.silence(6.0)
    day.reply("not today")
    assert "water reading overdue" in day.standing


def test_after_a_break_readings_keep_their_time_and_the_gravest_speaks_first() -> None:
    """Half an hour without a word from anybody, the machine asleep: the glass comes first."""
    day = taken_over("standing by", "copper", "pressure sixty")
    day.at += 1800.0
    day.until(day.at + 5.0)
    assert "water" in day.heard_since(0).splitlines()[-1].lower() or day.dangers
    assert day.standing.get("water reading overdue") or "water not read" in day.dangers


def test_every_danger_that_stands_is_spoken_of_by_the_agenda() -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred")
    day.tell("1:00 somebody is burned\n1:10 regulator is stuck open\n1:20 fire outside")
    said = day.silence(4.0)
    standing = [a for a in day.session.state.watch.alarms if a.rule.grade is Grade.DANGER]
    assert len(standing) == 3
    for alarm in standing:
        assert alarm.rule.text in said, alarm.name
