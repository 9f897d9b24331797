"""One seam or one edge finished otherwise than the garment: its allowance, steps and thread."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.bindings.bias_strip import bias_tape
from clothwise.components.edits.details import refuse_shared_edges, without_own_allowances
from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.places import edge_named, piece_named, seam_named
from clothwise.components.finishes.seam_choice import SeamGroup, chosen_seams
from clothwise.components.finishes.seam_finish import (
    TAPE_NAME,
    FinishClass,
    SeamFinish,
    tape_mm,
)
from clothwise.components.finishes.seam_words import plainly
from clothwise.components.hems.hem import HemStitch, Rolling, double_hem, rolled_hem, single_hem
from clothwise.components.hems.hem_depth import depth_by_flare, shell_part
from clothwise.components.parameter import choice, length, words
from clothwise.errors import ComponentError, did_you_mean
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Pressing,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.operation import Caution, Notion, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import edge_of

USUAL_WIDTH_MM = {"rolled hem": 3.0, "bound": 10.0}
"""Finished width of an edge where the edit says nothing; as of the hems of that name."""

USUAL_SEAM_WIDTH_MM = 6.0
"""Finished width of a French, felled or bound seam edge; as the seam finish has it."""

SEAM_WIDTHS_MM = (4.0, 12.0)
"""Between these a seam edge can be enclosed or bound; as the seam finish has it."""

SHALLOWEST_MM = 8.0
"""A hem that was shallower gets the depth usual for its flare; our own choice."""

NEATENED_MM = 6.0
"""A neatened edge inside the garment is turned in by this; our own choice."""

TAPE_FOR_ENDS_MM = 50.0
"""Tape beyond a bound edge, for the join or the ends; as of the bound hem."""

_THREADED = ("elastic", "drawstring")
"""Steps with these words in their titles draw something through a hem."""


class FinishWord(Enum):
    """How a seam or an edge is finished."""

    OPEN = "overlocked open"
    TOGETHER = "overlocked together"
    FRENCH = "French"
    FLAT_FELLED = "flat-felled"
    BOUND = "bound"
    SINGLE_HEM = "single hem"
    DOUBLE_HEM = "double hem"
    ROLLED_HEM = "rolled hem"
    OVERLOCKED = "overlocked"


_OF_SEAMS = {
    FinishWord.OPEN: FinishClass.OVERLOCKED,
    FinishWord.TOGETHER: FinishClass.TOGETHER,
    FinishWord.FRENCH: FinishClass.FRENCH,
    FinishWord.FLAT_FELLED: FinishClass.FLAT_FELLED,
    FinishWord.BOUND: FinishClass.BOUND,
}

_OF_EDGES = (
    FinishWord.SINGLE_HEM,
    FinishWord.DOUBLE_HEM,
    FinishWord.ROLLED_HEM,
    FinishWord.BOUND,
    FinishWord.OVERLOCKED,
)


@dataclass(frozen=True)
class FinishOne(Edit):
    """Finishes one seam, or one hem or neatened edge, otherwise than the garment.

    Allowances, pressing, steps, thread and tape follow. A hem that goes on over several pieces
    changes as a whole; part left from right first if one side only is meant.
    """

    kind: ClassVar[str] = "finish"
    comes_last: ClassVar[bool] = True

    seam: str = words("The seam; if left out, piece and edge say what is finished.")
    piece: str = words("The piece, if an edge is meant.")
    edge: str = words("Its edge; one that is sewn stands for its seam.")
    as_: FinishWord = choice(FinishWord.OPEN, "How it is finished; some are for seams only.")
    width_mm: float = length(
        0, 0, 25, "Finished width of what is French, felled, bound or rolled; the usual one if 0."
    )
    depth_mm: float = length(
        0, 0, 180, "Depth of a hem; if 0 as before, or as is usual for its flare."
    )
    turn_mm: float = length(8, 4, 30, "What a double hem turns in first.")
    stitch: HemStitch = choice(HemStitch.BY_HAND, "How a single hem is held.")
    allowance_mm: float = length(
        0, 0, 25, "Allowance of a seam; 0 keeps its own, or takes what the finish needs."
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Finish the seam or the edge otherwise."""
        found = self._found(pattern)
        if isinstance(found, Seam):
            return self._seam_finished(pattern, found, editing)
        return self._edge_finished(pattern, found, editing)

    def _found(self, pattern: Pattern) -> Seam | Finish:
        if self.seam:
            if self.piece or self.edge:
                raise cannot(
                    "it names a seam, and an edge too",
                    what_to_do="Write either seam, or piece and edge.",
                )
            return seam_named(pattern, self.seam)
        if not self.piece or not self.edge:
            raise cannot(
                "it does not say what is to be finished",
                what_to_do="Write seam, or piece and edge.",
            )
        piece = piece_named(pattern, self.piece)
        uses = pattern.uses_of(piece.name, edge_named(piece, self.edge))
        for use in uses:
            if isinstance(use, (Seam, Finish)):
                return use
        raise cannot(
            f"the {edge_of(piece, self.edge)} has nothing that could be finished otherwise",
            how_much=f"it is stitched on as {uses[0].title}" if uses else "it lies on the fold",
            what_to_do="Name an edge that is sewn, hemmed or neatened.",
        )

    def _seam_finished(self, pattern: Pattern, seam: Seam, editing: Editing) -> Pattern:
        if self.as_ not in _OF_SEAMS:
            raise cannot(
                f"the {seam.title} is a seam, and cannot become a {self.as_.value}",
                what_to_do=did_you_mean(
                    self.as_.value, [word.value for word in _OF_SEAMS], of_what="seam finishes"
                ),
            )
        width = self.width_mm or USUAL_SEAM_WIDTH_MM
        if not SEAM_WIDTHS_MM[0] <= width <= SEAM_WIDTHS_MM[1]:
            raise cannot(
                "the edge of a seam cannot be so wide",
                how_much=f"{width:.0f} mm, {SEAM_WIDTHS_MM[0]:.0f} to {SEAM_WIDTHS_MM[1]:.0f} mm",
                what_to_do="Change width.",
            )
        if seam not in chosen_seams(pattern, SeamGroup.ALL, editing.name):
            raise cannot(
                f"the {seam.title} has no raw edges in sight",
                how_much=f"{seam.kind.value}, {seam.care.value}, {seam.pressing.value}",
                what_to_do="Darts, turned edges and what a band closes in need no finish.",
            )
        beyond = [
            each for name, each in pattern.seams.items() if name.startswith(f"{seam.name}-beyond-")
        ]
        asked = SeamFinish(
            finish=_OF_SEAMS[self.as_], width_mm=width, allowance_mm=self.allowance_mm
        )
        _refuse_lost_words(pattern, seam, beyond, _OF_SEAMS[self.as_])
        names = {seam.name, *(each.name for each in beyond)}
        if seam.care in _CARES.get(asked.finish, ()) and seam.kind is SeamKind.PLAIN:
            return _with_allowance(pattern, names, self.allowance_mm)
        changed = stepping_alone(pattern, names, seam.title, editing.name)
        changed = _plain_again(changed, names, is_open=self.as_ is FinishWord.OPEN)
        part = asked.refinish(changed, [changed.seams[name] for name in names], editing.name)
        for each in part.resewn:
            refuse_shared_edges(changed, each)
            if each.allowance_mm != seam.allowance_mm:
                for layer in each.layers:
                    changed = without_own_allowances(changed, layer.run)
        return changed.adding(part)

    def _edge_finished(self, pattern: Pattern, finish: Finish, editing: Editing) -> Pattern:
        if self.as_ not in _OF_EDGES:
            raise cannot(
                f"the {finish.title} is an edge, and cannot be {self.as_.value}",
                what_to_do=did_you_mean(
                    self.as_.value, [word.value for word in _OF_EDGES], of_what="edge finishes"
                ),
            )
        refuse_held(pattern, finish)
        alike = finishes_alike(pattern, finish)
        changed = stepping_alone(pattern, set(alike), finish.title, editing.name)
        step = next(each for each in changed.operations if finish.name in each.does)
        news = {name: self._hemmed(pattern, old) for name, old in alike.items()}
        for old in alike.values():
            changed = without_own_allowances(changed, old.run)
        _, told = news[finish.name]
        tape = sum(notion.amount for notion in self._tape(pattern, alike.values(), editing))
        told = replace(
            told,
            name=step.name,
            does=step.does,
            after=step.after,
            prepares=step.prepares,
            component=step.component,
            values=(*told.values, ("tape", tape)) if tape else told.values,
        )
        return replace(
            changed,
            finishes={**changed.finishes, **{name: new for name, (new, _) in news.items()}},
            operations=tuple(told if each is step else each for each in changed.operations),
            notions=(*changed.notions, *self._tape(pattern, alike.values(), editing)),
        )

    def _hemmed(self, pattern: Pattern, old: Finish) -> tuple[Finish, Operation]:
        """The edge finished as asked, and the work of it."""
        of = old.title.removeprefix("hem of the ")
        depth = self.depth_mm or self._usual_depth(pattern, old)
        width = self.width_mm or USUAL_WIDTH_MM.get(self.as_.value, 0.0)
        made: tuple[Finish, Operation]
        if self.as_ is FinishWord.SINGLE_HEM:
            made = single_hem(pattern, old.name, of, old.run, depth, self.stitch)
        elif self.as_ is FinishWord.DOUBLE_HEM:
            turn = min(self.turn_mm, depth)
            made = double_hem(old.name, of, old.run, depth, turn)
        elif self.as_ is FinishWord.ROLLED_HEM:
            made = rolled_hem(old.name, of, old.run, width, Rolling.FOOT)
        elif self.as_ is FinishWord.BOUND:
            made = _bound(old, of)
        else:
            made = _overlocked(old, of)
        finish, operation = made
        return replace(finish, sides=old.sides, component=old.component), operation

    def _usual_depth(self, pattern: Pattern, old: Finish) -> float:
        if old.kind is FinishKind.OVERLOCKED:
            return NEATENED_MM
        if old.depth_mm >= SHALLOWEST_MM:
            return old.depth_mm
        return depth_by_flare(pattern, old.run)

    def _tape(
        self, pattern: Pattern, finishes: Iterable[Finish], editing: Editing
    ) -> tuple[Notion, ...]:
        if self.as_ is not FinishWord.BOUND:
            return ()
        width = self.width_mm or USUAL_WIDTH_MM["bound"]
        found = list(finishes)
        total = sum(
            pattern.run_length(shell_part(pattern, each.run))
            * (2 if each.sides is Sides.BOTH else 1)
            + TAPE_FOR_ENDS_MM
            for each in found
        )
        return (bias_tape(editing.name, total, width, f"for the {found[0].title}"),)


