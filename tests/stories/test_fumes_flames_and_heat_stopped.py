"""Fumes and flames as a driver says them; and with the heat stopped nothing asks for it again."""

from __future__ import annotations

import pytest
from day_story import taken_over

FUMES = (
    "smoke in the shed", "my head aches", "i feel sick", "i have a headache", "i am dizzy",
    "i feel dizzy", "too much smoke in here", "i feel ill", "headache", "fumes",
)  # fmt: skip
FLAMES = (
    "flames out of the door", "flames at the firehole", "flames out of the firehole", "blow back",
    "it blew back", "the fire blew back", "blow back at the door", "flames are coming out",
    "firehole flashback",
)  # fmt: skip
FLAME_ACTS = "Stand aside, back from the door. Blower a crack, damper open a little."


@pytest.mark.parametrize("words", FUMES)
def test_fumes_are_the_driver_ill(words: str) -> None:
    day = taken_over("raising steam", pressure="pressure forty")
    said = day.tell(f"1:00 {words}")
    assert day.dangers == {"driver is ill"}
    assert "Out into fresh air. Call for help." in said


@pytest.mark.parametrize("words", FLAMES)
def test_flames_out_of_the_firehole_have_their_acts(words: str) -> None:
    day = taken_over("raising steam", pressure="pressure forty")
    said = day.tell(f"1:00 {words}")
    assert day.dangers == {"flames out of the firehole"}
    assert FLAME_ACTS in said and "Door shut, once the flames draw in." in said


def test_back_is_still_back_and_a_clack_that_blows_back_is_no_flame() -> None:
    day = taken_over("raising steam", pressure="pressure forty")
    day.tell("1:00 go back\n1:20 boiler is blowing back")
    assert day.dangers == {"clack is stuck open"}


def test_the_draught_that_takes_the_flames_in_is_not_objected_to() -> None:
    day = taken_over("raising steam", pressure="pressure forty")
    day.tell("1:00 flames at the firehole")
    assert "Stop the heat" not in day.tell("1:10 blower cracked\n1:20 damper half open")
    assert "Danger" not in day.reply("blower half open", 2.0)
    assert "Danger. Stand aside." in day.reply("coal on the fire")


def test_beside_low_water_flames_get_no_draught() -> None:
    day = taken_over("raising steam", pressure="pressure forty")
    said = day.tell("1:00 no water in sight\n1:20 flames at the firehole")
    assert "Stand aside, back from the door. Door shut" in said
    assert "Blower a crack" not in said


def test_a_blower_shut_as_a_danger_told_is_not_opened_again() -> None:
    day = taken_over("raising steam", "fullsize", pressure="pressure ninety")
    said = day.tell("1:00 pressure ninety five\n1:20 valve lifting\n1:40 damper shut")
    assert "Damper shut, blower shut." in said
    said = day.tell("2:00 blower shut\n2:20 gauge trouble\n2:40 blower shut\n3:00")
    assert "Open it again" not in said
    assert "crack" not in said.lower()


def test_a_blower_shut_with_no_danger_is_opened_again_a_crack() -> None:
    day = taken_over("raising steam", pressure="pressure sixty")
    assert "Open it again, a crack." in day.tell("1:00 blower shut")


def test_over_the_lift_no_damper_is_asked_to_be_eased() -> None:
    day = taken_over(
        "raising steam", "copper", pressure="pressure eighty", valve="valve not seen today"
    )
    said = day.tell(
        "1:00 water half\n1:30 pressure ninety six\n2:00 pressure one hundred and four\n"
        "2:30 pressure one hundred and eight"
    )
    assert "over-pressure" in day.dangers
    said = day.tell("2:40 what next\n5:30")
    assert "Damper nearly shut" not in said and "crack" not in said.lower()


def test_while_the_gauge_list_is_in_hand_no_draught_is_asked_for() -> None:
    """Its opening has damper and blower shut until the gauge is proved."""
    day = taken_over("raising steam", pressure="pressure sixty")
    day.tell("1:00 water half\n1:10 damper shut\n1:20 gauge trouble\n1:30 blower shut")
    said = day.tell(
        "1:40 pressure fifty\n4:00 water half\n4:10 pressure forty\n7:00 water half\n9:00"
    )
    assert "Open" not in said and "Blower" not in said


def test_beside_a_gauge_trouble_near_the_wanted_pressure_the_draught_is_said_again() -> None:
    day = taken_over("raising steam", pressure="one ten")
    day.tell("1:00 blower open\n1:05 damper open\n2:00 the gauge is stuck\n2:20 gauge cock is open")
    said = day.tell("2:40 water half\n5:00 pressure one fifteen\n5:10 water half\n10:00")
    assert said.count("Damper and blower shut.") >= 2, "the list says it once, when it begins"
