"""What differs between two parts, said so that nobody takes silence for sameness."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from xref.designation import read
from xref.designation.reading import Feature
from xref.designation.rubber import symbol, take_rubber
from xref.domain.part import Part, is_plain_number
from xref.domain.size import mm_text
from xref.errors import InputError
from xref.services.parts.features import visible_features

UNKNOWN = "unknown"
RUBBER_KINDS = ("o-ring", "shaft seal", "boot", "strip")
_SHORE = re.compile(r"(\d\d) Shore A")
LOAD_NOTE = "the same size does not mean the same load rating, speed or clearance"


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs, or that is not known to be the same: this part's and that part's."""

    about: str
    this: str
    that: str
    note: str = ""

    def to_json(self) -> dict[str, str | None]:
        """As it stands in JSON."""
        return {
            "about": self.about,
            "this": self.this,
            "that": self.that,
            "note": self.note or None,
        }


def compare(this: Part, that: Part) -> tuple[Difference, ...]:
    """Every difference between two parts in type, sizes, looks and rubber; () for none known."""
    return (*_type(this, that), *_sizes(this, that), *_looks(this, that), *_rubber(this, that))


def _type(this: Part, that: Part) -> Iterable[Difference]:
    if this.kind and that.kind and this.kind != that.kind:
        yield Difference("kind", this.kind, that.kind, "another kind of part")
    elif this.type != that.type and that.type:
        note = LOAD_NOTE if that.kind == "bearing" else ""
        yield Difference("type", this.type or UNKNOWN, that.type, note)
    elif that.kind == "bearing" and this.group != that.group:
        yield Difference("load class", UNKNOWN, UNKNOWN, LOAD_NOTE)


def _sizes(this: Part, that: Part) -> Iterable[Difference]:
    for name in dict.fromkeys((*this.sizes, *that.sizes)):
        one, two = this.sizes.get(name), that.sizes.get(name)
        if name == "hardness" or one is None or two is None or one.value == two.value:
            continue
        apart = abs(two.value - one.value)
        if is_plain_number(name):
            yield Difference(name, str(one.value), str(two.value))
        else:
            more = "larger" if two.value > one.value else "smaller"
            yield Difference(
                name, mm_text(one.value), mm_text(two.value), f"{mm_text(apart)} {more}"
            )


def _looks(this: Part, that: Part) -> Iterable[Difference]:
    one, two = visible_features(this), visible_features(that)
    for group, about in (("closure", "seals or shields"), ("ring", "outer ring")):
        if one.get(group) != two.get(group):
            yield Difference(about, one.get(group, UNKNOWN), two.get(group, UNKNOWN))


def _rubber(this: Part, that: Part) -> Iterable[Difference]:
    if that.kind not in RUBBER_KINDS or this.group == that.group:
        return
    one, two = rubber_of(this), rubber_of(that)
    if one != two or one == UNKNOWN:
        yield Difference("rubber", one, two, "it must suit the fluid")
    hard, soft = hardness_of(this), hardness_of(that)
    if hard != soft:
        yield Difference("hardness", hard, soft, "degrees Shore A; ask for it by figure")


def rubber_of(part: Part) -> str:
    """The rubber named in the number or the description; "unknown" where none is."""
    found = [code for code in map(symbol, _rubber_features(part)) if code]
    return found[0] if found else UNKNOWN


def hardness_of(part: Part) -> str:
    """Shore A hardness as a size on record, else as the number or the description says it."""
    held = part.sizes.get("hardness")
    if held is not None:
        return str(held.value)
    found = [m[1] for f in _rubber_features(part) if (m := _SHORE.search(f.meaning))]
    return found[0] if found else UNKNOWN


def _rubber_features(part: Part) -> tuple[Feature, ...]:
    """What the number says of the rubber, and after it what the description does."""
    try:
        readings = read(part.number)
    except InputError:
        readings = ()
    said = [feature for reading in readings[:1] for feature in reading.features]
    return (*said, *take_rubber(part.words.upper())[0])
