"""What a check leaves on paper: a truing sheet for each garment, and its findings drawn."""

from __future__ import annotations

import re
from pathlib import Path

from clothwise.checks import Derived
from clothwise.checks.truing import truing
from clothwise.output.findings_pages import FindingSheet, findings_pdf
from clothwise.output.truing_sheet import truing_pdf
from clothwise.packet.whole_check import Checked, CheckedDraft
from clothwise.pattern.saving import write_atomically

FINDINGS_FILE = "findings.pdf"
TRUING_FILE = "truing-sheet.pdf"


def write_report(found: Checked, folder: Path) -> tuple[tuple[Path, str], ...]:
    """Write the files and return each with what it is.

    There is always a file of findings, so that one from an earlier check does not stay behind.
    """
    title = found.words[0] if len(found.words) <= 2 else "Findings"
    files = [(folder / FINDINGS_FILE, findings_pdf(_sheets(found), title=title), _counted(found))]
    garments = _garments(found)
    for garment, drafts in garments.items():
        name = TRUING_FILE if len(garments) == 1 else f"truing-sheet-{_slug(garment)}.pdf"
        derived = [each for draft in drafts if (each := draft.derived) is not None]
        if derived:
            what = f"truing sheet of {garment}"
            files.append((folder / name, _truing(garment, drafts, derived), what))
    folder.mkdir(parents=True, exist_ok=True)
    for path, data, _ in files:
        write_atomically(path, data)
    return tuple((path, what) for path, _, what in files)


def _counted(found: Checked) -> str:
    number = len(found.groups)
    return f"{number} finding{'' if number == 1 else 's'}, numbered at the place"


def _garments(found: Checked) -> dict[str, list[CheckedDraft]]:
    garments: dict[str, list[CheckedDraft]] = {}
    for draft in found.drafts:
        garments.setdefault(draft.garment, []).append(draft)
    return garments


def _truing(garment: str, drafts: list[CheckedDraft], derived: list[Derived]) -> bytes:
    sizes = [draft.size for draft in drafts if draft.derived is not None]
    return truing_pdf("Truing sheet", garment, sizes, truing(derived), unit=drafts[0].unit)


def _sheets(found: Checked) -> list[FindingSheet]:
    """The findings of the range first, then one sheet for each draft with new ones."""
    groups = found.groups
    if not groups:
        return [FindingSheet(", ".join(found.words), "No findings.", None, ())]
    sheets = []
    for number, draft in enumerate((None, *found.drafts)):
        here = tuple(group for group in groups if group.draft == number)
        if not here:
            continue
        if draft is None:
            title, subtitle, pattern = found.words[0], "size chart and grading", None
        else:
            pattern = draft.derived.pattern if draft.derived is not None else None
            title, subtitle = draft.garment, f"as drafted for {draft.size}"
        sheets.append(FindingSheet(title, subtitle, pattern, here))
    return sheets


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:60] or "garment"
