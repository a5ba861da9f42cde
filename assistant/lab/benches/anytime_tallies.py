"""What became of takes that nobody asked for, as rows of tables, and what was taken for what.

Knows verdicts; no recogniser.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from assistant.grammar.phrases import grammar
from assistant.lab.benches.anytime_situations import ENGINES, SITUATIONS, YES_OR_NO, engine_name
from assistant.lab.benches.anytime_takes import Take
from assistant.lab.benches.decision_outcomes import DECISIONS, Outcomes, Verdict
from assistant.lab.benches.nearest_forms import NearPair
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import Answer, Correction, Meaning, Order, Report, Several
from assistant.understanding.meanings import is_danger

MOST_MISTAKES = 30
Judged = tuple[Take, Verdict]
OTHER_COLUMNS = ("taken", "danger?", "asked", "again", "ignored")
OTHERS_TABLE = ResultTable(
    26, Column("n", 6), *(Column(f"{name}%", 10, ".1f") for name in OTHER_COLUMNS)
)
YES_COLUMNS = ("yes", "yes?", "other", "asked", "again", "ignored", "right")
YES_TABLE = ResultTable(26, Column("n", 6), *(Column(name, 9) for name in YES_COLUMNS))
PAIR_COLUMNS = ("right", "asked", "other?", "else?", "again", "ignored", "other", "else")
PAIRS_TABLE = ResultTable(
    48, Column("apart", 6, ".1f"), Column("n", 5), *(Column(name, 9) for name in PAIR_COLUMNS)
)


def words_of(meaning: Meaning | None) -> str:
    """A meaning in short.

    >>> words_of(Report("gear", "out")), words_of(Correction(Report("pressure", 60.0, "psi")))
    ('gear: out', 'wrong, pressure: 60 psi')
    """
    match meaning:
        case None:
            return "other talk"
        case Report(what, value, unit):
            figure = f"{value:.4g}" if isinstance(value, float) else value
            return f"{what}: {figure} {unit or ''}".rstrip()
        case Correction(report):
            return f"wrong, {words_of(report)}"
        case Several(reports):
            return " and ".join(map(words_of, reports))
        case Answer(word):
            return word
        case Order(name):
            return f"order: {name}"


def mistakes(judged: Iterable[Judged]) -> Counter[tuple[str, str, str]]:
    """What was said, what was understood in its place, and whether that was taken or asked about.

    An utterance in several pieces counts by those that were not meant.
    """
    found: Counter[tuple[str, str, str]] = Counter()
    for take, verdict in judged:
        if verdict.kind not in ("wrong", "asked-"):
            continue
        how = "taken" if verdict.kind == "wrong" else "asked"
        not_meant = {one for one in verdict.understood if one != take.meant}
        found.update((take.said, words_of(one), how) for one in not_meant)
    return found


def mistake_lines(found: Counter[tuple[str, str, str]]) -> Iterator[str]:
    """The most frequent of them; of equally frequent ones those that were taken stand first."""
    if not found:
        yield "nothing was taken for anything else, or asked about as it"
        return
    ranked = sorted(found.items(), key=lambda one: (-one[1], one[0][2] != "taken", one[0]))
    yield f"said -> understood, how often ({len(found)} in all, {MOST_MISTAKES} at most are shown)"
    for (said, understood, how), count in ranked[:MOST_MISTAKES]:
        yield f"  {said} -> {understood}, {how}: {count}"


def passed_over(judged: Iterable[Judged]) -> Counter[str]:
    """By which rules what is listened for was asked for again or ignored all the same."""
    missed = (v for take, v in judged if named_column(take, v) in ("again", "ignored"))
    return Counter(
        rule
        for verdict in missed
        for rule in {decision.rule for decision in verdict.decisions} or {"no speech found"}
    )


def passed_over_line(rules: Counter[str]) -> str:
    """The most frequent first."""
    told = ", ".join(f"{rule}: {count}" for rule, count in rules.most_common())
    return f"asked for again or ignored though listened for, by which rule: {told or 'none was'}"


def named_rows(judged: list[Judged], level: str) -> Iterator[str]:
    """A row for each situation; then, without yes or no, for each engine and for all."""
    for situation in SITUATIONS:
        rows = [each for each in judged if each[0].situation == situation]
        yield _named_row(f"{situation} {level}", rows)
    open_ = [each for each in judged if each[0].situation != YES_OR_NO]
    for engine in ENGINES:
        rows = [each for each in open_ if each[0].engine == engine]
        yield _named_row(f"{engine_name(engine)} {level}", rows)
    yield _named_row(f"all {level}", open_)


def _named_row(name: str, judged: Iterable[Judged]) -> str:
    outcomes = Outcomes()
    for take, verdict in judged:
        outcomes.counts[named_column(take, verdict)] += 1
        outcomes.seconds.append(verdict.seconds)
    return DECISIONS.row(name, *outcomes.figures())


def named_column(take: Take, verdict: Verdict) -> str:
    """What a named form counts as: where it is not listened for, to be passed over is right."""
    passed_over = verdict.kind in ("again", "ignored")
    listened_for = grammar(take.expected).meaning(take.said.split()) is not None
    return "right" if passed_over and not listened_for else verdict.kind


def other_rows(judged: list[Judged], level: str) -> Iterator[str]:
    """A row for each situation and for all."""
    for name in (*SITUATIONS, "all"):
        columns = [other_column(v) for take, v in judged if name in (take.situation, "all")]
        shares = (100 * columns.count(c) / max(1, len(columns)) for c in OTHER_COLUMNS)
        yield OTHERS_TABLE.row(f"{name} {level}", len(columns), *shares)


def other_column(verdict: Verdict) -> str:
    """What became of other talk: of several pieces the gravest."""
    if verdict.kind == "wrong":
        return "taken"
    if verdict.kind == "asked-":
        return "danger?" if any(map(is_danger, verdict.understood)) else "asked"
    return verdict.kind


def yes_row(judged: list[Judged], level: str) -> str:
    """How often what was no answer counted as one."""
    columns = Counter(yes_column(verdict) for _, verdict in judged)
    return YES_TABLE.row(f"all {level}", len(judged), *(columns[name] for name in YES_COLUMNS))


def yes_column(verdict: Verdict) -> str:
    """What became of a report while yes or no was awaited."""
    if verdict.kind not in ("wrong", "asked-"):
        return verdict.kind
    yes = Answer("yes") in verdict.understood
    if verdict.kind == "wrong":
        return "yes" if yes else "other"
    return "yes?" if yes else "asked"


def pair_rows(judged: list[Judged], rivals: dict[str, Meaning]) -> Iterator[str]:
    """A row for each pair, nearest first, and one for all. rivals: what each form means."""
    by_pair: dict[NearPair, Counter[str]] = {}
    for take, verdict in judged:
        if take.pair is not None:
            one, other = take.pair.words
            rival = rivals[other if take.said == one else one]
            by_pair.setdefault(take.pair, Counter())[pair_column(verdict, rival)] += 1
    for pair in sorted(by_pair):
        counts = by_pair[pair]
        yield _pair_row(" | ".join(pair.words), pair.distance, counts)
    yield _pair_row("all", None, sum(by_pair.values(), Counter()))


def _pair_row(name: str, distance: float | None, counts: Counter[str]) -> str:
    return PAIRS_TABLE.row(name, distance, counts.total(), *(counts[c] for c in PAIR_COLUMNS))


def pair_column(verdict: Verdict, rival: Meaning) -> str:
    """What became of one form of a pair; rival: the meaning of the other."""
    if verdict.kind not in ("wrong", "asked-"):
        return verdict.kind
    what = "other" if rival in verdict.understood else "else"
    return what if verdict.kind == "wrong" else f"{what}?"
