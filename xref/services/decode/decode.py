"""Read a trade number to the end: what it names, its sizes, and what tells the readings apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref import designation
from xref.designation.letters import begins_a_series
from xref.designation.reading import Feature, Reading
from xref.designation.rubber import symbol
from xref.designation.spanner import TYPE as SPANNER
from xref.designation.three_sizes import outside_first, three_sizes
from xref.domain.kinds import named_in
from xref.domain.number import folded
from xref.domain.part import COUNTS, Part
from xref.domain.size import NM_PER_MM
from xref.services.decode.collisions import decided_by
from xref.services.decode.lookup import Found, listed
from xref.services.decode.tables import look_up
from xref.services.decode.written import basis_of
from xref.standards.elastomer import in_fluids
from xref.standards.inch_seal import inch_seal_rule
from xref.standards.lookup import by_boundary
from xref.standards.seats import sleeves_of

_FAR_FETCHED = 2
"""Pieces left over beyond the best reading's that make a reading not worth showing. Judged."""

RUBBER_KINDS = ("o-ring", "shaft seal")

_PLAIN_NUMBERING = ("ISO", "inch", "sizes")


@dataclass(frozen=True, slots=True)
class DecodedReading:
    """One thing the text may name. ``sizes`` are in nanometres; a size not there is unknown.

    ``tables_agreeing`` is 0 where no table has it. ``unknown`` are the pieces of the text that this
    reading does not explain.
    """

    designation: str
    kind: str
    type: str
    standard: str
    sizes: Mapping[str, int]
    features: tuple[Feature, ...]
    canonical: str
    also_written: tuple[str, ...]
    tables_agreeing: int
    note: str
    measure: str
    decided_by: str
    unknown: tuple[str, ...]

    def to_json(self) -> dict[str, object]:
        """The reading as it stands in JSON; sizes in millimetres."""
        return {
            "designation": self.designation,
            "kind": self.kind,
            "standard": self.standard,
            "sizes": {name: _json_size(name, value) for name, value in self.sizes.items()},
            "features": [
                {"code": f.code, "meaning": f.meaning, "basis": f.basis} for f in self.features
            ],
            "canonical": self.canonical,
            "also_written": list(self.also_written),
            "also_written_basis": [basis_of(text) for text in self.also_written],
            "tables_agreeing": self.tables_agreeing,
            "note": self.note,
        }


@dataclass(frozen=True, slots=True)
class Decoded:
    """All readings of one text, the likeliest first; none where nothing was understood.

    ``decided_by`` says what tells them apart ("" for fewer than two). ``unknown`` are the pieces
    that no reading explains. ``same_sizes`` are the rows, other than those read, that have the
    three sizes the text is made of; () where it is not three bare sizes.
    """

    text: str
    readings: tuple[DecodedReading, ...]
    decided_by: str
    unknown: tuple[str, ...]
    same_sizes: tuple[Part, ...] = ()

    def to_json(self) -> dict[str, object]:
        """The whole answer as JSON; sizes in millimetres."""
        return {
            "text": self.text,
            "readings": [reading.to_json() for reading in self.readings],
            "decided_by": self.decided_by,
            "unknown": list(self.unknown),
            "same_sizes": [
                {"number": part.number, "kind": part.kind, "description": part.words}
                for part in self.same_sizes
            ],
        }


def _json_size(name: str, value: int) -> float | int:
    return value if name in COUNTS else value / NM_PER_MM


def _others(number: str, writings: Iterable[str]) -> tuple[str, ...]:
    """``writings`` without the number itself, each once whatever its separators."""
    seen = {folded(number)}
    kept = []
    for text in writings:
        if folded(text) not in seen:
            seen.add(folded(text))
            kept.append(text)
    return tuple(kept)


def _numbering(reading: Reading) -> str:
    """A word on the numbering system, where it is not the plain one of the standard named."""
    if reading.numbering in _PLAIN_NUMBERING or reading.numbering in (
        reading.standard + reading.note
    ):
        return ""
    return f"read as {reading.numbering}"


def _fluids(reading: Reading) -> list[str]:
    """How the rubber that the number names stands each fluid."""
    if reading.kind not in RUBBER_KINDS:
        return []
    return [in_fluids(code) for code in map(symbol, reading.features) if code]


def _sleeves(reading: Reading) -> str:
    """The sleeves of a bearing with a tapered bore; "" where its bore is straight."""
    tapered = any(f.code.startswith("K") and "tapered" in f.meaning for f in reading.features)
    return sleeves_of(f"{reading.designation}K") if tapered else ""


def _seal_rule(reading: Reading) -> str:
    """What the rule says of an inch shaft seal, of which no table of sizes was found."""
    inch = reading.kind == "shaft seal" and reading.numbering == "inch"
    return inch_seal_rule(reading.sizes) if inch else ""


def _own_note(reading: Reading, found: Found) -> str:
    """What the reader says; nothing of a wall where the table knows the bush for another type."""
    other = reading.kind == "bush" and found.type not in ("", reading.type)
    return "" if other else reading.note


