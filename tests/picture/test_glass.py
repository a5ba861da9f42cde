"""The gauge glass: proved, broken, flat."""

from __future__ import annotations

from picture_story import glass, picture, psi

from assistant.messages import Report
from assistant.picture.picture import Picture

BACK = Report("glass", "comes back at once")
EQUAL = ((0, glass(0.5)), (5, glass(0.5)), (10, glass(0.5)))


def warming(t0: float, t1: float) -> float:
    """A fifth of the glass in ten minutes."""
    return 0.2 * (t1 - t0) / 600.0


def test_never_told_of_it_is_unproved() -> None:
    part = picture((0, glass(0.5))).glass
    assert (part.value, part.age_s, part.witnesses) == ("unproved", None, ())


def test_proved_cold_or_hot_by_the_steam_at_that_moment() -> None:
    cold = picture((0, BACK), minute=2)
    assert (cold.glass.value, cold.glass.since, cold.glass.age_s) == ("proved cold", 0.0, 120.0)
    assert cold.proves("glass proved")
    risen = picture((0, BACK), (40, psi(20)))
    assert risen.glass.value == "proved cold"
    assert not risen.proves("glass proved"), "with steam up it wants its warm form"
    hot = picture((0, BACK), (40, psi(20)), (45, BACK))
    assert hot.glass.value == "proved hot"
    assert hot.proves("glass proved")


def test_three_equal_readings_while_expansion_should_have_moved_it_are_flat() -> None:
    def part(expansion: object, *more: tuple[float, Report]) -> Picture:
        return picture(*EQUAL, *more, expansion=expansion)

    flat = part(warming).glass
    assert (flat.value, flat.since) == ("flat", 0.0)
    assert flat.witnesses == ("equal readings while it should have moved, 10 min ago",)
    assert picture(*EQUAL[:2], expansion=lambda t0, t1: 0.4).glass.value == "unproved", "two"
    assert part(lambda t0, t1: 0.1).glass.value == "unproved", "less than a step and a half"
    assert part(lambda t0, t1: None).glass.value == "unproved"
    assert part(warming, (15, glass(0.625))).glass.value == "unproved", "it moved"
    assert part(warming, (15, BACK)).glass.value == "proved cold", "blown through"
    assert part(warming, (12, glass(0.52))).glass.value == "flat", "less than a step is no end"


def test_three_equal_readings_while_the_feed_should_have_moved_it_are_flat() -> None:
    on = (0.0, Report("bypass", "shut"))
    assert picture(on, *EQUAL).glass.value == "flat"
    stopped = picture(on, (1, Report("bypass", "open")), (2, glass(0.5)), *EQUAL[1:])
    assert stopped.glass.value == "unproved"


def test_broken_until_over_and_tested() -> None:
    broken = (1, Report("emergency", "glass broken"))
    assert picture((0, BACK), broken).glass.value == "broken"
    over = (2, Report("emergency", "over"))
    assert picture((0, BACK), broken, over).glass.value == "broken"
    assert picture((0, BACK), broken, over, (3, BACK)).glass.value == "proved cold"
    again = (4, Report("emergency", "glass broken"))
    assert picture(broken, over, (3, BACK), again, (5, BACK)).glass.value == "broken"


def test_a_failed_test_counts_from_the_first() -> None:
    empty = Report("glass", "stays empty")
    failed = picture((0, BACK), (5, empty), (9, empty)).glass
    assert (failed.value, failed.since) == ("unproved", 300.0)
    assert picture((5, empty), (6, BACK), (9, empty)).glass.since == 540.0


def test_a_feed_against_a_valve_that_blows_may_leave_it_where_it_is() -> None:
    """Neither which took the more is known, nor what an injector gave."""
    use = {"use": lambda t0, t1: 0.3}
    day = ((0, Report("fire", "bright")), (0.1, Report("feed", "on")))
    blown = (0.2, Report("valve", "lifting"))
    assert picture(*day, blown, *EQUAL, **use).glass.value != "flat"
    assert picture(*day[:1], blown, *EQUAL, **use).glass.value == "flat", "taken, and nothing given"
