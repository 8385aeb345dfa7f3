"""How many facts of sheets as their owners keep them hold after an import, of what a careful person
takes from each."""

from __future__ import annotations

import csv
import re
import shutil
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from fixtures.owners import Fact, Owner
from fixtures.owners.first import FIRST
from fixtures.owners.second import SECOND
from fixtures.owners.third import THIRD
from scripts.benches.intervals import wilson
from xref.domain.size_names import NAMES
from xref.errors import XrefError
from xref.services.lists.export import export_file
from xref.services.open import OpenStore
from xref.store.open.engine import open_engine

OWNERS: tuple[Owner, ...] = (*FIRST, *SECOND, *THIRD)

HELD, WRONG, LOST, ELSEWHERE, SAID, ASKED = (
    "held",
    "wrong",
    "lost",
    "filed otherwise",
    "kept or said",
    "asked",
)
VERDICTS = (HELD, WRONG, LOST, ELSEWHERE, SAID, ASKED)

Row = dict[str, str]
_APART = re.compile(r"\n|\||;|, ")
_ONE_VALUE = (*NAMES, "words", "maker", "kind", "price date", "currency", "supplier", "fits")


@dataclass
class Outcome:
    """What an import left: the rows of an export by their number, and what it said."""

    rows: dict[str, list[Row]] = field(default_factory=dict)
    said: str = ""
    refused: bool = False

    @property
    def every(self) -> list[Row]:
        """All rows."""
        return [row for rows in self.rows.values() for row in rows]


def measure(only: str, *, verbose: bool) -> None:
    """Import each sheet into a store of its own and print how many of its facts hold."""
    total: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        template = Path(folder) / "template.xref"
        open_engine(template).close()
        for owner in OWNERS:
            if only and only not in owner.name:
                continue
            outcome = imported(owner, Path(folder), template)
            judged = [(fact, *judge(fact, outcome)) for fact in owner.facts()]
            counts = Counter(verdict for _, verdict, _ in judged)
            total += counts
            print(f"{owner.name:22}" + _told(counts))
            if verbose:
                _print_missed(judged, outcome)
    n = sum(total.values())
    print(f"\n{n} facts of {len(OWNERS)} sheets" if not only else f"\n{n} facts")
    for verdict in VERDICTS:
        low, high = wilson(total[verdict], n)
        share = 100 * total[verdict] / n
        print(
            f"  {verdict:16} {total[verdict]:4}  {share:5.1f} %  ({100 * low:.1f}-{100 * high:.1f})"
        )


def _told(counts: Counter[str]) -> str:
    shown = [f"{counts[HELD]:3} of {counts.total():3} hold"]
    shown += [f"{counts[v]} {v}" for v in VERDICTS[1:] if counts[v]]
    return "  ".join(shown)


def _print_missed(judged: Sequence[tuple[Fact, str, list[str]]], outcome: Outcome) -> None:
    for fact, verdict, found in judged:
        if verdict != HELD:
            there = f"   found {found[:3]}" if found else ""
            print(f"    {verdict}: {fact.number} | {fact.field} | {fact.value}{there}")
    if outcome.refused:
        print(f"    > {outcome.said}")


def imported(owner: Owner, folder: Path, template: Path) -> Outcome:
    """What an import of the sheet leaves."""
    own = folder / Path(owner.name).stem
    own.mkdir()
    path = owner.write(own)
    opened = OpenStore(open_engine(Path(shutil.copy(template, own / "store.xref"))))
    outcome = Outcome()
    try:
        done = opened.import_file(path)
        outcome.said = "\n".join(f"{f.row} {f.column} {f.kind} {f.message}" for f in done.findings)
        if not done.written:
            outcome.refused = True
            return outcome
        with opened.store.reading() as conn:
            export_file(conn, own / "out.csv")
    except XrefError as error:
        outcome.refused = True
        outcome.said = f"{error.message} {error.hint}"
        return outcome
    finally:
        opened.store.close()
    with (own / "out.csv").open(encoding="utf-8-sig", newline="") as stream:
        for row in csv.DictReader(stream):
            told = {name: text.removeprefix("'") for name, text in row.items() if text}
            outcome.rows.setdefault(_plain(told["number"]), []).append(told)
    return outcome


def _plain(text: str) -> str:
    return re.sub(r"[^0-9a-z]", "", text.casefold()) or text


def _flat(text: str) -> str:
    return " ".join(text.casefold().split())


