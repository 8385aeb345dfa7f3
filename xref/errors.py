"""The one family of errors: what went wrong, and what to do about it.

Library code raises these and never prints; the command line turns each into one line and an
exit code (1 the answer is no, 2 wrong usage, 3 the store or a file could not be used).
"""

from __future__ import annotations


class XrefError(Exception):
    """Base of every error a user may see.

    ``message`` says what is wrong in one sentence; ``hint`` says what to do next ("" where there
    is nothing to add); ``kind`` is the stable word that stands in the JSON form.
    """

    kind = "error"
    exit_code = 3

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint

    def to_json(self) -> dict[str, dict[str, str]]:
        """The error as its JSON document, ``{"error": {...}}``."""
        return {"error": {"kind": self.kind, "message": self.message, "hint": self.hint}}


class InputError(XrefError):
    """Something the user typed could not be understood: exit 2."""

    kind = "usage"
    exit_code = 2


class NotFoundError(XrefError):
    """It was understood, and there is no such thing: exit 1."""

    kind = "not found"
    exit_code = 1


class AmbiguousError(InputError):
    """Several things answer to one name: exit 2, with the choices in the hint."""

    kind = "ambiguous"


class StoreError(XrefError):
    """The store could not be used: exit 3."""

    kind = "store"


class BusyStoreError(StoreError):
    """Another is writing to the store, and was for longer than one waits."""


class FileError(XrefError):
    """A file other than the store could not be used: exit 3."""

    kind = "file"
