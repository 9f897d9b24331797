"""Whole garments of our components with their defaults: what a component is shown and tried in.

A component that none of them has stands in where its nearest relative stands: a new pocket where a
pocket is, a new sleeve where a sleeve is.
"""

from __future__ import annotations

from clothwise.components.component import Component
from clothwise.components.registry import component_class
from clothwise.errors import ComponentError
from clothwise.pattern.document.design import ComponentEntry

__all__ = ["GARMENTS", "Garment", "garment_with"]

Garment = tuple[ComponentEntry, ...]
"""Components in the order they are drafted."""


def _garment(components: str, **parameters: dict[str, str]) -> Garment:
    """A garment from words `name=kind`, with parameters by name."""
    pairs = (word.split("=") for word in components.split())
    return tuple(ComponentEntry(name, kind, parameters.get(name, {})) for name, kind in pairs)


_BODICE = "bodice=darted-bodice skirt=a-line-skirt facing=front-and-neck-facing"
_SMALL = "loop=hanging-loop tab=shoulder-tab ties=side-ties elastic=sleeve-elastic"
_SEWN = "stay=staystitching top=topstitching seams=seam-finish fusing=interfacing"

_OVER_HEAD = {
    "opening": "none",
    "waist": "none",
    "front_neck_drop": "120mm",
    "neck_widen": "30mm",
    "back_neck_drop": "50mm",
}

GARMENTS: tuple[Garment, ...] = (
    _garment(
        f"{_BODICE} collar=two-piece-collar sleeve=set-in-sleeve pocket=turned-patch-pocket "
        "belt=tie-belt loops=belt-loops buttons=buttons hem=double-hem"
    ),
    _garment(f"{_BODICE} armholes=bound-armhole pocket=bellows-pocket hem=single-hem"),
    _garment(f"{_BODICE} armholes=armhole-facing pocket=in-seam-pocket hem=rolled-hem"),
    _garment(f"{_BODICE} armholes=bound-armhole pocket=slant-pocket hem=double-hem"),
    _garment(f"{_BODICE} collar=shirt-collar sleeve=bishop-sleeve hem=faced-hem"),
    _garment(f"{_BODICE} collar=flat-collar sleeve=puff-sleeve hem=bound-hem"),
    _garment(f"{_BODICE} sleeve=set-in-sleeve {_SMALL} hem=double-hem"),
    _garment(f"{_BODICE} sleeve=flutter-sleeve hem=double-hem"),
    _garment(
        "bodice=darted-bodice skirt=a-line-skirt ruffle=ruffle facing=front-and-neck-facing "
        "armholes=bound-armhole hem=double-hem"
    ),
    _garment(f"{_BODICE} sleeve=cap-sleeve hem=double-hem {_SEWN}", fusing={"beyond": "3mm"}),
    _garment(f"{_BODICE} armholes=bound-armhole sleeve=detachable-sleeve hem=double-hem"),
    _garment(f"{_BODICE} armholes=bound-armhole hem=double-hem".replace("darted", "princess")),
    _garment(f"{_BODICE} armholes=bound-armhole hem=double-hem".replace("darted", "yoke")),
    _garment(
        "bodice=darted-bodice front=wrap-front skirt=a-line-skirt facing=front-and-neck-facing "
        "armholes=bound-armhole hem=double-hem"
    ),
    *(
        _garment(
            "bodice=darted-bodice front=wrap-front skirt=a-line-skirt facing=wrap-facing "
            f"sleeve=set-in-sleeve closing={closing} hem=double-hem",
            front={"reach": "0.8"},
        )
        for closing in ("wrap-ties", "wrap-buttons")
    ),
    _garment(
        "bodice=darted-bodice front=lapel-front skirt=a-line-skirt collar=notched-collar "
        "sleeve=set-in-sleeve buttons=double-breasted-buttons hem=double-hem "
        "lengths=shorter-lengths"
    ),
    *(
        _garment(f"bodice=darted-bodice {finished} hem=double-hem", bodice=_OVER_HEAD)
        for finished in (
            "facing=neck-facing sleeve=set-in-sleeve",
            "binding=neck-binding armholes=bound-armhole",
        )
    ),
    _garment(
        "bodice=darted-bodice skirt=a-line-skirt facing=back-and-neck-facing "
        "armholes=bound-armhole buttons=buttons hem=double-hem",
        bodice={"opening": "buttoned back"},
    ),
    _garment(
        "bodice=darted-bodice facing=neck-facing sleeve=set-in-sleeve closing=button-and-loop "
        "hem=double-hem",
        bodice={"opening": "center back", "back_opening": "160mm", "waist": "none"},
    ),
    _garment(
        "corselette=corselette sleeve=off-shoulder-sleeve closure=lacing hem=bound-hem",
        corselette={"gap": "40mm"},
    ),
    *(
        _garment(f"skirt={kind} band=straight-waistband zip=zip hem=double-hem")
        for kind in (
            *("circle-skirt", "straight-skirt", "gored-skirt"),
            *("pleated-skirt", "gathered-skirt", "tiered-skirt"),
        )
    ),
    _garment(
        "bodice=darted-bodice skirt=a-line-skirt band=button-band neck=neck-binding "
        "armholes=bound-armhole buttons=buttons hem=double-hem"
    ),
    _garment(
        "bodice=darted-bodice skirt=a-line-skirt facing=edge-facing neck=neck-binding "
        "armholes=bound-armhole buttons=buttons hem=double-hem"
    ),
    _garment("skirt=wrap-skirt band=tie-waistband hem=double-hem"),
    _garment("skirt=gored-skirt facing=waist-facing hooks=hooks-and-eyes hem=double-hem"),
    _garment(
        "skirt=gathered-skirt casing=elastic-casing hem=double-hem", skirt={"opens": "nowhere"}
    ),
)
"""Every component that the library has is in at least one; it is shown in the first."""


def garment_with(kind: str) -> tuple[Garment, str]:
    """The garment a component is shown in, and what it is called there.

    Raises:
        ComponentError: neither the component nor a relative of it is in any garment.
    """
    for garment in GARMENTS:
        for entry in garment:
            if entry.kind == kind:
                return garment, entry.name
    wanted = component_class(kind)
    for relative in wanted.__mro__[1:]:
        if relative is Component or not issubclass(relative, Component):
            break
        for garment in GARMENTS:
            for entry in garment:
                if issubclass(component_class(entry.kind), relative):
                    new = ComponentEntry(entry.name, kind)
                    return tuple(new if each is entry else each for each in garment), entry.name
    raise ComponentError(
        f"no garment shows the component {kind}",
        where="clothwise.components.garments",
        how_much=f"{len(GARMENTS)} garments",
        what_to_do="Add it to one of GARMENTS.",
    )
