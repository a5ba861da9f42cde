"""A list asks nothing that is over, told already, or was asked often enough; open, it is named."""

from __future__ import annotations

import itertools

import pytest
from day_story import Day, taken_over

PREPARED = """
0:10 that's right
0:20 water half
0:30 brake on and chocked
0:40 gear is out
0:50 regulator shut
1:00 cocks are open
1:10 papers in date
1:20 gloves are on
1:30 no leaks
1:40 firebox and plug dry
1:50 blow down shut
2:00 safety valve free
2:10 pressure zero
2:20 back at once
2:30 ash pan clean
2:40 tubes swept
2:50 tank full
{bypass}
3:10 oiled round
3:20 extinguisher is ready
3:30 fuel to hand
3:40 barrier is up
4:00 water half
"""
STRAINER = "Strainer clean, bypass open."


def prepared(bypass: str = "3:00 bypass open") -> Day:
    day = Day("practice")
    day.tell(PREPARED.format(bypass=bypass))
    return day


def test_one_answer_missed_does_not_hold_a_lit_engine_in_preparation() -> None:
    day = prepared(bypass="3:00")
    heard = day.tell(
        """
        6:00 damper open
        6:20 chimney draws
        7:00 fire lit
        8:00 good wood fire
        9:00 water half
        14:00 water half
        """
    )
    assert heard.count("One open item: strainer and bypass.") == 1
    assert "Left open" not in heard, "the end of the phase names it"
    assert day.heard.count(STRAINER) <= 2
    assert day.phase in ("firing", "raising steam")
    assert "Before the match" not in heard, "told just before it"
    assert "Light a small fire" not in heard
    assert "strainer and bypass" in day.reply("what is still open")


def test_left_open_in_the_middle_of_a_list_it_is_named_once() -> None:
    day = taken_over("raising steam", pressure="pressure ten")
    for minute, psi in ((1, "fifteen"), (4, "twenty"), (7, "thirty"), (10, "thirty five")):
        day.tell(f"{minute}:00 pressure {psi}\n{minute}:20 water half")
    for minute in range(13, 40, 3):
        day.tell(f"{minute}:00 pressure forty\n{minute}:20 water half")
    assert day.heard.splitlines().count("Blower on.") == 3
    assert day.heard.count("Left open: blower on.") == 1


def test_cold_it_is_asked_as_long_as_it_takes() -> None:
    day = prepared(bypass="3:00")
    assert "Left open" not in day.silence(20)
    assert day.phase == "preparation"


def test_a_killer_is_never_left_open() -> None:
    day = Day("practice")
    day.tell("0:10 that's right\n0:20 water four tenths\n0:40 gear is out\n2:00 fire lit")
    heard = day.tell("12:00 water half\n22:00 water half")
    assert "Left open: brake" not in heard
    assert day.phase == "preparation"


def test_no_flame_is_drawn_in_once_the_fire_is_lit() -> None:
    day = prepared()
    day.tell("4:30 water half\n4:50 damper open\n5:10 blower cracked\n5:30 extension is on")
    assert "is a flame drawn in" in day.heard
    heard = day.tell("6:00 fire lit\n7:00 good wood fire\n7:30 water half\n12:00")
    assert "flame" not in heard
    assert day.phase == "raising steam"


def test_what_was_told_while_she_was_taken_over_is_not_asked_later() -> None:
    day = Day("fullsize", "raising steam")
    heard = day.tell(
        """
        0:10 that's right
        0:20 water half
        0:40 comes back at once
        1:00 pressure sixty
        1:20 valve not seen today
        1:40 fire built up
        2:00 blower is on
        3:00 coal on
        4:00 pressure sixty five
        5:00 injector will not pick up
        5:30 it has picked up
        6:00 water half
        9:00
        """
    )
    assert "Back to the list." in heard
    after = heard.partition("Back to the list.")[2]
    assert "Has the gauge moved" not in after
    assert "Blower on.\n" not in after
    assert "Coal now" not in after
    assert "Blow the glass through" not in after


def test_a_blower_told_shut_since_is_asked_for() -> None:
    day = Day("fullsize", "raising steam")
    day.tell("0:10 that's right\n0:30 blower is shut\n0:40 water half")
    heard = day.tell(
        """
        0:50 comes back at once
        1:00 pressure sixty
        1:20 valve not seen today
        1:40 fire built up
        2:00 injector worked today
        2:20 regulator shut
        2:40 brake on and chocked
        3:00 out of gear
        3:30
        """
    )
    assert "Blower on." in heard


def test_cured_in_a_danger_there_is_no_further_check() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred")
    day.tell("1:00 injector will not pick up\n1:20 no better\n1:40 water a quarter")
    day.tell("2:00 no better")
    assert day.dangers
    assert "Picking up" not in day.tell("2:30 it has picked up\n3:00 water a quarter\n6:00")


def test_not_cured_the_checks_go_on() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred")
    assert "Picking up" in day.tell("1:00 injector will not pick up\n1:20 no better")


@pytest.mark.parametrize(
    ("pressure", "asked"), [("pressure one thirty", False), ("pressure ninety", True)]
)
def test_no_more_draught_is_looked_for_at_the_wanted_pressure(pressure: str, asked: bool) -> None:
    day = taken_over("raising steam", pressure="pressure eighty")
    day.tell("1:00 fire trouble\n1:20 no better")
    heard = day.tell(f"3:00 {pressure}\n3:10 water half\n3:20 what next\n6:00")
    assert ("Drawing now" in heard) is asked


