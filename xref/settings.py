"""Where the store lies: the option, the variable, or the user's data folder."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "XREF_STORE"
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
