"""Row readers for what holds a machine together: rings, washers, pins and keys."""

from __future__ import annotations

import re

from xref.domain.part import Part, Spelling, StoredSize
from xref.standards.rowreader import between, decimal_inch, limits, make, mm, noted
from xref.tables import Row


def retaining_ring(row: Row) -> Part:
    """DIN 471 rings for shafts and DIN 472 rings for bores, named by shaft or bore × thickness.

    The free diameter d3 is the ring's own: inside on a shaft ring, outside on a bore ring.
    """
    on_shaft = row["for"] == "shaft"
    nominal, thickness = row["nominal_mm"], row["ring_thickness_s_mm"]
    sizes = {
        "shaft" if on_shaft else "housing": mm(nominal),
        "bore" if on_shaft else "outside": mm(row["ring_free_diameter_d3_mm"]),
        "thickness": limits(mm(thickness), row["ring_thickness_tol_mm"]),
        "groove": limits(mm(row["groove_diameter_d2_mm"]), row["groove_diameter_tol_mm"]),
    }
    if row["groove_width_min_m_mm"]:
        sizes["groove-width"] = mm(row["groove_width_min_m_mm"])
    number = f"{row['standard']}-{nominal}x{thickness}"
    words = "retaining ring for a shaft" if on_shaft else "retaining ring for a bore"
    type_ = "external retaining ring" if on_shaft else "internal retaining ring"
    spelled = [Spelling(number), Spelling(f"{row['standard']}-{nominal}", 0.9, "alias")]
    return make(row, number, ("retaining ring", type_, words), sizes, spelled)


def washer(row: Row) -> Part:
    """Flat washers: bore, outside and thickness; named by the thread they go with."""
    if row["id_in"]:
        cells = (decimal_inch(row[c]) for c in ("id_in", "od_in", "thickness_in"))
    else:
        cells = (mm(row[c]) for c in ("id_mm", "od_mm", "thickness_mm"))
    sizes = dict(zip(("bore", "outside", "thickness"), cells, strict=True))
    if row["thickness_max_mm"]:
        # ISO 7089 and 7091 take the same from below as they add above (from memory).
        more = mm(row["thickness_max_mm"]).value - sizes["thickness"].value
        sizes["thickness"] = StoredSize(sizes["thickness"].value, -more, more)
    standard, nominal = row["standard"], row["nominal"]
    series = row["series"] if standard.startswith("ASME") else ""
    number = " ".join(text for text in (standard, series, nominal) if text)
    spelled = [Spelling(number)]
    if standard.startswith("DIN"):
        spelled.append(Spelling(f"{standard} {row['id_mm']}", 1.0, "alias"))
    elif not series:
        spelled.append(Spelling(f"{standard} {nominal.removeprefix('M')}", 1.0, "alias"))
    words = f"flat washer for {nominal}, {row['series']}".lower()
    return make(row, number, ("washer", "flat washer", words), sizes, spelled)


_PIN_TYPE = {
    "split (cotter) pin": "split pin",
    "dowel (parallel) pin": "parallel pin",
    "dowel pin (hardened ground machine)": "parallel pin",
    "spring (roll) pin, slotted, heavy": "spring pin",
    "spring (roll) pin, slotted, light": "spring pin",
    "clevis pin without head": "clevis pin",
    "clevis pin with head": "clevis pin",
    "parallel key": "parallel key",
    "parallel key (square)": "parallel key",
    "Woodruff key": "woodruff key",
}


def pin_or_key(row: Row) -> Part:
    """Split, parallel, spring and clevis pins, and keys, from one table."""
    return _key(row) if "key" in row["kind"] else _pin(row)


def _size(row: Row, cell: str) -> StoredSize:
    return mm(cell) if row["unit"] == "mm" else decimal_inch(cell)


def _pin(row: Row) -> Part:
    """A pin's ``diameter`` is what it measures; its ``hole`` is what it is named by."""
    type_ = _PIN_TYPE[row["kind"]]
    own = row["diameter"] or row["diameter_min"] or row["diameter_max"]
    if type_ == "split pin" and row["diameter_max"]:
        own = row["diameter_max"]  # the inch table's diameter is a name: it measures less
    sizes = {"diameter": between(_size(row, own), *_ends(row))}
    sizes["cross-hole" if type_ == "clevis pin" else "hole"] = _size(row, _first(row))
    if row["head_or_outer_diameter"]:
        sizes["head"] = _size(row, row["head_or_outer_diameter"])
    if type_ == "spring pin":
        sizes["thickness"] = _size(row, row["wire_or_wall"])
    number = f"{row['standard'].partition(' (')[0]} {row['nominal']}"
    words = f"{type_}, {row['nominal']} {row['unit']}"
    if "," in row["kind"]:
        words += row["kind"].rpartition(",")[2]
    elif type_ == "clevis pin":
        words += row["kind"].removeprefix("clevis pin")
    part = make(row, number, ("pin", type_, words), sizes, [Spelling(number)])
    return noted(part, row["note"], _lengths(row))


