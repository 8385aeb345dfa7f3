"""``python -m xref`` and the ``xref`` command."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line and leave with its exit code."""
    from xref.cli.app import main as run

    sys.exit(run())


if __name__ == "__main__":
    main()
