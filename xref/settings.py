"""Where the store lies: the option, the variable, or the user's data folder."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "XREF_STORE"
MEMBER = "XREF_MEMBER"
MEMBER_MOST = 40
"""Characters of a member's name that are kept."""
FILE_NAME = "store.xref"


def store_target(option: str | None) -> str:
    """The path or URL of the store: ``option``, else the variable, else the data folder."""
    given = option or os.environ.get(VARIABLE)
    if given:
        return given
    return str(data_folder() / FILE_NAME)


def data_folder() -> Path:
    """The user's folder for what this program keeps; it may not be there yet."""
    import platformdirs

    return Path(platformdirs.user_data_dir("xref", appauthor=False))


def member_name() -> str:
    """Who works here, for a store that several share: the variable, else the user's login name.

    "somebody" where the system knows no name.
    """
    given = " ".join(os.environ.get(MEMBER, "").split())
    if given:
        return given[:MEMBER_MOST]
    import getpass

    try:
        return getpass.getuser()[:MEMBER_MOST]
    except (OSError, KeyError, ImportError):
        return "somebody"
