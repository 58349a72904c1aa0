"""What a bar of 100 mm reads when a printer made the page fit something else.

Arithmetic on the sizes of paper: a page w x h fitted into W x H is drawn at min(W / w, H / h).
"""

from foamcut.draw.paper import PAPERS, Paper

#: white edges that printers leave, mm: an office laser's, and the quarter inch of many drivers
EDGES_MM = (4.2, 6.35)
#: the paper that stands beside it in the other countries' cupboards, and the next smaller one
_OTHERS = {
    "a4": ("letter",),
    "letter": ("a4",),
    "a3": ("tabloid", "a4"),
    "tabloid": ("a3", "letter"),
}


def fitted_percent(page: Paper, onto: Paper, edge_mm: float = 0.0) -> float:
    """Per cent at which a page is drawn when it is fitted on a paper inside white edges."""
    return 100 * min(
        (onto.width_mm - 2 * edge_mm) / page.width_mm, (onto.height_mm - 2 * edge_mm) / page.height_mm
    )


def shrink_rows(paper: Paper) -> tuple[tuple[str, float], ...]:
    """Ways in which a page of this paper gets a wrong size, and what its bar of 100 mm then reads, mm."""
    rows = [(f"{paper.words} inside edges of {edge} mm", paper, edge) for edge in EDGES_MM]
    for name in _OTHERS[paper.name]:
        other = PAPERS[name]
        rows.append((f"{paper.words} on {other.words}", other, 0.0))
        rows.append((f"{paper.words} on {other.words}, {EDGES_MM[1]} mm edges", other, EDGES_MM[1]))
    return tuple((words, fitted_percent(paper, onto, edge)) for words, onto, edge in rows)
