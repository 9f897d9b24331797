"""`python -m clothwise.app.contract [FILE]` writes docs/reference/api.json, or FILE, anew."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from clothwise.app.contract import openapi
from clothwise.pattern.saving import write_atomically

KEPT = "docs/reference/api.json"

if __name__ == "__main__":
    path = Path(sys.argv[1] if len(sys.argv) > 1 else KEPT)
    write_atomically(path, json.dumps(openapi(), indent=2, ensure_ascii=False) + "\n")
