"""The phases and their moves, in one table. Knows no library: `machine.py` asks it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from assistant.messages import Report
from assistant.procedure.checklist import Phase
from assistant.procedure.machine import IllegalMoveError, Moves
from assistant.procedure.position import Progress, can_leave
from assistant.procedure.progress import ASKED_AGAIN

_P = Phase

# (move, from, to, guards): all legal moves. A move without a guard makes things safer.
# "go_on" follows by itself when a list is through; "overtake" is a yes to a question of ours, where
# there is steam before the list has come so far; the others are asked for aloud. To feed from
# firing there must be steam (`dialogue/refused_moves.py`).
MOVES_TABLE: tuple[tuple[str, Phase, Phase, tuple[str, ...]], ...] = (
    ("go_on", _P.PREPARATION, _P.FIRING, ("all_answered",)),
    ("go_on", _P.FIRING, _P.RAISING_STEAM, ("all_answered",)),
    ("go_on", _P.RAISING_STEAM, _P.TICK_OVER, ("all_answered",)),
    ("go_on", _P.TICK_OVER, _P.PUMPING, ("all_answered",)),
    ("go_on", _P.PUMPING, _P.STANDING_BY, ("all_answered",)),
    ("overtake", _P.PREPARATION, _P.RAISING_STEAM, ()),
    ("overtake", _P.FIRING, _P.RAISING_STEAM, ()),
    ("stand_by", _P.PREPARATION, _P.STANDING_BY, ("steam_known",)),
    ("stand_by", _P.FIRING, _P.STANDING_BY, ("steam_known",)),
    ("stand_by", _P.RAISING_STEAM, _P.STANDING_BY, ()),
    ("stand_by", _P.TICK_OVER, _P.STANDING_BY, ()),
    ("stand_by", _P.PUMPING, _P.STANDING_BY, ()),
    ("raise_steam", _P.STANDING_BY, _P.RAISING_STEAM, ("water_known",)),
    ("move_off", _P.STANDING_BY, _P.TICK_OVER, ("water_known",)),
    ("feed", _P.FIRING, _P.PUMPING, ("water_known",)),
    ("feed", _P.RAISING_STEAM, _P.PUMPING, ("water_known",)),
    ("feed", _P.STANDING_BY, _P.PUMPING, ("water_known",)),
    ("put_away", _P.PREPARATION, _P.PUTTING_AWAY, ()),
    ("put_away", _P.FIRING, _P.PUTTING_AWAY, ()),
    ("put_away", _P.RAISING_STEAM, _P.PUTTING_AWAY, ()),
    ("put_away", _P.TICK_OVER, _P.PUTTING_AWAY, ()),
    ("put_away", _P.PUMPING, _P.PUTTING_AWAY, ()),
    ("put_away", _P.STANDING_BY, _P.PUTTING_AWAY, ()),
)
MOVE = "move"  # `Report(MOVE, name)` is a move asked for aloud

# How the moves other than "go_on" are asked for. These are listed with what is asked, where the
# move is legal; `grammar.states` accepts them, and shorter ones, in any phase.
MOVE_FORMS: dict[str, tuple[str, ...]] = {
    "stand_by": ("standing by now", "we are standing by"),
    "raise_steam": ("raising steam again",),
    "move_off": ("moving off again",),
    "feed": ("time to feed again",),
    "put_away": ("putting her away", "putting away now"),
}
_MOVES = Moves(Phase, MOVES_TABLE)
MOVES = _MOVES.names


@dataclass(frozen=True, slots=True)
class Facts:
    """What the guards may ask."""

    all_answered: bool = False
    """Every killer and hold of the phase is answered, and open items were asked at the gate."""
    water_known: bool = False
    """The killer steps about water are answered, so that the water was seen."""
    steam_known: bool = False
    """There is steam in her, whatever list is in hand."""


def facts(progress: Progress) -> Facts:
    """The facts of a progress. Steps asked again at the gate do not count for `water_known`."""
    killers = (s for s in progress.steps if s.killer and s.asks == "water")
    water = all(progress.is_done(s.id) for s in killers if not s.id.endswith(ASKED_AGAIN))
    return Facts(all_answered=can_leave(progress), water_known=water)


def move(phase: Phase, name: str, known: Facts) -> Phase:
    """The phase after a move. Raises IllegalMoveError when the table or a guard forbids it."""
    return _MOVES.after(phase, name, known)


def next_phase(phase: Phase, known: Facts, name: str = "go_on") -> Phase | None:
    """The phase a move leads to; None when it is not allowed now."""
    try:
        return move(phase, name, known)
    except IllegalMoveError:
        return None


@cache
def move_calls(phase: Phase) -> tuple[tuple[str, Report], ...]:
    """The forms of words that ask for the moves from this phase."""
    return tuple(
        (form, Report(MOVE, name))
        for name, forms in MOVE_FORMS.items()
        if has_move(phase, name)
        for form in forms
    )


def has_move(phase: Phase, name: str) -> bool:
    """Whether the table has this move from this phase, guards aside."""
    return any(trigger == name and source is phase for trigger, source, *_ in MOVES_TABLE)


def leads_to(name: str) -> Phase:
    """The phase that a move asked for aloud leads to, from wherever it is legal."""
    return next(dest for trigger, _, dest, _ in MOVES_TABLE if trigger == name)


def diagram() -> str:
    """The table as a state diagram in Mermaid text, for the documentation."""
    return _MOVES.diagram(Phase.PREPARATION, Phase.PUTTING_AWAY)
