"""What an import proposes and does not do: look-alike numbers, designations in descriptions."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from sqlalchemy import Connection

from xref.designation import bearing
from xref.domain.number import folded
from xref.domain.part import Part
from xref.sheets.finding import Findings
from xref.standards.lookup import find
from xref.store.read.load import load_parts
from xref.store.write.sheet_facts import alike_pairs
from xref.tables import read_table

_CUE = re.compile(r"[0-9]")
_TOKEN = re.compile(r"[0-9A-Za-z][0-9A-Za-z./-]*")


def propose_alike(conn: Connection, fresh: Mapping[int, str], findings: Findings) -> None:
    """Propose fresh parts that are one look-alike character from another and have its sizes."""
    pairs = alike_pairs(conn, fresh.keys())
    parts = {p.id: p for p in load_parts(conn, sorted({i for pair in pairs for i in pair}))}
    for one, other in pairs:
        new, old = parts[one], parts[other]
        if new.group == old.group or _apart(new, old):
            continue
        findings.add(
            "",
            0,
            "",
            "near duplicate",
            f"{_named(new)} and {_named(old)} differ in one character that is easily misread; "
            "perhaps one part",
        )


def _apart(one: Part, other: Part) -> bool:
    """Whether a size that both have differs."""
    shared = one.sizes.keys() & other.sizes.keys()
    return any(one.sizes[name].value != other.sizes[name].value for name in shared)


def _named(part: Part) -> str:
    return f"{part.number} ({part.maker})" if part.maker else part.number


def propose_designations(conn: Connection, fresh: Mapping[int, str], findings: Findings) -> None:
    """Propose the standard size that a description names beside the part's own number."""
    named = {
        ident: found for ident, words in fresh.items() if words and (found := designation_in(words))
    }
    parts = {p.id: p for p in load_parts(conn, list(named))}
    for ident, found in named.items():
        part = parts[ident]
        if folded(part.number) == folded(found):
            continue
        findings.add(
            "",
            0,
            "",
            "designation",
            f'{_named(part)}, "{part.words[:60]}", names {found}: to note that they are one, '
            f"xref interchange {part.number} {found} --grade same",
        )


@cache
def _cues() -> re.Pattern[str]:
    words = [r["word"] for r in read_table("kind_words", "domain")] + [
        "bearing",
        "bush",
        "shaft seal",
        "o-ring",
    ]
    longest = sorted({re.escape(w.casefold()) for w in words}, key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(longest)})\b")


def designation_in(words: str) -> str:
    """The standard designation that a description names beside a word of the trade, or ""."""
    if not _CUE.search(words) or not _cues().search(words.casefold()):
        return ""
    tokens = _TOKEN.findall(words)
    for token in tokens:
        if len(token) < 3 or not _CUE.search(token):
            continue
        rows = find(token)
        if rows:
            return rows[0].number
        for reading in bearing.read(token):
            found = find(reading.designation)
            if found and not reading.unknown:
                return found[0].number
    return ""
