"""From a design, a body and choices to a pattern: the one function that drafts."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from clothwise.components.component import Component, Drafting
from clothwise.components.edits.replay import Replay
from clothwise.components.evaluation import ParameterError, evaluate
from clothwise.components.registry import component_class
from clothwise.components.steps import Steps
from clothwise.components.wearers import refuse_others
from clothwise.errors import ClothwiseError, ComponentError, GeometryError, did_you_mean
from clothwise.pattern.document.assignment import copy_key
from clothwise.pattern.document.design import ComponentEntry, Design
from clothwise.pattern.document.value import Choices, selected
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece, Ply

__all__ = ["component_of", "draft"]


def draft(design: Design, body: Body, choices: Choices | None = None, *, size: str = "") -> Pattern:
    """Draft a design for a body: the same arguments always give the same pattern.

    An edit that cannot be made is a finding of the pattern, EDIT-LOST, which is as without it.

    Args:
        design: as read.
        body: to draft for.
        choices: those that differ from the defaults; `design.view(...).choices` for a view.
        size: how the pattern calls the body; the body's own name if empty.

    Raises:
        Misuse: unknown or contradicting choices.
        ParameterError: a parameter's formula cannot be worked out, or its value is out of range.
        ComponentError: a component is unknown, or cannot be drafted onto what is there.
        MeasurementError: the body lies outside what a component can be drafted for.
    """
    chosen = design.chosen(choices)
    name = size or body.name
    _refuse_others(design, body, chosen)
    evaluation = evaluate(design, body, chosen)
    if evaluation.faults:
        raise ParameterError(evaluation.faults, name)
    steps = Steps(body, name, _stretch(design))
    replay = Replay(design, evaluation.arguments, steps)
    for entry in design.components:
        if entry.name in evaluation.arguments:
            component = component_class(entry.kind)(**evaluation.arguments[entry.name])
            drafting = _drafting(design, entry, body, steps.pattern, chosen)
            try:
                _take_step(steps, component, drafting, entry, chosen)
            except (ComponentError, GeometryError) as error:
                raise _retold(error, entry, name, replay.made) from error
            except KeyError as error:
                if not replay.made:
                    raise
                raise _renamed(error, entry, name, replay.made) from error
        replay.after(entry.name)
    replay.at_the_end()
    return steps.pattern


def component_of(error: ClothwiseError) -> str:
    """Return the component, or the first one, that could not be drafted; empty if none is named.

    >>> component_of(ComponentError("it needs a waist", where="size 38, component skirt"))
    'skirt'
    """
    if isinstance(error, ParameterError):
        return error.faults[0].component
    found = re.search(r"(?:^|, )component ([a-z0-9-]+)", error.where)
    return found[1] if found else ""


def _take_step(
    steps: Steps, component: Component, drafting: Drafting, entry: ComponentEntry, chosen: Choices
) -> None:
    """Let a component contribute to the pattern so far, or take what it did the last time."""
    roles = {key: selected(role, chosen).text for key, role in entry.roles.items()}
    stated = tuple(corner for corner in entry.corners if corner.when.holds(chosen))
    entry = replace(entry, corners=stated)

    def make() -> Pattern:
        pattern = component.rework(drafting)
        part = component.contribute(replace(drafting, pattern=pattern))
        part = _with_corners(_with_roles(part, entry, roles), entry, pattern)
        return pattern.adding(part)

    steps.draft(component, drafting, (repr(roles), repr(stated)), make)


def _stretch(design: Design) -> dict[str, float]:
    """Return the stretch of the roles that are not for woven cloth."""
    shares = {name: role.stretch_share for name, role in design.roles.items()}
    return {name: share for name, share in shares.items() if share}


def _refuse_others(design: Design, body: Body, chosen: Choices) -> None:
    """Ask every component that is there, before any of its formulas fails on a strange body."""
    wearers = {
        component_class(entry.kind).drafted_for
        for entry in design.components
        if entry.when.holds(chosen)
    }
    for each in wearers:
        if each is not None:
            refuse_others(each, body)


def _drafting(
    design: Design, entry: ComponentEntry, body: Body, pattern: Pattern, chosen: Choices
) -> Drafting:
    return Drafting(
        name=entry.name,
        body=body,
        pattern=pattern,
        role=selected(entry.role, chosen).text,
        interfacing_role=selected(entry.interfacing_role, chosen).text,
        seam_allowance_mm=design.seam_allowance_mm,
        neck_allowance_mm=design.neck_allowance_mm,
    )


def _with_roles(
    part: Contribution, entry: ComponentEntry, roles: Mapping[str, str]
) -> Contribution:
    """Return the contribution with the fabric roles that the design gives single copies."""
    if not roles:
        return part
    known = [*_role_keys(part)]
    for key in roles:
        if key not in known:
            raise ComponentError(
                f"{entry.name} makes no piece or copy {key[:60]!r}",
                where="roles",
                what_to_do=did_you_mean(key, known, of_what="pieces and copies"),
            )
    return replace(part, pieces=tuple(_piece_with_roles(piece, roles) for piece in part.pieces))


def _with_corners(part: Contribution, entry: ComponentEntry, before: Pattern) -> Contribution:
    """Return the contribution with the corners that the design states to be meant."""
    if not entry.corners:
        return part
    pieces = {**before.pieces, **{piece.name: piece for piece in part.pieces}}
    for corner in entry.corners:
        _refuse_unknown_edge(corner.edge, pieces, entry)
    return replace(
        part,
        intended_corners=(
            *part.intended_corners,
            *(
                IntendedCorner(corner.edge, corner.because, corner.angle_rad, component=entry.name)
                for corner in entry.corners
            ),
        ),
    )


def _refuse_unknown_edge(edge: EdgeRef, pieces: Mapping[str, Piece], entry: ComponentEntry) -> None:
    piece = pieces.get(edge.piece)
    if piece is not None and edge.edge in piece.edge_names:
        return
    if piece is None:
        what, name = f"there is no piece {edge.piece[:60]!r} so far", edge.piece
        known, of_what = tuple(pieces), "pieces"
    else:
        what, name = f"{edge.piece} has no edge {edge.edge[:60]!r}", edge.edge
        known, of_what = tuple(piece.edge_names), "edges"
    raise ComponentError(
        f"{entry.name} states a corner, but {what}",
        where="corners",
        what_to_do=did_you_mean(name, known, of_what=of_what),
    )


def _role_keys(part: Contribution) -> Iterator[str]:
    for piece in part.pieces:
        yield piece.name
        for copy in piece.copies:
            yield copy_key(piece.name, copy.name)


def _piece_with_roles(piece: Piece, roles: Mapping[str, str]) -> Piece:
    copies = []
    for copy in piece.copies:
        role = roles.get(copy_key(piece.name, copy.name))
        if role is None and copy.ply is Ply.SHELL:
            role = roles.get(piece.name)
        copies.append(copy if role is None else replace(copy, role=role))
    return replace(piece, copies=tuple(copies))


def _renamed(error: KeyError, entry: ComponentEntry, size: str, made: list[str]) -> ComponentError:
    """Return the error of a component whose host has lost an edge to an edit before it."""
    return ComponentError(
        f"{entry.name} needs {error.args[0]!r}, which an edit before it has renamed",
        where=f"size {size}, component {entry.name}, after {', '.join(made)}",
        what_to_do="Leave `after:` out of the edit, so that it is made when all components are "
        "there.",
    )


def _retold(
    error: ComponentError | GeometryError, entry: ComponentEntry, size: str, made: list[str]
) -> ComponentError:
    """Return the error with component, size and edits, so that it can be looked up."""
    places = [f"size {size}" if size else "", f"component {entry.name}"]
    if error.where not in ("", entry.name):
        places.append(error.where)
    if made:
        places.append(f"after the edit {', '.join(made)}")
    what, remedy = error.what, error.what_to_do
    if isinstance(error, GeometryError):
        what = f"its lines cannot be drawn: {error.what}"
        remedy = remedy or "Bring its parameters nearer to their defaults."
    return ComponentError(
        what,
        where=", ".join(place for place in places if place),
        how_much=error.how_much,
        what_to_do=remedy,
    )
