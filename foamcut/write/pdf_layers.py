"""Layers of a PDF that a viewer can switch on and off: optional content groups.

The library has no call for them, so its catalog is given one entry more and each page's resources
name the groups.  The entries are those of the PDF reference 1.6, "Optional Content".
"""

from collections.abc import Sequence

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFCatalog,
    PDFDictionary,
    PDFName,
    PDFObjectReference,
    PDFResourceDictionary,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas

from foamcut.draw.values import Line


class _Catalog(PDFCatalog):
    """The library's catalog with an entry for layers, written in place and not as an object of its own."""

    __NoDefault__ = (*PDFCatalog.__NoDefault__, "OCProperties")
    __Refs__ = tuple(PDFCatalog.__NoDefault__)


class Layers:
    """The layers of one document, in the order given, all switched on."""

    #: operator that ends what `begin` began
    END = "EMC"

    def __init__(self, canvas: Canvas, lines: Sequence[Line]) -> None:
        self._document = canvas._doc
        self._groups = {line: self._group(line) for line in lines}

    def _group(self, line: Line) -> PDFObjectReference:
        group = PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(line.value)})
        return self._document.Reference(group, f"layer.{line.name}")

    def begin(self, line: Line) -> str:
        """Operators that put what follows into the layer of a kind of line."""
        return f"/OC /{line.name} BDC"

    def finish(self) -> None:
        """Name the layers in the catalog and in the pages, when all pages are there."""
        if not self._groups:
            return
        groups = PDFArray(list(self._groups.values()))
        default = PDFDictionary({"Name": PDFString("all lines"), "BaseState": PDFName("ON"), "Order": groups})
        self._document.Catalog.__class__ = _Catalog
        self._document.Catalog.OCProperties = PDFDictionary({"OCGs": groups, "D": default})
        for page in self._document.Pages.pages:
            page.Resources = PDFResourceDictionary(
                Properties={line.name: group for line, group in self._groups.items()}
            )
            page.Resources.basicFonts()
            page.Trans = None  # else each page carries an empty transition
