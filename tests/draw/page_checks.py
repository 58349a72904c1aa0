"""What must hold of every printed page."""

import shapely

from foamcut.draw.paper import PRINTER_MARGIN_MM
from foamcut.draw.values import Page, Text
from foamcut.draw.words import text_box


def crowded(texts: tuple[Text, ...]) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes overlap."""
    boxes = [text_box(text).buffer(-0.05) for text in texts]
    tree = shapely.STRtree(boxes)
    pairs = tree.query(boxes, predicate="intersects").T
    return [(texts[i].text, texts[j].text) for i, j in sorted(map(tuple, pairs)) if i < j]


def outside(page: Page, margin_mm: float = PRINTER_MARGIN_MM) -> list[str]:
    """Texts of the page itself that reach into the printer's margin, by more than a descender."""
    inner = shapely.box(margin_mm, margin_mm, page.width_mm - margin_mm, page.height_mm - margin_mm).buffer(
        0.7
    )
    return [text.text for text in page.texts if not inner.contains(text_box(text))]


def words(page: Page) -> str:
    """All words of a page, those in windows too."""
    shown = [*page.texts, *(text for window in page.windows for text in window.texts)]
    return "\n".join(text.text for text in shown)
