"""The kinds of part the tool knows, and how a user may shorten them."""

from __future__ import annotations

from xref.domain.number import visible
from xref.errors import InputError

KINDS: tuple[str, ...] = (
    "bearing",
    "bush",
    "shaft seal",
    "o-ring",
    "retaining ring",
    "washer",
    "pin",
    "key",
    "thread",
    "chain",
    "belt",
    "strip",
    "boot",
    "gasket",
    "gear",
    "casting",
    "ball",
    "roller",
    "other",
)


def kind_from(text: str) -> str:
    """The kind ``text`` names, in full or by an unambiguous beginning ("shaft" → "shaft seal").

    Case, and spaces against hyphens, do not matter. Raises InputError for none or several.
    """
    wanted = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    plain = {kind.replace("-", " "): kind for kind in KINDS}
    if wanted in plain:
        return plain[wanted]
    found = [kind for name, kind in plain.items() if wanted and name.startswith(wanted)]
    if len(found) == 1:
        return found[0]
    if found:
        raise InputError(
            f'kind "{visible(text)}" may be {" or ".join(found)}', "Write one more letter."
        )
    raise InputError(f'no kind is called "{visible(text)}"', "Kinds: " + ", ".join(KINDS) + ".")
