"""What a driver of a random day may say: words for what he sees, does, wants, and calls.

Knows the tables of accepted sentences and the engine of the day; decides nothing but the form.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from assistant.boiler.scales import PRESSURE_PA
from assistant.grammar.fractions import fraction_words
from assistant.grammar.orders import NO, ORDER_FORMS, YES
from assistant.grammar.states import EMERGENCIES, STATE_FORMS
from assistant.lab.days.day_engine import DayEngine
from assistant.procedure.emergency import OVER_FORMS
from assistant.procedure.phases import MOVE_FORMS, MOVES_TABLE

STEP = {"psi": 5.0, "bar": 0.25}  # in which each dial is called
OUT_OF_SIGHT = ("no water in sight", "no water")
FULL = "water full"
TANK_EMPTY = "tank empty"
LOOKED_AT = "boiler has been looked at"
ORDERS_AT_WILL = tuple(sorted(set(ORDER_FORMS) - {"stop", "note", "call"}))
WITH_NUMBERS = (
    "wait five minutes", "wait ten minutes", "give me two minutes", "how long to {}",
    "what if i put in two litres", "what if i feed ten litres",
)  # fmt: skip


class DayWords:
    """The sentences of one driver."""

    def __init__(self, engine: DayEngine, dial: str, rng: random.Random) -> None:
        self._engine, self._dial, self._rng = engine, dial, rng

    # --- readings

    def pressure(self, off: float = 0.0) -> str:
        """The gauge as it is called; off: by so many calling steps more."""
        step = STEP[self._dial]
        called = max(round(self._engine.gauge_pa / PRESSURE_PA[self._dial] / step) + off, 0) * step
        number = f"{called:g}"
        unit = "pounds" if self._dial == "psi" else "bar"
        return self._rng.choice([f"pressure {number}", f"{number} {unit}", f"pressure {number}"])

    def water(self, off: float = 0.0) -> str:
        """The glass as it is called; off: by so much more than it shows."""
        shown = self._engine.glass
        if shown is None:
            return self._rng.choice(OUT_OF_SIGHT)
        words = fraction_words(min(max(round(8 * (shown + off)) / 8, 0.0), 1.0))
        return f"water {words}" if words != "nothing" else "water just showing"

    def tank(self) -> str:
        """The tank as it is called."""
        words = fraction_words(max(self._engine.tank, 0.0))
        return TANK_EMPTY if words == "nothing" else f"tank {words}"

    def both(self) -> str:
        """Pressure and water in one breath."""
        return f"{self.pressure().replace(' pounds', '')} {self.water()}"

    def reading(self, gauge: str, off: float = 0.0) -> str:
        """A reading by the gauge's name."""
        if gauge == "pressure":
            return self.pressure(round(10 * off))
        return self.water(off) if gauge == "water" else self.tank()

    # --- states

    def state(self, subject: str, value: str) -> str | None:
        """A way to report a state; None where the common words have none."""
        forms = STATE_FORMS.get((subject, value))
        return self._rng.choice(forms) if forms else None

    def seen(self) -> str | None:
        """A true sentence about something that can be seen."""
        subjects = [s for s, _ in STATE_FORMS if self._engine.seen(s)]
        if not subjects:
            return None
        subject = self._rng.choice(subjects)
        return self.state(subject, self._engine.seen(subject))

    def act(self) -> tuple[str, str, str] | None:
        """Something to do: subject, state, and how it is reported."""
        pairs = [p for p in STATE_FORMS if p[0] not in ("valve", "boiler", "fire")]
        subject, value = self._rng.choice(pairs)
        return subject, value, self._rng.choice(STATE_FORMS[subject, value])

    # --- what is wanted or called

    def order(self) -> str:
        """An order to the assistant, not the end of the session."""
        if self._rng.random() < 0.25:
            number = (
                f"{self._engine.engine.working_pressure_gauge_pa / PRESSURE_PA[self._dial]:.0f}"
            )
            return self._rng.choice(WITH_NUMBERS).format(number)
        return self._rng.choice(ORDER_FORMS[self._rng.choice(ORDERS_AT_WILL)])

    def named_order(self, name: str) -> str:
        """One order by its name."""
        return self._rng.choice(ORDER_FORMS[name])

    def move(self, phase: str, last: bool = True) -> str:
        """A move: mostly one that the table has from this phase, else any.

        last: she may also be put away, from where no move leads.
        """
        here = [move for move, source, *_ in MOVES_TABLE if source.value == phase]
        here = here if last else [move for move in here if move != "put_away"]
        named = [move for move in here if move in MOVE_FORMS]
        moves = named if named and self._rng.random() < 0.8 else sorted(MOVE_FORMS)
        return self._rng.choice(MOVE_FORMS[self._rng.choice(moves)])

    def emergency(self) -> str:
        """An emergency's call."""
        return self._rng.choice(EMERGENCIES[self._rng.choice(sorted(EMERGENCIES))])

    def over(self) -> str:
        """Every called emergency is over."""
        return self._rng.choice(OVER_FORMS)

    def symptom(self, forms: Sequence[str]) -> str:
        """One of the remedies' symptoms."""
        return self._rng.choice(list(forms))

    def yes(self) -> str:
        """Yes."""
        return self._rng.choice(YES)

    def no(self) -> str:
        """No."""
        return self._rng.choice(NO)

    def withdrawal(self) -> str:
        """Something said is taken back, or replaced by a true reading."""
        gauge = self._rng.choice(["pressure", "water"])
        right = self.reading(gauge).removeprefix("pressure ").removeprefix("water ")
        return self._rng.choice(["wrong", "take that back", f"wrong {right}", f"no {right}"])
