"""Which fabric each copy is cut from."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.errors import DocumentError, Fault, did_you_mean
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply

__all__ = ["assign", "copies_named", "copy_key", "fabric_of"]

_MAKE = Source("the make")


def assign(pattern: Pattern, make: Make, *, source: Source = _MAKE) -> dict[tuple[str, str], str]:
    """Return the fabric of every copy, by piece and copy name, in the order of the pattern.

    A copy is cut from what `make.copies` says of `piece/copy`, else of its piece (shell copies
    only), else from what `make.roles` says of its role.

    Args:
        pattern: drafted for the make.
        make: with the fabrics.
        source: where the make's values stand, for messages.

    Raises:
        DocumentError: carries all: names of pieces or copies, also pinned ones, that the pattern
            does not have, fabrics that the make does not have, and roles without a fabric.
    """
    faults = [*_unknown_names(pattern, make, source), *_unknown_fabrics(make, source)]
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


def _unknown_names(pattern: Pattern, make: Make, source: Source) -> Iterator[Fault]:
    for table, key in [
        *(("copies", key) for key in make.copies),
        *(("pins", key) for key in make.pins),
    ]:
        if copies_named(pattern, key):
            continue
        piece = pattern.pieces.get(key.partition("/")[0])
        if piece is not None:
            what = f"the piece {piece.name} has no copy {key.partition('/')[2][:40]!r}"
            known = [copy_key(piece.name, copy.name) for copy in piece.copies]
        else:
            what = f"the garment, as chosen, has no piece {key.partition('/')[0][:40]!r}"
            known = [*pattern.pieces]
        yield source.fault(
            child_path(f"$.{table}", key), what, did_you_mean(key, known, of_what="names")
        )


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
