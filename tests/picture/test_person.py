"""The person: heard, away, or not to be heard."""

from __future__ import annotations

from picture_story import picture, psi

STEAM = (0, psi(60))


def test_who_watches_and_when_he_was_heard() -> None:
    person = picture(STEAM, minute=3, heard_at=60.0, watch="Ann").person
    assert (person.age_s, person.watch, person.away, person.hears) == (120.0, "Ann", False, True)


def test_silent_for_two_intervals_with_steam_up_is_away() -> None:
    assert not picture(STEAM, minute=10, heard_at=0.0).person.away
    assert picture(STEAM, minute=10.1, heard_at=0.0).person.away
    assert not picture((0, psi(0)), minute=60, heard_at=0.0).person.away, "cold"


def test_our_deafness_is_not_his_silence() -> None:
    person = picture(STEAM, minute=30, heard_at=0.0, hears=False).person
    assert (person.away, person.hears, person.witnesses) == (False, False, ("not heard now",))
