"""How sure an adapter's ear is allowed to be."""

from __future__ import annotations

from assistant.lab.benches.hear_numbers import Hearing
from assistant.lab.tuning.calibration import greatest_honest


def hearings(right: int, wrong: tuple[str, ...]) -> list[Hearing]:
    def one(take: str, is_right: bool) -> Hearing:
        return Hearing(take, "an4, to nineteen", "", "six", "six", is_right, 0.995, True)

    return [one(f"right {at}", True) for at in range(right)] + [one(take, False) for take in wrong]


def test_the_greatest_exponent_is_taken_with_which_the_sure_are_right() -> None:
    heard = {1.0: hearings(50, ()), 1.4: hearings(300, ("a",)), 1.8: hearings(350, ("a", "b"))}
    assert greatest_honest(heard) == 1.4


def test_a_take_that_is_wrong_in_several_places_counts_once() -> None:
    heard = {1.0: hearings(50, ()), 1.25: hearings(250, ("a", "a", "a"))}
    assert greatest_honest(heard) == 1.25


def test_where_none_is_honest_the_least_is_taken() -> None:
    assert greatest_honest({1.0: hearings(10, ("a",)), 2.0: hearings(20, ("a", "b"))}) == 1.0
