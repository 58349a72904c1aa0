"""Paper, shrinking and tiles against what is known outside the project."""

import math
from fractions import Fraction

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageFilter

from foamcut.draw.paper import PAPERS
from foamcut.draw.part import part_lines
from foamcut.draw.shrink import fitted_percent, shrink_rows
from foamcut.draw.templates import template_document
from foamcut.draw.values import Document, Page, Window
from foamcut.flat.outline import Outline
from foamcut.write import pdf
from tests.draw.drawn_parts import ON_THE_RIGHT, TITLE, part, slot


def test_iso_a_sizes_are_halves_of_one_another():
    """arithmetic: ISO 216 (rule from memory): A0 has 1 m2 and sides in the ratio sqrt 2 : 1, rounded to whole mm;
    each size is the one before cut in two across its long side, rounded down to whole mm."""
    short, long = round(1000 / 2**0.25), round(1000 * 2**0.25)
    assert (short, long) == (841, 1189)
    sizes = {}
    for number in range(5):
        sizes[f"a{number}"] = short, long
        short, long = long // 2, short
    for name in ("a3", "a4"):
        assert (PAPERS[name].width_mm, PAPERS[name].height_mm) == sizes[name]
        assert PAPERS[name].height_mm / PAPERS[name].width_mm == pytest.approx(math.sqrt(2), rel=0.003)


def test_ansi_sizes():
    """memory: ANSI/ASME Y14.1, sizes A and B: 8.5 x 11 in and 11 x 17 in; one inch is 25.4 mm."""
    for name, (wide, high) in {"letter": ("8.5", "11"), "tabloid": ("11", "17")}.items():
        inches = [float(Fraction(side) * Fraction("25.4")) for side in (wide, high)]
        assert [PAPERS[name].width_mm, PAPERS[name].height_mm] == pytest.approx(inches, abs=1e-9)


@pytest.mark.parametrize(
    ("page", "onto", "edge_mm", "percent"),
    [
        ("a4", "letter", 0.0, Fraction(2794, 2970)),
        ("letter", "a4", 0.0, Fraction(2100, 2159)),
        ("a4", "letter", 6.35, Fraction(2794 - 127, 2970)),
        ("a4", "a4", 4.2, Fraction(2100 - 84, 2100)),
        ("a4", "a4", 6.35, Fraction(21000 - 1270, 21000)),
        ("a3", "a4", 0.0, Fraction(210, 297)),
        ("tabloid", "letter", 0.0, Fraction(11, 17)),
    ],
)
def test_shrunk_pages(page, onto, edge_mm, percent):
    """arithmetic: the smaller of the two ratios of sides, in fractions of the sizes of paper."""
    assert fitted_percent(PAPERS[page], PAPERS[onto], edge_mm) == pytest.approx(
        float(100 * percent), abs=1e-9
    )


def test_table_of_shrunk_pages():
    """arithmetic: the readings of a 100 mm bar on A4, to a tenth."""
    assert [round(reading, 1) for _, reading in shrink_rows(PAPERS["a4"])] == [96.0, 94.0, 94.1, 89.8]


DOTS_PER_MM = 10


def rendered(document, number: int) -> np.ndarray:
    """A page as grey values, lowest row first, 10 dots a mm to the image's own size."""
    page = document[number]
    width, height = (round(side / 72 * 25.4 * DOTS_PER_MM) for side in page.get_size())
    image = page.render(scale=DOTS_PER_MM * 25.4 / 72).to_pil().convert("L")
    return np.flipud(np.asarray(image.resize((width, height), Image.Resampling.NEAREST)))


def cut_lines(grey: np.ndarray) -> np.ndarray:
    """Dots of the two darkest colours, which stand for lines that are cut."""
    return grey < 60


def near(dots: np.ndarray) -> np.ndarray:
    """Dots, and those within two steps: 0.1 mm, and 0.1 mm more for the dots of both pictures."""
    return np.asarray(Image.fromarray((dots * 255).astype(np.uint8)).filter(ImageFilter.MaxFilter(5))) > 0


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("upright", [False, True])
def test_tiles_put_together_are_the_full_size_drawing(paper, upright):
    """Rasterised by PDFium: the tiles, put together, show the cut lines of the part within two dots, and no
    others, where they overlap too; the part drawn in one piece on one page is the measure."""
    points = [(0, 0), (330, 0), (330, 60), (400, 90), (390, 240), (350, 262), (60, 262), (20, 200), (0, 90)]
    if upright:
        points = [(y, x) for x, y in points]
    body = Outline.of_points(points).minus(Outline.circle(200, 200, 35))[0]
    p = part(body, "panel", slots=(slot(120, 60, 50), slot(100, 150, 50, 90)), place=ON_THE_RIGHT)
    document, index = template_document(
        [p], [], TITLE, paper, by="part", every_part=False, sheet_drawings=(), thicknesses={"ply": 1.5}
    )
    assert len(index.tiles) > 2
    tiles = pypdfium2.PdfDocument(pdf.render(document))

    edge, (wide, high) = 5, (450, 450)
    strokes, texts = part_lines(p, TITLE, number=1, template=True)
    view = -edge, -edge, wide - edge, high - edge
    window = Window(view=view, corner=(0.0, 0.0), strokes=strokes, texts=texts)
    whole_page = Page(width_mm=wide, height_mm=high, label="1", bookmark="1", windows=(window,))
    whole_document = Document(title="whole", author="", subject="", pages=(whole_page,))
    whole = cut_lines(rendered(pypdfium2.PdfDocument(pdf.render(whole_document)), 0))

    joined = np.zeros_like(whole)
    for tile in index.tiles:
        shown = cut_lines(rendered(tiles, tile.page - 1))
        x0, y0, x1, y1 = (round((v + edge) * DOTS_PER_MM) for v in tile.window)
        left, low = (round(v * DOTS_PER_MM) for v in tile.corner)
        if tile.turned:
            shown = np.rot90(shown[low : low + (x1 - x0), left : left + (y1 - y0)])
        else:
            shown = shown[low : low + (y1 - y0), left : left + (x1 - x0)]
        region = joined[max(y0, 0) : y1, max(x0, 0) : x1]
        region |= shown[max(-y0, 0) :, max(-x0, 0) :][: region.shape[0], : region.shape[1]]

    assert whole.sum() > 10_000
    assert not (whole & ~near(joined)).any()
    assert not (joined & ~near(whole)).any()
