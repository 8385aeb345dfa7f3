"""Sizes in one cell, in every order and manner: "ID 20 OD 47 W14", "52x35x7", "M8x1.25x30".

What the figures are is told by words beside them, by the kind of part and by which order is
possible: a bore is smaller than its outside. What may be two things is not taken.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from xref.domain.size import NM_PER_INCH, parse_length, parse_lengths
from xref.errors import InputError
from xref.sheets.cells import prepared
from xref.sheets.plain import plain_words
from xref.sheets.size_order import ROUND, names_in_order
from xref.sheets.thread_cell import FIGURE, SizesRead, thread_in
from xref.sheets.words import word_list

_TOKEN = re.compile(
    rf"(?P<figure>{FIGURE})|(?P<label>[^\W\d_]+(?:[./][^\W\d_]+)*\.?|[Ø⌀ø∅Φφ])|(?P<sign>[xX×*/,;:=+&()\[\]\-–])|\s+"
)
_SAYS_NOTHING = frozenset({"mm", "in", "inch", "ca", "approx", "about"})
_UNITLESS = re.compile(r"[\d\s.,/\-]+")
_DASHED = re.compile(
    r"\s*(\d+(?:[.,]\d+)?)\s*-\s*(\d+(?:[.,]\d+)?)\s*-\s*(\d+(?:[.,]\d+)?)\s*(mm)?\s*"
)

_LABELS = {row["word"]: row["size"] for row in word_list("size_labels")}
"""The size that a word beside a figure names, in any language of the lists."""

_EXACT = {"d": "bore", "D": "outside", "B": "width", "b": "width", "T": "width", "H": "width"}
"""Letters of the drawings where small and capital ones differ."""

_MOST_INCHES = 12 * NM_PER_INCH
"""A whole number beside a fraction is inches up to here, else millimetres it may be. Judged."""

_ANY_ROUND = frozenset({"diameter", "round"})


@lru_cache(maxsize=65_536)
def read_size_cell(
    text: str, unit: str, decimal: str, kind: str = "", order: tuple[str, ...] = ()
) -> SizesRead:
    """The sizes in a cell; ``order`` is what the heading says of them, () where it is silent.

    Never raises: what is not understood is said in ``why`` and nothing is taken.
    """
    flat = " ".join(_VULGAR.sub(_as_fraction, text.translate(_SIGNS)).split())
    try:
        return thread_in(flat) or _read(flat, unit, decimal, kind, order)
    except InputError as error:
        return SizesRead(why=error.message)


_VULGAR = re.compile(r"[¼½¾⅛⅜⅝⅞]")


def _as_fraction(found: re.Match[str]) -> str:
    return " " + unicodedata.normalize("NFKC", found[0]).replace("\u2044", "/")


_SIGNS = str.maketrans(
    {"⌀": "Ø", "∅": "Ø", "ø": "Ø", "Φ": "Ø", "φ": "Ø", "”": '"', "“": '"', "″": '"'}
)


def _read(flat: str, unit: str, decimal: str, kind: str, order: tuple[str, ...]) -> SizesRead:
    tokens = _tokens(flat)
    labels = [t for sort, t in tokens if sort == "label"]
    sizes = [_label(t) for t in labels]
    unmeant = {t.lower() for t, size in zip(labels, sizes, strict=True) if size is None}
    if unmeant - _SAYS_NOTHING:
        unknown = next(t for t, s in zip(labels, sizes, strict=True) if s is None)
        raise InputError(f'"{unknown}" in "{flat[:40]}" is not understood')
    if labels:
        return _labelled(flat, tokens, unit, decimal, kind)
    values = _bare(flat, unit, decimal)
    names = order if len(order) == len(values) else names_in_order(values, kind)
    if len(names) != len(values):
        raise InputError(_unsure(flat, len(values)))
    taken = dict(zip(names, values, strict=True))
    _possible(taken, flat)
    return SizesRead(taken)


def _unsure(flat: str, count: int) -> str:
    if count == 1:
        return f'one size stands in "{flat[:40]}", and not which it is'
    return f'which sizes the {count} in "{flat[:40]}" are is not told'


def _tokens(flat: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(flat):
        match = _TOKEN.match(flat, at)
        if match is None:
            raise InputError(f'"{flat[at : at + 20]}" in "{flat[:40]}" is no size')
        at = match.end()
        if match.lastgroup == "label" and match[0] in ("x", "X"):
            found.append(("sign", "x"))
        elif match.lastgroup:
            found.append((match.lastgroup, match[0]))
    return found


def _label(text: str) -> str | None:
    """The size that a word names; "round" for a diameter's sign."""
    if text == "Ø":
        return "round"
    if text in _EXACT:
        return _EXACT[text]
    flat = plain_words(text)
    return _LABELS.get(text.lower().rstrip(".")) or _LABELS.get(flat)


