"""Designations as they are really stamped: read by ``decode``, and found by their mark alone.

The table (``fixtures/stamps.csv``) has what a bearing fitter would expect: the number, the kind,
the codes that must be understood, and what may be left over (names, places, codes of no known
meaning). ``basis`` names the standard of a code, "memory" elsewhere. The second part was written
after the readers were mended by the first; by it two codes that clashed were taken out again.
"""

from __future__ import annotations

import csv
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from scripts.benches.intervals import percent
from scripts.benches.tables import aligned
from xref.domain.number import folded
from xref.services.decode.decode import Decoded, decode
from xref.services.identify.answer import Candidate
from xref.services.open import OpenStore, open_store

TABLE = Path(__file__).parents[2] / "fixtures" / "stamps.csv"
PARTS = ("first", "second")


@dataclass(frozen=True, slots=True)
class Stamp:
    """One stamp with its right reading; ``left`` are the pieces that may be left over."""

    text: str
    number: str
    kind: str
    codes: tuple[str, ...]
    left: tuple[str, ...]
    part: str
    basis: str


@cache
def stamps() -> tuple[Stamp, ...]:
    """Every stamp of the table."""
    with TABLE.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Stamp(
                row["stamp"],
                row["number"],
                row["kind"],
                tuple(row["codes"].split()),
                tuple(row["left"].split()),
                row["part"],
                row["basis"],
            )
            for row in csv.DictReader(lines)
        )


def wrong(stamp: Stamp, decoded: Decoded) -> str:
    """What is wrong with the first reading; "" where it is right."""
    if not decoded.readings:
        return "not read"
    first = decoded.readings[0]
    if folded(stamp.number) not in (folded(first.designation), folded(first.canonical)):
        return f"read as {first.canonical}"
    if first.kind != stamp.kind:
        return f"read as {first.kind}"
    missing = set(stamp.codes) - {feature.code.strip("-. ") for feature in first.features}
    if missing:
        return f"without {', '.join(sorted(missing))}"
    left = set(" ".join(first.unknown).replace(".", " ").replace("+", " ").split())
    over = left - set(stamp.left)
    return f"left over {', '.join(sorted(over))}" if over else ""


def unfound(stamp: Stamp, candidates: Sequence[Candidate]) -> str:
    """What is wrong with the first candidate of ``identify --mark``; "" where it is right.

    A row stands for every closure of its number, so that R8-2RS is found where R8 is, and for other
    letters of the same bearing (LJ1 where RLS8 is).
    """
    if not candidates:
        return "nothing offered"
    best = candidates[0].part
    names = {folded(best.number), *(folded(s.text) for s in best.spellings if s.role != "mark")}
    read = {
        folded(text)
        for reading in decode(stamp.number).readings[:1]
        for text in (reading.designation, *reading.also_written)
    }
    wanted = {folded(stamp.number), *read, folded(stamp.number.rpartition("-")[0] or stamp.number)}
    return "" if names & wanted else f"offered {best.number}"


def by_decode() -> dict[str, str]:
    """What is wrong with each stamp's reading, by the stamp."""
    return {stamp.text: wrong(stamp, decode(stamp.text)) for stamp in stamps()}


def by_mark(store: OpenStore) -> dict[str, str]:
    """What is wrong with each stamp's best candidate, by the stamp."""
    return {
        stamp.text: unfound(stamp, store.identify(mark=[stamp.text]).candidates)
        for stamp in stamps()
    }


def measure() -> None:
    """Print the share that is right, in ``decode`` and by ``identify --mark``, and what is not."""
    with tempfile.TemporaryDirectory() as folder, open_store(str(Path(folder) / "s.xref")) as store:
        found = {"decode": by_decode(), "identify --mark": by_mark(store)}
    rows = [("stamps", "number", *(f"right by {how}, % (95 % interval)" for how in found))]
    for name in (*PARTS, "all"):
        texts = [s.text for s in stamps() if name in (s.part, "all")]
        shares = [
            percent(sum(not told[t] for t in texts), len(texts), 1) for told in found.values()
        ]
        rows.append((name, str(len(texts)), *shares))
    print(aligned(rows))
    for how, told in found.items():
        print(f"\nNot right by {how}:")
        print("\n".join(f"  {text}: {what}" for text, what in told.items() if what))
