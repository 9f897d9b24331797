"""What can be wrong with the work steps of a pattern.

ClothwiseError
└── WorkError              the steps do not fit the seam graph
    ├── CircularOrder      steps that wait for each other; carries the circle
    └── UnknownPlaceholder a step's wording asks for a value that nobody gives

A fault that the pattern itself has (an edge without a use, say) is a finding of `checks`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from clothwise.errors import ClothwiseError

if TYPE_CHECKING:
    from clothwise.work.precedence import Precedence


class WorkError(ClothwiseError):
    """Work steps that do not fit the pattern they belong to."""


class CircularOrder(WorkError):
    """Operations that wait for each other.

    `circle` holds the precedences in order; the last one leads back to the first operation.
    """

    def __init__(self, circle: Sequence[Precedence]) -> None:
        reasons = "; ".join(f"{one.first} before {one.then}, for {one.reason}" for one in circle)
        super().__init__(
            "these operations wait for each other: "
            + " → ".join([*(one.first for one in circle), circle[0].first]),
            where=", ".join(one.first for one in circle),
            how_much=reasons,
            what_to_do="Split one of these operations in two, or take back one of its demands.",
        )
        self.args = (tuple(circle),)
        self.circle = tuple(circle)


class UnknownPlaceholder(WorkError):
    """The wording of an operation has a placeholder without a value."""

    def __init__(self, operation: str, placeholder: str, known: Sequence[str]) -> None:
        super().__init__(
            f"the wording asks for {{{placeholder}}}, which has no value",
            where=f"operation {operation}",
            what_to_do="There are values for " + (", ".join(known) or "nothing") + ".",
        )
        self.args = (operation, placeholder, tuple(known))
        self.operation = operation
        self.placeholder = placeholder
