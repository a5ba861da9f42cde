"""One step of a checklist file: its keys, its answers, its limits."""

from __future__ import annotations

import re

from assistant.belief.history import STATES
from assistant.config import units
from assistant.config.field_readers import (
    number_in,
    place_of,
    want_keys,
    want_number,
    want_scalar,
    want_tables,
    want_text,
    want_texts,
    want_word,
    want_yes_no,
)
from assistant.config.positioned_yaml import Listing, Node, Problems, Table
from assistant.config.suggest import closest, did_you_mean, in_quotes
from assistant.procedure.checklist import FIGURES, NO_SOURCE, Bound, Limits, Reply, Step

_REQUIRED = ("id", "say", "asks", "kind", "why", "source")
_OPTIONAL = (
    "answers", "at_least", "at_most", "too_low", "too_high", "killer", "hold", "again",
    "only_when_asked", "if_needed", "caution", "remark", "minutes", "when", "after", "due",
    "near_boiling", "waiting", "pause", "put_after",
)  # fmt: skip
_KINDS = ("value", "state", "act")
_VALUES = ("pressure", "water", "tank")  # subjects that are answered by a number
MAX_SENTENCE_WORDS = 12  # one sentence that is taken in at once
_PART_OF_FIGURE = re.compile(r"(?P<times>[\d.]+)\s+of\s+(?P<figure>.+)")


def step_of(found: Problems, entry: Table, file: str, extending: bool = False) -> Step | None:
    """The step of one entry; None when it lacks what makes it one (told in `found`)."""
    want_keys(found, entry, _REQUIRED, _OPTIONAL, "this step")
    step_id = want_text(found, entry, "id", 60)
    kind = want_word(found, entry, "kind", _KINDS)
    asks = want_text(found, entry, "asks", 40)
    say = want_sentence(found, entry, "say")
    replies = _replies(found, entry, asks or "")
    limits = _limits(found, entry, asks or "", kind)
    _check_kind(found, entry, asks, kind, replies)
    if "put_after" in entry.entries and not extending:
        found.add(entry.entries["put_after"][0], "'put_after' needs a list that 'extends' another")
    if step_id is None or say is None or asks is None or kind is None:
        return None
    return Step(
        id=step_id,
        say=say,
        asks=asks,
        kind=kind,  # type: ignore[arg-type]  # one of KINDS
        replies=replies,
        limits=limits,
        killer=want_yes_no(found, entry, "killer") or False,
        hold=want_yes_no(found, entry, "hold") or False,
        again=want_sentence(found, entry, "again") or "",
        only_when_asked=want_yes_no(found, entry, "only_when_asked") or False,
        if_needed=want_yes_no(found, entry, "if_needed") or False,
        near_boiling=want_yes_no(found, entry, "near_boiling") or False,
        why=want_text(found, entry, "why") or "",
        caution=want_sentence(found, entry, "caution") or "",
        remark=want_sentence(found, entry, "remark") or "",
        minutes=want_number(found, entry, "minutes", 0.0, 600.0) or 0.0,
        when=want_texts(found, entry, "when", 40),
        after=want_texts(found, entry, "after", 60),
        due=_bound(found, entry, "due", "pressure"),
        waiting=want_yes_no(found, entry, "waiting") or False,
        pause=want_yes_no(found, entry, "pause") or False,
        source=want_text(found, entry, "source") or NO_SOURCE,
        file=file,
        line=entry.line,
        put_after=want_text(found, entry, "put_after", 60) or "",
    )


def want_sentence(found: Problems, table: Table, key: str) -> str | None:
    """A sentence that is spoken: at most twelve words. An empty one counts as left out."""
    node = table.get(key)
    if node is not None and getattr(node, "text", None) == "":
        return ""
    text = want_text(found, table, key)
    if text is not None and len(text.split()) > MAX_SENTENCE_WORDS:
        found.add(
            table.entries[key][1],
            f"'{key}': {len(text.split())} words; at most {MAX_SENTENCE_WORDS}",
        )
    return text


