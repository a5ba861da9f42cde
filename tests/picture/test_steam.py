"""Steam by its best witness, and how it ends."""

from __future__ import annotations

import pytest
from picture_story import glass, picture, psi

from assistant.messages import Report

LIT = (1, Report("fire", "lit"))
DRAWN = Report("fire", "drawn")


@pytest.mark.parametrize(
    "witness", [Report("valve", "feathering"), Report("vent", "blows steam"), psi(3)]
)
def test_each_witness_alone_shows_steam(witness: Report) -> None:
    steam = picture(LIT, (40, witness), minute=42).steam
    assert (steam.value, steam.since, steam.age_s) == ("steam", 2400.0, 120.0)
    assert len(steam.witnesses) == 1
    assert not steam.ahead


def test_a_glass_that_expanded_as_at_boiling_shows_steam() -> None:
    risen = (glass(0.5), LIT, glass(0.75))
    assert picture((0, risen[0]), LIT, (30, glass(0.6))).steam.value == "cold"
    steam = picture((0, risen[0]), LIT, (30, risen[2])).steam
    assert steam.witnesses == ("glass expanded as at boiling, now",)
    fed = picture((0, risen[0]), LIT, (5, Report("feed", "on")), (30, risen[2])).steam
    assert fed.value == "cold", "the feed may have lifted it"


def test_below_every_witness_she_is_cold_or_near_boiling_by_reckoning() -> None:
    assert picture(LIT, (20, psi(1))).steam.value == "cold"
    near = picture(LIT, (20, psi(1)), near_boiling=True).steam
    assert (near.value, near.since) == ("near boiling", None)


def test_a_gauge_at_zero_does_not_outweigh_a_valve_that_lifts() -> None:
    lifts = (40, Report("valve", "lifting"))
    assert picture(LIT, lifts, (41, psi(0)), (42, psi(0))).steam.value == "steam"
    out = picture(LIT, lifts, (41, psi(0)), (50, DRAWN), (60, psi(0)), (61, psi(0))).steam
    assert out.value == "steam", "that gauge tells nothing"


def test_cold_again_wants_the_fire_out_and_two_calls_at_rest() -> None:
    raised = (LIT, (40, psi(60)), (60, DRAWN))
    assert picture(*raised, (200, psi(1))).steam.value == "steam"
    cold = picture(*raised, (200, psi(1)), (205, psi(0))).steam
    assert (cold.value, cold.cold_again, cold.since) == ("cold", True, 205 * 60.0)
    again = picture(*raised, (200, psi(1)), (205, psi(0)), (300, psi(5))).steam
    assert (again.value, again.cold_again) == ("steam", False)


def test_ahead_of_the_list_by_two_witnesses_or_a_tenth_of_working_pressure() -> None:
    assert not picture((1, psi(11))).steam.ahead
    assert picture((1, psi(12))).steam.ahead
    assert picture((1, psi(5)), (2, Report("vent", "blows steam"))).steam.ahead


def test_an_engine_taken_over_warm_has_steam_until_she_is_cold_again() -> None:
    warm = picture((1, psi(0)), warm_since=0.0).steam
    assert (warm.value, warm.since) == ("steam", 0.0)
    assert picture((1, DRAWN), (2, psi(0)), (3, psi(0)), warm_since=0.0).steam.value == "cold"


def test_a_break_does_not_make_her_cold() -> None:
    assert picture((1, psi(60)), minute=60, breaks=((120.0, 3000.0),)).steam.value == "steam"
