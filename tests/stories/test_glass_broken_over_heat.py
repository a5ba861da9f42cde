"""The glass has burst and its cocks are shut: the level is unknown, and the heat goes on."""

from __future__ import annotations

from day_story import Day, taken_over

HEAT = "Danger. Level unknown. Stop the heat. Damper shut."
LET_DIE = "Danger. Level unknown. Read it another way, or let the fire die."


def burst(more: str = "") -> Day:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her\n2:00 water half")
    day.tell(f"3:00 glass has burst\n{more}")
    return day


def test_with_the_cocks_shut_the_heat_is_asked_for_every_half_minute() -> None:
    day = burst("3:30 both cocks shut")
    assert day.times_of(HEAT) == [210.0]
    day.until(400.0)
    assert len(day.times_of(HEAT)) >= 6
    assert not [at for at in day.times_of("Face away") if at > 210.0], "done: not said again"


def test_damper_then_blower_then_the_water_another_way() -> None:
    day = burst("3:10 blower on\n3:30 both cocks shut")
    assert "Danger. Level unknown. Stop the heat. Blower shut." in day.tell(
        "3:50 damper shut\n4:35"
    )
    said = day.tell("4:40 blower shut")
    assert LET_DIE in said
    assert LET_DIE not in day.silence(4.5)
    assert LET_DIE in day.silence(2.0)
    assert HEAT not in day.silence(10.0)


def test_a_pressure_that_rises_there_tells_that_heat_is_in() -> None:
    day = burst("3:30 both cocks shut\n6:00 pressure one hundred")
    assert "Heat is still in" not in day.heard
    assert "Danger. Heat is still in. Damper shut." in day.reply("pressure one fifteen")
    day.tell("9:00 damper shut")
    assert "Danger. Heat is still in. Let the fire die." in day.reply("pressure one twenty")


def test_asked_for_the_next_act_no_act_is_told_that_was_reported() -> None:
    day = burst("3:30 both cocks shut")
    said = day.reply("what next")
    assert HEAT in said
    assert "glass cocks" not in said and "Face away" not in said
    day.tell("4:00 damper shut")
    assert LET_DIE in day.reply("what next")


def test_with_the_fire_out_it_is_not_the_heat() -> None:
    day = burst("3:30 both cocks shut\n4:00 fire drawn")
    said = day.silence(6.0)
    assert "Danger. Level unknown. No heat, keep away." in said
    assert "Stop the heat" not in said
    day.tell("14:00 pressure zero")
    assert "Danger" not in day.silence(6.0), "at rest nothing presses"


def test_a_level_called_another_way_ends_it_for_as_long_as_a_level_is_good() -> None:
    day = burst("3:30 both cocks shut\n3:50 water half\n4:00 yes")
    assert "level unknown" not in day.standing
    assert HEAT not in day.tell("8:00")
    assert HEAT in day.tell("15:00")


def test_water_at_the_try_cocks_is_such_a_level() -> None:
    day = burst("3:30 both cocks shut\n3:50 water at the try cocks")
    assert "level unknown" not in day.standing


def test_cocks_that_nobody_tells_of_do_not_keep_the_heat_in() -> None:
    day = burst()
    day.until(295.0)
    assert "level unknown" not in day.standing
    assert HEAT in day.tell("5:10")


def test_a_glass_that_breaks_cold_is_no_matter_of_heat() -> None:
    day = Day()
    day.tell("0:30 water half\n1:00 glass has burst\n1:30 both cocks shut\n6:00")
    assert "level unknown" not in day.standing


def test_called_over_it_stands_until_another_glass_is_in() -> None:
    day = burst("3:30 both cocks shut\n4:00 danger is over")
    assert {"level unknown", "glass broken"} <= day.dangers
    assert "blown through" in day.heard
    day.tell("9:00 new glass is in")
    assert "glass broken" not in day.standing
    assert "level unknown" in day.dangers, "no level was read in it yet"
    day.tell("9:30 comes back at once\n9:40 water half")
    assert not day.dangers


def test_where_steam_comes_out_of_her_nobody_is_sent_to_her_dampers() -> None:
    day = burst("3:30 both cocks shut\n4:00 tube has burst")
    mark = len(day.came)
    day.silence(4.0)
    said = day.heard_since(mark)
    assert "Danger. Level unknown. No heat, keep away." in said
    assert "Stop the heat" not in said and "Read it" not in said