def _replies(found: Problems, entry: Table, asks: str) -> tuple[Reply, ...]:
    replies: list[Reply] = []
    for answer in want_tables(found, entry, "answers"):
        want_keys(found, answer, ("state", "say"), ("passes", "then"), "this answer")
        state = want_text(found, answer, "state", 60)
        forms = want_texts(found, answer, "say", 80)
        for form in forms:
            if not re.fullmatch(r"[a-z][a-z' ]*", form):
                place = place_of(answer, "say", form)
                found.add(place, f"'say': {in_quotes(form)}: lower-case words only")
        if "say" in answer.entries and not forms:
            found.add(answer.entries["say"][1], "'say': at least one form of words is wanted")
        allowed = STATES.get(asks)
        near = closest(state, sorted(allowed)) if state and allowed else None
        if state is not None and near not in {None, state}:
            found.add(
                answer.entries["state"][1],
                f"'state': no {asks} is {in_quotes(state)} (did you mean '{near}'?)",
            )
        if state is not None and state in [r.state for r in replies]:
            found.add(answer.entries["state"][1], f"'state': {in_quotes(state)} is given twice")
        passes = want_yes_no(found, answer, "passes")
        then = want_sentence(found, answer, "then") or ""
        if passes is False and not then:
            found.add(answer, "an answer that does not pass needs 'then': what is said to it")
        if state is not None:
            replies.append(Reply(state, forms, passes is not False, then))
    _forms_differ(found, entry, replies)
    return tuple(replies)


def _forms_differ(found: Problems, entry: Table, replies: list[Reply]) -> None:
    seen: dict[str, str] = {}
    for reply in replies:
        for form in reply.spoken:
            if seen.setdefault(form, reply.state) != reply.state:
                found.add(
                    entry.entries["answers"][1],
                    f"'answers': {in_quotes(form)} would mean both {in_quotes(seen[form])}"
                    f" and {in_quotes(reply.state)}",
                )


def _check_kind(
    found: Problems, entry: Table, asks: str | None, kind: str | None, replies: tuple[Reply, ...]
) -> None:
    if kind in {"state", "act"} and not replies and "answers" not in entry.entries:
        found.add(entry, f"'answers' is missing: a step of kind '{kind}' is answered by a state")
    if kind == "state" and replies and not any(reply.passes for reply in replies):
        found.add(entry.entries["answers"][1], "'answers': no answer passes, the step never ends")
    if kind == "value" and asks is not None and asks not in _VALUES:
        near = did_you_mean(asks, _VALUES)
        found.add(entry.entries["asks"][1], f"'asks': no value is read of {in_quotes(asks)}{near}")
    killer = entry.get("killer")
    if kind == "act" and getattr(killer, "text", "no").lower() in {"yes", "true"}:
        found.add(
            entry.entries["killer"][1], "'killer': answered by a value or a state, never by an act"
        )


def _limits(found: Problems, entry: Table, asks: str, kind: str | None) -> Limits | None:
    keys = [key for key in ("at_least", "at_most", "too_low", "too_high") if key in entry.entries]
    if not keys:
        return None
    if kind in {"state", "act"}:
        found.add(entry.entries[keys[0]][0], f"'{keys[0]}' belongs to a step of kind 'value'")
        return None
    for bound, words in (("at_least", "too_low"), ("at_most", "too_high")):
        if (bound in keys) != (words in keys):
            there, lacking = (bound, words) if bound in keys else (words, bound)
            found.add(entry.entries[there][0], f"'{there}' needs '{lacking}' beside it")
    return Limits(
        _bound(found, entry, "at_least", asks),
        _bound(found, entry, "at_most", asks),
        want_sentence(found, entry, "too_low") or "",
        want_sentence(found, entry, "too_high") or "",
    )


def _bound(found: Problems, entry: Table, key: str, subject: str) -> Bound | None:
    node: Node | None = entry.get(key)
    if isinstance(node, Listing | Table):
        found.add(node, f"'{key}': one limit is wanted")
        return None
    scalar = want_scalar(found, node, f"'{key}'")
    if scalar is None:
        return None
    try:
        return bound_in(scalar.text.strip(), subject)
    except ValueError as wrong:
        found.add(scalar, f"'{key}': {wrong}")
        return None


def bound_in(text: str, subject: str) -> Bound:
    """The limit that a text is, for a subject; ValueError in words when it is none.

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
