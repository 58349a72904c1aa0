"""The book's page read back by the standard library's parser: one file, whole, nothing of it markup by chance."""

import base64
import hashlib
import json
import re
from html.parser import HTMLParser
from itertools import pairwise

import numpy as np
import pytest

from foamcut.airframe.model import Mesh
from foamcut.draw.picture import PENS, Ink, Picture, Shape
from foamcut.write import book_html
from foamcut.write.book_svg import inline
from foamcut.write.book_turning import numbers
from foamcut.write.book_words import readable
from tests.write.book_demo import ARABIC, NASTY, empty_book, meshes, nasty_book, picture, plain_book

BOOKS = {"plain": plain_book, "nasty": nasty_book, "empty": empty_book}
VOID = {"meta", "link", "input", "br"}


class Read(HTMLParser):
    """Elements with their attributes, and the words of all that is shown."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None], tuple[str, ...]]] = []
        self.words: list[str] = []
        self.inside: dict[str, list[str]] = {}

    def handle_starttag(self, tag, attrs):
        assert len(dict(attrs)) == len(attrs), (tag, attrs)
        self.elements.append((tag, dict(attrs), tuple(self.open)))
        if tag not in VOID:
            self.open.append(tag)
            self.inside.setdefault(tag, []).append("")

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, dict(attrs), tuple(self.open)))

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, (tag, self.open)
        self.open.pop()

    def handle_data(self, data):
        if self.open:
            self.inside[self.open[-1]][-1] += data
        if not {"script", "style"} & set(self.open):
            self.words.append(data)

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes, _ in self.elements if name == tag]


@pytest.fixture(scope="module", params=BOOKS)
def page(request) -> tuple[str, Read]:
    text = book_html.render(BOOKS[request.param](), boards="board 5 mm").decode("utf-8")
    read = Read()
    read.feed(text)
    read.close()
    assert not read.open
    return text, read


def test_the_page_says_what_it_is(page):
    text, read = page
    assert text.startswith('<!DOCTYPE html>\n<html lang="en">')
    assert {"charset": "utf-8"} in read.named("meta")
    assert any(meta.get("name") == "viewport" for meta in read.named("meta"))
    assert (
        len(read.named("h1"))
        == len(read.named("main"))
        == len(read.named("title")) - len(read.named("svg"))
        == 1
    )


def test_nothing_is_loaded(page):
    """No address but anchors within the page; the page's rule on contents allows nothing else."""
    text, read = page
    for tag, attributes, _ in read.elements:
        for name in ("src", "href", "srcset", "data", "action", "poster", "style", "onclick"):
            if name in attributes:
                assert (tag, name) in {("a", "href"), ("link", "href")}, (tag, attributes)
                assert attributes[name].startswith("#") or attributes[name] == "data:,"
    style = " ".join(read.inside["style"])
    assert "url(" not in style and "@import" not in style
    assert "http" not in text.replace("http-equiv", "")


def test_the_rule_on_contents_names_what_stands_in_the_page(page):
    """memory: CSP Level 3 names a style or script by the SHA-256 of its text, in base64."""
    _, read = page
    rule = next(m["content"] for m in read.named("meta") if m.get("http-equiv") == "Content-Security-Policy")
    assert rule.startswith("default-src 'none'; ")
    scripts = [
        words
        for words, attributes in zip(read.inside["script"], read.named("script"), strict=True)
        if "type" not in attributes
    ]
    for directive, several in (("style-src", read.inside["style"]), ("script-src", scripts)):
        allowed = re.search(rf"{directive} ([^;]*);", rule).group(1).split()
        hashes = [base64.b64encode(hashlib.sha256(words.encode()).digest()).decode() for words in several]
        assert allowed == [f"'sha256-{one}'" for one in hashes]


