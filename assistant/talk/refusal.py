"""Was it for us, and was it heard well enough? A closed grammar always answers, so the sound is
tested by itself. Knows an ear's figures; knows no meaning, no boiler and no cost.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.messages import Heard

ForUs = Literal["yes", "faint", "no"]

LEAST_MARGIN = 2.0  # nats, best meaning over the second


@dataclass(frozen=True, slots=True)
class Gate:
    """What the sound must reach to be taken at once.

    log_ratio: nats, best held score minus best unheld one. average: nats per token.
    """

    log_ratio: float
    average: float


# Measured on the bundled ear: noise accepted 0.6 %, near-miss sentences 0.5 to 1 %, other talk 0 of
# 180; without a gate 100 %.
STRICT = Gate(-1.0, -1.0)
# For orders that do no harm, "say again" above all. Of 50 sentences of other talk and 58 near ones
# one passes ("say it again sam").
LOOSE = Gate(-3.0, -1.5)
# For the very thing that is being asked about, said once more instead of "correct": other talk does
# not say it twice (judgement; the probability wanted is not lowered).
AGREED = Gate(-4.5, -1.6)

# To be asked about. Measured on the bundled ear: of 50 sentences of other talk (30 people's orders
# to a coffee machine, 20 synthetic ones near to our words) none had an average above -2.1; of 60
# sentences of ours 3 were below -1.9. The average tells the two apart better than the log ratio.
OURS_LOG_RATIO = -6.0
OURS_AVERAGE = -1.9
# Below that, but while a question of ours is open, it may have been a badly heard answer.
FAINT_LOG_RATIO = -8.0
FAINT_AVERAGE = -2.4


TYPED = "typed"  # name of the ear that reads the keys: its words are certain


def typed(heard: Heard) -> bool:
    """Whether the words came from the keys, not from a sound."""
    return heard.ear == TYPED


def for_us(heard: Heard) -> ForUs:
    """Whether anything of ours was said at all.

    >>> for_us(Heard(0.0, "ear", (), log_ratio=-0.2, average=-0.4))
    'yes'
    """
    if heard.log_ratio is None or heard.average is None:
        return "yes"
    if heard.log_ratio >= OURS_LOG_RATIO and heard.average >= OURS_AVERAGE:
        return "yes"
    if heard.log_ratio >= FAINT_LOG_RATIO and heard.average >= FAINT_AVERAGE:
        return "faint"
    return "no"


def doubt(heard: Heard, margin: float, gate: Gate, lasting: bool) -> str | None:
    """Why the sound may not be taken at once, None if it may.

    margin: nats over the second meaning. lasting: it goes into the book or changes what is asked.
    An ear without figures (a loose word model) cannot tell what was not for us: nothing lasting is
    taken on its word alone.
    """
    if typed(heard):
        return None
    if heard.log_ratio is None or heard.average is None:
        return "this ear cannot tell what is not for us" if lasting else None
    if heard.log_ratio < gate.log_ratio:
        return f"other words fit better (log ratio {heard.log_ratio:.1f})"
    if heard.average < gate.average:
        return f"badly heard ({heard.average:.1f} nats a token)"
    if margin < LEAST_MARGIN:
        return f"two meanings are near ({margin:.1f} nats)"
    return None
