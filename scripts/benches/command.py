"""One command of xref, run within this process."""

from __future__ import annotations

import contextlib
import io
from pathlib import Path

from xref.cli.app import main


def command(path: Path, *args: str) -> tuple[int, str]:
    """Run ``xref --store PATH ARGS``; its exit code, and what it said on standard error."""
    said, complaint = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(complaint):
        code = main(["--store", str(path), *args])
    return code, complaint.getvalue()
