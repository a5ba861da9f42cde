"""What a glass or a gauge shows behind shut cocks is no reading."""

from __future__ import annotations

from day_story import Day, taken_over


def standing() -> Day:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell("1:00 water half\n1:10 drains open\n1:20 damper nearly shut\n1:30 i will watch her")
    return day


def test_levels_of_a_glass_that_is_shut_off_are_not_believed() -> None:
    day = standing()
    assert "Warning. Glass not proved. Blow through, no feed." in day.reply(
        "glass cocks shut", 60.0
    )
    mark = len(day.came)
    day.tell("5:00 water half\n9:00 water half\n13:00")
    assert "Feed in good time" not in day.heard_since(mark)
    assert "Warning. Glass not proved." in day.heard_since(mark)
    day.tell("14:00 comes back at once\n14:20 water half")
    assert "glass not proved" not in day.standing


def test_a_gauge_that_is_shut_off_holds_the_heat_until_one_is_proved() -> None:
    day = taken_over("raising steam", "copper", pressure="pressure eighty")
    day.tell("1:00 water half\n1:10 blower on")
    assert "Damper and blower shut until it is proved." in day.reply("gauge cock shut", 30.0)
    mark = len(day.came)
    day.tell("3:00 pressure zero\n3:10 yes\n4:00 water half\n5:00 pressure zero\n6:00")
    said = day.heard_since(mark)
    assert "Blower on" not in said and "Coal now" not in said
    assert "Open it slowly, then tell me." in day.reply("gauge cock shut")
