"""Short words of a driver at work: the glass blown, the blow-down, the valve that stands still."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Report


def reports_of(day: Day, subject: str) -> list[object]:
    """What was reported of it, in order."""
    return [timed.report.value for timed in day.session.state.reports.of(subject)]


def proved_at_work() -> Day:
    """The glass proved at the taking over, and nothing said of it for twelve minutes."""
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    day.tell(
        "1:00 water half\n1:10 pressure eighty\n4:00 water half\n4:10 pressure eighty\n"
        "7:00 water half\n7:10 pressure eighty\n10:00 water half\n10:10 pressure eighty\n"
        "13:00 water half\n13:10 pressure eighty"
    )
    return day


@pytest.mark.parametrize(
    ("words", "state"),
    [
        ("comes back slowly", "comes back slowly"),
        ("stays empty", "stays empty"),
        ("still empty", "stays empty"),
        ("comes back at once", "comes back at once"),
    ],
)
def test_after_a_glass_blown_through_its_return_is_told_in_few_words(
    words: str, state: str
) -> None:
    day = proved_at_work()
    assert "did not follow" in day.reply(words), "nobody has blown it"
    said = day.tell("14:00 i blew the glass")
    assert "Glass blown through." in said and "How does it return?" in said
    day.tell(f"14:10 {words}")
    assert reports_of(day, "glass")[-1] == state
    day.tell(f"20:00 {words}")
    assert len(reports_of(day, "glass")) == 3, "for ten minutes"


def over_the_lift() -> Day:
    day = taken_over(
        "raising steam", "copper", pressure="pressure eighty", valve="valve not seen today"
    )
    said = day.tell("1:00 water half\n1:30 pressure ninety six\n2:00 pressure one hundred")
    assert "Valve should lift now. Does it?" in said
    return day


@pytest.mark.parametrize(
    "words",
    [
        "valve has not lifted", "valve is quiet", "it has not lifted", "not lifting",
        "valve did not lift", "nothing from the valve",
    ],
)  # fmt: skip
def test_asked_whether_the_valve_lifts_that_it_does_not_is_valve_shut(words: str) -> None:
    day = over_the_lift()
    said = day.reply(words)
    assert reports_of(day, "valve")[-1] == "shut"
    assert "Safety valve shut." in said and "take back" not in said
    assert "Safety valve shut." in day.reply(words), "said again"


def test_did_not_lift_unasked_still_takes_it_back() -> None:
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    day.tell("1:00 pressure ninety\n1:10 valve lifting")
    assert "is that right?" in day.reply("valve did not lift")
    assert "did not follow" in day.reply("not lifting")


@pytest.mark.parametrize(
    "words",
    ["blowing down now", "blow down is open", "blow down open", "opened the blow down",
     "blowing down"],
)  # fmt: skip
def test_blown_down_in_steam_no_leak_is_looked_for_and_the_level_is_asked(words: str) -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    said = day.tell(f"1:00 water three quarters\n2:00 {words}")
    assert "Count, shut it, then call the water." in said
    day.tell("2:30 water five eighths\n3:00 water half")
    assert "water falling faster than use" not in day.standing
    assert "Where is the water?" in day.reply("blow down is shut")
    day.tell("3:20 water three eighths")
    assert "water falling faster than use" not in day.standing


def test_the_same_fall_with_the_blow_down_shut_all_the_time_is_a_leak() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell(
        "1:00 water three quarters\n2:00 blow down is shut\n2:30 water five eighths\n"
        "3:00 water half\n4:00 water three eighths"
    )
    assert "water falling faster than use" in day.standing


def test_one_left_open_is_told_again_until_it_is_shut() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell("1:00 water three quarters\n2:00 blow down is open\n3:00 water five eighths")
    day.tell("4:30 water half\n5:40 water three eighths")
    assert len(day.times_of("Count, shut it")) >= 2
    day.tell("6:00 blow down is shut")
    assert "Count, shut it" not in day.tell("6:10 water three eighths\n11:00")


def test_one_that_is_stuck_open_is_not_counted_and_no_leak_is_looked_for() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell("1:00 water three quarters\n2:00 blow down is open\n2:20 blow down will not shut")
    said = day.tell("2:40 water half\n3:00 water three eighths\n5:00")
    assert "Count" not in said and "Find the leak" not in said
    assert "blow down is stuck open" in day.dangers


@pytest.mark.parametrize(
    "words",
    ["brake does not hold", "brake slips", "brake is slipping", "the chocks have slipped",
     "chocks slipped"],
)  # fmt: skip
def test_a_brake_that_slips_is_running_away(words: str) -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    said = day.tell(f"1:00 {words}")
    assert day.dangers == {"engine is running away"}
    assert "Regulator shut, brake hard on." in said


@pytest.mark.parametrize("words", ["brake off chocks away", "brake is off", "chocks away"])
def test_a_brake_taken_off_is_not_on(words: str) -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell(f"1:00 {words}")
    assert reports_of(day, "brake")[-1] == "not chocked"
    assert not day.dangers


def test_in_gear_answers_where_the_gear_is_asked() -> None:
    day = Day("fullsize", "standing by")
    day.tell(
        "0:05 that's right\n0:10 water half\n0:20 comes back at once\n0:30 pressure one forty\n"
        "0:40 valve agreed today\n0:50 fire is bright\n1:00 injector worked today\n"
        "1:10 regulator shut\n1:20 brake on and chocked"
    )
    assert "Then out of gear." in day.reply("in gear")


@pytest.mark.parametrize(
    "words", ["hot coals on the grass", "the grass is burning", "sparks in the grass"]
)
def test_a_fire_in_the_grass_is_outside(words: str) -> None:
    day = taken_over("standing by", pressure="pressure eighty")
    day.tell(f"1:00 {words}")
    assert day.dangers == {"fire outside"}


@pytest.mark.parametrize(
    "words",
    ["test gauge agrees", "other gauge agrees", "the other gauge agrees"],
)
def test_a_second_gauge_that_agrees_ends_the_gauge_list(words: str) -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell("1:00 gauge trouble\n1:20 gauge cock is open\n1:40 no better")
    assert "A test gauge, or other gauge?" in day.heard
    assert "did not follow" not in day.reply(words)
    assert not day.session.state.procedure.parked


@pytest.mark.parametrize("words", ["valve is set wrong", "valve is set low"])
def test_a_valve_set_wrong_is_no_cure(words: str) -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and forty")
    day.tell("1:00 gauge trouble\n1:20 gauge cock is open\n1:40 no better")
    said = day.reply(words)
    assert "Valve set wrong." in said and "No steam until it is set." in said
    assert day.session.state.procedure.parked, "nothing is proved by that"


@pytest.mark.parametrize("words", ["bypass is jammed", "bypass will not open"])
def test_a_jammed_bypass_stops_the_engine_and_the_feed_stays_on(words: str) -> None:
    day = taken_over("standing by", pressure="pressure eighty")
    day.tell("1:00 bypass shut")
    assert "Stop the engine: the pump stops." in day.reply(words)
    assert reports_of(day, "bypass")[-1] == "shut"
    inputs = day.session.state.reports
    assert inputs.of("bypass")[-1].report == Report("bypass", "shut")


def test_a_bypass_that_opens_stops_nothing() -> None:
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    assert "the pump stops" not in day.reply("bypass open")
