"""Row readers for rolling bearings: numbers, other spellings and boundary dimensions."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.weights import OTHER_SYSTEM
from xref.standards.gost import gost_numbers
from xref.standards.rowreader import inch, inch_or_mm, make, mm
from xref.tables import Row

US_STYLE = 0.5
"""52xx for 32xx and their like: common trade usage. Judged."""
OLD_THREE_DIGIT = 0.3
"""205 for 6205: common practice, no published source. Judged."""
WITHOUT_X = 0.8
"""32004X for 32004. Judged."""

_OLD = {"62": "2", "63": "3", "64": "4"}


def _spellings(number: str, type_: str) -> list[Spelling]:
    found = [Spelling(number, takes_suffix=True)]
    series, bore = number[:-2], number[-2:]
    if series in _OLD and bore.isdigit():
        old = _OLD[series] + bore
        found.append(Spelling(old, OLD_THREE_DIGIT, "alias", True))
    if type_ == "angular contact ball, double row" and number[:2] in ("32", "33"):
        found.append(Spelling("5" + number[1:], US_STYLE, "alias", True))
    if match := re.fullmatch(r"6(1[89])(\d\d)", number):
        found.append(Spelling(f"6{match[1][1]}{match[2]}", 1.0, "alias", True))
    found += [Spelling(text, OTHER_SYSTEM, "alias", True) for text in gost_numbers(number)]
    return found


def _rolling(row: Row, type_: str, words: str, width: str = "B_mm") -> Part:
    number = row["designation"]
    sizes = {"bore": mm(row["d_mm"]), "outside": mm(row["D_mm"]), "width": mm(row[width])}
    return make(row, number, ("bearing", type_, words), sizes, _spellings(number, type_))


def deep_groove(row: Row) -> Part:
    """Metric deep groove ball bearings, with the JIS short numbers of 618 and 619."""
    part = _rolling(row, "deep groove ball", "deep groove ball bearing, single row")
    alt = row["alt_designation"]
    known = {s.text for s in part.spellings}
    extra = (Spelling(alt, 1.0, "alias", True),) if alt and alt not in known else ()
    return _with(part, extra)


def _with(part: Part, extra: tuple[Spelling, ...]) -> Part:
    return replace(part, spellings=part.spellings + extra) if extra else part


def deep_groove_inch(row: Row) -> Part:
    """Inch deep groove ball bearings; the fractions are exact, the decimals rounded."""
    fractions = _fractions(row["fractions_d_D_B_in"])
    decimals = (row["d_in"], row["D_in"], row["B_in"])
    values = fractions if len(fractions) == 3 else list(decimals)
    sizes = dict(zip(("bore", "outside", "width"), map(inch, values), strict=True))
    number = row["designation"]
    what = ("bearing", "deep groove ball, inch", "deep groove ball bearing, inch")
    return make(row, number, what, sizes, [Spelling(number, takes_suffix=True)])


def _fractions(text: str) -> list[str]:
    """ "1 1/4 3 1/8 7/8" as three sizes: a whole number belongs to the fraction after it."""
    found: list[str] = []
    whole = ""
    for piece in text.split():
        if "/" in piece:
            found.append(f"{whole} {piece}".strip())
            whole = ""
        else:
            if whole:
                found.append(whole)
            whole = piece
    return [*found, whole] if whole else found


def double_row(row: Row) -> Part:
    """Double row deep groove ball bearings."""
    return _rolling(row, "double row deep groove ball", "deep groove ball bearing, double row")


def angular(row: Row) -> Part:
    """Angular contact ball bearings, single and double row."""
    rows = "double row" if "double" in row["type"] else "single row"
    return _rolling(row, f"angular contact ball, {rows}", f"angular contact ball bearing, {rows}")


def self_aligning(row: Row) -> Part:
    """Self-aligning ball bearings."""
    return _rolling(row, "self-aligning ball", "self-aligning ball bearing, double row")


_RIBS = {
    "N": "plain outer ring",
    "NU": "plain inner ring",
    "NJ": "one rib on the inner ring",
    "NUP": "one fixed and one loose rib on the inner ring",
}
"""DIN 623-1."""


def cylindrical(row: Row) -> Part:
    """Cylindrical roller bearings; the letters before the digits give the ribs."""
    ribs = row["designation"].rstrip("0123456789/")
    words = f"cylindrical roller bearing, {_RIBS[ribs]}"
    return _rolling(row, f"cylindrical roller {ribs}", words)


def cylindrical_inch(row: Row) -> Part:
    """British inch cylindrical roller bearings."""
    number = row["designation"]
    sizes = {n: inch(row[c]) for n, c in (("bore", "d_in"), ("outside", "D_in"), ("width", "B_in"))}
    what = ("bearing", "cylindrical roller, inch", "cylindrical roller bearing, inch")
    return make(row, number, what, sizes, [Spelling(number, takes_suffix=True)])


def spherical(row: Row) -> Part:
    """Spherical roller bearings."""
    return _rolling(row, "spherical roller", "spherical roller bearing, double row")


def thrust(row: Row) -> Part:
    """Thrust ball bearings, and the needle cages and washers numbered beside them."""
    types = {"AXK": "thrust needle", "AS": "thrust washer", "LS": "thrust washer"}
    type_ = types.get(row["series"], "thrust ball")
    words = {
        "thrust ball": "thrust ball bearing, single direction",
        "thrust needle": "thrust needle roller and cage",
        "thrust washer": "thrust washer for needle cages",
    }[type_]
    return _rolling(row, type_, words, "H_mm")


def thrust_roller(row: Row) -> Part:
    """Cylindrical and spherical roller thrust bearings."""
    return _rolling(row, row["type"], f"{row['type']} bearing", "H_mm")


def tapered_metric(row: Row) -> Part:
    """Metric tapered roller bearings: width is T of the assembled bearing."""
    part = _rolling(row, "tapered roller", "tapered roller bearing", "T_mm")
    sizes: dict[str, StoredSize] = dict(part.sizes)
    if row["B_mm"]:
        sizes["cone-width"] = mm(row["B_mm"])
    if row["C_mm"]:
        sizes["cup-width"] = mm(row["C_mm"])
    x = Spelling(part.number + "X", WITHOUT_X, "alias", True)
    extra = (x,) if part.number.startswith("320") else ()
    return replace(part, sizes=sizes, spellings=part.spellings + extra)


def tapered_inch(row: Row) -> Part:
    """Inch tapered roller bearings: a cone and a cup, each with a number of its own.

    Some halves are metric (25 mm bore, printed as 0.9843 in): then the millimetres are exact.
    Pairs whose numbers differ only by leading zeros are one thing: a zero may have been lost in
    one table. The group also names the sizes, so that two real series would stay apart.
    """
    cone, cup = row["cone"], row["cup"]
    number = f"{cone}/{cup}"
    named = (("bore", "d"), ("outside", "D"), ("width", "T"))
    sizes = {name: inch_or_mm(row[f"{c}_in"], row[f"{c}_mm"]) for name, c in named}
    for name, column in (("cone-width", "B_mm"), ("cup-width", "C_mm")):
        if row[column]:
            sizes[name] = mm(row[column])
    spelled = [Spelling(number), Spelling(cone, 1.0, "cone"), Spelling(cup, 1.0, "cup")]
    bare = f"{cone.lstrip('0')}/{cup.lstrip('0')}"
    dims = "x".join(row[c] for c in ("d_in", "D_in", "T_in"))
    what = ("bearing", "tapered roller, inch", "tapered roller bearing, inch, cone and cup")
    return make(row, number, what, sizes, spelled, f"bearing {bare} {dims}")


def drawn_cup(row: Row) -> Part:
    """Metric drawn cup needle bearings: the bore is the inscribed diameter Fw."""
    closed = "closed" in row["type"]
    type_ = "drawn cup needle, closed end" if closed else "drawn cup needle, open"
    words = f"drawn cup needle bearing, {'closed end' if closed else 'open ends'}"
    return _needle(row, type_, words, ("Fw_mm", "D_mm", "C_mm"))


def drawn_cup_inch(row: Row) -> Part:
    """Inch drawn cup needle bearings, sized in sixteenths."""
    number = row["designation"]
    columns = (("bore", "Fw_frac"), ("outside", "D_frac"), ("width", "C_frac"))
    sizes = {name: inch(row[column]) for name, column in columns}
    what = ("bearing", "drawn cup needle, inch", "drawn cup needle bearing, inch")
    return make(row, number, what, sizes, [Spelling(number, takes_suffix=True)])


def machined_needle(row: Row) -> Part:
    """Machined needle bearings: NK without an inner ring (bore is Fw), NKI and NA with one."""
    letters = re.match(r"[A-Z]+", row["designation"])
    series = letters[0] if letters else "NA"
    words = "needle roller bearing, " + (
        "without inner ring" if series == "NK" else "with inner ring"
    )
    bore = "Fw_mm" if series == "NK" else "bore_mm"
    return _needle(row, f"needle roller {series}", words, (bore, "D_mm", "B_mm"))


def needle_cage(row: Row) -> Part:
    """Needle roller and cage assemblies: inside Fw, outside Ew, width Bc."""
    return _needle(row, "needle cage", "needle roller and cage", ("Fw_mm", "Ew_mm", "Bc_mm"))


def _needle(row: Row, type_: str, words: str, columns: tuple[str, str, str]) -> Part:
    number = row["designation"]
    sizes = {n: mm(row[c]) for n, c in zip(("bore", "outside", "width"), columns, strict=True)}
    spelled = [Spelling(number, takes_suffix=True)]
    return make(row, number, ("bearing", type_, words), sizes, spelled)
