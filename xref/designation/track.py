"""Track rollers, rod ends, loose inner rings, inserts and housings by makers' letters."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.callout import reading
from xref.designation.lazy import whole
from xref.designation.reading import COMMON, PRACTICE, Feature, Reading
from xref.domain.number import plain

_MM = 1_000_000
_END = r"(?P<rest>(?![0-9.,/X×*]).*)"
_TRACK = rf"(?P<letters>NATR|NATV|NUTR|NUKRE?|KRVE?|KRE?|STO|RSTO)[ -]?(?P<number>\d{{1,3}}){_END}"
_BY_OUTSIDE = ("KR", "NUKR")
"""Rollers on a stud are numbered by their outside diameter, the others by their bore."""

_ROD_END = (
    r"(?P<letters>[SG][IA])[ -]?(?P<hand>L)?[ -]?(?P<bore>\d{1,2})[ -]?(?P<made>ES|E|C|TXE)"
    r"(?P<rest>(?![0-9A-Z.,/X]).*)"
)
_RING = (
    r"IR[ -]?(?P<bore>\d{1,3})[ X×*/-]+(?P<outside>\d{1,3})[ X×*/-]+(?P<width>\d{1,2}(?:[.,]5)?)"
    r"(?P<rest>(?![0-9.,/X]).*)"
)
_INSERT = (
    r"(?P<letters>YAR|YAT|YEL|YET|UK|UEL|UCX)[ -]?(?P<number>\d{3})"
    rf"(?P<inch>-\d{{1,2}}(?![0-9A-Z]))?{_END}"
)
_INSERT_NOTES = {
    "YAR": "set screws, inner ring wide on both sides; UC elsewhere",
    "YAT": "set screws, inner ring wide on one side; SB elsewhere",
    "YEL": "eccentric locking collar, inner ring wide on both sides",
    "YET": "eccentric locking collar, inner ring wide on one side; SA elsewhere",
    "UK": "tapered bore on an adapter sleeve: the shaft is thinner than the bore",
    "UEL": "eccentric locking collar, inner ring wide on both sides",
    "UCX": "set screws, heavier than UC of the same bore",
}
_LIKE = {"YAR": "UC", "YAT": "SB", "YET": "SA"}
_HOUSING = (
    rf"(?P<letters>SNH|SNG|SNA|SNV|SD|SAF|FSNL|SE)[ -]?(?P<number>\d{{3,4}}(?:-\d{{3}})?){_END}"
)


def _tracks(shown: str) -> list[Reading]:
    found = whole(_TRACK, shown)
    if found is None or not int(found["number"]):
        return []
    letters, number = found["letters"], int(found["number"])
    name = "outside" if letters.startswith(_BY_OUTSIDE) else "bore"
    rest, said = found["rest"], []
    if sealed := re.search(r"\b(?:PP[AX]*|2RS)\b", rest):
        said.append(Feature(sealed[0], "seals on both sides", COMMON))
        rest = rest.replace(sealed[0], " ", 1)
    note = f"a track roller with a thick outer ring: the number is the {name} (from memory)"
    what = ("bearing", "track roller", PRACTICE)
    made = reading(f"{letters}{number}", what, rest, sizes={name: number * _MM}, note=note)
    return [replace(made, features=tuple(said))]


def _rod_ends(shown: str) -> list[Reading]:
    found = whole(_ROD_END, shown)
    if found is None or not int(found["bore"]):
        return []
    bore, rest = int(found["bore"]), found["rest"]
    thread = "inside" if found["letters"].endswith("I") else "outside"
    said = [Feature(found["letters"], f"rod end with the thread {thread}", COMMON)]
    if found["hand"]:
        said.append(Feature("L", "left-hand thread", COMMON))
    if sealed := re.search(r"-?\s?2RS\b", rest):
        said.append(Feature("2RS", "seals on both sides", COMMON))
        rest = rest.replace(sealed[0], " ", 1)
    number = f"{found['letters']}{found['hand'] or ''}{bore}{found['made']}"
    note = "the number is the bore of the ball; measure the thread and its hand (from memory)"
    what = ("bearing", "rod end", "ISO 12240-4")
    made = reading(number, what, rest, sizes={"bore": bore * _MM}, note=note)
    return [replace(made, features=tuple(said))]


def _rings(shown: str) -> list[Reading]:
    found = whole(_RING, shown)
    if found is None or not 0 < int(found["bore"]) < int(found["outside"]):
        return []
    three = {name: found[name].replace(",", ".") for name in ("bore", "outside", "width")}
    sizes = {name: round(float(text) * _MM) for name, text in three.items()}
    note = "a hardened ring for needles to run on; it is sold by its three sizes"
    what = ("bearing", "needle inner ring", PRACTICE)
    return [reading(f"IR{'x'.join(three.values())}", what, found["rest"], sizes=sizes, note=note)]


def _inserts(shown: str) -> list[Reading]:
    found = whole(_INSERT, shown)
    if found is None:
        return []
    letters, digits = found["letters"], f"{found['number']}{found['inch'] or ''}"
    rest, said = found["rest"], []
    if flingers := re.search(r"(?<![0-9])-?2?[FG]\b", rest):
        said.append(Feature(flingers[0].strip("-"), "flingers outside the seals", COMMON))
        rest = rest.replace(flingers[0], " ", 1)
    # Makers' letters for the same insert; the row is that of the standard's letters.
    like = f"{_LIKE[letters]}{digits}" if letters in _LIKE else ""
    note = f"insert bearing: {_INSERT_NOTES[letters]} (from memory)"
    made = reading(f"{letters}{digits}", ("bearing", "insert bearing", PRACTICE), rest, note=note)
    return [replace(made, features=tuple(said), of=like, also_written=(like,) if like else ())]


def _housings(shown: str) -> list[Reading]:
    found = whole(_HOUSING, shown)
    if found is None:
        return []
    letters, number = found["letters"], found["number"]
    note = (
        "a split plummer block by a maker's letters: its bearing has the same last two digits; "
        "compare shaft height and bolt spacing (from memory)"
    )
    what = ("other", "plummer block", PRACTICE)
    return [reading(f"{letters} {number}", what, found["rest"], note=note)]


def read(text: str) -> tuple[Reading, ...]:
    """What ``text`` may name of these; () where nothing. Raises InputError as ``plain`` does."""
    shown = plain(text)
    readers = (_tracks, _rod_ends, _rings, _inserts, _housings)
    return tuple(found for reader in readers for found in reader(shown))