def _first(row: Row) -> str:
    """The hole's diameter; some cells have a suggested range after it."""
    return row["hole_diameter"].split(" ")[0]


def _ends(row: Row) -> tuple[StoredSize | None, StoredSize | None]:
    low, high = row["diameter_min"], row["diameter_max"]
    return (_size(row, low) if low else None, _size(row, high) if high else None)


def _lengths(row: Row) -> str:
    if not row["length_min"]:
        return ""
    return f"made in lengths of {row['length_min']} to {row['length_max']} {row['unit']}"


_WOODRUFF_LIMITS = {"width": "0.0254/0", "height": "0/-0.127", "diameter": "0/-0.254"}
"""ANSI B17.2, inch keys: +0.001, -0.005 and -0.010 in, as a public handbook prints the table."""


def _key(row: Row) -> Part:
    """A key's ``width`` and ``height``, and a Woodruff key's ``diameter``."""
    type_ = _PIN_TYPE[row["kind"]]
    sizes = {name: _size(row, row[name]) for name in ("width", "height", "diameter") if row[name]}
    if type_ == "woodruff key" and row["unit"] == "in":
        sizes = {name: limits(size, _WOODRUFF_LIMITS[name]) for name, size in sizes.items()}
    nominal = row["nominal"].replace(" ", "")
    standards = row["standard"].split(" / ")
    number, *others = (f"{name} {nominal}" for name in standards)
    spelled = [Spelling(number), *(Spelling(text, 1.0, "alias") for text in others)]
    if "DIN 6885-1" in row["standard"]:
        spelled += [Spelling(f"DIN 6885 {nominal}", 1.0, "alias")]
    if type_ == "woodruff key":
        spelled += [Spelling(f"WOODRUFF {nominal}", 1.0, "alias")]
        if old := re.match(r"old key number (\w+)", row["note"]):
            spelled.append(Spelling(f"WOODRUFF No. {old[1]}", 0.5, "alias"))
    words = f"{type_}, {nominal}"
    part = make(row, number, ("key", type_, words), sizes, spelled)
    return noted(part, _shaft(row), row["note"] if type_ == "woodruff key" else "", _lengths(row))


def _shaft(row: Row) -> str:
    if not row["shaft_from"]:
        return ""
    return f"for shafts over {row['shaft_from']} up to {row['shaft_to']} {row['unit']}"


def taper_pin(row: Row) -> Part:
    """Taper pins 1:50, named by the small end; the large end follows from the length."""
    size = row["size_mm"]
    number = f"ISO 2339 {size}"
    spelled = [Spelling(number), Spelling(f"DIN 1 {size}", 1.0, "alias")]
    said = (
        f"taper 1:50: the large end is {size} mm + length / 50; made in lengths of "
        f"{row['min_length_mm']} to {row['max_length_mm']} mm"
    )
    words = f"taper pin, {size} mm"
    part = make(row, number, ("pin", "taper pin", words), {"small-end": mm(size)}, spelled)
    return noted(part, said)


SIZES_ALONE = 0.5
"""14x18x1.5 for a copper washer: usual, but seals and bushes are written so too. Judged."""


def sealing_washer(row: Row) -> Part:
    """Flat sealing rings of DIN 7603: bore, outside and thickness."""
    nominal = row["nominal_inner_mm"]
    three = (nominal, row["outer_mm"], row["thickness_mm"])
    own = (row["inner_mm"] or nominal, *three[1:])
    names = ("bore", "outside", "thickness")
    sizes = {name: mm(cell) for name, cell in zip(names, own, strict=True)}
    number = f"DIN 7603 A {'x'.join(three)}"
    spelled = [Spelling(number), Spelling(number.replace(" A ", " "), 1.0, "alias")]
    spelled.append(Spelling("x".join(three), SIZES_ALONE, "alias"))
    what = ("washer", "sealing washer", f"sealing washer, {row['kind']}")
    return noted(make(row, number, what, sizes, spelled), _fits(row["fits_thread"]))


def _fits(threads: str) -> str:
    return f"goes on {threads.replace(' ', ' or ')}" if re.fullmatch(r"\S+( \S+)?", threads) else ""


def disc_spring(row: Row) -> Part:
    """Disc springs of DIN 2093."""
    sizes = {
        "outside": mm(row["outer_mm"]),
        "bore": mm(row["inner_mm"]),
        "thickness": mm(row["thickness_mm"]),
    }
    if row["free_height_mm"]:
        sizes["height"] = mm(row["free_height_mm"])
    number = f"DIN 2093 {row['series']} {row['outer_mm']}"
    words = f"disc spring, series {row['series']}".lower()
    return make(row, number, ("washer", "disc spring", words), sizes, [Spelling(number)])