def refuse_held(pattern: Pattern, finish: Finish) -> None:
    """Refuse an edge whose finish something else depends on.

    Raises:
        ComponentError: it is closed or bound by a component, or something is drawn through it.
    """
    if finish.kind in (FinishKind.CLOSURE, FinishKind.BOUND):
        raise cannot(
            f"the {finish.title} is {finish.kind.value} by the component {finish.component}",
            what_to_do="Take that component out, or change its parameters.",
        )
    for operation in pattern.operations:
        if finish.name in operation.after and any(
            word in operation.title.lower() for word in _THREADED
        ):
            raise cannot(
                f"something is drawn through the {finish.title}",
                how_much=f"in the step “{operation.title}”",
                what_to_do="Take that out first.",
            )


def finishes_alike(pattern: Pattern, finish: Finish) -> dict[str, Finish]:
    """A finish and what must be as it is, by name: what one step makes alike.

    Those are its parts beyond slits and vents, and that of the other side where both share an edge
    of a piece that is cut for both.
    """
    step = next((each for each in pattern.operations if finish.name in each.does), None)
    names = step.does if step is not None else (finish.name,)
    edges = {(edge.piece, edge.edge) for edge in finish.run.edges}
    found = {}
    for name in names:
        other = pattern.finishes.get(name)
        if other is None or other.kind is not finish.kind:
            continue
        shares = any((edge.piece, edge.edge) in edges for edge in other.run.edges)
        if shares or other.title == finish.title:
            found[name] = other
    return found


