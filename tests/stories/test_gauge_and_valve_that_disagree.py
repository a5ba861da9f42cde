"""The gauge cannot be right: the valve blows over it, or it falls by most of what it showed."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import ForecastMade, ReadingAccepted, ReadingDoubted, StepDone


def test_copper_at_stand_with_a_valve_that_blows_at_a_third_of_its_figure() -> None:
    """Feather 93: thirty pounds called a minute ago is a gauge that does not follow."""
    day = taken_over("standing by", "copper", pressure="pressure thirty")
    said = day.tell("1:30 valve lifting")
    assert day.dangers and "Stop the heat." in said
    assert "Safety valve lifting" in day.heard, "his report is taken, too"


def test_a_valve_that_seats_again_settles_nothing_however_often_the_gauge_is_called() -> None:
    day = taken_over("standing by", "copper", pressure="pressure thirty")
    day.tell("1:30 valve lifting")
    said = day.tell("2:00 damper shut\n4:00 valve shut\n5:00 pressure thirty five\n9:00 water half")
    assert any("gauge" in name for name in day.standing), "its acts done, it goes on as a warning"
    assert "no longer disagree" not in said and "fits the valve" not in said
    assert not any("minutes to wanted pressure" in line for line in said.splitlines())
    assert "gauge and valve disagree" in day.reply("how long").lower()
    assert day.got(ForecastMade)[0].mid is None


def test_a_gauge_called_at_rest_before_a_long_silence_is_still_the_last_that_is_known() -> None:
    """Cold start; the gauge was read at nothing and never again until the valve went."""
    day = Day()
    day.tell("0:10 water half\n0:20 pressure zero\n1:00 fire lit\n18:00 water five eighths")
    said = day.tell("26:00 valve feathering")
    assert day.dangers and "Stop the heat." in said


def test_it_ends_when_the_valve_moves_and_a_gauge_that_fits_is_called_with_it() -> None:
    day = taken_over("standing by", "copper", pressure="pressure thirty")
    day.tell("1:30 valve lifting\n2:00 damper shut\n2:30 water half\n3:00 valve lifting")
    day.tell("3:20 pressure ninety five\n3:25 that's right")
    assert not day.dangers


def test_copper_lifts_between_three_quarters_and_nine_tenths_stop_and_settle() -> None:
    """Neighbour of the dead gauge: seventy five of ninety three, called a few seconds before."""
    day = taken_over("raising steam", "copper", pressure="pressure seventy five")
    said = day.tell("1:00 pressure seventy five\n1:20 valve lifting")
    assert "gauge and valve disagree" in day.standing
    assert not day.dangers and "Stop the heat." in said
    later = day.tell(
        "1:40 pressure seventy five\n2:00 pressure seventy five\n2:20 pressure seventy six"
    )
    assert "disagree" not in later, "not at every reading again"
    assert "to wanted pressure" not in later
    assert "gauge and valve disagree" in day.reply("how long").lower()


def test_what_to_do_about_it_is_said_when_he_asks_what_next() -> None:
    """Not only that they disagree: what he is to do."""
    day = taken_over("raising steam", "copper", pressure="pressure seventy five")
    day.tell("1:00 pressure seventy five\n1:20 valve lifting")
    assert "Stop the heat." in day.reply("what next")


def test_a_valve_that_feathers_over_a_gauge_at_two_thirds_is_believed() -> None:
    """Copper feathers at ninety three; the gauge says sixty: she has half as much again."""
    day = taken_over("raising steam", "copper", pressure="pressure sixty")
    said = day.tell("1:00 pressure sixty\n1:20 valve feathering")
    assert "valve over a dead gauge" in day.dangers
    assert "Believe the valve. Damper shut, blower shut." in said and "Everybody away" in said
    assert "Believe the valve." in day.reply("what next")


def test_feathering_that_turns_to_lifting_is_said_anew() -> None:
    day = taken_over("raising steam", "copper", pressure="pressure seventy five")
    day.tell("1:00 pressure seventy five\n1:20 valve feathering\n1:40 valve feathering")
    assert "Gauge and valve disagree. Stop the heat." not in day.text(), "not at every word of it"
    assert "Gauge and valve disagree. Stop the heat." in day.reply("valve lifting")


def test_a_gauge_called_long_ago_is_asked_for_before_anything_is_claimed() -> None:
    """Seventy pounds eight minutes ago tells nothing about a valve that moves now."""
    day = taken_over("standing by", pressure="pressure seventy")
    said = day.tell("4:30 water half\n8:40 water half\n8:50 valve feathering")
    assert "What does the gauge show?" in said
    assert not day.dangers
    minute = day.tell("10:00")
    assert day.standing and "gauge" in minute.lower(), "no answer in a minute: a warning"
    day.tell("11:05")
    assert day.dangers, "none in two: a danger"


def test_answered_with_a_gauge_that_fits_it_never_was() -> None:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell(
        "4:30 water half\n8:40 water half\n8:50 valve feathering\n9:10 pressure one thirty two"
    )
    day.tell("11:30")
    assert not {name for name in day.standing if "valve" in name}


def test_set_at_that_figure_said_by_nobody_settles_nothing() -> None:
    """A valve is set where a named person says that it is: asked for the name, it goes on."""
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    day.tell("1:00 pressure eighty\n1:10 valve lifting")
    said = day.tell("1:40 valve is set at eighty\n2:00 yes\n2:30")
    assert "Who says so?" in said
    assert "gauge and valve disagree" in day.standing


@pytest.mark.parametrize(
    ("engine", "phase", "high", "low"),
    [
        ("copper", "putting away", "pressure eighty", "pressure ten"),
        ("fullsize", "tick-over", "pressure one hundred and fifty", "pressure fifteen"),
    ],
)
def test_a_gauge_that_drops_to_nothing_is_doubted_in_every_phase(
    engine: str, phase: str, high: str, low: str
) -> None:
    day = taken_over(phase, engine, pressure=high)
    question = day.tell(f"1:45 {low}")
    assert day.got(ReadingDoubted) and "is that right?" in question
    assert not day.got(ReadingAccepted)
    day.reply("yes")
    assert day.got(ReadingAccepted)
    assert "Warning." in day.text(), "confirmed, it is spoken of as what it is"
    assert day.standing


def test_a_fall_in_the_glass_is_as_doubtful_as_a_rise() -> None:
    """Three quarters to an eighth in a minute: misheard, or something has let go."""
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred")
    day.tell("1:00 water three quarters")
    question = day.tell("2:00 water three eighths")
    assert day.got(ReadingDoubted) and "is that right?" in question


def test_a_fall_that_nobody_answers_is_not_passed_over() -> None:
    """The doubt may mean a boiler that empties: left open, the reading is wanted again."""
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    day.tell("2:00 pressure five")
    said = day.silence(1.5)
    assert "pressure" in said.lower() or "gauge" in said.lower(), said


def done(day: Day) -> list[str]:
    return [e.step for _, e in day.came if isinstance(e, StepDone)]


AT_THE_VALVE = (
    "1:20 comes back at once\n2:00 blower cracked\n2:20 damper nearly shut\n2:30 injector works\n"
    "2:35 hand pump works\n2:40 water half\n2:42 tall chimney off\n"
    "2:45 pressure one hundred and twenty five"
)


@pytest.mark.parametrize(
    ("event", "pressure", "agrees"),
    [
        ("valve lifting", "pressure one hundred and thirty six", False),  # fits a feather only
        ("valve lifting", "pressure one hundred and forty three", True),
        ("valve feathering", "pressure one hundred and thirty six", True),
    ],
)
def test_the_list_judges_the_gauge_by_what_the_valve_did(
    event: str, pressure: str, agrees: bool
) -> None:
    day = taken_over("raising steam")
    day.tell(f"{AT_THE_VALVE}\n3:50 {event}\n4:15 {pressure}")
    assert ("gauge and valve agree" in done(day)) == agrees
    assert ("Gauge and valve disagree. Stop the heat." in day.heard) != agrees


def test_a_light_valve_that_a_named_person_answers_for_goes_on() -> None:
    day = taken_over("raising steam")
    day.tell(f"{AT_THE_VALVE}\n3:50 valve lifting\n4:15 pressure one hundred and thirty six")
    day.tell("4:30 valve is set at one hundred and thirty six\n4:40 ann")
    day.tell("5:10 pressure one hundred and thirty six")
    assert "gauge and valve agree" in done(day)
