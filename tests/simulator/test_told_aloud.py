"""What is told outside the steps is done, and reported as it is seen."""

from __future__ import annotations

import pytest

from assistant.boiler.scales import PSI_PA
from assistant.config.engine_file import find_engine
from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Report
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.told_aloud import ENOUGH, GLASS_AGAIN_S, TELL_AGAIN_S, ToldAloud

ENGINE = find_engine("practice").engine


def somebody(
    psi: float = 100.0, height: float = 0.4, *faults: str
) -> tuple[ToldAloud, PracticeBoiler]:
    """At an engine in steam."""
    boiler = PracticeBoiler(
        ENGINE, 1, faults=faults, spread=0.0, start_gauge_pa=psi * PSI_PA, start_height=height
    )
    boiler.step(900.0 if faults else 2.0)
    return ToldAloud(boiler), boiler


def meant(told: ToldAloud, text: str, at: float = 0.0) -> list[object]:
    """What is answered; every line is understood as it is meant."""
    lines = told.heard(text, at)
    for line in lines:
        assert grammar(Expected("any")).parse(line.words) == line.meaning
        told.remember(line.meaning)  # type: ignore[arg-type]
    return [line.meaning for line in lines]


@pytest.mark.parametrize(
    "asked",
    ["Valve should lift now. Does it?", "It should feather by a hundred and thirty two. Does it?"],
)
@pytest.mark.parametrize(("psi", "state"), [(120.0, "shut"), (138.0, "feathering")])
def test_what_the_valve_does_is_told_where_it_is_asked(asked: str, psi: float, state: str) -> None:
    told, boiler = somebody(psi)
    assert boiler.valve_state == state
    assert meant(told, asked) == [Report("valve", state)]


def test_feed_now_is_fed_and_stopped_half_way_up() -> None:
    told, boiler = somebody(height=0.3)
    assert meant(told, "Caution. Water near lower mark. Feed now.") == [Report("feed", "on")]
    assert boiler.state("bypass") == "shut"
    assert meant(told, "Caution. Water near lower mark. Feed now.") == []
    assert told.stop_feed_in_time() == []
    for _ in range(60):
        boiler.step(30.0)
        stopped = told.stop_feed_in_time()
        if stopped:
            break
    assert [line.meaning for line in stopped] == [Report("feed", "off")]
    assert boiler.state("bypass") == "open"
    assert ENOUGH <= (boiler.glass_fraction or 0.0) < ENOUGH + 0.1


def test_there_is_no_room_for_a_feed_in_a_full_glass() -> None:
    told, boiler = somebody(height=0.7)
    assert meant(told, "The valve blows water away. Feed if there is room.") == []
    assert boiler.state("bypass") == "open"


def test_the_draught_is_stopped_and_told_once() -> None:
    told, boiler = somebody()
    boiler.blower("half")
    words = "Damper shut, blower shut. No firing. Everybody away."
    both = [Report("damper", "shut"), Report("blower", "shut")]
    assert meant(told, words) == both
    assert (boiler.state("damper"), boiler.state("blower")) == ("shut", "shut")
    assert meant(told, words) == []
    boiler.step(TELL_AGAIN_S + 1.0)
    assert meant(told, words) == both


def test_a_stuck_damper_is_called_shut() -> None:
    told, boiler = somebody(100.0, 0.5, "damper stuck")
    assert meant(told, "The valve blows water away. Damper shut. Feed if there is room.") == [
        Report("damper", "shut")
    ]
    assert boiler.state("damper") == "open"


def test_a_prompt_of_a_step_that_names_the_damper_later_is_no_such_act() -> None:
    told, boiler = somebody()
    assert meant(told, "Regulator shut, damper shut.") == []
    assert boiler.state("damper") == "open"


def test_the_glass_is_blown_through_and_not_at_every_word() -> None:
    told, _ = somebody(100.0, 0.5, "glass choked bottom")
    words = "Warning. Glass not moving. Blow it through."
    assert meant(told, words) == [Report("glass", "stays empty")]
    assert meant(told, words, GLASS_AGAIN_S - 1.0) == []
    assert meant(told, words, GLASS_AGAIN_S + 1.0) == [Report("glass", "stays empty")]


def test_an_empty_tank_is_filled() -> None:
    told, boiler = somebody(100.0, 0.5, "no water in tank")
    assert boiler.tank_fraction == 0.0
    assert meant(told, "Warning. Tank empty. Fill it now.") == [Report("tank", 1.0, "tank")]
    assert boiler.tank_fraction == 1.0


def test_a_blower_left_on_goes_down_to_a_crack() -> None:
    told, boiler = somebody()
    boiler.blower("half")
    assert meant(told, "Caution. Blower still on. Down to a crack.") == [Report("blower", "crack")]
    assert meant(told, "Caution. Blower still on. Down to a crack.") == []