def _labelled(
    flat: str, tokens: list[tuple[str, str]], unit: str, decimal: str, kind: str
) -> SizesRead:
    figures = [at for at, (sort, _) in enumerate(tokens) if sort == "figure"]
    if not figures:
        raise InputError(f'there is no figure in "{flat[:40]}"')
    values = _values([tokens[at][1] for at in figures], unit, decimal)
    names = _bound(tokens, figures)
    rounds = [i for i, name in enumerate(names) if name == "round"]
    taken: dict[str, int] = {}
    for name, value in zip(names, values, strict=True):
        if name in ("", "round"):
            continue
        if name in taken:
            raise InputError(f'"{flat[:40]}" gives two sizes for {name}')
        taken[name] = value
    loose = [values[i] for i, name in enumerate(names) if not name]
    _rounds(taken, [values[i] for i in rounds], flat)
    _loose(taken, loose, kind, flat)
    if kind == "o-ring":
        _ring(taken)
    if {"bore", "outside", "length"} <= taken.keys() and "width" not in taken:
        # A bush's length is its width.
        taken["width"] = taken.pop("length")
    _possible(taken, flat)
    return SizesRead(taken)


def _bound(tokens: Sequence[tuple[str, str]], figures: Sequence[int]) -> list[str]:
    """The size that each figure is by the word beside it; "" where none is."""
    words = [at for at, (sort, _) in enumerate(tokens) if sort == "label" and _label(tokens[at][1])]
    before = tokens[0][0] == "label" or (tokens[0][1] in "([" and tokens[1][0] == "label")
    names = dict.fromkeys(figures, "")
    for at in words:
        name = _label(tokens[at][1]) or ""
        sides = (_beside(tokens, at, 1), _beside(tokens, at, -1))
        for place in sides if before or name == "round" else sides[::-1]:
            if place in names and not names[place]:
                names[place] = name
                break
            # "dia inside 20": the word beside "dia" says which diameter it is.
            if place in names and names[place] in _ANY_ROUND and name not in _ANY_ROUND:
                names[place] = name
                break
    return [names[at] for at in figures]


def _beside(tokens: Sequence[tuple[str, str]], at: int, step: int) -> int:
    """The figure next to a word, across = : brackets and other words; -1 for none."""
    place = at + step
    while 0 <= place < len(tokens):
        sort, text = tokens[place]
        if sort == "figure":
            return place
        if sort == "sign" and text not in "=:()[]-":
            return -1
        place += step
    return -1


def _rounds(taken: dict[str, int], rounds: list[int], flat: str) -> None:
    """One diameter is a rod's, two are bore and outside."""
    if len(rounds) == 2 and rounds[0] != rounds[1] and not {"bore", "outside"} & taken.keys():
        taken["bore"], taken["outside"] = sorted(rounds)
    elif len(rounds) == 1:
        free = [n for n in ("bore", "outside") if n not in taken]
        held = {"bore", "outside"} & taken.keys()
        taken[free[0] if held and free else "diameter"] = rounds[0]
    elif rounds:
        raise InputError(_unsure(flat, len(rounds)))


def _loose(taken: dict[str, int], loose: list[int], kind: str, flat: str) -> None:
    """Figures with no word: the one that is still missing."""
    if not loose:
        return
    if len(loose) == 1:
        if {"bore", "outside"} <= taken.keys() and "width" not in taken:
            taken["width"] = loose[0]
            return
        if "bore" in taken and kind == "o-ring":
            taken["section"] = loose[0]
            return
        if "diameter" in taken and "length" not in taken:
            taken["length"] = loose[0]
            return
        if "bore" in taken and loose[0] > taken["bore"] and kind in ROUND:
            taken["outside"] = loose[0]
            return
    if taken.keys() == {"diameter"} and len(loose) == 2 and kind in ROUND:
        first, second = taken.pop("diameter"), loose[0]
        taken["bore"], taken["outside"] = sorted((first, second))
        taken["width"] = loose[1]
        return
    if len(loose) == 2 and kind in ROUND and not {"bore", "outside"} & taken.keys():
        taken["bore"], taken["outside"] = sorted(loose)
        return
    raise InputError(f'what every figure in "{flat[:40]}" is is not told')


