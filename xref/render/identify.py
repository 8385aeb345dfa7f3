"""The answer for a tired person: what it is, why, what to check next, the caution."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from shlex import quote

from xref.domain.evidence import SIZES, Evidence, Topic
from xref.domain.nextcheck import Check, Outcome
from xref.domain.part import Part
from xref.domain.verdict import ONE_AT_LEAST
from xref.render.lines import UNBROKEN, what, wrapped
from xref.services.identify.answer import Candidate, Identified
from xref.services.identify.remarks import FAR_OFF
from xref.services.parts.cautions import DEFER, each_once

SHOWN_ODDS = 0.001
"""Candidates with less than one chance in a thousand are not printed, only counted."""


_CELL = re.compile(r"\([^)]*\)|\S+")
OUTRIGHT = SIZES | {Topic.KIND, Topic.SEEN}
"""What can speak of another part altogether."""
MOSTLY = 0.5
NEARLY_SURE = ONE_AT_LEAST
"""From these odds on nothing is called several, whatever else keeps it from being settled."""
NEAR_TIE = 1.5
"""Odds within this factor of the best are told as equal. Judged."""
LOOK_AGAIN = "read the mark once more, with ? for each character that is not sure."
UNITS = "measure once more, and look at the units."
MEASURE = "measure what can be measured, for example --bore 20mm --outside 47mm."
CAUTIONED, OF_THE_BEST = 0.01, 0.1
"""A part is cautioned of from this probability on, or from this share of the best's. Judged."""


def odds_text(probability: float) -> str:
    """Odds in words and per cent that never claim certainty."""
    if probability >= 0.9995:
        return "over 99.9 %"
    if probability >= 0.995:
        return f"{probability * 100:.1f} %"
    if probability < 0.001:
        return "under 0.1 %"
    if probability < 0.1:
        return f"{probability * 100:.1f} %"
    return f"{probability * 100:.0f} %"


def named(part: Part) -> str:
    """Number, whose it is, and what it is."""
    whose = part.maker.replace(" ", UNBROKEN)
    known = what(part) or ("mentioned only" if part.status == "mentioned" else "no description")
    return f"{part.number}  {known}{f'  ({whose})' if whose else ''}"


def identify_text(answer: Identified, width: int = 80, why: bool = False) -> str:
    """The whole answer as plain text no wider than ``width``."""
    lines: list[str] = wrapped(headline(answer), width, "  ", "")
    lines += _candidates(answer, width)
    lines += _leftover(answer, width)
    lines += _reasons(answer, width, why)
    lines += _next(answer, width) or _bullets("Next", to_try(answer), width)
    lines += _order(answer, width)
    lines += _bullets("Note", answer.notes, width)
    lines += _cautions(answer, width)
    return "\n".join(lines)


HEADLINES = {
    "kept back": "The likeliest part must not be chosen by its size: see the note.",
    "nothing": "Nothing in the store was found to compare with this.",
    "none": "Nothing in the store fits: none of these, {odds}.",
    "one": "It is {number}: {odds}.",
    "likely": "Most likely {number}: {odds}{because}.",
    "unclear": "This tells no part from the others; the nearest:",
    "many": "Many could be it, most of them not shown{because}:",
    "disagree": "None here agrees in everything, the nearest first{because}:",
    "several": "Several could be it{because}:",
    "several or none": "Several could be it, or none of these, {odds}{because}:",
    "several alike": "Several could be it, the first {count} about equally likely{because}:",
}
"""The answer in one line, by what it says."""


def headline(answer: Identified) -> str:
    """The answer in one line."""
    says, values = headline_of(answer)
    return HEADLINES[says].format(**values)


def headline_of(answer: Identified) -> tuple[str, dict[str, object]]:
    """What the answer says in one line, by its key in HEADLINES, with the values for it."""
    if _kept_back(answer):
        return "kept back", {}
    if not answer.candidates:
        return "nothing", {}
    best = answer.candidates[0]
    if answer.verdict == "none":
        return "none", {"odds": odds_text(answer.none_of_these)}
    if answer.verdict == "one":
        return "one", {"number": best.part.number, "odds": odds_text(best.probability)}
    if best.probability < SHOWN_ODDS:
        return "unclear", {}
    because = f" ({'; '.join(answer.caps)})" if answer.caps else ""
    says, values = _several(answer)
    return says, {**values, "because": because}


def _kept_back(answer: Identified) -> bool:
    """Whether most that could be it, or all, must not be offered by its size."""
    kept_back = answer.withheld_probability
    return kept_back >= MOSTLY or (kept_back > 0 and not answer.candidates)


