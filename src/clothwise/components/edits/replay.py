"""Makes the edits of a design, each at its time; one that cannot be made becomes a finding."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from clothwise.components.edits.cutting_lines import refuse_uncut
from clothwise.components.edits.edit import Edit, Editing
from clothwise.components.edits.registry import edit_class
from clothwise.components.steps import Steps
from clothwise.errors import ComponentError, GeometryError
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.finding import Finding, Severity
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import plain_name

CODE = "EDIT-LOST"


class Replay:
    """The edits that are still to be made while a design is drafted; `made` names the others."""

    def __init__(
        self, design: Design, arguments: Mapping[str, Mapping[str, Any]], steps: Steps
    ) -> None:
        """Take the edits that are there with these choices.

        Args:
            design: whose edits they are.
            arguments: what each is made with, by its name.
            steps: the pattern so far, which they change.
        """
        self._design, self._steps = design, steps
        self.made: list[str] = []
        self._waiting = [
            (entry, edit_class(entry.kind)(**arguments[entry.name]))
            for entry in design.edits
            if entry.name in arguments
        ]

    def after(self, component: str) -> None:
        """Make the edits whose time has come with a component."""
        for entry, edit in [*self._waiting]:
            if entry.after:
                its_time = entry.after == component
            else:
                its_time = (
                    not edit.comes_last
                    and set(edit.concerns) <= self._steps.pattern.pieces.keys()
                    and not self._is_held_up(entry, edit)
                )
            if its_time:
                self._make(entry, edit)

    def _is_held_up(self, entry: EditEntry, edit: Edit) -> bool:
        """Whether an edit before it, which is still to be made, gives its piece other edges."""
        for other, before in self._waiting:
            if other is entry:
                return False
            if before.others_wait and set(before.concerns) & set(edit.concerns):
                return True
        return False

    def at_the_end(self) -> None:
        """Make all edits that are left, in their order."""
        for entry, edit in [*self._waiting]:
            self._make(entry, edit, is_complete=True)

    def _make(self, entry: EditEntry, edit: Edit, *, is_complete: bool = False) -> None:
        """Make an edit, or find that it is lost; once complete, all must still be cut."""
        self._waiting.remove((entry, edit))
        pattern = self._steps.pattern
        editing = Editing(entry.name, self._design.seam_allowance_mm, tuple(self._design.roles))

        def make() -> Pattern:
            edited = edit.apply(pattern, editing)
            if is_complete:
                refuse_uncut(pattern, edited)
            return edited

        try:
            self._steps.edit(edit, editing, is_complete, make)
        except (ComponentError, GeometryError) as error:
            self._steps.find(_lost(entry, edit, error, pattern))
            return
        self.made.append(entry.name)


def lost_start(entry: EditEntry) -> str:
    """What begins the finding of an edit that is not made.

    >>> lost_start(EditEntry("vent-2", "vent", {})), lost_start(EditEntry("deep", "vent", {}))
    ('The edit vent 2 is not made: ', 'The edit deep (vent) is not made: ')
    >>> lost_start(EditEntry("edit-2", "vent", {}))
    'The edit 2 (vent) is not made: '
    """
    of = "" if entry.name.startswith(entry.kind) else f" ({plain_name(entry.kind)})"
    return f"The edit {plain_name(entry.name).removeprefix('edit ')}{of} is not made: "


def newly_lost(before: Pattern | None, after: Pattern) -> tuple[Finding, ...]:
    """The findings of edits that are not made in a pattern, but for those that were there before.

    Args:
        before: the pattern before a change; None if there was none.
        after: that after it.
    """
    known = {finding.message for finding in before.findings} if before else set()
    return tuple(
        finding
        for finding in after.findings
        if finding.code == CODE and finding.message not in known
    )


def lost_edits(pattern: Pattern, edits: Sequence[EditEntry]) -> Iterator[tuple[EditEntry, str]]:
    """The edits that are not made in a pattern, each with the reason, without a period."""
    for finding in pattern.findings:
        for edit in edits if finding.code == CODE else ():
            start = lost_start(edit)
            if finding.message.startswith(start):
                yield edit, finding.message.removeprefix(start).rstrip(".")


def _lost(
    entry: EditEntry, edit: Edit, error: ComponentError | GeometryError, pattern: Pattern
) -> Finding:
    piece = next((name for name in edit.concerns if name in pattern.pieces), "")
    remedy = error.what_to_do or "Change the edit or what comes before it"
    return Finding(
        code=CODE,
        severity=Severity.ERROR,
        message=f"{lost_start(entry)}{error.what}.",
        remedy=f"{remedy.rstrip('.')}. If it is not meant here, take it out, or let it be made for "
        "some choices only.",
        piece=piece,
        size=pattern.size,
        measured=error.how_much or "not made",
        allowed="made in every size",
    )