def _ring(taken: dict[str, int]) -> None:
    for old, new in (("bore", "inside"), ("width", "section"), ("thickness", "section")):
        if old in taken and new not in taken:
            taken[new] = taken.pop(old)


def _values(figures: Sequence[str], unit: str, decimal: str) -> list[int]:
    """Each figure in nanometres: a unit on the last serves all, a fraction makes all inches."""
    lengths = [parse_length(prepared(f, decimal), unit) for f in figures]
    if all(x.assumed for x in lengths) and unit == "mm" and any("/" in f for f in figures):
        lengths = [parse_length(prepared(f, decimal), "inch") for f in figures]
    elif not lengths[-1].assumed and all(x.assumed for x in lengths[:-1]):
        own = lengths[-1].unit
        lengths = [parse_length(prepared(f, decimal), own) for f in figures]
    elif any(x.assumed for x in lengths) and len({x.unit for x in lengths}) > 1:
        raise InputError("some sizes have a unit and others have none")
    return [x.nm for x in lengths]


def _bare(flat: str, unit: str, decimal: str) -> tuple[int, ...]:
    """Sizes parted by x, or by dashes or strokes where no fraction can be meant."""
    inner = flat[1:-1] if (flat[:1], flat[-1:]) in (("(", ")"), ("[", "]")) else flat
    dashed = _DASHED.fullmatch(inner)
    if dashed:
        inner = " x ".join(dashed.groups()[:3]) + (" mm" if dashed[4] else "")
    else:
        inner = _stroked(inner)
    lengths = parse_lengths(prepared(inner, decimal), unit)
    if unit == "mm" and any(
        x.assumed and x.unit == "inch" and x.nm > _MOST_INCHES for x in lengths
    ):
        raise InputError(f'"{flat[:40]}" has a fraction among what look like millimetres')
    return tuple(length.nm for length in lengths)


def _stroked(text: str) -> str:
    """25/30x20 and 20/47/14 with x between; 3/8 x 1/2 as it is."""
    parts = [p.strip() for p in re.split(r"[xX×*]", text)]
    sides = [p.split("/") for p in parts]
    plain = all(re.fullmatch(r"\s*\d+(?:[.,]\d+)?\s*(?:mm)?\s*", s) for side in sides for s in side)
    if not plain or not any(len(side) > 1 for side in sides) or "/" not in text:
        return text
    if any(len(side) == 2 and _ruled(*side) for side in sides):
        return text
    return " x ".join(s.strip() for side in sides for s in side)


def _ruled(top: str, bottom: str) -> bool:
    """Whether a fraction is one that a rule has: the lower figure 2, 4, 8 … 64, the upper less."""
    try:
        above, below = int(top), int(bottom)
    except ValueError:
        return False
    return below in (2, 4, 8, 16, 32, 64) and above < below and above % 2 == 1


def _possible(taken: dict[str, int], flat: str) -> None:
    if "bore" in taken and "outside" in taken and taken["bore"] >= taken["outside"]:
        raise InputError(f'the bore in "{flat[:40]}" would not be smaller than the outside')


def heading_order(title: str) -> tuple[str, ...]:
    """The sizes that a heading names in order: "ID x OD x W"; () where it names fewer than two."""
    bare = re.sub(r"[(\[]\s*(?:mm|in|inch)\s*[)\]]", "", title).strip(" ()[]")
    ordered = re.search(r"[(\[]([^()\[\]]+)$", bare)
    bare = ordered[1] if ordered else bare
    bare = re.sub(
        r"^[^\W\d_]*(?:size|dim|maß|mass|abm|maat|mål|mått)\w*[\s:.]+", "", bare, flags=re.I
    )
    for between in (r"\s+[xX×*]\s+|\s*[×*,]\s*", r"\s*[/xX]\s*"):
        named = [_label(word.strip()) for word in re.split(between, bare.strip(" ()[]"))]
        if len(named) >= 2 and all(named) and len(set(named)) == len(named):
            return tuple(n for n in named if n and n != "round")
    return ()
