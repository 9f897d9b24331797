"""The steps of a draft, kept: what follows the same steps with the same values is made once.

A component or an edit makes its part from the pattern so far, the body and its own values, and from
nothing else. So who moves a pocket need not wait for bodice and sleeve, which come before it and
are as they were. Values are compared as Python writes them, which tells every digit.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import replace
from itertools import count
from threading import Lock

from clothwise.components.component import Component, Drafting
from clothwise.components.edits.edit import Edit, Editing
from clothwise.pattern.finding import Finding
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern

__all__ = ["STEPS_KEPT", "Steps", "forget_steps"]

STEPS_KEPT = 500
"""In one process; our own choice. Sixty drafts of the dress, of thirty bodies in two views, took
480 and 9 MB: they share pieces."""

_kept: OrderedDict[Hashable, tuple[int, Pattern]] = OrderedDict()
"""What a step led to, with a number of its own, by the number of the step before it and itself."""

_numbers = count(1)
_lock = Lock()


class Steps:
    """A pattern that grows step by step.

    Attributes:
        pattern: as it is after the last step.
    """

    def __init__(self, body: Body, size: str, stretch: dict[str, float]) -> None:
        """Begin without any piece; `size` and `stretch` are those of a `Pattern`.

        Of a body that does more than tell its measurements, such as note which are asked for, no
        step is kept or taken over: what it does would be done once only.
        """
        self.pattern = Pattern(size=size, stretch=stretch)
        self._is_plain = type(body) is Body
        self._before: Hashable = (repr(body), size, repr(stretch))

    def draft(
        self,
        component: Component,
        drafting: Drafting,
        also: Hashable,
        make: Callable[[], Pattern],
    ) -> None:
        """Take the step of a component.

        Args:
            component: with its values.
            drafting: what it drafts from.
            also: what the result depends on beside them.
            make: makes the pattern after this step; what it raises passes, and no step is taken.
        """
        kind = type(component)
        beside = repr(replace(drafting, body=_NOBODY, pattern=_NO_PATTERN))
        # The functions too: a test may put others in their place.
        self._take((kind, kind.rework, kind.contribute, repr(component), beside, also), make)

    def edit(
        self, edit: Edit, editing: Editing, also: Hashable, make: Callable[[], Pattern]
    ) -> None:
        """Take the step of an edit, as `draft` takes that of a component."""
        kind = type(edit)
        self._take((kind, kind.apply, repr(edit), repr(editing), also), make)

    def find(self, finding: Finding) -> None:
        """Add what was found to the pattern so far."""
        before = self.pattern
        self._take(repr(finding), lambda: replace(before, findings=(*before.findings, finding)))

    def _take(self, step: Hashable, make: Callable[[], Pattern]) -> None:
        if not self._is_plain:
            self.pattern = make()
            return
        key = (self._before, step)
        with _lock:
            taken = _kept.get(key)
        if taken is None:
            taken = (next(_numbers), make())
        with _lock:
            _kept[key] = taken
            _kept.move_to_end(key)
            while len(_kept) > STEPS_KEPT:
                _kept.popitem(last=False)
        self._before, self.pattern = taken


def forget_steps() -> None:
    """Let the next draft make each of its steps anew: for who measures how long that takes."""
    with _lock:
        _kept.clear()


# The body is where a way begins, and the pattern so far is the way: a step need not tell them.
_NOBODY, _NO_PATTERN = Body("", ()), Pattern()
