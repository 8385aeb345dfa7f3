"""What books say of parts: ranges of serials, supersessions, interchanges, marks."""

from __future__ import annotations

from xref.services.changing import marks, pairs, ranges, steps
from xref.services.links.applies import applies
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.open.group import Group, reads, writes
from xref.services.parts import mark


class Ranges(Group):
    """Which serials of a model a part belongs on."""

    add = writes("applies", applies)
    listed = reads(ranges.listed)
    change = writes("applies change", ranges.change)
    remove = writes("applies remove", ranges.remove)


class Supersessions(Group):
    """What takes the place of what."""

    add = writes("supersede", supersede)
    listed = reads(steps.listed)
    change = writes("supersede change", steps.change)
    remove = writes("supersede remove", steps.remove)


class Interchanges(Group):
    """What will do for what."""

    add = writes("interchange", interchange)
    listed = reads(pairs.listed)
    change = writes("interchange change", pairs.change)
    remove = writes("interchange remove", pairs.remove)


class Marks(Group):
    """What stands on the metal of a part."""

    add = writes("mark add", mark.add)
    listed = reads(marks.listed)
    change = writes("mark change", marks.change)
    remove = writes("mark remove", marks.remove)