def judge(fact: Fact, outcome: Outcome) -> tuple[str, list[str]]:
    """What became of a fact, and what stands in its place."""
    if fact.field.split("|")[0] in ("said", "asked"):
        asked = outcome.refused or "said" in fact.field
        holds = asked and re.search(fact.value, outcome.said, re.I) is not None
        return (HELD if holds else LOST), []
    if outcome.refused:
        return ASKED, []
    holds, found = _holds(fact, outcome)
    if holds:
        return HELD, found
    if fact.field == "gone" or fact.field.startswith(("no ", "not ")):
        return WRONG, found
    return _missed(fact, outcome, found), found


def _missed(fact: Fact, outcome: Outcome, found: list[str]) -> str:
    own = outcome.rows.get(_plain(fact.number), [])
    if not own:
        within = [
            r for r in outcome.every if any(_plain(fact.number) in _plain(t) for t in r.values())
        ]
        if within:
            return ELSEWHERE
        return SAID if fact.number and fact.number in outcome.said else LOST
    if found and fact.field.split("|")[0] in _ONE_VALUE:
        return WRONG
    wanted = _flat(fact.value.split(" @ ")[0].removesuffix(".0"))
    kept = any(wanted in _flat(text) for row in own for text in row.values())
    return SAID if kept or wanted in _flat(outcome.said) else LOST


def _holds(fact: Fact, outcome: Outcome) -> tuple[bool, list[str]]:
    own = outcome.rows.get(_plain(fact.number), [])
    if fact.field == "gone":
        same = [r["number"] for r in own if _flat(r["number"]) == _flat(fact.number)]
        return not same, same
    if fact.field == "no model":
        same = [r["model"] for r in outcome.every if _flat(r.get("model", "")) == _flat(fact.value)]
        return not same, same
    if fact.field == "not fits":
        same = [r["model"] for r in own if _flat(r.get("model", "")) == _flat(fact.value)]
        return not same, same
    if fact.field.startswith("not "):
        same = [t for t in _values(own, fact.field[4:]) if _plain(t) == _plain(fact.value)]
        return not same, same
    found: list[str] = []
    for name in fact.field.split("|"):
        for value in fact.value.split("|"):
            holds, other = _one(name, value, own, outcome)
            if holds:
                return True, []
            found += other
    return False, found


def _one(name: str, value: str, own: list[Row], outcome: Outcome) -> tuple[bool, list[str]]:
    if name == "text":
        return any(_flat(value) in _flat(t) for row in own for t in row.values()), []
    if name in NAMES:
        sizes = [float(row[c]) for row in own for c in (name, f"{name} (mm)") if c in row]
        return any(abs(s - float(value)) <= 0.002 for s in sizes), [str(s) for s in sizes]
    if name == "fits":
        fits = [f"{r['model']} @ {r.get('serials') or 'all'}" for r in own if "model" in r]
        return _flat(value) in map(_flat, fits), fits
    if name == "replaces":
        olds = outcome.rows.values()
        found = [rows[0]["number"] for rows in olds if _number_in(rows[0]["number"], "", rows, own)]
        return any(_plain(n) == _plain(value) for n in found), found
    if name in ("replaced by", "interchange"):
        named = _values(own, name)
        back = outcome.rows.get(_plain(value), []) if name == "interchange" else []
        named += [own[0]["number"]] if own and _number_in("", name, back, own) else []
        return any(_plain(n) == _plain(value) for n in named) or bool(
            own and back and _number_in("", name, back, own)
        ), named
    shown = _values(own, "description" if name == "words" else name)
    if name in ("price", "quantity"):
        return any(_amount(t) == _amount(value) for t in shown), shown
    return any(_flat(value) in _flat(t) for t in shown), shown


def _number_in(_: str, name: str, rows: list[Row], own: list[Row]) -> bool:
    named = _values(rows, name or "replaced by")
    return bool(own) and any(_plain(n) == _plain(own[0]["number"]) for n in named)


def _values(rows: list[Row], name: str) -> list[str]:
    found = []
    for row in rows:
        if name in row:
            for text in _APART.split(row[name]):
                bare = re.sub(r"\s*\[[a-z, -]+\]\s*$", "", text.strip().strip('"'))
                found += [bare, *([bare.split(":", 1)[1]] if ":" in bare else [])]
            found.append(row[name])
    return found


def _amount(text: str) -> float | str:
    bare = re.sub(r"[£$€]|kr\.?|each", "", text).strip().replace(",", ".")
    try:
        return float(bare)
    except ValueError:
        return text
