"""One step of a checklist file: its keys, its answers, its limits."""

from __future__ import annotations

import re

from assistant.belief.history import STATES
from assistant.config import json_form, units
from assistant.config.field_readers import (
    MAX_SENTENCE_WORDS,
    number_in,
    place_of,
    want_keys,
    want_number,
    want_scalar,
    want_sentence,
    want_tables,
    want_text,
    want_texts,
    want_word,
    want_yes_no,
)
from assistant.config.positioned_yaml import Listing, Node, Problems, Scalar, Table
from assistant.config.suggest import closest, did_you_mean, in_quotes
from assistant.procedure.checklist import FIGURES, NO_SOURCE, Bound, Limits, Reply, Step
from assistant.procedure.conditions import PROOFS, WHILE

_REQUIRED = ("id", "say", "asks", "kind", "why", "source")
_OPTIONAL = (
    "answers", "at_least", "at_most", "too_low", "too_high", "killer", "hold", "again",
    "only_when_asked", "if_needed", "caution", "remark", "minutes", "when", "after", "due",
    "near_boiling", "waiting", "pause", "put_after", "while", "proves", "warm",
    "gain_on", "no_gain", "how",
)  # fmt: skip
_KINDS = ("value", "state", "act")
_VALUES = ("pressure", "water", "tank")  # subjects answered by a number
_PART_OF_FIGURE = re.compile(r"(?P<times>[\d.]+)\s+of\s+(?P<figure>.+)")


def step_of(problems: Problems, entry: Table, file: str, extending: bool = False) -> Step | None:
    """The step of one entry; None, with problems added, when it lacks its id, say, asks or kind.

    extending: the list extends another, so the step may say where it is put.
    """
    want_keys(problems, entry, _REQUIRED, _OPTIONAL, "this step")
    step_id = want_text(problems, entry, "id", 60)
    kind = want_word(problems, entry, "kind", _KINDS)
    asks = want_text(problems, entry, "asks", 40)
    say = want_sentence(problems, entry, "say")
    replies = _replies(problems, entry, asks or "")
    limits = _limits(problems, entry, asks or "", kind)
    _check_kind(problems, entry, asks, kind, replies)
    _check_killer(problems, entry, kind)
    if "put_after" in entry.entries and not extending:
        problems.add(
            entry.entries["put_after"][0], "'put_after' needs a list that 'extends' another"
        )
    if step_id is None or say is None or asks is None or kind is None:
        return None
    return Step(
        id=step_id,
        say=say,
        asks=asks,
        kind=kind,  # type: ignore[arg-type]  # one of _KINDS
        replies=replies,
        limits=limits,
        killer=_flag(problems, entry, "killer"),
        hold=_flag(problems, entry, "hold"),
        again=_sentence(problems, entry, "again"),
        only_when_asked=_flag(problems, entry, "only_when_asked"),
        if_needed=_flag(problems, entry, "if_needed"),
        near_boiling=_flag(problems, entry, "near_boiling"),
        why=_text(problems, entry, "why"),
        how=_acts(problems, entry),
        caution=_sentence(problems, entry, "caution"),
        remark=_sentence(problems, entry, "remark"),
        minutes=want_number(problems, entry, "minutes", 0.0, 600.0) or 0.0,
        when=want_texts(problems, entry, "when", 40),
        after=want_texts(problems, entry, "after", 60),
        due=_bound(problems, entry, "due", "pressure"),
        waiting=_flag(problems, entry, "waiting"),
        pause=_flag(problems, entry, "pause"),
        source=_text(problems, entry, "source") or NO_SOURCE,
        file=file,
        line=entry.line,
        put_after=_text(problems, entry, "put_after", 60),
        while_=want_word(problems, entry, "while", WHILE) or "",
        proves=want_word(problems, entry, "proves", PROOFS) or "",
        warm=_warm(problems, entry),
        gain_on=_gain_on(problems, entry, kind),
        no_gain=_sentence(problems, entry, "no_gain"),
    )


def _flag(problems: Problems, table: Table, key: str) -> bool:
    return want_yes_no(problems, table, key) or False


