"""A feed is on, or was called proved, and the glass says otherwise."""

from __future__ import annotations

from day_story import Day, taken_over

from assistant.messages import Grade, PhaseBegan, StepDone

MORE_HEAT = ("Blower on", "Coal now", "Open the damper")


def pumping_copper() -> Day:
    """Copper, hand pump at work, half a glass before and the bypass shut."""
    day = taken_over("pumping", "copper", "pressure eighty")
    day.tell(
        """
        1:30 water half
        1:40 tank full
        1:50 regulator open
        2:00 bypass shut
        2:10 feed is running
        """
    )
    return day


def proved_steps(day: Day) -> list[str]:
    return [e.step for _, e in day.came if isinstance(e, StepDone) and e.step == "feed proved"]


def test_copper_half_before_and_half_after_is_no_feed_whatever_he_calls_it() -> None:
    day = pumping_copper()
    day.tell("2:20 glass is gaining")
    said = day.tell("7:00 water half")
    assert not proved_steps(day)
    assert "gain" in said.lower(), said
    day.tell("7:10 glass is gaining\n7:30")
    assert not proved_steps(day)
    assert "Feed proved" not in day.heard


def test_too_soon_to_tell_it_is_neither_proved_nor_called_dead() -> None:
    """Fifty seconds after the feed went on: no gain can show yet."""
    day = pumping_copper()
    day.tell("3:00 water half")
    assert not proved_steps(day)
    assert not {n for n, grade in day.standing.items() if grade >= Grade.WARNING}


def test_a_reading_taken_back_takes_its_proof_with_it() -> None:
    day = pumping_copper()
    day.tell("7:00 water three quarters")
    day.tell("7:10 wrong, water half\n7:20")
    said = day.tell("8:00 standing by\n8:20 what next\n10:00")
    feeds = day.session.state.latest("feed")
    assert feeds is not None
    assert "Feed proved" not in said


def test_full_size_injector_runs_and_the_glass_falls_at_every_reading() -> None:
    """Five eighths to a third in a quarter of an hour with the injector on."""
    day = taken_over("standing by", "fullsize", "pressure one hundred and twenty")
    day.tell("1:00 water five eighths\n1:10 injector running")
    for script in ("5:00 water half", "9:00 water three eighths", "13:00 water one third"):
        said = day.tell(script) + "\n" + day.silence(0.5)
        assert "feed" in said.lower(), f"each further fall is told: {script}\n{said}"
        assert "Warning" in said or "Danger" in said, script


def test_a_third_and_falling_under_a_feed_that_gives_nothing_asks_for_the_damper() -> None:
    day = taken_over("standing by", "fullsize", "pressure one hundred and twenty")
    day.tell("1:00 water five eighths\n1:10 injector running\n5:00 water half")
    day.tell("9:00 water three eighths\n13:00 water one third\n14:00")
    assert "Near mark, feed fails. Damper shut, no firing. Try any other feed." in day.heard


def test_hand_pump_in_short_bursts_that_gain_nothing_does_not_hush_the_lower_mark() -> None:
    """Copper: on, off, on, off; the glass goes down between."""
    day = taken_over("standing by", "copper", "pressure seventy")
    day.tell(
        """
        1:00 water half
        2:00 feed is running
        3:30 feed stopped
        4:00 water three eighths
        5:00 feed is running
        6:30 feed stopped
        7:00 water one third
        8:00 feed is running
        8:30
        """
    )
    assert "lower mark" in day.heard
    assert any("water" in name for name in day.standing)


def no_better(day: Day, until: str) -> None:
    """Every check that is put is answered the same, until this is said."""
    for _ in range(14):
        if until in day.heard:
            break
        day.silence(0.5)
        day.reply("still the same", after_s=5.0)
    assert until in day.heard


def raised(day: Day, *pressures: str) -> str:
    """She rises while the water is called: all that is said meanwhile."""
    mark = len(day.came)
    for pressure in pressures:
        day.silence(1.5)
        day.reply("water half", after_s=5.0)
        day.reply(f"pressure {pressure}", after_s=5.0)
    day.silence(1.0)
    return day.heard_since(mark)


def test_copper_whose_only_feed_fails_goes_no_higher() -> None:
    """The pump was its one feed: no minutes, no fire asked for, and it is told as she rises."""
    day = taken_over("raising steam", "copper", "pressure fifty")
    day.tell("1:00 pump trouble\n1:10 water half")
    no_better(day, "No feed works")
    said = raised(day, "fifty five", "sixty five", "seventy five")
    assert not any(part in said for part in MORE_HEAT), said
    assert "to wanted pressure" not in said, said
    assert "feed" in said.lower()


def test_an_injector_past_curing_beside_a_pump_that_works_is_not_called_no_feed() -> None:
    """Full size: the geared pump worked today, so it is to be used, and the list goes on."""
    day = taken_over("raising steam", "fullsize", "pressure fifty")
    day.tell("1:00 injector trouble\n1:10 water half")
    no_better(day, "damper shut now")
    said = raised(day, "ninety", "one hundred and ten")
    told_off = "No feed works" in day.heard
    assert not (told_off and any(part in said for part in MORE_HEAT))


def test_an_empty_tank_is_no_feed_either() -> None:
    """Copper at fifty: the tank is empty and she rises; the tank comes first, no minutes to go."""
    day = taken_over("raising steam", "copper", "pressure fifty")
    said = day.tell("1:00 tank empty\n2:30 pressure sixty\n4:00 pressure seventy\n4:30")
    assert said.count("Fill it now") >= 2
    assert day.standing.get("tank empty") is Grade.WARNING


def test_after_the_cures_a_move_to_work_names_the_feed() -> None:
    """Neighbour: he does not raise steam, he wants to move off with a pump that has failed."""
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("1:00 pump trouble\n1:20 water half\n2:00 hand pump failed")
    said = day.reply("moving off")
    assert not day.got(PhaseBegan)
    assert said, "and he hears why"
