"""In a worker: which of several sizes cannot be drafted, and why, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from clothwise.app.jobs._drafting import opened_design
from clothwise.app.jobs._refused import first_told, refused_in_words
from clothwise.app.work import REFUSED_SIZE, JobRefused
from clothwise.errors import ClothwiseError, DocumentError
from clothwise.packet.nested_print import in_size
from clothwise.pattern.document import parse_make

if TYPE_CHECKING:
    from clothwise.app.jobs.cut_making import MakeJob
    from clothwise.packet.making import Making

__all__ = ["named_size", "worked_out"]


def named_size(
    error: ClothwiseError, making: Making, sizes: Sequence[str], unit: str, instead: str
) -> ClothwiseError:
    """Return why the first of the sizes that cannot be drafted cannot; else the error itself.

    Args:
        error: what several sizes together were refused with.
        making: the garment.
        sizes: of the chart.
        unit: `cm` or `in`; empty takes that of the design.
        instead: what else can be done, in a sentence.
    """
    for size in sizes:
        try:
            _ = in_size(making, size).pattern
        except ClothwiseError as cause:
            told = refused_in_words(cause, making.file.of.design, unit)
            return _told(told, size, instead) if told else error
    return error


def worked_out(job: MakeJob, instead: str = "") -> Making:
    """Return the garment of a job; one that cannot be drafted is refused by its size, in words.

    Raises:
        ClothwiseError: it cannot be drafted, or its documents have faults.
    """
    try:
        making = job.making()
        _ = making.pattern
        return making
    except ClothwiseError as error:
        faults = error.faults if isinstance(error, DocumentError) else ()
        if any(not fault.path.startswith("$.components") for fault in faults):
            raise  # of the documents themselves, told with their lines
        file = opened_design(job.documents)
        make = parse_make(job.documents[job.make], file=job.make)
        size = make.size or ("" if make.body or make.measurements else file.design.base_size)
        told = refused_in_words(error, file.design, job.unit)
        raise (_told(told, size, instead) if told and size in file.sizes else error) from error


def _told(cause: JobRefused, size: str, instead: str) -> JobRefused:
    what, how_much, remedy = first_told(cause)
    what_to_do = f"{remedy.rstrip('.')}. {instead}".strip(" .") + "."
    return JobRefused(
        f"size {size} cannot be drafted: {what}",
        where=size,
        how_much=how_much,
        what_to_do=what_to_do,
        kind=REFUSED_SIZE,
        text=f"size {size} cannot be drafted: {what}. {what_to_do}",
    )