def _sentence(problems: Problems, table: Table, key: str) -> str:
    return want_sentence(problems, table, key) or ""


def _text(problems: Problems, table: Table, key: str, longest: int = 500) -> str:
    return want_text(problems, table, key, longest) or ""


def _acts(problems: Problems, entry: Table) -> tuple[str, ...]:
    """The acts of a step one by one, each no longer than is taken in at one hearing."""
    acts = want_texts(problems, entry, "how", 100)
    for act in acts:
        if len(act.split()) > MAX_SENTENCE_WORDS:
            node = place_of(entry, "how", act)
            problems.add(node, f"'how': {in_quotes(act)} has more than {MAX_SENTENCE_WORDS} words")
    return acts


def _warm(problems: Problems, entry: Table) -> str:
    """`list/step`, or a step of the same list, without blanks around the slash."""
    text = _text(problems, entry, "warm", 130)
    parts = [part.strip() for part in text.split("/")]
    if text and (len(parts) > 2 or not all(parts)):
        problems.add(entry.entries["warm"][1], "'warm': a step is wanted, or 'list/step'")
        return ""
    return "/".join(parts)


def _gain_on(problems: Problems, entry: Table, kind: str | None) -> str:
    text = _text(problems, entry, "gain_on", 60)
    if text and kind != "value":
        problems.add(entry.entries["gain_on"][0], "'gain_on' belongs to a step of kind 'value'")
    for there, lacking in (("gain_on", "no_gain"), ("no_gain", "gain_on")):
        if there in entry.entries and lacking not in entry.entries:
            problems.add(entry.entries[there][0], f"'{there}' needs '{lacking}' beside it")
    return text


def _replies(problems: Problems, entry: Table, asks: str) -> tuple[Reply, ...]:
    replies: list[Reply] = []
    for answer in want_tables(problems, entry, "answers"):
        reply = _reply(problems, answer, asks, [earlier.state for earlier in replies])
        if reply is not None:
            replies.append(reply)
    _forms_differ(problems, entry, replies)
    return tuple(replies)


def _reply(problems: Problems, answer: Table, asks: str, earlier: list[str]) -> Reply | None:
    """One answer of a step; None when it names no state. earlier: the states named above it."""
    want_keys(problems, answer, ("state", "say"), ("passes", "then"), "this answer")
    state = want_text(problems, answer, "state", 60)
    forms = _spoken_forms(problems, answer)
    if state is not None:
        _check_state(problems, answer, asks, state, earlier)
    passes = want_yes_no(problems, answer, "passes")
    then = _sentence(problems, answer, "then")
    if passes is False and not then:
        problems.add(answer, "an answer that does not pass needs 'then': what is said to it")
    return None if state is None else Reply(state, forms, passes is not False, then)


def _spoken_forms(problems: Problems, answer: Table) -> tuple[str, ...]:
    forms = want_texts(problems, answer, "say", 80)
    for form in forms:
        if not re.fullmatch(r"[a-z][a-z' ]*", form):
            place = place_of(answer, "say", form)
            problems.add(place, f"'say': {in_quotes(form)}: lower-case words only")
    if "say" in answer.entries and not forms:
        problems.add(answer.entries["say"][1], "'say': at least one form of words is wanted")
    return forms


def _check_state(
    problems: Problems, answer: Table, asks: str, state: str, earlier: list[str]
) -> None:
    """A state is given once, and is not a misspelling of one that the subject is known by."""
    place = answer.entries["state"][1]
    known = STATES.get(asks)
    near = closest(state, sorted(known)) if known else None
    if near not in {None, state}:
        problems.add(place, f"'state': no {asks} is {in_quotes(state)} (did you mean '{near}'?)")
    if state in earlier:
        problems.add(place, f"'state': {in_quotes(state)} is given twice")


def _forms_differ(problems: Problems, entry: Table, replies: list[Reply]) -> None:
    """No form of words stands for two answers."""
    state_of: dict[str, str] = {}
    for reply in replies:
        for form in reply.spoken:
            if state_of.setdefault(form, reply.state) != reply.state:
                problems.add(
                    entry.entries["answers"][1],
                    f"'answers': {in_quotes(form)} would mean both {in_quotes(state_of[form])}"
                    f" and {in_quotes(reply.state)}",
                )


