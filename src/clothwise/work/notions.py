"""What to buy beside cloth: what the components ask for, and the thread."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.pattern.operation import Notion, NotionUnit
from clothwise.pattern.pattern import Pattern
from clothwise.units import LengthUnit, amount_to_buy
from clothwise.work.thread import WASTE_SHARE, ThreadNeed, thread_need

_SPOOL = "100 m (about 110 yd)"


@dataclass(frozen=True)
class NotionLine:
    """One line of the shopping list; `amount` is ready to show, rounded as shops sell it."""

    name: str
    amount: str
    detail: str = ""


def merged_notions(pattern: Pattern) -> tuple[Notion, ...]:
    """The components' notions, equal ones added up, in the order they were asked for.

    Equal are those with the same name, unit and detail: two sizes of button stay two lines.
    """
    table: dict[tuple[str, NotionUnit, str], Notion] = {}
    for notion in pattern.notions:
        key = (notion.name, notion.unit, notion.detail)
        known = table.get(key)
        amount = notion.amount + (known.amount if known else 0.0)
        table[key] = Notion(notion.name, amount, notion.unit, notion.detail, notion.component)
    return tuple(table.values())


def notions(
    pattern: Pattern, unit: LengthUnit = LengthUnit.CENTIMETER, thread: ThreadNeed | None = None
) -> tuple[NotionLine, ...]:
    """The shopping list for a reader of `unit`: notions, then thread.

    Lengths are rounded up to 0.1 m or 1/8 yd. Pass `thread` to save work if it is known.
    """
    need = thread or thread_need(pattern)
    lines = [notion_line(notion, unit) for notion in merged_notions(pattern)]
    return (*lines, thread_line(need)) if need.stitchings else tuple(lines)


def notion_line(notion: Notion, unit: LengthUnit = LengthUnit.CENTIMETER) -> NotionLine:
    """One notion as it stands on a list."""
    return NotionLine(notion.name, _amount(notion, unit), notion.detail)


def thread_line(need: ThreadNeed) -> NotionLine:
    """Thread as it stands on a list."""
    meters = need.thread_mm / 1000
    spools = f"{need.spools} spool{'' if need.spools == 1 else 's'} of {_SPOOL}"
    detail = f"about {meters:.0f} m, machine and overlock, {WASTE_SHARE:.0%} waste included"
    return NotionLine("thread", spools, detail)


def _amount(notion: Notion, unit: LengthUnit) -> str:
    if notion.unit is NotionUnit.PIECES:
        return f"{notion.amount:g}"
    return amount_to_buy(notion.amount, unit)