def _decoded(reading: Reading, found: Found) -> DecodedReading:
    kind_of = f"{found.type or reading.type}, {found.half}" if found.half else found.type
    number = found.number or reading.designation
    ways = () if found.number else reading.also_written
    return DecodedReading(
        designation=number,
        kind=reading.kind,
        type=kind_of or reading.type,
        standard=found.standard or reading.standard,
        sizes=dict(found.sizes),
        features=reading.features,
        canonical=reading.canonical.replace(reading.designation, number, 1),
        also_written=_others(number, (*ways, *found.also_written)),
        tables_agreeing=found.tables_agreeing,
        note="; ".join(
            note
            for note in (
                _numbering(reading),
                _own_note(reading, found),
                _sleeves(reading),
                _seal_rule(reading),
                *found.notes,
                *_fluids(reading),
            )
            if note
        ),
        measure=reading.measure,
        decided_by=reading.decided_by,
        unknown=reading.unknown,
    )


def _once(readings: Iterable[DecodedReading]) -> list[DecodedReading]:
    """Each thing once, the ones that explain most of the text and stand in a table first.

    A reading that leaves over two pieces more than the best one is far-fetched and left out.
    """
    kept: dict[tuple[str, str, str], DecodedReading] = {}
    for reading in readings:
        # 1/4W and 5/16BS are two names of one spanner.
        name = f"{reading.sizes}" if reading.type == SPANNER else reading.designation
        kept.setdefault((reading.kind, name, reading.type), reading)
    least = min((len(reading.unknown) for reading in kept.values()), default=0)
    near = [reading for reading in kept.values() if len(reading.unknown) < least + _FAR_FETCHED]
    return sorted(near, key=lambda r: (len(r.unknown), r.tables_agreeing == 0))


def _unknown(readings: Sequence[DecodedReading]) -> tuple[str, ...]:
    """The pieces that no reading explains."""
    return tuple(
        piece
        for piece in dict.fromkeys(readings[0].unknown)
        if all(piece in reading.unknown for reading in readings)
    )


def _with_own_unknown(reading: DecodedReading, shared: Sequence[str]) -> DecodedReading:
    """``reading`` with a word on the pieces that only it does not explain."""
    own = [piece for piece in reading.unknown if piece not in shared]
    if not own:
        return reading
    words = f"not understood in this reading: {listed(own)}"
    return replace(reading, note="; ".join(note for note in (reading.note, words) if note))


def _same_sizes(text: str, readings: Iterable[DecodedReading]) -> tuple[Part, ...]:
    """The rows of the sizes in ``text``, if it is three sizes and no more, that are not read."""
    readings = list(readings)
    three = None if any(r.kind == "o-ring" for r in readings) else three_sizes(text)
    if three is None or three.before.strip() or three.after.strip():
        return ()
    read = {folded(reading.canonical) for reading in readings}
    rows = by_boundary(three.bore, three.outside, three.width)
    return tuple(part for part in rows if folded(part.number) not in read)


_LEAST_NAME = 4
"""Letters of the shortest word before a number that is taken for a name. Judged."""


def _is_name(token: str, *, behind: bool) -> bool:
    """Whether a word beside a number is a name or a place: HALBROOK, W.GERMANY, USA behind it; not
    a word that says what the thing is (seal)."""
    pieces = [piece for piece in token.split(".") if piece]
    if not pieces or not all(piece.isalpha() for piece in pieces):
        return False
    longest = max(pieces, key=len)
    if len(longest) < _LEAST_NAME:
        return longest.upper() in (_PLACES if behind else ())
    return not begins_a_series(longest.upper()) and named_in(longest) is None


_PLACES = ("USA", "GB", "UK", "MADE", "IN", "BY", "CO", "LTD", "DDR", "GDR", "CSSR", "USSR", "EEC")


def _between_names(text: str) -> tuple[str, tuple[str, ...]]:
    """The number between the names at the ends of a stamp, and these names."""
    tokens = text.split()
    first, last = 0, len(tokens)
    while first < last and _is_name(tokens[first], behind=first > 0):
        first += 1
    while last > first and _is_name(tokens[last - 1], behind=True):
        last -= 1
    return " ".join(tokens[first:last]), (*tokens[:first], *tokens[last:])


def decode(text: str) -> Decoded:
    """What the trade number ``text`` names, by grammar and tables.

    Names at the ends of a bearing's stamp that cannot be read as a whole are left out, and stand
    under ``unknown``. The rest is as in ``_decode``.
    """
    decoded = _decode(text)
    number, names = ("", ()) if decoded.readings else _between_names(text)
    inside = _decode(number) if names and number else decoded
    if not decoded.readings and (swapped := outside_first(text)):
        return replace(_decode(swapped), text=text)
    if inside is decoded or not any(reading.kind == "bearing" for reading in inside.readings):
        return decoded
    readings = tuple(replace(r, unknown=(*r.unknown, *names)) for r in inside.readings)
    return replace(inside, text=text, readings=readings, unknown=(*inside.unknown, *names))


def _decode(text: str) -> Decoded:
    """What the trade number ``text`` names, by grammar and tables.

    A text that names nothing known gives no readings and stands itself under ``unknown``. Raises
    InputError for empty, over-long or unprintable text.
    """
    readings = _once(
        _decoded(reading, found) for reading in designation.read(text) for found in look_up(reading)
    )
    if not readings:
        return Decoded(text, (), "", (text.strip(),), _same_sizes(text, ()))
    unknown = _unknown(readings)
    return Decoded(
        text=text,
        readings=tuple(_with_own_unknown(reading, unknown) for reading in readings),
        decided_by=decided_by(readings),
        unknown=unknown,
        same_sizes=_same_sizes(text, readings),
    )