def test_headings_go_down_one_level_at_a_time(page):
    _, read = page
    levels = [int(tag[1]) for tag, _, _ in read.elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_ids_are_unique_and_everything_named_is_there(page):
    _, read = page
    ids = [attributes["id"] for _, attributes, _ in read.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes, _ in read.elements:
        for name in ("aria-labelledby", "aria-describedby", "for"):
            assert set((attributes.get(name) or "").split()) <= set(ids)
        if "href" in attributes and attributes["href"].startswith("#"):
            assert attributes["href"][1:] in ids


def test_tables_and_boxes_tell_what_they_are(page):
    _, read = page
    assert len(read.named("table")) == len(read.named("caption"))
    for tag, attributes, around in read.elements:
        if tag == "th":
            assert attributes["scope"] == ("col" if "thead" in around else "row")
        if tag == "input":
            assert "label" in around and attributes["type"] == "checkbox"
        if tag == "svg":
            assert attributes["role"] == "img"


@pytest.mark.parametrize("words", [words for words in NASTY if words])
def test_every_text_stands_there_as_words(words):
    """Markup in a text is words: the page has no element that the template does not have."""
    read = Read()
    read.feed(book_html.render(nasty_book()).decode())
    assert sum(readable(words) in each for each in read.words) >= 5
    assert "b" not in {tag for tag, _, _ in read.elements}
    assert len(read.named("script")) == 3
    assert "49" not in " ".join(each for each in read.words if "7 * 7" in each or "{{" in each)


def test_chapters_and_blocks_come_in_their_order():
    text = book_html.render(plain_book()).decode()
    order = ["What it is</h2>", "The model as it stands.", "What to buy and what is cut</h2>", "Every part",
             "Building, step by step</h2>", "1 Glue former 1 to the side</h3>", "<strong>Caution:</strong>",
             "Spread the glue.", "Former 1 stands square.", "The former is square", "2 Glue former 2", "Log</h2>"]  # fmt: skip
    places = [
        text.rindex(words) if words == "Every part" else text.index(words, text.index("<main"))
        for words in order
    ]
    assert places == sorted(places)
    assert text.count('<input type="checkbox">') == 6
    assert "The ticks are lost" in text


def test_a_book_without_chapters_says_so():
    text = book_html.render(empty_book()).decode()
    assert "There is nothing in this book." in text and "<nav" not in text


def test_rows_and_cells_are_all_there():
    read = Read()
    read.feed(book_html.render(nasty_book()).decode())
    cells = [words.strip() for words in (*read.inside["th"], *read.inside["td"])]
    assert [words for words in cells if words.isdigit()] == [str(i) for i in range(300)]


def test_the_same_book_gives_the_same_bytes():
    assert book_html.render(nasty_book()) == book_html.render(nasty_book())


def test_readable_words():
    assert readable("a\x00b\u202ec\ud83dd  e\n\u2028f") == "abcd e f"
    assert readable("e\u0301") == "é"
    assert readable("\u0301x") == "\u00a0\u0301x"
    assert readable("z" + "\u0336" * 9) == "z" + "\u0336" * 4
    assert readable("\U0001f469\u200d\U0001f52c") == "\U0001f469\u200d\U0001f52c"
    assert readable(ARABIC) == ARABIC


# pictures


def drawn_points(svg: str) -> list[list[tuple[float, float]]]:
    """Points of every run of lines, mm, y down, as the path grammar has them (SVG 2, 9.3; from memory)."""
    runs = []
    for data in re.findall(r' d="([^"]*)"', svg):
        for start, steps in re.findall(r"M([-\d ]+)l([-\d ]+)z?", data):
            values = [int(number) for number in re.findall(r"-?\d+", start + " " + steps)]
            pairs = np.array(values).reshape(-1, 2)
            runs.append([tuple(place) for place in (np.cumsum(pairs, axis=0) / 100).tolist()])
    return runs


def test_a_picture_keeps_its_lines_to_a_hundredth_of_a_mm():
    """arithmetic: steps are differences of rounded places, so that errors do not add up."""
    points = tuple((0.123456 * i, 40 - 0.0777 * i) for i in range(500))
    shape = Shape(ink=Ink.EDGE, points=points)
    one = Picture(name="p", heading="h", told="t", width_mm=70, height_mm=41, shapes=(shape,), texts=())
    (run,) = drawn_points(inline(one, "x"))
    expected = [(x, 41 - y) for x, y in points]
    assert len(run) == 500
    assert np.abs(np.array(run) - np.array(expected)).max() <= 0.00501


def test_lines_of_an_ink_are_one_path_and_filled_shapes_stay_apart():
    box = ((0.0, 0.0), (5.0, 0.0), (5.0, 5.0))
    shapes = (
        Shape(ink=Ink.EDGE, points=box), Shape(ink=Ink.EDGE, points=box, closed=True),
        Shape(ink=Ink.BOARD, points=box, closed=True), Shape(ink=Ink.BOARD, points=box, closed=True),
        Shape(ink=Ink.BOARD, points=box), Shape(ink=Ink.EDGE, points=((1.0, 1.0), (1.001, 1.0))),
    )  # fmt: skip
    svg = inline(
        Picture(name="p", heading="h", told="t", width_mm=9, height_mm=9, shapes=shapes, texts=()), "x"
    )
    assert re.findall('<path class="([^"]*)"', svg) == [
        "ink-edge",
        "ink-board filled",
        "ink-board filled",
        "ink-board",
    ]
    assert svg.count("M0 900l500 0 0-500z") == 3


def test_every_ink_has_its_pen_in_the_page():
    style = book_html.render(empty_book()).decode()
    for ink, pen in PENS.items():
        name = ink.value.replace(" ", "-")
        width = f"stroke-width:{round(pen.width_mm * 100)}px"
        assert f".picture .ink-{name}{{stroke:#{bytes(pen.colour).hex()};{width}" in style
        assert (f".picture .ink-{name}.filled{{fill:#{bytes(pen.fill or ()).hex()}}}" in style) == (
            pen.fill is not None
        )


def test_words_of_a_picture_are_escaped_and_turned():
    svg = inline(picture("<i>&"), "x")
    assert "&lt;i&gt;&amp;</text>" in svg and "<i>" not in svg
    assert 'transform="rotate(-90 7600 3400)"' in svg


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_picture_refuses_what_is_no_number(bad):
    shape = Shape(ink=Ink.EDGE, points=((0.0, bad), (1.0, 1.0)))
    with pytest.raises(ValueError):
        inline(
            Picture(name="p", heading="", told="", width_mm=9, height_mm=9, shapes=(shape,), texts=()), "x"
        )


# the model that turns


def unpacked(said) -> tuple[np.ndarray, np.ndarray]:
    points = np.frombuffer(base64.b64decode(said["points"]), "<i2").reshape(-1, 3)
    corners = np.frombuffer(base64.b64decode(said["corners"]), f"<u{said['bytes']}").reshape(-1, 3)
    return points, corners


def test_the_models_numbers_give_its_surfaces_again():
    """arithmetic: the farthest side is 200 mm, so that a step is 100 / 32767 mm."""
    several = meshes()
    text = book_html.render(plain_book()).decode()
    said = json.loads(re.search(r'<script type="application/json">(.*?)</script>', text).group(1))
    points, corners = unpacked(said)
    everything = np.vstack([one.vertices for one in several])
    middle = (everything.min(axis=0) + everything.max(axis=0)) / 2
    assert np.abs(points * (100 / 32767) + middle - everything).max() <= 50 / 32767 * 1.001
    assert np.abs(points).max() == 32767
    first = start = 0
    for one, (count, triangles, colour) in zip(several, said["parts"], strict=True):
        assert (corners[first : first + triangles] - start == one.triangles).all()
        assert count == len(one.vertices) and len(colour) == 3
        first, start = first + triangles, start + count
    assert first == len(corners) and start == len(points)


def test_a_model_of_many_points_names_them_with_more_bytes():
    vertices = np.arange(70_000 * 3, dtype=float).reshape(-1, 3)
    one = Mesh(name="a", stock="b", vertices=vertices, triangles=np.array([[0, 1, 69_999]]))
    said = numbers((one,))
    assert said["bytes"] == 4
    assert unpacked(said)[1].tolist() == [[0, 1, 69_999]]


def test_a_model_of_one_point_or_of_none_has_no_size_to_divide_by():
    dot = Mesh(name="a", stock="b", vertices=np.ones((3, 3)), triangles=np.array([[0, 1, 2]]))
    assert unpacked(numbers((dot,)))[0].tolist() == [[0, 0, 0]] * 3
    assert numbers(())["parts"] == []
