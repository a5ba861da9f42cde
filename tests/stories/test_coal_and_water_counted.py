"""Coal and water told by what people count: read back, added up, and coal is heat all the same."""

from __future__ import annotations

from day_story import taken_over

from assistant.messages import Report


def test_a_bucket_is_read_back_with_its_number_and_is_coal_on_the_fire() -> None:
    day = taken_over("raising steam")
    assert "One bucket on." in day.reply("one bucket on")
    assert "more coal" not in day.heard.lower(), "it is said once"
    assert day.session.state.latest_is("fire", "coal")
    by_words = taken_over("raising steam")
    by_words.reply("more coal on the fire")
    told = [day.session.state.progress, by_words.session.state.progress]
    assert told[0].done == told[1].done, "the list takes it as coal"


def test_it_is_understood_while_a_yes_is_awaited() -> None:
    day = taken_over("raising steam")
    day.tell("2:00 pressure one hundred and forty")
    assert day.session.expected.kind == "answer"
    assert "Two shovels on." in day.reply("two shovels on")


def test_wrong_takes_back_the_count_and_the_coal() -> None:
    day = taken_over("raising steam")
    before = day.session.state.latest("fire")
    day.reply("two buckets on")
    assert day.reply("wrong") == "Taken back: two buckets on. How much went on?"
    assert day.session.state.latest("fire") == before
    assert "One bucket on." in day.reply("one bucket on")
    assert day.session.state.latest_is("fire", "coal")


def test_coal_put_on_over_lost_water_is_answered_by_the_danger_at_once() -> None:
    day = taken_over("raising steam")
    day.tell("2:00 no water in sight\n2:05 that's right")
    said = day.reply("two buckets on")
    assert said.startswith("Danger. No fire, no steam. Water was lost.")
    assert "fire after lost water" in day.dangers


def test_a_bucket_heats_a_danger_whose_acts_were_done() -> None:
    counted, named = (taken_over("raising steam") for _ in range(2))
    for day in (counted, named):
        day.tell("2:00 glass has burst\n2:10 damper shut\n2:20 blower shut\n2:30")
    words = [counted.reply("one bucket on"), named.reply("more coal on the fire")]
    assert words[0].replace("One bucket on.", "") == words[1].replace("More coal on the fire.", "")
    assert "Danger." in words[0]
    assert counted.silence(3) == named.silence(3)


def test_water_put_in_while_the_level_is_unknown_is_for_the_tank() -> None:
    day = taken_over("raising steam")
    assert "tank only" not in day.reply("ten litres in")
    day.tell("3:00 no water in sight\n3:05 that's right")
    said = day.reply("one bucket of water in")
    assert said.endswith("One bucket of water in. Into the tank only. No feed.")


def test_how_much_was_used_tells_what_was_counted() -> None:
    day = taken_over("raising steam")
    plain = day.reply("how much have we used")
    day.tell("2:00 one bucket on\n4:00 two buckets on\n5:00 five litres in\n6:00 ten litres in")
    said = day.reply("how much have we used")
    assert "put on" not in plain
    assert "do not know" not in said
    assert said.endswith("Coal put on: three buckets. Water put in: fifteen litres.")


def test_a_count_is_no_reading_of_tank_or_glass() -> None:
    day = taken_over("raising steam")
    levels = [day.session.state.latest(what) for what in ("tank", "water")]
    day.reply("twenty litres in")
    assert [day.session.state.latest(what) for what in ("tank", "water")] == levels
    assert day.session.state.reports[-1].report == Report("water put in", 20.0, "litre")