def _check_kind(
    problems: Problems, entry: Table, asks: str | None, kind: str | None, replies: tuple[Reply, ...]
) -> None:
    if kind in {"state", "act"} and not replies and "answers" not in entry.entries:
        problems.add(entry, f"'answers' is missing: a step of kind '{kind}' is answered by a state")
    if kind == "state" and replies and not any(reply.passes for reply in replies):
        problems.add(
            entry.entries["answers"][1], "'answers': no answer passes, the step never ends"
        )
    if kind == "value" and asks is not None and asks not in _VALUES:
        near = did_you_mean(asks, _VALUES)
        problems.add(
            entry.entries["asks"][1], f"'asks': no value is read of {in_quotes(asks)}{near}"
        )


def _check_killer(problems: Problems, entry: Table, kind: str | None) -> None:
    """A step that may never be skipped is not closed by saying that an act was done."""
    killer = entry.get("killer")
    marked = isinstance(killer, Scalar) and killer.text.lower() in {"yes", "true"}
    if kind == "act" and marked:
        problems.add(
            entry.entries["killer"][1], "'killer': answered by a value or a state, never by an act"
        )


def _limits(problems: Problems, entry: Table, asks: str, kind: str | None) -> Limits | None:
    keys = [key for key in ("at_least", "at_most", "too_low", "too_high") if key in entry.entries]
    if not keys:
        return None
    if kind in {"state", "act"}:
        problems.add(entry.entries[keys[0]][0], f"'{keys[0]}' belongs to a step of kind 'value'")
        return None
    for bound, words in (("at_least", "too_low"), ("at_most", "too_high")):
        if (bound in keys) != (words in keys):
            there, lacking = (bound, words) if bound in keys else (words, bound)
            problems.add(entry.entries[there][0], f"'{there}' needs '{lacking}' beside it")
    return Limits(
        _bound(problems, entry, "at_least", asks),
        _bound(problems, entry, "at_most", asks),
        want_sentence(problems, entry, "too_low") or "",
        want_sentence(problems, entry, "too_high") or "",
    )


def _bound(problems: Problems, entry: Table, key: str, subject: str) -> Bound | None:
    problems.asked(entry, key, json_form.one_value())
    node: Node | None = entry.get(key)
    if isinstance(node, Listing | Table):
        problems.add(node, f"'{key}': one limit is wanted")
        return None
    scalar = want_scalar(problems, node, f"'{key}'")
    if scalar is None:
        return None
    try:
        return bound_in(scalar.text.strip(), subject)
    except ValueError as wrong:
        problems.add(scalar, f"'{key}': {wrong}")
        return None


def bound_in(text: str, subject: str) -> Bound:
    """The limit that a text states for a subject; ValueError with the reason when it states none.

    >>> bound_in("0.5 of working pressure", "pressure")
    Bound(figure='working pressure', times=0.5, value=0.0)
    """
    part = _PART_OF_FIGURE.fullmatch(text)
    times = number_in(part["times"]) if part else 1.0
    figure = part["figure"].strip() if part else text
    if figure in FIGURES:
        if FIGURES[figure] != subject:
            raise ValueError(f"{in_quotes(figure)} is a {FIGURES[figure]}, not a {subject}")
        if times is None or not 0.0 < times <= 2.0:
            raise ValueError(f"{in_quotes(text)}: the part is a number up to 2")
        return Bound(figure, times)
    if subject == "pressure" and text[:1].isdigit() and not part:
        wanted = units.quantity(text, "pressure")
        if wanted.absolute:
            raise ValueError("a limit is a gauge pressure")
        return Bound(value=wanted.si)
    fraction = number_in(text)
    if fraction is None:
        fitting = [name for name, of in FIGURES.items() if of == subject]
        raise ValueError(f"{in_quotes(text)} is no limit{did_you_mean(figure, fitting)}")
    if not 0.0 <= fraction <= 1.0:
        raise ValueError(f"{in_quotes(text)} is no fraction from 0 to 1")
    return Bound(value=fraction)
