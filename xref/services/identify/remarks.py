"""Remarks on the question itself: units taken, near misses, wear, dates, parts not offered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref.domain.evidence import MARKS, Scored
from xref.domain.mark import upside_down
from xref.domain.nearmiss import near_misses
from xref.domain.part import Part
from xref.domain.query import Query, SizeReading
from xref.domain.size import NM_PER_MM, inch_text, short_mm
from xref.domain.size_names import SIZES
from xref.domain.verdict import OPEN_READING
from xref.services.identify.chain_wear import chain_wear
from xref.services.identify.inch_bored import inch_read
from xref.services.identify.slips import no_unit, swapped
from xref.services.parts.cautions import NOT_BY_SIZE, never_by_size

AGREES = 1.0
"""Bits above which a size speaks for a part. Judged."""
TENTH = NM_PER_MM // 10
FAR_OFF = -5.0
"""Bits below which a size speaks against a part as strongly as one size can. Judged."""
NEAR_ENVELOPE = 1_500_000
"""A bore this near to another part's (1.5 mm) may be that part's envelope bored out. Judged."""

NAME_FROM = 4
"""Letters of a word that may be a name; shorter ones stand in many numbers. Judged."""

WORN_BUSH = (
    "A worn bush is identified from its smallest bore, at the unworn end, and judged by its "
    "largest (common practice, no published source)."
)
WORN_SHAFT = (
    "Measure a worn shaft beside its track, not on it (common practice, no published source)."
)


def remarks(
    query: Query,
    scored: Sequence[Scored],
    probabilities: Sequence[float],
    withheld: Sequence[tuple[Scored, float]],
) -> tuple[str, ...]:
    """What the person should know about the question; () for nothing.

    ``scored`` are the things offered, best first; ``withheld`` those that are not.
    """
    likely = [s for s, p in zip(scored, probabilities, strict=True) if p >= OPEN_READING]
    return (
        *no_unit((s.name, s.text, s.unit) for s in query.sizes.values() if s.assumed),
        *swapped({s.name: (s.value, s.text) for s in query.sizes.values()}),
        *_other_name(query),
        *_idle_marks(query, likely),
        *_twins(query, likely),
        *_envelopes(query, scored),
        *_wear(query, likely),
        *chain_wear(query, likely),
        *_halves(likely),
        *_dates(query),
        *_withheld(query, withheld),
    )


def nothing_of(kind: str) -> str:
    """What to say where the kind that was named could not shut out the others."""
    return f"Nothing of the kind {kind} is near: what stands here is what was left."


def _other_name(query: Query) -> Iterator[str]:
    """A size that parts of this kind have by another name."""
    for own, given in query.called.items():
        meant = f" ({SIZES[own]})" if own in SIZES else ""
        yield f"The {given} was compared as what this kind calls {own}{meant}."


def _idle_marks(query: Query, likely: Sequence[Scored]) -> Iterator[str]:
    """Of several marks those that none of the likely parts was read from."""
    read = {e.seen for s in likely for e in s.evidence if e.topic in MARKS}
    ways = {
        mark.shown(): {m.shown() for m in (mark, upside_down(mark)) if m} for mark in query.marks
    }
    idle = [shown for shown, both in ways.items() if read and not both & read]
    if idle:
        yield (
            f"Not taken for a number: {', '.join(idle)}. It may be a maker's name, a date or a "
            "size; a casting number is given with --cast."
        )


def _twins(query: Query, likely: Sequence[Scored]) -> Iterator[str]:
    """Warn where a size and its twin in the other system are both still in play."""
    for name, reading in query.sizes.items():
        if reading.counted:
            continue
        held = {s.part.sizes[name].value for s in likely if name in s.part.sizes}
        if reading.unit == "inch":
            held.add(reading.value)
        plain = [n for n in sorted(held) if n % TENTH == 0 or inch_text(n)]
        told = [miss.text for nominal in plain for miss in near_misses(nominal) if miss.nm in plain]
        if told:
            yield f"{name}: {told[0]}."


def _envelopes(query: Query, scored: Sequence[Scored]) -> Iterator[str]:
    """A metric bearing whose outside and width agree, but whose bore was read in inches."""
    reading = query.sizes.get("bore")
    inch = inch_read(reading) if reading else None
    found = [s for s in scored if reading and _only_bore_is_off(s, reading)]
    if not inch or not found:
        return
    # Most bearings are deep groove ones (common practice, no published source).
    usual = max(found, key=lambda s: (s.start_bits, s.part.type == "deep groove ball")).part
    bore = short_mm(usual.sizes["bore"].value)
    read = f"{inch_text(inch)} is {short_mm(inch)}"
    offered = next((s.part for s in scored if s.part.number.startswith(f"{usual.number}-")), None)
    if offered is not None:
        yield (
            f"{offered.number} is {offered.note}. {read}, and the plain {usual.number} is bored "
            f"{bore}: order it with its bore."
        )
        return
    yield (
        f"The bore speaks against {usual.number}: outside and width are the same, but its bore is "
        f"{bore}, and {read}. An inch bore in a metric envelope is another bearing: look for its "
        "own number."
    )


def _only_bore_is_off(thing: Scored, reading: SizeReading) -> bool:
    held = thing.part.sizes.get("bore")
    if held is None or thing.part.kind != "bearing" or inch_text(held.value) is not None:
        return False
    bits = thing.size_bits()
    near = 0 < abs(held.value - reading.value) <= NEAR_ENVELOPE
    agrees = all(bits.get(name, 0.0) > AGREES for name in ("outside", "width"))
    return near and agrees and bits.get("bore", 0.0) < 0


def _wear(query: Query, likely: Sequence[Scored]) -> Iterator[str]:
    if query.condition == "new":
        return
    if "bore" in query.sizes and any(s.part.kind == "bush" for s in likely):
        yield WORN_BUSH
    if "shaft" in query.sizes:
        yield WORN_SHAFT


def _halves(likely: Sequence[Scored]) -> Iterator[str]:
    """Pairs that share one half: that half is found, the other is still open."""
    if len(likely) < 2:
        return
    for half, other in (("cone", "cup"), ("cup", "cone")):
        shared = set.intersection(*(_half(s.part, half) for s in likely))
        if shared:
            yield (
                f"Every one of these has the {half} {min(shared, key=len)}: the {half} is found. "
                f"Measure or read the {other} to know the pair."
            )


def _half(part: Part, role: str) -> set[str]:
    return {s.text for s in part.spellings if s.role == role}


def _dates(query: Query) -> Iterator[str]:
    cast, built = query.cast_year, query.built_year
    if cast is None or built is None:
        return
    if cast > built:
        yield f"Cast in {cast}, after the machine was built in {built}: a later part."
    else:
        yield (
            f"Cast in {cast}, not after {built}: that shows nothing, old castings were kept "
            "in stock."
        )


def _withheld(query: Query, withheld: Sequence[tuple[Scored, float]]) -> Iterator[str]:
    if never_by_size(query.words):
        yield f"{query.words}: {NOT_BY_SIZE}"
        return
    kept = [thing for thing, probability in withheld if probability >= OPEN_READING]
    if kept:
        names = "; ".join(sorted({thing.part.words or thing.part.kind for thing in kept}))
        yield (
            f"Not offered on size alone ({names}): stronger is as wrong as weaker. "
            "Find its number and the maker's data."
        )