def _spoken_against(candidate: Candidate) -> bool:
    """Whether one size, or the kind, is another one altogether."""
    told = candidate.scored.evidence
    return any(e.bits <= FAR_OFF and e.topic in OUTRIGHT for e in told)


def _several(answer: Identified) -> tuple[str, dict[str, object]]:
    """How several stand to each other: how many are too near the best to be told from it."""
    if answer.others_probability - answer.withheld_probability >= MOSTLY:
        return "many", {}
    if answer.candidates[0].probability >= NEARLY_SURE:
        likely = answer.candidates[0]
        return "likely", {"number": likely.part.number, "odds": odds_text(likely.probability)}
    if _spoken_against(answer.candidates[0]):
        return "disagree", {}
    best = answer.candidates[0].probability
    if answer.none_of_these > best:
        return "several or none", {"odds": odds_text(answer.none_of_these)}
    near = sum(c.probability * NEAR_TIE >= best for c in shown(answer))
    return ("several alike", {"count": near}) if near > 1 else ("several", {})


def shown(answer: Identified) -> list[Candidate]:
    """The candidates worth telling, the likeliest first."""
    kept = [c for c in answer.candidates if c.probability >= SHOWN_ODDS]
    if kept or answer.verdict == "none" or answer.withheld_probability >= MOSTLY:
        return kept
    return list(answer.candidates[:1])


def _candidates(answer: Identified, width: int) -> list[str]:
    lines = []
    for candidate in shown(answer):
        lines += _share(candidate.probability, named(candidate.part), width)
        part = candidate.part
        extra = []
        if candidate.scored.also:
            extra.append(f"also written {', '.join(candidate.scored.also[:4])}")
        if part.is_standard and part.tables_agreeing == 1:
            extra.append("known from one table only")
        if candidate.belongs is not None:
            extra.append(candidate.belongs.verdict)
        if extra:
            lines += wrapped("; ".join(extra), width, " " * 13, " " * 13)
    return lines


def _leftover(answer: Identified, width: int) -> list[str]:
    lines: list[str] = []
    kept_back = answer.withheld_probability
    if kept_back >= SHOWN_ODDS:
        lines += _share(kept_back, "parts that are never offered on size alone", width)
    rest = max(0.0, answer.others_probability - kept_back)
    lines += _share(rest, "all other parts in the store together", width)
    return [*lines, *_share(answer.none_of_these, "none of these", width)]


def _share(odds: float, of: str, width: int) -> list[str]:
    return wrapped(of, width, " " * 15, f"{odds_text(odds):>11}  ")


def _reasons(answer: Identified, width: int, why: bool) -> list[str]:
    if not answer.candidates:
        return []
    lines = []
    for candidate in shown(answer)[: 3 if why else 1]:
        lines += ["", f"Why {candidate.part.number}:"]
        scored = candidate.scored
        if why:
            lines.append(f"  {scored.start_bits:+7.1f} bits  start: how common such a part is")
        told = scored.evidence if why else in_short(scored.evidence)
        lines += [line for e in told for line in _item(e, width, why)]
        if why:
            lines.append(f"  {scored.total_bits:+7.1f} bits  total, against none of these at 0")
            lines += [f"           {line}" for line in _account(candidate)]
        lines += _belongs(candidate, width)
        if candidate.part.note:
            lines += wrapped(f"on record: {candidate.part.note}", width, "    ", "  · ")
        if scored.not_compared:
            said = f"not compared: {', '.join(scored.not_compared)}"
            lines += wrapped(said, width, "    ", "  · ")
    return lines


def _belongs(candidate: Candidate, width: int) -> list[str]:
    """Why it is listed or not, where the evidence does not say so already."""
    held = candidate.belongs
    if held is None or any(e.topic is Topic.SERIAL for e in candidate.scored.evidence):
        return []
    return wrapped(f"on the machine: {held.verdict}, {held.because}", width, "    ", "  · ")


def _order(answer: Identified, width: int) -> list[str]:
    """What to ask for, where one answer is clear and there is something to say."""
    if answer.verdict != "one" or not answer.candidates:
        return []
    ask = answer.candidates[0].order
    if ask is None or not ask.steps:
        return []
    whose = f" ({ask.maker})" if ask.maker else ""
    lines = ["", f"Ask for {ask.ask}{whose}:"]
    for step in ask.steps:
        lines += wrapped(step, width, "    ", "  - ")
    return lines


