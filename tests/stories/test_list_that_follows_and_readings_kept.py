"""The list goes where the engine is; and a word of denial takes back one thing, never two."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import PhaseBegan, ReadingAccepted, ReadingCorrected, StepAsked

COLD_WORDS = ("cold gauge", "cold mark", "Too high cold", "Drain the glass", "Lit too soon")
COLD_DONE = """
0:05 water three eighths
0:10 brake on and chocked
0:12 gear is out
0:14 regulator shut
0:16 drains open
0:18 papers in date
0:20 gloves are on
0:22 no leaks
0:24 firebox is dry
0:26 blow down is shut
0:28 nothing holds it
0:30 needle on the pin
0:32 comes back at once
0:34 ash pan clean
0:36 tubes swept
0:38 tank full
0:40 bypass open
0:42 oiled round
0:44 extinguisher is here
0:46 fuel to hand
0:48 barrier is up
"""


def test_firing_with_one_act_never_told_goes_on_when_there_is_steam() -> None:
    """Copper: nobody ever says that the damper is open; fifteen pounds come all the same."""
    day = Day("copper")
    day.tell(COLD_DONE)
    assert day.phase == "firing"
    day.tell("1:00 water three eighths\n1:20 fire lit\n8:00 water half\n10:00 pressure fifteen")
    assert "Go on from raising steam?" in day.heard
    said = day.tell("10:10 yes\n11:00 pressure thirty\n13:00")
    assert day.phase == "raising steam"
    assert not any(words in said for words in COLD_WORDS)


@pytest.mark.parametrize("answer", ["", "no"])
def test_unanswered_or_denied_she_is_treated_as_what_she_is(answer: str) -> None:
    """Forty pounds called twice: no cold wording, and the glass under steam is wanted."""
    day = Day("fullsize")
    day.tell(f"0:10 water half\n0:20 fire lit\n4:00 pressure twenty\n4:10 {answer}")
    said = day.tell(
        "6:00 water half\n7:00 pressure forty\n8:00 water half\n9:00 pressure fifty\n11:00"
    )
    assert not any(words in said for words in COLD_WORDS), said
    assert "Blow the glass through" in day.heard or "blow" in said.lower()


def test_the_second_morning_with_last_nights_steam_is_taken_over_not_prepared() -> None:
    """Twenty pounds before any fire: she is taken over, and his match is not too soon."""
    day = Day("practice")
    day.tell("0:10 water half\n0:20 pressure twenty\n0:30 taking over")
    said = day.tell("1:00 comes back at once\n1:10 valve not seen today\n1:20 fire lit\n2:00")
    assert not any(words in said for words in COLD_WORDS), said
    assert day.phase == "raising steam"


def test_answers_of_the_list_behind_the_warm_questions_are_not_lost() -> None:
    """Putting away begins with the questions of a warm engine; he says what he has done."""
    day = Day("practice", "putting away")
    day.tell("0:10 water half\n0:20 comes back at once\n0:30 pressure five")
    day.reply("fire is dead")
    assert day.got(ReadingAccepted) and "I did not follow" not in day.heard
    day.tell("1:00 chimney capped\n1:10 ash is out\n1:20 log is signed")
    assert "I did not follow" not in day.heard


def test_and_are_not_asked_for_again_once_she_is_taken_over() -> None:
    day = Day("copper", "tick-over")
    day.tell(
        "0:05 water half\n0:10 comes back at once\n0:15 pressure eighty\n0:20 people are clear"
    )
    day.tell("0:25 valve agreed today\n0:30 fire is built\n0:35 pump worked today")
    said = day.tell("0:40 regulator shut\n0:45 brake on and chocked\n0:50 gear is out\n1:00")
    assert "You have her." in said
    assert "Everyone clear, or somebody near?" not in said


def test_fire_out_and_cold_she_is_asked_nothing_of_a_warm_engine() -> None:
    """Put away, the gauge down at rest twice: no valve test, no feed test is asked for."""
    day = Day("copper", "putting away")
    day.tell("0:10 water half\n0:20 comes back at once\n0:30 pressure thirty\n0:40 fire drawn")
    day.tell("10:00 pressure five\n10:10 water half\n20:00 pressure zero\n25:00 pressure zero")
    said = day.silence(20.0)
    assert "Has the valve lifted" not in said and "Which feed" not in said, said


def test_water_denied_twice_keeps_pressure_and_the_water_before() -> None:
    day = taken_over("standing by", "copper", "pressure sixty")
    day.tell("1:00 water five eighths\n1:05 wrong\n1:10 wrong\n1:15 no")
    taken = [e for _, e in day.came if isinstance(e, ReadingCorrected)]
    assert [e.old.value for e in taken] == [0.625]
    assert "sixty" in day.reply("where are we").lower()
    assert "Water half" in day.text()


def test_a_state_denied_twice_is_one_state_taken_back() -> None:
    """Blower shut, no, no: the damper told before it stands."""
    day = taken_over("standing by", "fullsize", "pressure eighty")
    day.tell("1:00 damper shut\n1:20 blower shut\n1:25 no\n1:30 no\n1:35 wrong")
    taken = [e.old.what for _, e in day.came if isinstance(e, ReadingCorrected)]
    assert taken == ["blower"]
    damper = day.session.state.latest("damper")
    assert damper is not None and damper.report.value == "shut"


def test_corrected_wrongly_and_corrected_again_the_last_word_counts() -> None:
    """Pressure sixty; wrong, fifty; wrong, sixty: one reading stands, and the water beside it."""
    day = taken_over("raising steam", "copper", "pressure sixty")
    day.tell("1:00 pressure sixty five\n1:05 wrong, fifty five\n1:10 wrong, sixty five")
    latest = day.session.state.latest("pressure")
    assert latest is not None and latest.report.value == 65.0
    water = day.session.state.latest("water")
    assert water is not None and water.report.value == 0.5


def test_in_hand_she_is_asked_one_thing_in_a_breath() -> None:
    """The move is asked about; the glass is not asked for in the same breath as well."""
    day = Day("copper")
    day.tell("0:10 water half\n0:20 fire lit")
    day.until(300.0)
    day.say("pressure twenty", after_s=0.0)
    assert day.text().count("?") == 1, day.text()
    assert not day.got(PhaseBegan) and len(day.got(StepAsked)) <= 1
