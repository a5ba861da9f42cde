"""Any sequence of events: no fault, the same effects again, and no hold passed by noise."""

from __future__ import annotations

from any_events import event_of, events
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_story import parts

from assistant.dialogue.session import Session
from assistant.messages import (
    Decided,
    Effect,
    Ended,
    Event,
    Fault,
    Heard,
    Started,
)
from assistant.procedure.checklist import Phase


def ended_before(played: list[Event], effects: list[list[Effect]], event: Event) -> bool:
    """Whether the session was over when an event came."""
    earlier = effects[: next(i for i, other in enumerate(played) if other is event)]
    return any(isinstance(effect, Ended) for came in earlier for effect in came)


stories = st.lists(st.tuples(st.floats(0, 900), events), min_size=1, max_size=25)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    stories,
    st.sampled_from([None, *(p.value for p in Phase)]),
    st.sampled_from(["practice", "copper"]),
)
def test_no_fault_and_the_same_again(
    story: list[tuple[float, tuple[str, str]]], from_phase: str | None, engine: str
) -> None:
    first = Session(parts(engine))
    at, played = 0.0, [Started(0.0, from_phase)]
    effects = [first.handle(played[0])]
    for after_s, (kind, words) in story:
        at += after_s
        played.append(event_of(first, at, kind, words))
        effects.append(first.handle(played[-1]))
    for event, came in zip(played, effects, strict=True):
        over = event is not played[0] and ended_before(played, effects, event)
        decided = [effect for effect in came if isinstance(effect, Decided)]
        assert len(decided) == (isinstance(event, Heard) and not over), event
    faults = [e.message for came in effects for e in came if isinstance(e, Fault)]
    assert not faults
    again = Session(parts(engine))
    assert [again.handle(event) for event in played] == effects
