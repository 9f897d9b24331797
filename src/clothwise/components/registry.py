"""The components there are: our own and those that plugins add.

A plugin package adds one with an entry point of the group `clothwise.components`, whose name is
the component's kind and whose value is its class.
"""

from __future__ import annotations

from functools import cache, lru_cache
from importlib import import_module

from clothwise.components.component import Component
from clothwise.errors import ComponentError, did_you_mean

ENTRY_POINT_GROUP = "clothwise.components"

_OWN = {
    "darted-bodice": "clothwise.components.bodice:DartedBodice",
    "princess-bodice": "clothwise.components.princess_bodice:PrincessBodice",
    "yoke-bodice": "clothwise.components.yoke_bodice:YokeBodice",
    "corselette": "clothwise.components.corselette:Corselette",
    "wrap-front": "clothwise.components.wrap_front:WrapFront",
    "lapel-front": "clothwise.components.lapel_front:LapelFront",
    "notched-collar": "clothwise.components.notched_collar:NotchedCollar",
    "a-line-skirt": "clothwise.components.skirt:ALineSkirt",
    "set-in-sleeve": "clothwise.components.sleeve:SetInSleeve",
    "puff-sleeve": "clothwise.components.puff_sleeve:PuffSleeve",
    "flutter-sleeve": "clothwise.components.flutter_sleeve:FlutterSleeve",
    "cap-sleeve": "clothwise.components.cap_sleeve:CapSleeve",
    "bishop-sleeve": "clothwise.components.bishop_sleeve:BishopSleeve",
    "detachable-sleeve": "clothwise.components.detachable_sleeve:DetachableSleeve",
    "bound-armhole": "clothwise.components.binding:BoundArmhole",
    "armhole-facing": "clothwise.components.armhole_facing:ArmholeFacing",
    "two-piece-collar": "clothwise.components.collar:TwoPieceCollar",
    "shirt-collar": "clothwise.components.shirt_collar:ShirtCollar",
    "flat-collar": "clothwise.components.flat_collar:FlatCollar",
    "front-and-neck-facing": "clothwise.components.facing:FrontAndNeckFacing",
    "neck-facing": "clothwise.components.neck_facing:NeckFacing",
    "turned-patch-pocket": "clothwise.components.pocket:TurnedPatchPocket",
    "bellows-pocket": "clothwise.components.bellows_pocket:BellowsPocket",
    "in-seam-pocket": "clothwise.components.in_seam_pocket:InSeamPocket",
    "tie-belt": "clothwise.components.belt:TieBelt",
    "belt-loops": "clothwise.components.belt_loops:BeltLoops",
    "hanging-loop": "clothwise.components.hanging_loop:HangingLoop",
    "side-ties": "clothwise.components.ties:SideTies",
    "ruffle": "clothwise.components.ruffle:Ruffle",
    "sleeve-elastic": "clothwise.components.sleeve_elastic:SleeveElastic",
    "shoulder-tab": "clothwise.components.shoulder_tab:ShoulderTab",
    "double-breasted-buttons": "clothwise.components.double_breasted_buttons:DoubleBreastedButtons",
    "buttons": "clothwise.components.buttons:Buttons",
    "double-hem": "clothwise.components.hem:DoubleHem",
    "single-hem": "clothwise.components.hem:SingleHem",
    "rolled-hem": "clothwise.components.hem:RolledHem",
    "bound-hem": "clothwise.components.bound_hem:BoundHem",
    "faced-hem": "clothwise.components.faced_hem:FacedHem",
    "seam-finish": "clothwise.components.seam_finish:SeamFinish",
    "interfacing": "clothwise.components.interfacing:Interfacing",
    "topstitching": "clothwise.components.topstitching:Topstitching",
    "staystitching": "clothwise.components.staystitching:Staystitching",
    "straight-skirt": "clothwise.components.straight_skirt:StraightSkirt",
    "gored-skirt": "clothwise.components.gored_skirt:GoredSkirt",
    "wrap-skirt": "clothwise.components.wrap_skirt:WrapSkirt",
    "tie-waistband": "clothwise.components.tie_waistband:TieWaistband",
    "pleated-skirt": "clothwise.components.pleated_skirt:PleatedSkirt",
    "gathered-skirt": "clothwise.components.tiered_skirt:GatheredSkirt",
    "tiered-skirt": "clothwise.components.tiered_skirt:TieredSkirt",
    "circle-skirt": "clothwise.components.circle_skirt:CircleSkirt",
    "straight-waistband": "clothwise.components.waistband:StraightWaistband",
    "elastic-casing": "clothwise.components.elastic_casing:ElasticCasing",
    "waist-facing": "clothwise.components.waist_facing:WaistFacing",
    "hooks-and-eyes": "clothwise.components.hooks:HooksAndEyes",
    "zip": "clothwise.components.zip:ZipClosure",
}


@lru_cache(maxsize=1)
def _plugins() -> dict[str, str]:
    from importlib.metadata import entry_points  # slow to load, and rarely needed

    return {point.name: point.value for point in entry_points(group=ENTRY_POINT_GROUP)}


def kinds() -> tuple[str, ...]:
    """Names of all components, ours first."""
    return (*_OWN, *(name for name in _plugins() if name not in _OWN))


@cache
def component_class(kind: str) -> type[Component]:
    """The class of a component, imported when it is first asked for.

    Raises:
        ComponentError: there is no such component, or a plugin's class cannot be loaded.
    """
    target = _OWN.get(kind) or _plugins().get(kind)
    if target is None:
        raise ComponentError(
            f"there is no component named {kind}",
            what_to_do=did_you_mean(kind, kinds()) or "Known: " + ", ".join(kinds()) + ".",
        )
    module, _, name = target.partition(":")
    try:
        found = getattr(import_module(module), name)
    except (ImportError, AttributeError) as error:
        raise ComponentError(
            f"the component {kind} cannot be loaded",
            where=target,
            how_much=str(error),
            what_to_do="Reinstall the package that provides it, or remove it from the design.",
        ) from error
    if not (isinstance(found, type) and issubclass(found, Component)):
        raise ComponentError(
            f"the component {kind} is not a component",
            where=target,
            what_to_do="Its class must derive from clothwise.components.Component.",
        )
    return found
