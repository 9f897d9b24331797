"""`python -m clothwise.app FOLDER` opens the designs in FOLDER, as `clothwise open` does."""

from __future__ import annotations

import sys
from pathlib import Path


def main() -> None:
    """Serve the workspace named by the first argument, on this computer only."""
    from clothwise.app.opened_folder import open_folder

    open_folder(Path(sys.argv[1]) if len(sys.argv) > 1 else None)


if __name__ == "__main__":
    main()
