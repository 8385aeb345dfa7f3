"""O-rings by GOST 9833: ``030-035-30`` is rod, cylinder and section in tenths of a millimetre."""

from __future__ import annotations

import re

from xref.designation.oring_number import RUBBER_RING, Call
from xref.designation.reading import Feature
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM

_NUMBER = re.compile(
    r"(?P<rod>\d{3}(?:[,.]5)?)-(?P<cylinder>\d{3}(?:[,.]5)?)-(?P<section>\d\d)(?:-(?P<group>\d)(?:-(?P<rubber>\d))?)?"
    r"(?![0-9A-Z]|[.,-][0-9])\s*(?:[/,]?\s*(?:GOST|ГОСТ)[ -]*(?:9833|18829)(?:-\d+)?)?(?P<rest>.*)",
    re.DOTALL,
)
_SECTIONS = ("14", "19", "25", "30", "36", "46", "58", "75", "85")
"""The sections of GOST 9833-73 in tenths of a millimetre."""

_LEAST, _MOST = 0.25, 1.5
"""The gap between rod and cylinder, halved, in sections; in the standard's rows it is 0.28 to 1.4
but for two. Judged."""

_TAIL = (
    ("group", "accuracy group {} of GOST 9833 (from memory)"),
    ("rubber", "rubber group {} of GOST 18829 (from memory)"),
)


def gost_call(text: str, *, named: bool) -> Call | None:
    """The ring of a GOST 9833 number; None for three sizes that are no such ring.

    Without a leading zero it may be a bush or a seal as well (100-110-58), unless ``named``.
    """
    found = _NUMBER.fullmatch(text)
    if found is None or found["section"] not in _SECTIONS:
        return None
    rod, cylinder = (float(found[name].replace(",", ".")) for name in ("rod", "cylinder"))
    tenths = int(found["section"])
    if not rod or not _LEAST <= (cylinder - rod) * 5 / tenths <= _MOST:
        return None
    number = f"{found['rod']}-{found['cylinder']}-{found['section']}".replace(".", ",")
    sure = named or found["rod"].startswith("0") or found["group"] is not None
    return Call(
        designation=number,
        numbering="GOST 9833",
        standard="GOST 9833-73",
        rest=found["rest"],
        certain=True,
        sizes={"section": tenths * NM_PER_MM // 10},
        features=tuple(
            Feature(found[name], said.format(found[name]), "common usage")
            for name, said in _TAIL
            if found[name]
        ),
        note=f"for a rod of {rod:g} mm in a cylinder of {cylinder:g} mm, section "
        f"{tenths / 10:g} mm; its inside diameter is a little less than the rod",
        decided_by="" if sure else RUBBER_RING,
        canonical="-".join(piece for piece in (number, found["group"], found["rubber"]) if piece),
    )


def is_gost_ring(text: str) -> bool:
    """Whether ``text`` is surely a GOST 9833 ring, and so no bush and no lip seal."""
    call = gost_call(plain(text).strip(), named=False)
    return call is not None and not call.decided_by
