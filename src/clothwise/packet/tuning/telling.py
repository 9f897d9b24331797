"""What was found, in sentences: each word of them comes from the layouts that were compared."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from clothwise.packet.both_units import amounts
from clothwise.packet.tuning.dimension import Dimension, Point
from clothwise.packet.tuning.search import Found
from clothwise.packet.tuning.sensitivity import ClothChange
from clothwise.packet.tuning.side_by_side import SideBySide, gained
from clothwise.packet.tuning.trial import ClothTried, Goal, Measure
from clothwise.units import (
    LengthUnit,
    format_length,
    meters_to_buy,
    yards_to_buy,
)

__all__ = [
    "adjusted_fields",
    "adjusted_lines",
    "change_words",
    "found_sentences",
    "money",
    "reason",
    "verdict",
]

_MOST_ROWS = 2  # told in one sentence
_COUNTS = {2: "two", 3: "three", 4: "four"}
SMALLER_SHARE = 0.7
"""If so much of what is saved is area of the pieces, that is the reason. Our own choice."""


def change_words(dimensions: Sequence[Dimension], point: Point, unit: LengthUnit) -> str:
    """Return what differs from the make: `0.8 cm less flare and 1 cm more hem depth`."""
    told = [
        dimension.told(number, unit)
        for dimension, number in zip(dimensions, point, strict=True)
        if number != dimension.start
    ]
    return _and(told)


def found_sentences(
    found: Found, dimensions: Sequence[Dimension], unit: LengthUnit
) -> tuple[str, ...]:
    """Return what a search found: the change and what it does, why, and how sure that is."""
    if found.after.point == found.before.point:
        said = (
            "Nothing that was tried within the limits saves cloth."
            if found.is_whole
            else "Nothing that saves cloth was found so far."
        )
        return (f"{said} {_tries(found)}",)
    told = [_headline(found, dimensions, unit), *_more_changes(found, unit)]
    widths = reason(found)
    if widths:
        told.append(_width_sentence(widths[0], unit))
    return (*told, _spread(found, unit), _tries(found))


def reason(found: Found) -> tuple[SideBySide, ...]:
    """Return the pieces that find room side by side on the cloth of which most is saved."""
    main = _main(found)
    if main is None or not (main.before_mm and main.after_mm):
        return ()
    before, after = (each.cloths[main.fabric] for each in (found.before, found.after))
    return gained(before, after)


def verdict(change: ClothChange, unit: LengthUnit) -> str:
    """Return how sure a change is, from the seeds it was laid out with."""
    if len(change.before_mm) < 2 and len(change.after_mm) < 2:
        return "one layout each"
    low, high = signed_length(change.least_mm, unit), signed_length(change.most_mm, unit)
    if low == high:
        return "the same each time"
    return f"{low} to {high}" + ("" if change.is_clear else ", may be chance")


def signed_length(length_mm: float, unit: LengthUnit) -> str:
    """Return more or less cloth with its sign; zero has none."""
    told = format_length(abs(length_mm), unit)
    if told == format_length(0.0, unit):
        return told
    return f"{'−' if length_mm < 0 else '+'}{told}"


def adjusted_lines(found: Found) -> tuple[str, ...]:
    """Return the lines of the make that take over what was found."""
    before, after = found.before.file.make, found.after.file.make
    lines = []
    if after.adjust != before.adjust:
        inside = ", ".join(f"{name}: {text}" for name, text in after.adjust.items())
        lines.append(f"adjust: {{{inside}}}")
    if after.choices != before.choices:
        inside = ", ".join(f"{name}: {text}" for name, text in after.choices.items())
        lines.append(f"choices: {{{inside}}}")
    return tuple(lines)


def adjusted_fields(found: Found) -> dict[str, str]:
    """Return the same as fields of the make: `adjust.skirt_flare` to its text, for `SetMake`."""
    before, after = found.before.file.make, found.after.file.make
    tables = {
        "adjust": (before.adjust, after.adjust),
        "choices": (before.choices, after.choices),
    }
    return {
        f"{table}.{name}": new.get(name, "")
        for table, (old, new) in tables.items()
        for name in {**old, **new}
        if old.get(name) != new.get(name)
    }


def searches_sentence(
    found: Sequence[Found], dimensions: Sequence[Dimension], unit: LengthUnit
) -> str:
    """Return how far chance goes from search to search."""
    each = [
        f"{_figure(one.saved, one.measure, unit)} ({_values(one, dimensions, unit)})"
        for one in found
    ]
    return f"{len(found)} searches saved {_and(each)}."


def money(amount: float, measure: Measure) -> str:
    """Return a cost with its currency: `13.50 EUR`."""
    return f"{amount:.2f} {measure.currency}".strip()


def _values(found: Found, dimensions: Sequence[Dimension], unit: LengthUnit) -> str:
    return change_words(dimensions, found.after.point, unit) or "nothing changed"


def _figure(amount: float, measure: Measure, unit: LengthUnit) -> str:
    if measure.goal is Goal.COST:
        return money(amount, measure)
    return _length(amount, unit) if measure.goal is Goal.LENGTH else f"{amount / 1e6:.2f} m²"


def _headline(found: Found, dimensions: Sequence[Dimension], unit: LengthUnit) -> str:
    words = change_words(dimensions, found.after.point, unit)
    several = sum(a != b for a, b in zip(found.after.point, found.before.point, strict=True)) > 1
    choice = any(
        dimension.is_choice and number != dimension.start
        for dimension, number in zip(dimensions, found.after.point, strict=True)
    )
    main = _main(found)
    if main is None:
        return f"{words}: nothing changes."
    saved = f"{_length(-main.change_mm, unit)} of {main.title} saved"
    rows = reason(found)[:_MOST_ROWS]
    if rows:
        comma = "," if len(rows) > 1 else ""
        beside = f"{', and '.join(_row(row) for row in rows)}{comma} lie side by side: {saved}."
        lets = ". Then" if choice else " let" if several else " lets"
        return f"{words}{lets} {beside}"
    if main.pieces_mm <= SMALLER_SHARE * main.change_mm:
        return f"{words}: the pieces are smaller, {saved}."
    if main.pieces_mm > 0:
        return f"{words}: {saved}, though the pieces are larger."
    smaller = _length(-main.pieces_mm, unit)
    return f"{words}: {saved}, of which {smaller} because the pieces are smaller."


def _main(found: Found) -> ClothChange | None:
    """The fabric on which most is saved, in the figure that was to be lowered."""
    weights = found.measure.weights
    return min(
        found.changes,
        key=lambda change: weights[change.fabric] * change.change_mm,
        default=None,
    )


def _more_changes(found: Found, unit: LengthUnit) -> list[str]:
    main = _main(found)
    told = []
    for change in found.changes:
        if main is not None and change.fabric != main.fabric and abs(change.change_mm) >= 1.0:
            word = "less" if change.change_mm < 0 else "more"
            told.append(f"{_length(abs(change.change_mm), unit)} {word} of {change.title}.")
    for change in found.changes:
        told.append(_in_the_shop(change, unit))
        told += _at_hand(change, found, unit)
    if found.measure.goal is Goal.COST:
        told.append(f"That is {money(found.saved, found.measure)} less, before rounding.")
        told.append(_paid(found))
    return told


def _paid(found: Found) -> str:
    """What is paid for all that is bought, as shops round it."""
    before, after = (
        money(sum(map(_cost, trial.cloths.values())), found.measure)
        for trial in (found.before, found.after)
    )
    if before == after:
        return f"In the shop you pay {after}, as without it."
    return f"In the shop you pay {after} instead of {before}."


def _cost(cloth: ClothTried) -> float:
    needed = cloth.best.requirement
    is_at_hand = needed.buy_length_mm <= cloth.entry.length_mm < math.inf
    return 0.0 if is_at_hand else needed.cost or 0.0


def _in_the_shop(change: ClothChange, unit: LengthUnit) -> str:
    before, after = (
        _buy(min(each, default=0.0), unit) for each in (change.before_mm, change.after_mm)
    )
    if before == after:
        return f"In the shop it stays {after} of {change.title}."
    return f"Buy {after} of {change.title} instead of {before}."


def _at_hand(change: ClothChange, found: Found, unit: LengthUnit) -> list[str]:
    """Whether the length that the maker has is enough."""
    cloth = found.after.cloths.get(change.fabric)
    if cloth is None or math.isinf(cloth.entry.length_mm):
        return []
    have_mm = cloth.entry.length_mm
    you_have = f"You have {_length(have_mm, unit)} of {change.title}"
    short_mm = min(change.after_mm) - have_mm
    if short_mm > 0:
        return [f"{you_have}: {_length(short_mm, unit)} too little."]
    was_enough = min(change.before_mm, default=0.0) <= have_mm
    return [f"{you_have}: enough, {'as before' if was_enough else 'which it was not before'}."]


def _width_sentence(row: SideBySide, unit: LengthUnit) -> str:
    return (
        f"Side by side {_row(row)} took {_length(row.before_mm, unit)} of width and now take "
        f"{_length(row.after_mm, unit)}; usable are {_length(row.room_mm, unit)}."
    )


def _spread(found: Found, unit: LengthUnit) -> str:
    main = _main(found)
    seeds = len(found.after.values(found.measure))
    if main is None:
        return ""
    ranges = " against ".join(
        _range_words(each, unit) for each in (main.after_mm, main.before_mm) if each
    )
    told = f"Laid out {seeds} time{'s' if seeds > 1 else ''} each: {ranges} of {main.title}"
    if seeds < 2:
        return f"{told}; how much of it is chance cannot be told from one layout each."
    if not found.is_clear:
        return f"{told}; the two overlap, so it may be chance."
    return f"{told}; the two do not overlap."


def _range_words(lengths_mm: Sequence[float], unit: LengthUnit) -> str:
    """From the least to the most: `281.8 cm to 284 cm`, or `281.8 cm` if they come to the same."""
    least, most = _length(min(lengths_mm), unit), _length(max(lengths_mm), unit)
    return least if least == most else f"{least} to {most}"


def _tries(found: Found) -> str:
    refused = f", {found.refused} of which cannot be made" if found.refused else ""
    stopped = "" if found.is_whole else " It was stopped before its end."
    sets = "set" if found.tried == 1 else "sets"
    return f"Tried {found.tried} {sets} of values{refused}.{stopped}"


def _row(row: SideBySide) -> str:
    """The pieces of a row: `two pieces of Skirt back and Waistband`."""
    return _and(
        [
            name if count == 1 else f"{_COUNTS[count]} pieces of {name}"
            for name, count in Counter(row.names).items()
        ]
    )


def _buy(length_mm: float, unit: LengthUnit) -> str:
    first, second = amounts(meters_to_buy(length_mm), yards_to_buy(length_mm), unit)
    return f"{first} ({second})"


def _length(length_mm: float, unit: LengthUnit) -> str:
    return format_length(length_mm, unit)


def _and(words: Sequence[str]) -> str:
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"
