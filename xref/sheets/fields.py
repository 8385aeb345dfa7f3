"""Columns that belong together in a row, and the words that stand in their cells.

An export writes them and an import reads them; a person may do either.
"""

from __future__ import annotations

PERHAPS_ON = "perhaps on"

MODELS = ("model", "does not fit", PERHAPS_ON)
"""Columns that name machine models: the part belongs there, is known not to, or belongs there on
serials that nobody could read."""

AS_FOUND = "serials as found"

RANGE = (
    "serial from",
    "serial to",
    "serials",
    "serials of",
    "assembly",
    "quantity",
    "range note",
    AS_FOUND,
)
"""What a row says of its models. ``serials of``: the component whose serials count; the last is how
the owner wrote serials that an export gives as they were understood."""

STEP = (
    "replaced as",
    "replaced on model",
    "replaced on serials",
    "replaced quantity",
    "change with",
    "replaced date",
    "replaced reason",
)
"""What a row says of the supersession in it: see ``services.superseding.supersede``."""

INTERCHANGE_NOTE = "interchange note"
ORDER_INSTEAD = "order instead"

PRICE = ("supplier", "price", "currency", "price date", "price note")

NO_SOURCE = "(none)"
"""Stands in the source column where it is on record that no source is named; an empty cell is the
file itself."""

SERVES_BACK, IN_CYCLE = "serves back", "in a cycle"
"""Words of "replaced as" beside one, set or choice: the old still serves where the new is asked
for; and the step is wanted although it closes a cycle."""

ONE_WAY, OTHER_WAY = "one way", "other way"
"""Words behind an interchange's grade: only this part serves for that, or only that for this."""

OWN_COLUMN = ("thread", "assembly", "quantity")
"""Facts of a part that are kept as text and have a column of their own in an export; of these,
assembly and quantity go with a machine where the row names one."""
