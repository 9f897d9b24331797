"""What joins front and back of a bodice: runs, seams and the work of sewing them."""

from __future__ import annotations

from clothwise.components.bodices.center_back import center_back_operation, center_back_seam
from clothwise.components.bodices.dart_seams import dart_seam
from clothwise.components.component import Drafting
from clothwise.pattern.graph import Layer, Match, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.piece import Piece


def _waist_edges(piece: Piece) -> tuple[str, ...]:
    names = ("waist-center", "waist-side")
    return tuple(f"{piece.name}.{name}" for name in names if name in piece.edge_names)


def _side_run(front: Piece) -> Run:
    names = ("side-lower", "side-upper") if "side-upper" in front.edge_names else ("side-lower",)
    return run(*(f"{front.name}.{name}" for name in names))


def bodice_runs(front: Piece, back: Piece) -> dict[str, Run]:
    """The runs that later components attach to."""
    neck = run(f"-{front.name}.neck", f"{back.name}.neck")
    runs = {
        **_lower_run(front, back),
        "neck": neck,
        "neck-edge": neck,
        "armhole": run(f"{front.name}.armhole", f"-{back.name}.armhole", closed=True),
    }
    if "front-edge" in front.edge_names:
        runs["neck-edge"] = run(f"-{front.name}.neck-stand").then(neck)
        runs["front-edge"] = run(f"{front.name}.front-edge")
    if "back-edge" in back.edge_names:
        runs["neck-edge"] = neck.then(run(f"{back.name}.neck-stand"))
        runs["back-edge"] = run(f"{back.name}.back-edge")
    if "opening" in back.edge_names:
        runs["opening"] = run(f"-{back.name}.opening")
    return runs


def _lower_run(front: Piece, back: Piece) -> dict[str, Run]:
    """The lower edge from center front to center back: a hem, or the waist of a skirt."""
    if "hem" in front.edge_names:
        return {"hem": run(f"{front.name}.hem", f"-{back.name}.hem")}
    return {"waist": run(*_waist_edges(front)).then(run(*_waist_edges(back)).reversed)}


def bodice_seams(
    drafting: Drafting, front: Piece, back: Piece, shoulder_ease_mm: float
) -> tuple[Seam, ...]:
    """Darts, center back, side and shoulder."""
    name, allowance = drafting.name, drafting.seam_allowance_mm
    half_lower = front.edge("side-lower").length / 2
    side = Seam(
        name=f"{name}-side",
        title="side seam of the bodice",
        layers=(Layer(_side_run(front)), Layer(run(f"{back.name}.side"))),
        allowance_mm=allowance,
        matches=(Match("side", (half_lower, half_lower), NotchKind.SINGLE),),
        component=name,
    )
    shoulder = Seam(
        name=f"{name}-shoulder",
        title="shoulder seam",
        layers=(
            Layer(run(f"{front.name}.shoulder")),
            Layer(run(f"{back.name}.shoulder"), ease_mm=shoulder_ease_mm),
        ),
        allowance_mm=allowance,
        component=name,
    )
    darts = tuple(
        dart_seam(f"{piece.name}-{dart.leg_in.removesuffix('-in')}", title, piece, dart, name)
        for piece in (front, back)
        for dart in piece.darts
        for title in (f"{dart.name} of the {'front' if piece is front else 'back'}",)
    )
    return (*darts, *center_back_seam(drafting, back, "bodice"), side, shoulder)


_PRESSED = {
    "waist dart": "the waist darts toward center front",
    "bust dart": "the bust darts down",
    "yoke dart": "the yoke darts toward center front",
}


def _pressed(front: Piece) -> str:
    """Which way each kind of dart that a front has is pressed."""
    names = {dart.name for dart in front.darts}
    return " and ".join(way for name, way in _PRESSED.items() if name in names)


def bodice_operations(name: str, front: Piece, back: Piece) -> tuple[Operation, ...]:
    """The work of sewing the bodice itself."""
    operations = [
        Operation(
            name=f"{name}-staystitch",
            title="Staystitch the neckline",
            text="Stitch front and back necklines just inside the seam line, from the shoulder "
            "toward the center, so that they keep their length.",
            prepares=(front.name, back.name, f"{front.name}.neck", f"{back.name}.neck"),
            shows=(front.name, back.name),
            minutes=4,
            component=name,
        )
    ]
    front_darts = tuple(f"{front.name}-{dart.leg_in.removesuffix('-in')}" for dart in front.darts)
    back_darts = tuple(f"{back.name}-{dart.leg_in.removesuffix('-in')}" for dart in back.darts)
    if front_darts:
        operations.append(
            Operation(
                name=f"{name}-front-darts",
                title="Sew the darts of the front",
                text="Fold each dart right sides together, legs on each other. Sew from the wide "
                "end to the point, run off the fold and knot the threads. "
                f"Press {_pressed(front)}, over a rounded cushion.",
                does=front_darts,
                minutes=4 * len(front_darts) * 2,
                cautions=(Caution.IRON,),
                component=name,
            )
        )
    if back_darts:
        operations.append(
            Operation(
                name=f"{name}-back-darts",
                title="Sew the darts of the back",
                text="Fold each dart right sides together, legs on each other. Sew from the wide "
                "end to the point and knot the threads. Press toward center back.",
                does=back_darts,
                minutes=8,
                cautions=(Caution.IRON,),
                component=name,
            )
        )
    operations += [
        *center_back_operation(name, back, "bodice"),
        Operation(
            name=f"{name}-shoulders",
            title="Sew the shoulder seams",
            text="Lay front and back right sides together. [Ease the back, which is {ease} longer, "
            "onto the front. ]Sew with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-shoulder",),
            minutes=10,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-sides",
            title="Sew the side seams of the bodice",
            text="Lay front and back right sides together, {notches} matched. Sew from the "
            "armhole down with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-side",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
    ]
    return tuple(operations)