def test_a_move_says_what_it_waits_for_and_goes_when_it_has_it() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one forty")
    day.tell(
        "1:00 water three quarters\n1:20 drains open\n1:40 damper nearly shut\n"
        "2:00 i will watch her"
    )
    heard = day.tell("6:00 moving off")
    assert "Moving off waits for the water. Where is it?" in heard
    assert "Moving off again." not in heard
    assert day.phase == "standing by"
    heard = day.tell("6:30 water three quarters")
    assert day.phase == "tick-over"
    assert "Before anything moves" not in heard


def test_it_waits_no_longer_than_he_means_it() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one forty")
    day.tell("1:00 water three quarters\n6:00 moving off\n12:00 water three quarters\n12:30")
    assert day.phase == "standing by"


def warming() -> Day:
    day = prepared()
    day.tell(
        """
        4:30 damper open
        4:50 blower cracked
        5:10 extension is on
        5:30 chimney draws
        6:00 fire lit
        7:00 good wood fire
        7:30 water half
        """
    )
    assert day.phase == "raising steam"
    return day


def test_a_glass_that_nobody_proves_becomes_a_warning() -> None:
    day = warming()
    for minute, psi in ((30, "five"), (33, "fifteen"), (36, "twenty two"), (39, "thirty")):
        day.tell(f"{minute}:00 pressure {psi}\n{minute}:20 water half")
    for minute in range(42, 72, 3):
        day.tell(f"{minute}:00 pressure thirty\n{minute}:20 water half")
    assert len(day.times_of("Blow the glass through")) == 3
    warned = day.times_of("Glass not proved under steam. Blow it through.")
    assert 1 <= len(warned) <= 4
    day.tell("73:00 comes back at once")
    assert "Glass not proved" not in day.tell(
        "76:00 water half\n79:00 water half\n90:00 water half"
    )


def test_a_trouble_in_between_does_not_begin_the_asking_anew() -> None:
    day = warming()
    for minute, psi in ((30, "five"), (33, "fifteen"), (36, "twenty two"), (39, "thirty")):
        day.tell(f"{minute}:00 pressure {psi}\n{minute}:20 water half")
    day.tell("42:00 water half\n43:00 fire trouble\n43:30 fire draws again\n44:00 water half")
    assert len(day.times_of("Blow the glass through")) == 3


def test_which_feed_has_worked_is_not_asked_before_one_can_be_tried() -> None:
    day = Day("practice", "raising steam")
    heard = day.tell(
        """
        0:10 that's right
        0:20 water half
        0:30 comes back at once
        0:40 pressure ten
        0:50 valve not seen today
        1:00 fire lit
        1:10 regulator shut
        1:20 brake on and chocked
        1:30 out of gear
        10:00 water half
        """
    )
    assert "Which feed" not in heard
    assert "You have her." in heard
    assert "feed" in day.reply("what is still open")


def test_with_pressure_it_is_asked_three_times_and_then_stays_open() -> None:
    day = Day("practice", "raising steam")
    day.tell(
        """
        0:10 that's right
        0:20 water half
        0:30 comes back at once
        0:40 pressure sixty
        0:50 valve not seen today
        1:00 fire is built
        1:10 none tried today
        1:20 regulator shut
        1:30 brake on and chocked
        1:40 out of gear
        """
    )
    for minute in range(4, 60, 4):
        day.tell(f"{minute}:00 water half\n{minute}:20 pressure sixty")
    assert 1 <= day.heard.count("Which feed has worked today?") <= 3
    assert "You have her." in day.heard


def test_the_watch_is_told_what_she_is_where_the_list_lags() -> None:
    day = Day("practice", people=("Ann",))
    day.tell(
        "0:10 that's right\n0:20 water half\n7:00 fire lit\n22:00 pressure five\n"
        "25:00 pressure fifteen\n25:10 no\n25:20 water half\n25:40 pressure fifteen\n"
        "25:50 water half"
    )
    assert day.phase == "preparation"
    assert day.reply("Ann has the watch").count("Steam in her.") == 1


def test_the_top_cock_waits_for_the_water_not_for_him() -> None:
    day = warming()
    day.tell("30:00 pressure two\n30:20 water half\n42:00")
    times = day.times_of("Top cock: steam or air?")
    assert len(times) >= 2
    assert all(later - before >= 290.0 for before, later in itertools.pairwise(times))


def test_no_blow_down_is_taken_before_it_is_asked() -> None:
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred")
    day.tell("1:00 putting away\n2:00 water half")
    assert "did not follow" not in day.tell("3:00 no blow down")
    heard = day.tell(
        """
        3:20 water just over three quarters
        3:40 water seven eighths
        4:00 drains open
        4:20 fire is dead
        5:00 chimney is capped
        6:00 ash is out
        7:00 pipes drained
        7:20 fire bar wants mending
        """
    )
    assert "Blowing down?" not in heard
    assert "did not follow" not in heard


def test_no_gain_is_told_in_full_once() -> None:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell(
        """
        1:00 water half
        1:10 time to feed again
        1:40 water half
        2:00 tank is full
        2:10 she is turning
        2:20 bypass shut
        2:40 feed running
        2:50 glass is coming up
        3:10 water half
        4:00 water half
        """
    )
    assert day.heard.count("No gain shows yet. Keep it on, look again.") == 1
    assert day.heard.count("No gain yet.") == 1
