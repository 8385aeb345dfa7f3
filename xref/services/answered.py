"""What was given back to a check, taken to its place: size, kind, mark, or something seen."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from xref.domain.mark import Mark, Sign, read_mark
from xref.domain.number import folded, visible
from xref.domain.part import COUNTS
from xref.domain.size_names import SIZES
from xref.errors import InputError
from xref.standards.check import answers, keys

KIND = "kind"
_PLACE = re.compile(r"mark([1-9]\d?)(?:-([1-9]\d?))?")
_WORDS = {"1": "one", "2": "two", "3": "three"}


@dataclass(frozen=True)
class Answered:
    """Answers by where they belong. ``looks`` are those that are evidence by themselves."""

    sizes: Mapping[str, str] = field(default_factory=dict)
    marks: Mapping[tuple[int, int], str] = field(default_factory=dict)
    looks: Mapping[str, str] = field(default_factory=dict)
    kind: str = ""

    def told(self) -> dict[str, str]:
        """Every answer by the key of its check."""
        marks = {f"mark{n}" + f"-{at}" * bool(at): text for (n, at), text in self.marks.items()}
        kind = {KIND: self.kind} if self.kind else {}
        return {**kind, **self.looks, **self.sizes, **marks}


def check_key(text: str) -> str:
    """The check or size that ``text`` names. Raises InputError naming those there are."""
    name = "-".join(text.strip().lower().replace("_", " ").replace("-", " ").split())
    if name in keys() or name in SIZES or name in COUNTS or name == KIND or _PLACE.fullmatch(name):
        return name
    raise InputError(
        f'no check is called "{visible(text)}"',
        f"Checks: {', '.join(keys())}, kind, mark1 (the stamp), mark1-3 (its third character), "
        "or a size by its name.",
    )


def read_seen(seen: Mapping[str, str]) -> Answered:
    """Each answer in its place. Raises InputError for a check or an answer that is not there."""
    sizes, looks, kind = {}, {}, ""
    marks: dict[tuple[int, int], str] = {}
    for text, answer in seen.items():
        key = check_key(text)
        if key in looks or key in sizes:
            raise InputError(f"the check {key} is answered twice", "Leave one of them out.")
        place = _PLACE.fullmatch(key)
        if place:
            marks[int(place[1]), int(place[2] or 0)] = answer
        elif key == KIND:
            kind = answer
        elif key in keys():
            looks[key] = _word(key, answer)
        else:
            sizes[key] = answer
    return Answered(sizes, marks, looks, kind)


def _word(key: str, text: str) -> str:
    """The answer that ``text`` is, in full or by a beginning that no other has."""
    held = answers(key)
    plain = text.strip().lower().replace("½", ".5").rstrip("° ").replace(":", "-")
    word = "-".join(plain.replace("_", " ").split())
    word = _WORDS.get(word, word) if _WORDS.get(word) in held else word
    found = [one for one in held if one == word] or [
        one for one in held if word and one.startswith(word)
    ]
    if len(found) == 1:
        return found[0]
    raise InputError(f'{key} is not answered by "{visible(text)}"', f"Answers: {', '.join(held)}.")


def marks_seen(marks: Sequence[Mark], seen: Mapping[tuple[int, int], str]) -> tuple[Mark, ...]:
    """The marks with what was read of them once more; place 0 is the whole mark, the first is 1.

    Raises InputError for a mark or a place that is not there, and for what is no one character.
    """
    found = list(marks)
    for (which, place), text in sorted(seen.items()):
        if which > len(found):
            raise InputError(
                f"there is no mark {which} to read again", "Give the marks first, with --mark."
            )
        found[which - 1] = _read_again(found[which - 1], which, place, text)
    return tuple(found)


def _read_again(mark: Mark, which: int, place: int, text: str) -> Mark:
    if place == 0:
        return read_mark(text)
    if place > len(mark.signs):
        raise InputError(
            f"mark {which} has {len(mark.signs)} characters, and no {place}",
            f"It was read as {mark.shown()}.",
        )
    char = folded(text)
    if len(char) != 1:
        raise InputError(
            f'"{visible(text)}" is not one character', f"For example --seen mark{which}-{place}=3."
        )
    signs = (*mark.signs[: place - 1], Sign(char), *mark.signs[place:])
    return read_mark("".join(map(str, signs)))
