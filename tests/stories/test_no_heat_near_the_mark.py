"""Near the lower mark in steam, with a feed that failed: the water goes first, no more heat."""

from __future__ import annotations

from day_story import Day, taken_over

FAILS = "Warning. Near mark, feed fails. Damper shut, no firing. Try any other feed."


def near_the_mark() -> Day:
    day = taken_over(
        "standing by", "fullsize", pressure="pressure one hundred", fire="fire is bright"
    )
    day.tell("1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her")
    day.tell("2:00 water a third\n4:00 water just over a quarter")
    return day


def test_a_pressure_that_falls_there_asks_for_no_blower() -> None:
    day = near_the_mark()
    assert "Caution. Pressure falling. Water first, no blower." in day.reply("pressure ninety five")
    assert "Blower on" not in day.heard


def test_a_feed_that_is_said_to_fail_there_is_a_warning() -> None:
    day = near_the_mark()
    day.tell("4:10 injector running")
    assert FAILS in day.reply("injector blows back", 60.0)
    assert "Near mark, feed fails" in day.reply("what next")
    assert "Blower on" not in day.silence(6.0)


def test_well_above_the_mark_it_only_fails() -> None:
    day = near_the_mark()
    day.tell("5:00 water half\n5:10 injector running")
    assert FAILS not in day.reply("injector blows back", 60.0)


def test_well_above_the_mark_a_fall_is_the_fire() -> None:
    day = near_the_mark()
    day.tell("6:00 water half\n6:10 pressure ninety five\n8:00 pressure ninety")
    assert "Caution. Pressure falling. Blower on, then look." in day.heard


def test_with_another_feed_on_a_failed_one_is_no_warning_there() -> None:
    day = near_the_mark()
    day.tell("4:05 injector running\n4:10 injector off\n4:15 bypass shut")
    assert FAILS not in day.reply("injector blows back", 20.0)


def test_feed_now_is_not_said_beside_it() -> None:
    day = near_the_mark()
    day.tell("4:10 injector running\n5:10 injector blows back")
    mark = len(day.came)
    day.silence(5.0)
    assert "Feed now" not in day.heard_since(mark)


def test_coal_or_draught_put_on_beside_it_is_told_at_once() -> None:
    day = near_the_mark()
    day.tell("4:10 injector running\n4:20 injector blows back")
    for put_on in ("coal on", "blower on", "damper open"):
        assert "Near mark, feed fails. Damper shut, no firing" in day.reply(put_on), put_on


def test_a_caution_that_is_silenced_does_not_speak_for_the_blower() -> None:
    """ "Damper shut, no firing" leaves the blower on, and silences "blower still on"."""
    day = taken_over("raising steam", pressure="one ten")
    day.tell("1:00 blower open\n1:10 no feed works\n1:20 water half\n2:00 pressure one fifteen")
    said = day.tell("2:10 water half\n8:00")
    assert "no feed works" in " ".join(day.standing)
    assert "lower down to a crack." in said
