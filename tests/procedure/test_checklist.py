"""A list narrowed to one engine: which steps apply, and what they then wait for."""

from __future__ import annotations

import pytest

from assistant.messages import Report
from assistant.procedure.checklist import Checklist, Phase, Reply, Step, fits, for_engine


def step(name: str, when: tuple[str, ...] = (), after: tuple[str, ...] = ()) -> Step:
    replies = (Reply("done", (f"{name} is done", f"{name} done")), Reply("not", (), passes=False))
    return Step(
        id=name, say=f"Do {name}.", asks=name, kind="act", replies=replies, when=when, after=after
    )


@pytest.mark.parametrize(
    ("when", "options", "applies"),
    [
        ((), set(), True),
        (("injector",), {"injector", "tank"}, True),
        (("injector",), {"tank"}, False),
        (("not injector",), {"tank"}, True),
        (("not injector",), {"injector"}, False),
        (("tank", "not injector"), {"tank", "injector"}, False),
    ],
)
def test_every_option_named_must_be_met(
    when: tuple[str, ...], options: set[str], applies: bool
) -> None:
    assert fits(step("oil", when), frozenset(options)) is applies


def test_nothing_waits_for_a_step_that_does_not_apply() -> None:
    steps = (step("prime", ("injector",)), step("feed", after=("prime", "tank")), step("tank"))
    listed = Checklist(name="a", title="A", phase=Phase.FIRING, steps=steps)
    narrowed = for_engine(listed, frozenset())
    assert [s.id for s in narrowed.steps] == ["feed", "tank"]
    assert narrowed.step("feed").after == ("tank",)
    assert narrowed.ids == {"feed", "tank"}
    with pytest.raises(KeyError):
        narrowed.step("prime")


def test_one_example_of_each_reply_but_every_form_is_an_answer() -> None:
    oil = step("oil")
    assert oil.examples() == ("oil is done",)
    assert oil.answers() == (
        ("oil is done", Report("oil", "done")),
        ("oil done", Report("oil", "done")),
    )