_CARES = {
    FinishClass.TOGETHER: (EdgeCare.TOGETHER,),
    FinishClass.FRENCH: (EdgeCare.FRENCH,),
    FinishClass.FLAT_FELLED: (EdgeCare.FELLED,),
}
"""What seams are already that are to become so; their steps tell it already."""


def _with_allowance(pattern: Pattern, names: set[str], allowance_mm: float) -> Pattern:
    """The pattern with another allowance of some seams; as it is if that is 0."""
    if not allowance_mm:
        return pattern
    seams = {
        name: replace(seam, allowance_mm=allowance_mm) if name in names else seam
        for name, seam in pattern.seams.items()
    }
    return replace(pattern, seams=seams)


def _bound(old: Finish, of: str) -> tuple[Finish, Operation]:
    finish = Finish(old.name, old.title, old.run, FinishKind.BOUND)
    operation = Operation(
        name=f"sew-{old.name}",
        title=f"Bind the {of}",
        text="Cut {tape} of bias tape. Sew the opened tape to the edge, right sides together, "
        "along its first fold, without stretching the edge; where its ends meet, join them in a "
        "slanted seam, else turn them in. Turn the tape over the edge and stitch from the right "
        "side beside the seam, catching the fold behind. Press.",
        minutes=30,
        cautions=(Caution.IRON, Caution.NEEDLE),
    )
    return finish, operation


def _overlocked(old: Finish, of: str) -> tuple[Finish, Operation]:
    finish = Finish(old.name, old.title, old.run, FinishKind.OVERLOCKED)
    operation = Operation(
        name=f"sew-{old.name}",
        title=f"Overlock the {of}",
        text="Overlock the edge along the line; it is cut without an allowance and not turned.",
        minutes=5,
    )
    return finish, operation


