"""The file structure of a PDF: pages, forms, switchable layers, fonts.

The one place that touches reportlab's object model. Streams are written by `pdf.py`; the unit of
their coordinates is set to the millimeter here. Nothing in a file depends on when or where it
was written.

Source: ISO 32000-1:2008: form XObjects 8.10, optional content 8.11, viewer preferences 12.2.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable
from typing import Any

from reportlab.pdfbase import pdfdoc

from clothwise.errors import Misuse
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Weight
from clothwise.output.fonts import face
from clothwise.output.numbers import number
from clothwise.output.paper import LARGEST_PAGE_MM

POINTS_PER_MM = 72 / 25.4
"""The unit of a PDF page is 1/72 in (check value U03)."""


class PdfDocument:
    """A PDF file being put together; call `to_bytes` once, at the end."""

    def __init__(self, *, title: str, language: str, author: str = "", subject: str = "") -> None:
        # The placeholder outline lets the file be finished without a canvas; it is taken off.
        self._doc = pdfdoc.PDFDocument(
            compression=1, invariant=1, pdfVersion=(1, 7), lang=language, dummyoutline=1
        )
        self._doc.Outlines = self._doc.outline = pdfdoc.PDFOutlines()
        self._doc.Catalog.Outlines = self._doc.Outlines
        info = self._doc.info
        info.title, info.author, info.subject = title, author, subject
        info.creator = "Clothwise"
        self._layers: dict[str, tuple[str, Any, bool]] = {}
        self._alphas: dict[float, str] = {}
        self._alpha_states = pdfdoc.PDFDictionary({})
        self._forms: dict[str, Any] = {}

    def layer(self, name: str, *, visible: bool) -> str:
        """The resource name of a layer that the reader can switch."""
        if name not in self._layers:
            group = pdfdoc.PDFDictionary({"Type": "/OCG", "Name": pdfdoc.PDFString(name)})
            resource = f"L{len(self._layers) + 1}"
            self._layers[name] = (resource, self._doc.Reference(group), visible)
        return self._layers[name][0]

    def alpha(self, opacity: float) -> str:
        """The resource name of a graphics state with this opacity."""
        if opacity not in self._alphas:
            name = self._alphas[opacity] = f"A{len(self._alphas) + 1}"
            state = pdfdoc.PDFDictionary({"Type": "/ExtGState", "CA": opacity, "ca": opacity})
            self._alpha_states.dict[name] = state
        return self._alphas[opacity]

    def coded(self, text: str, weight: Weight) -> list[tuple[str, str]]:
        """The text in chunks: the resource name of a font, and the string to show with it."""
        font = face(weight)
        return [
            (font.getSubsetInternalName(subset, self._doc), _escaped(codes))
            for subset, codes in font.splitString(text, self._doc)
        ]

    def form(self, content: str, box: Bounds) -> str:
        """Add a drawing that pages can use again and again; returns its resource name."""
        name = f"S{len(self._forms) + 1}"
        stream = self._stream(content)
        stream.dictionary.dict.update(
            Type="/XObject",
            Subtype="/Form",
            BBox=pdfdoc.PDFArray([box.left, box.bottom, box.right, box.top]),
            Resources=self._resources(()),
        )
        self._forms[name] = self._doc.Reference(stream)
        return name

    def page(self, width_mm: float, height_mm: float, content: str, forms: Iterable[str]) -> None:
        """Add a page whose content is in mm from its lower left corner.

        Raises:
            Misuse: the page is larger than readers show.
        """
        if max(width_mm, height_mm) > LARGEST_PAGE_MM + 0.01:
            raise Misuse(
                "a PDF page cannot be this large",
                how_much=f"{width_mm:.0f} x {height_mm:.0f} mm, at most {LARGEST_PAGE_MM:.0f} mm",
                what_to_do="Print on several sheets or tiles.",
            )
        page = pdfdoc.PDFPage()
        sides = (width_mm * POINTS_PER_MM, height_mm * POINTS_PER_MM)
        page.MediaBox = pdfdoc.PDFArray([0, 0, *(_Fixed(side) for side in sides)])
        scale = number(POINTS_PER_MM, 9)
        page.Contents = self._stream(f"{scale} 0 0 {scale} 0 0 cm\n{content}")
        page.Resources = self._resources(forms)
        self._doc.addPage(page)

    def to_bytes(self) -> bytes:
        """The finished file."""
        catalog = self._doc.Catalog
        preferences = pdfdoc.ViewerPreferencesPDFDictionary()
        preferences["PrintScaling"] = "None"  # so that a print dialog starts at 100 %
        preferences["DisplayDocTitle"] = "true"
        catalog.ViewerPreferences = preferences
        if self._layers:
            catalog.__NoDefault__ = [*pdfdoc.PDFCatalog.__NoDefault__, "OCProperties"]
            catalog.OCProperties = self._layer_properties()
            catalog.PageMode = "/UseOC"
        return bytes(self._doc.GetPDFData(None))

    def _layer_properties(self) -> Any:
        groups = [group for _, group, _ in self._layers.values()]
        hidden = [group for _, group, visible in self._layers.values() if not visible]
        default = {"Order": pdfdoc.PDFArray(groups), "Name": pdfdoc.PDFString("Layers")}
        if hidden:
            default["OFF"] = pdfdoc.PDFArray(hidden)
        return pdfdoc.PDFDictionary(
            {"OCGs": pdfdoc.PDFArray(groups), "D": pdfdoc.PDFDictionary(default)}
        )

    def _resources(self, forms: Iterable[str]) -> Any:
        resources: dict[str, Any] = {
            "Font": pdfdoc.PDFObjectReference(pdfdoc.BasicFonts),
            "ExtGState": self._alpha_states,
            "Properties": _Later(
                lambda: {resource: group for resource, group, _ in self._layers.values()}
            ),
        }
        used = {name: self._forms[name] for name in dict.fromkeys(forms)}
        if used:
            resources["XObject"] = pdfdoc.PDFDictionary(used)
        return pdfdoc.PDFDictionary(resources)

    def _stream(self, content: str) -> Any:
        self._doc.updateSignature(content.encode("latin-1"))
        stream = pdfdoc.PDFStream(content=zlib.compress(content.encode("latin-1"), 9))
        stream.dictionary["Filter"] = "/FlateDecode"
        return stream


class _Later(pdfdoc.PDFObject):  # type: ignore[misc]
    """A dictionary that is filled only when the file is written."""

    def __init__(self, entries: Any) -> None:
        self._entries = entries

    def format(self, document: Any) -> bytes:
        return bytes(pdfdoc.PDFDictionary(self._entries()).format(document))


class _Fixed(pdfdoc.PDFObject):  # type: ignore[misc]
    """A number of points with five decimals: a hundredth of a micrometer."""

    def __init__(self, value: float) -> None:
        self._value = value

    def format(self, document: Any) -> bytes:
        return number(self._value, 5).encode("ascii")


def _escaped(codes: bytes) -> str:
    """The inside of a literal string: special bytes as octal, the rest as they are."""
    return "".join(
        chr(code) if 32 <= code < 127 and code not in b"()\\" else f"\\{code:03o}" for code in codes
    )
