"""Which fabric each copy is cut from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwise.errors import DocumentError, Fault, did_you_mean
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply

__all__ = [
    "SetAside",
    "assign",
    "copies_named",
    "copy_key",
    "fabric_of",
    "set_aside",
    "without_set_aside",
]

_MAKE = Source("the make")


def assign(pattern: Pattern, make: Make, *, source: Source = _MAKE) -> dict[tuple[str, str], str]:
    """Return the fabric of every copy, by piece and copy name, in the order of the pattern.

    A copy is cut from what `make.copies` says of `piece/copy`, else of its piece (shell copies
    only), else from what `make.roles` says of its role. What a make says of copies that the pattern
    does not have is left aside: `set_aside` tells it.

    Args:
        pattern: drafted for the make.
        make: with the fabrics.
        source: where the make's values stand, for messages.

    Raises:
        DocumentError: carries all: fabrics that the make does not have, and roles without a fabric.
    """
    faults = [*_unknown_fabrics(make, source)]
    assigned: dict[tuple[str, str], str] = {}
    without: dict[str, list[str]] = {}
    for piece, copy in _copies(pattern):
        fabric = fabric_of(piece, copy, make)
        if fabric is None:
            without.setdefault(copy.role, []).append(copy_key(piece.name, copy.name))
        else:
            assigned[piece.name, copy.name] = fabric
    faults += [_no_fabric(role, copies, make, source) for role, copies in without.items()]
    if faults:
        raise DocumentError(faults)
    return assigned


@dataclass(frozen=True)
class SetAside:
    """Something that a make says of copies which the pattern does not have.

    Attributes:
        key: `piece/copy` or `piece`, as the make names them.
        fabric: that was chosen for them; empty where they are pinned.
        has_piece: whether the pattern has the piece, though not the copy.
        known: names among which one may be meant.
    """

    key: str
    fabric: str
    has_piece: bool
    known: tuple[str, ...]


def set_aside(pattern: Pattern, make: Make) -> tuple[SetAside, ...]:
    """Return what a make says of copies which the pattern does not have, in its order.

    Cloth and pin of one copy are told as one.
    """
    pinned = ((key, "") for key in make.pins if key not in make.copies)
    return tuple(
        _left_aside(pattern, key, fabric)
        for key, fabric in (*make.copies.items(), *pinned)
        if not copies_named(pattern, key)
    )


def without_set_aside(pattern: Pattern, make: Make) -> Make:
    """Return a make without what it says of copies which the pattern does not have."""
    gone = {each.key for each in set_aside(pattern, make)}
    return replace(
        make,
        copies={key: fabric for key, fabric in make.copies.items() if key not in gone},
        pins={key: pin for key, pin in make.pins.items() if key not in gone},
    )


def _left_aside(pattern: Pattern, key: str, fabric: str) -> SetAside:
    piece = pattern.pieces.get(key.partition("/")[0])
    known = [copy_key(piece.name, copy.name) for copy in piece.copies] if piece else pattern.pieces
    return SetAside(key, fabric, piece is not None, tuple(known))


def copies_named(pattern: Pattern, key: str) -> tuple[tuple[str, str], ...]:
    """Return the copies that a key `piece/copy` or `piece` means; none if there are none.

    A piece alone means its shell copies.
    """
    return tuple(
        (piece.name, copy.name)
        for piece, copy in _copies(pattern)
        if key == copy_key(piece.name, copy.name) or (key == piece.name and copy.ply is Ply.SHELL)
    )


def copy_key(piece: str, copy: str) -> str:
    """Return how documents name a copy.

    >>> copy_key("bodice-front", "left")
    'bodice-front/left'
    """
    return f"{piece}/{copy}"


def _copies(pattern: Pattern) -> Iterator[tuple[Piece, Copy]]:
    for piece in pattern.pieces.values():
        for copy in piece.copies:
            yield piece, copy


def fabric_of(piece: Piece, copy: Copy, make: Make) -> str | None:
    """Return the name of the fabric that a copy is cut from; None if the make does not say."""
    own = make.copies.get(copy_key(piece.name, copy.name))
    if own is None and copy.ply is Ply.SHELL:
        own = make.copies.get(piece.name)
    return own if own is not None else make.roles.get(copy.role)


def _unknown_fabrics(make: Make, source: Source) -> Iterator[Fault]:
    known = [fabric.name for fabric in make.fabrics]
    for key, table in (("roles", make.roles), ("copies", make.copies)):
        for name, fabric in table.items():
            if fabric not in known:
                yield source.fault(
                    child_path(f"$.{key}", name),
                    f"the make has no fabric {fabric[:40]!r}",
                    did_you_mean(fabric, known, of_what="fabrics"),
                )


def _no_fabric(role: str, copies: list[str], make: Make, source: Source) -> Fault:
    shown = ", ".join(copies[:4]) + (f" and {len(copies) - 4} more" if len(copies) > 4 else "")
    fabrics = [fabric.name for fabric in make.fabrics]
    remedy = (
        f"Add `{role}: {fabrics[0]}` under roles; the fabrics are {', '.join(fabrics)}."
        if fabrics
        else f"Add a fabric, and `{role}: ITS NAME` under roles."
    )
    return source.fault("$.roles", f"nothing says what {role} is cut from ({shown})", remedy)
