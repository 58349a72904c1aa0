"""Sizes of printing paper, and how much of a page a printer leaves white.

mm, upright.  ISO A sizes: ISO 216 (each the half of the one before, across its long side); letter and
tabloid: ANSI Y14.1 sizes A and B, 8.5 x 11 in and 11 x 17 in.
"""

from dataclasses import dataclass

from foamcut.units import MM_PER_INCH

#: nothing is printed nearer to the edge than this, mm.  Printer manuals state 4 to 7 mm, inkjets up to
#: 14 mm at the lower edge; common practice, no source
PRINTER_MARGIN_MM = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A size of paper, upright."""

    name: str
    words: str
    width_mm: float
    height_mm: float

    def size(self, *, lying: bool) -> tuple[float, float]:
        """Width and height, mm, of a page that stands upright or lies on its long side."""
        return (self.height_mm, self.width_mm) if lying else (self.width_mm, self.height_mm)


#: every paper that templates can be printed on, by its name on the command line
PAPERS: dict[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper(name="a4", words="A4", width_mm=210.0, height_mm=297.0),
        Paper(name="a3", words="A3", width_mm=297.0, height_mm=420.0),
        Paper(name="letter", words="Letter", width_mm=8.5 * MM_PER_INCH, height_mm=11 * MM_PER_INCH),
        Paper(name="tabloid", words="Tabloid", width_mm=11 * MM_PER_INCH, height_mm=17 * MM_PER_INCH),
    )
}
