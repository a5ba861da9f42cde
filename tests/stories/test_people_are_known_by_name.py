"""Names: who has the watch, who looked at the boiler; a name that is not known is a note."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.grammar.phrases import grammar
from assistant.messages import NoteTaken, ReadingAccepted, Report

PEOPLE = ("Ann", "Bob")
LOST = (
    "6:00 no water in sight\n6:10 correct\n6:20 damper shut\n"
    "8:00 fire drawn\n8:10 pressure nothing\n"
)


def standing(people: tuple[str, ...] = PEOPLE, engine: str = "practice") -> Day:
    return taken_over("standing by", engine, "pressure sixty", people=people)


def accepted(day: Day) -> list[Report]:
    return [e.report for _, e in day.came if isinstance(e, ReadingAccepted)]


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_the_one_who_takes_the_watch_is_told_how_she_stands(engine: str) -> None:
    day = standing(engine=engine)
    day.tell("0:55 damper half open\n2:50 water half\n3:30")
    said = day.reply("Ann has the watch", after_s=0.0)
    assert said == (
        "Ann has the watch. Standing by. Pressure sixty, three minutes ago. Water half."
        " Open: damper half. No alarm."
    )
    assert Report("on watch", "Ann") in accepted(day)


def test_what_alarms_stand_is_told_and_the_danger_goes_on() -> None:
    day = standing()
    day.tell("6:00 no water in sight\n6:10 correct\n6:20 damper shut")
    said = day.reply("Bob has the watch")
    assert "Stands: danger, water out of sight." in said
    assert "No water in sight" in said
    assert "Danger. Blower shut. No water in sight." in day.silence(6.0)
    assert day.dangers


def test_handed_over_to_somebody_who_is_not_known_his_name_is_a_note() -> None:
    day = standing()
    assert "Who has the watch? Say the name." in day.reply("handing over the watch")
    assert "Pressure" not in day.text(), "how she stands is for the new person"
    said = day.reply("Fred from the shed")
    assert NoteTaken("Fred from the shed", None) in day.effects
    assert "Standing by. Pressure sixty" in said


def test_where_a_name_is_asked_for_a_known_one_may_be_said_alone() -> None:
    day = standing()
    day.reply("handing over the watch")
    assert "Bob has the watch." in day.reply("Bob")
    assert not day.got(NoteTaken)


def test_the_boiler_is_looked_at_by_name_and_nobody_is_asked_by_whom() -> None:
    day = standing()
    day.tell(LOST)
    said = day.reply("boiler has been looked at by Ann")
    assert "Boiler has been looked at by Ann." in said
    assert "whom" not in said.lower()
    assert "not to be steamed" not in day.standing


def test_asked_by_whom_a_known_name_joins_the_report() -> None:
    day = standing()
    day.tell(LOST)
    assert "By whom?" in day.reply("boiler has been looked at")
    assert "Boiler has been looked at by Ann." in day.reply("by Ann")
    assert accepted(day)[-1] == Report("boiler", "looked at by Ann")


def test_another_name_is_kept_as_a_note_as_ever() -> None:
    day = standing()
    day.tell(LOST)
    day.reply("boiler has been looked at")
    day.reply("Mr Jones of the insurance")
    assert NoteTaken("Mr Jones of the insurance", None) in day.effects
    assert Report("boiler", "looked at, name not given") not in accepted(day)


def test_not_answered_it_is_asked_once_and_the_book_says_that_no_name_was_given() -> None:
    day = standing()
    day.tell(LOST)
    day.reply("boiler has been looked at")
    day.reply("water half")
    assert Report("boiler", "looked at, name not given") in accepted(day)
    day.silence(5.0)
    assert len(day.times_of("By whom?")) == 1
    assert "not to be steamed" not in day.standing


def test_say_again_repeats_the_question_and_the_name_still_counts() -> None:
    day = standing()
    day.tell(LOST)
    day.reply("boiler has been looked at")
    day.reply("say again")
    day.reply("Bob")
    assert accepted(day)[-1] == Report("boiler", "looked at by Bob")


def test_a_name_alone_that_nobody_asked_for_is_no_report() -> None:
    day = standing()
    day.reply("Ann")
    assert Report("on watch", "Ann") not in accepted(day)


def test_a_name_that_is_typed_needs_no_list_of_names() -> None:
    day = standing(people=())
    day.reply("Ann has the watch")
    assert Report("on watch", "Ann") in accepted(day)
    assert grammar(day.session.expected).meaning(("ann", "has", "the", "watch")) is None


def test_the_one_who_has_the_watch_answers_what_standing_by_asks() -> None:
    day = standing()
    day.reply("Ann has the watch")
    assert Report("watch", "kept") in accepted(day)
    assert not day.times_of("Somebody on watch, or nobody?")


def test_taken_back_the_watch_is_with_nobody_by_name() -> None:
    day = standing()
    day.reply("Ann has the watch")
    day.reply("undo that")
    day.reply("undo that")
    assert day.session.state.latest("on watch") is None
