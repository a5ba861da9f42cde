"""The draught index, and the draught along a rise."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.belief.draught import (
    DAMPER_ALONE,
    TypicalDraught,
    draught_by_cell,
    draught_index,
    is_logged,
)
from assistant.belief.history import Act, History

TYPICAL = TypicalDraught(np.array([0.0, 0.2, 0.4, 0.6, 0.8]))


def history(*acts: tuple[float, str, str]) -> History:
    found = History()
    for act in acts:
        found = found.with_fact(Act(*act))
    return found


@pytest.mark.parametrize(
    ("acts", "index"),
    [
        ((), 0.0),
        (((0.0, "blower", "open"),), 1.0),
        (((0.0, "damper", "shut"),), -DAMPER_ALONE / (1.0 - DAMPER_ALONE)),
        (((0.0, "damper", "shut"), (5.0, "damper", "open")), 0.0),
        # shut when the fire was lit: that cannot be how it burnt since
        (((0.0, "damper", "shut"), (5.0, "fire", "lit")), 0.0),
    ],
)
def test_the_index(acts: tuple[tuple[float, str, str], ...], index: float) -> None:
    assert draught_index(history(*acts), 10.0) == pytest.approx(index)


def test_with_nothing_logged_the_draught_is_typical() -> None:
    found = draught_by_cell(History(), TYPICAL, np.array([]), np.array([]), 2.0)
    assert found is TYPICAL.by_cell
    assert not is_logged(history((0.0, "damper", "shut")))


def test_what_is_logged_counts_up_to_now_and_what_is_typical_beyond() -> None:
    logged = history((0.0, "fire", "lit"), (1.0, "blower", "open"))
    times, positions = np.array([0.0, 100.0]), np.array([0.0, 3.0])
    found = draught_by_cell(logged, TYPICAL, times, positions, 3.0)
    assert found[:3] == pytest.approx([1.0, 1.0, 1.0])
    assert found[3:] == pytest.approx([1.0, 1.0])  # fully open leaves no room for more
    shut = history((0.0, "blower", "shut"))
    ahead = draught_by_cell(shut, TYPICAL, times, positions, 3.0)[3:]
    assert ahead[0] < ahead[1]  # as typical, it is opened further on the way


def test_logged_runs_move_what_is_typical() -> None:
    one = TYPICAL.after(np.ones(5))
    assert one.runs == 1
    assert (one.by_cell > TYPICAL.by_cell).all() and (one.by_cell < 1.0).all()
