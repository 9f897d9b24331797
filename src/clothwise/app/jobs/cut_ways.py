"""Where in the Draft room a garment is mended that cannot be drawn."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.ways import Way
from clothwise.app.work.job import Tell, Worker

__all__ = ["WaysOf"]

_STATED = re.compile(r"\$\.components\.([\w-]+)")


@dataclass(frozen=True)
class WaysOf(MakeJob):
    """The components that a refusal speaks of, each with its place in the Draft room.

    Attributes:
        said: the refusal, in words.
    """

    worker: ClassVar[Worker] = "back"

    said: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[Way, ...]:
        """Return them, none if it speaks of none or the design cannot be read."""
        from clothwise.app.jobs._ways import ways_out
        from clothwise.errors import ClothwiseError
        from clothwise.pattern.document import parse_design
        from clothwise.pattern.plain_names import plain_name

        with suppress(ClothwiseError):
            design = parse_design(self.documents["design.yaml"], file="design.yaml")
            stated = [plain_name(name) for name in _STATED.findall(self.said)]
            said = ", ".join(stated) or self.said  # the place in the document says it best
            found = ways_out(said, design, None)
            return tuple(way for way in found if way.target.startswith("part-"))
        return ()