def in_short(evidence: Sequence[Evidence]) -> list[Evidence]:
    """The evidence with how rare the mark is and how it differs made one: one looks at a mark."""
    rare = next((e for e in evidence if e.topic is Topic.MARK_READ), None)
    told = [e for e in evidence if e is not rare]
    if rare is None:
        return told
    return [
        replace(e, topic=Topic.MARK, bits=e.bits + rare.bits)
        if e.topic is Topic.MARK_DIFFERS
        else e
        for e in told
    ]


def _item(e: Evidence, width: int, why: bool) -> list[str]:
    if why:
        return wrapped(reason(e), width, " " * 16, f"  {e.bits:+7.1f} bits  ")
    return wrapped(reason(e), width, "    ", f"  {sign(e)} ")


def reason(e: Evidence) -> str:
    """What was seen, what the part would show, and how they agree."""
    two = e.seen and e.expected and e.seen != e.expected
    seen = f"{e.seen} against {e.expected}" if two else e.seen or e.expected
    return f"{e.about}: {seen}, {e.reason}" if seen else e.reason


def sign(e: Evidence) -> str:
    """+ for what speaks for the part, - for what speaks against it, · for neither."""
    against = e.bits < -0.5 and not e.agrees  # so do most of its like
    return "+" if e.bits > 0.5 else "-" if against else "·"


def account_cells(candidate: Candidate) -> tuple[tuple[str, str, bool], ...]:
    """The mark sign by sign: what was struck, what was read, and whether they differ; "·" stands
    for nothing there. () where no mark was given."""
    if not candidate.account:
        return ()
    true, read, under = candidate.account
    cells, at = [], 0
    while at < len(true):
        struck = _CELL.match(true, at)
        seen = _CELL.match(read, at)
        if struck is None or seen is None:
            break
        width = max(len(struck[0]), len(seen[0]))
        cells.append((struck[0], seen[0], under[at : at + 1] == "^"))
        at += width + 1
    return tuple(cells)


def _account(candidate: Candidate) -> list[str]:
    if not candidate.account:
        return []
    true, read, under = candidate.account
    told = [f"struck  {true}", f"read    {read}", f"        {under}".rstrip()]
    return told if under.strip() else told[:2]


def _next(answer: Identified, width: int) -> list[str]:
    lines = []
    for check in answer.next_check:
        asked = f"Next: {check.check}. Answer with one of these, or --cannot {check.key}:"
        lines += ["", *wrapped(asked, width, "  ", "")]
        for outcome in check.outcomes[:6]:
            some = ", ".join(outcome.then[:5]) + (" …" if len(outcome.then) > 5 else "")
            lines += wrapped(f"{typed(check, outcome)}: {some}", width, "      ", "    ")
    return lines


def typed(check: Check, outcome: Outcome) -> str:
    """The answer ready to type, with what it means where the word alone does not say it."""
    word = f"--seen {quote(f'{check.key}={outcome.answer}')}"
    plain = outcome.seen.replace(" ", "").lower()
    return word if plain == outcome.answer.lower() else f"{word} ({outcome.seen})"


def to_try(answer: Identified) -> list[str]:
    """What to do where nothing was found that could be checked; [] where something was."""
    if shown(answer) or _kept_back(answer):
        return []
    told = [LOOK_AGAIN] if answer.query.marks else []
    return [*told, *([UNITS] if answer.query.sizes else [MEASURE])]


def _bullets(title: str, texts: Iterable[str], width: int) -> list[str]:
    lines = []
    for text in texts:
        lines += ["", *wrapped(f"{title}: {text}", width, "  ", "")]
    return lines


def cautions_told(answer: Identified) -> tuple[str, ...]:
    """The cautions of the likely candidates, each once."""
    found: dict[str, None] = {}
    likely = [c for c in shown(answer) if c.probability >= _worth_a_caution(answer)]
    for candidate in likely:
        found.update(dict.fromkeys(candidate.cautions))
    return each_once(found)


def _cautions(answer: Identified, width: int) -> list[str]:
    found = cautions_told(answer)
    lines = [""] if found else []
    for text in found:
        lines += wrapped(f"Caution: {text}", width, "  ", "")
    if answer.verdict != "none":
        lines += ([] if found else [""]) + wrapped(DEFER, width, "")
    return lines


def _worth_a_caution(answer: Identified) -> float:
    """The odds below which a part's cautions would only drown those of the likely ones."""
    best = max((c.probability for c in answer.candidates), default=0.0)
    return min(CAUTIONED, OF_THE_BEST * best)
