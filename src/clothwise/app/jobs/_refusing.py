"""In a worker: in which sizes a changed design cannot be drafted any more."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace

from clothwise.app.jobs._drafting import drafted, drafts, opened_design
from clothwise.app.jobs._refused import first_told, refused_in_words
from clothwise.app.jobs.refusing import RefusingSizesOf
from clothwise.app.work import JobRefused, Shown
from clothwise.errors import ClothwiseError
from clothwise.packet.elsewhere import Drafts, elsewhere
from clothwise.packet.nested_print import sizes_called
from clothwise.pattern.commands import command_from_data
from clothwise.pattern.first_letter import raised

__all__ = ["newly_refused", "refusing_words"]


def refusing_words(job: RefusingSizesOf, cancelled: Callable[[], bool]) -> str:
    """Say in which sizes a change leaves no pattern, or an edit is not made; empty for none.

    Raises:
        CommandError: the change cannot be made at all.
        DocumentError: the design has faults after it.
    """
    after = command_from_data(job.command).apply(job.documents)
    refused = newly_refused(job.shown, job.documents, after, job.unit, cancelled)
    edits = ""
    with suppress(ClothwiseError):  # the size that is shown is refused, which the board tells
        new = drafted(job.shown, after)
        old = Drafts(opened_design(job.documents), drafts(job.documents))
        seen = (new.choices, new.body)
        edits = elsewhere(old, Drafts(new.design, drafts(after)), seen, {}, cancelled).refused
    return " ".join(f"{raised(each)}." for each in (refused, edits) if each)


def newly_refused(
    shown: Shown,
    before: Mapping[str, str],
    after: Mapping[str, str],
    unit: str,
    cancelled: Callable[[], bool],
) -> str:
    """Say which sizes could be drafted and cannot be any more, and why.

    `cannot be drafted in sizes 48 to 52: the sleeve has no seam (in size 52: Make length 22 cm)`;
    empty for none. The remedy is that of the last size, which mostly needs most.

    Raises:
        DocumentError: the design has faults.
    """
    file = opened_design(after)
    found: dict[str, dict[str, JobRefused]] = {}
    for size in file.sizes:
        if cancelled():
            break
        try:
            drafted(replace(shown, size=size), after)
        except ClothwiseError as error:
            refused = refused_in_words(error, file.design, unit)
            if refused is not None and _drafts(replace(shown, size=size), before):
                what, _, _ = first_told(refused)
                found.setdefault(what, {})[size] = refused
    return "; ".join(_told(what, of, file.sizes) for what, of in found.items())


def _told(what: str, of: Mapping[str, JobRefused], known: tuple[str, ...]) -> str:
    sizes = [*of]
    where = sizes_called(sizes, known)
    remedy = of[sizes[-1]].what_to_do.rstrip(".")
    more = f" (in size {sizes[-1]}: {remedy})" if remedy else ""
    return f"cannot be drafted in {where}: {what}{more}"


def _drafts(shown: Shown, documents: Mapping[str, str]) -> bool:
    with suppress(ClothwiseError):
        drafted(shown, documents)
        return True
    return False