def _refuse_lost_words(
    pattern: Pattern, seam: Seam, beyond: list[Seam], asked: FinishClass
) -> None:
    """Refuse what would word a step anew that says more than how the seam is sewn.

    Raises:
        ComponentError: it is topstitched, or something is let in there.
    """
    is_anew = asked in (FinishClass.FRENCH, FinishClass.FLAT_FELLED) or _is_worded(seam, asked)
    step = next((each for each in pattern.operations if seam.name in each.does), None)
    if not is_anew or step is None:
        return
    if step.stitched_mm:
        raise cannot(
            f"the {seam.title} is topstitched in its step",
            what_to_do="Take the topstitching out, or choose `bound` or `overlocked together`.",
        )
    if beyond:
        raise cannot(
            f"the {seam.title} has an opening in it",
            what_to_do="Choose `bound` or `overlocked together`.",
        )


def _is_worded(seam: Seam, asked: FinishClass) -> bool:
    """Whether the step of a seam tells of a finish that must be taken back first."""
    if seam.kind is not SeamKind.PLAIN:
        return seam.care in (EdgeCare.BOUND, EdgeCare.BOUND_TOGETHER)
    return seam.care not in (EdgeCare.EACH, EdgeCare.TOGETHER) or (
        seam.care is EdgeCare.TOGETHER and asked is not FinishClass.TOGETHER
    )


def _plain_again(pattern: Pattern, names: set[str], *, is_open: bool) -> Pattern:
    """The pattern with seams as they were before they were enclosed, bound or pressed aside.

    Raises:
        ComponentError: they are gathered and bound: their step cannot be told anew.
    """
    seams, notions = dict(pattern.seams), pattern.notions
    operations = list(pattern.operations)
    for name in sorted(names):
        seam = seams[name]
        is_aside = seam.care is EdgeCare.TOGETHER or seam.pressing is not Pressing.OPEN
        is_plain = seam.care is EdgeCare.EACH and not (is_open and is_aside)
        if is_plain or (seam.care is EdgeCare.TOGETHER and not is_open):
            continue
        if seam.kind is not SeamKind.PLAIN:
            raise cannot(
                f"the {seam.title} is {seam.kind.value}, and its edges lie on each other",
                what_to_do="Choose `overlocked together`, or change the component that binds it.",
            )
        if seam.care in (EdgeCare.BOUND, EdgeCare.BOUND_TOGETHER):
            notions = _without_tape(notions, tape_mm(pattern, seam), seam)
        seams[name] = replace(seam, care=EdgeCare.EACH, pressing=Pressing.OPEN)
        for number, step in enumerate(operations):
            if name in step.does:
                operations[number] = plainly(pattern, step, [seams[each] for each in step.does])
    return replace(pattern, seams=seams, operations=tuple(operations), notions=notions)


def _without_tape(notions: tuple[Notion, ...], amount_mm: float, seam: Seam) -> tuple[Notion, ...]:
    """The notions with as much less tape as a seam took.

    Raises:
        ComponentError: tape of several widths was asked for, and this seam's is not known.
    """
    tapes = [notion for notion in notions if notion.name == TAPE_NAME]
    if len({notion.detail for notion in tapes}) != 1:
        raise cannot(
            f"the {seam.title} is bound, and it is not known with which tape",
            how_much=f"{len(tapes)} kinds of tape",
            what_to_do="Change the component that binds it.",
        )
    found: list[Notion] = []
    rest = amount_mm
    for notion in notions:
        if notion.name == TAPE_NAME and rest > 0:
            taken = min(rest, notion.amount)
            rest -= taken
            if notion.amount - taken < 1.0:
                continue
            notion = replace(notion, amount=notion.amount - taken)
        found.append(notion)
    return tuple(found)


def stepping_alone(pattern: Pattern, names: set[str], title: str, edit: str) -> Pattern:
    """The pattern in which a step does these uses and nothing else.

    A step that does more keeps the rest, and says that these are done by themselves.

    Raises:
        ComponentError: no step does them.
    """
    operations: list[Operation] = []
    parted: dict[str, str] = {}
    for step in pattern.operations:
        taken = tuple(name for name in step.does if name in names)
        if not taken or len(taken) == len(step.does):
            operations.append(step)
            continue
        alone = replace(
            step, name=f"{step.name}-{edit}", does=taken, title=f"{step.title}: {title}"
        )
        parted[step.name] = alone.name
        operations.append(
            replace(
                step,
                does=tuple(name for name in step.does if name not in names),
                text=f"{step.text} Leave the {title} out: that is done in a step of its own.",
            )
        )
        operations.append(alone)
    if not any(set(step.does) & names for step in operations):
        raise ComponentError(what=f"no step sews the {title}", what_to_do="Add one.")
    after = [
        replace(
            step,
            after=(*step.after, *(parted[name] for name in step.after if name in parted)),
        )
        for step in operations
    ]
    return replace(pattern, operations=tuple(after))
