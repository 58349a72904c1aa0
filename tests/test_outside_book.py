"""The build book before programs that are not ours: the Nu Html Checker, axe and a browser (Chromium), qpdf.

A missing program is a failure, not a skip.
"""

import json
import os
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageDraw

from foamcut.airframe.model import Mesh
from foamcut.book.values import Book, Chapter, Turning
from foamcut.write import book_html, book_pdf
from tests.write.book_demo import PLAIN, empty_book, nasty_book, picture, plain_book

pytestmark = pytest.mark.outside_tools

MODULES = Path(__file__).parent.parent / ".venv" / "node_modules"
LOOK = Path(__file__).parent / "outside" / "look_at_book.js"
BOOKS = {"plain": plain_book, "nasty": nasty_book, "empty": empty_book}


def run(*command: object) -> str:
    done = subprocess.run(
        [str(word) for word in command], capture_output=True, text=True, check=False,
        env={**os.environ, "NODE_PATH": str(MODULES)},
    )  # fmt: skip
    assert done.returncode == 0, f"{command}: {done.stdout}{done.stderr}"
    return done.stdout + done.stderr


def complaints(*paths: Path) -> list[str]:
    """Errors that the checker of HTML finds; warnings are not counted."""
    jar = MODULES / "vnu-jar" / "build" / "dist" / "vnu.jar"
    assert jar.exists(), f"no {jar}: make test-outside-tools installs it"
    done = subprocess.run(
        ["java", "-jar", str(jar), "--format", "json", *map(str, paths)],
        capture_output=True,
        text=True,
        check=False,
    )
    messages = json.loads(done.stderr)["messages"]
    return [f"{one.get('lastLine')}: {one['message']}" for one in messages if one["type"] != "info"]


def looked_at(path: Path, folder: Path) -> dict:
    """What the browser saw; its pictures and prints lie in the folder."""
    chromium = shutil.which("chromium")
    assert chromium, "no chromium: install Debian's package"
    folder.mkdir(exist_ok=True)
    return json.loads(run("node", LOOK, chromium, path, folder).splitlines()[-1])


@pytest.fixture(scope="module", params=BOOKS)
def page(request, tmp_path_factory) -> tuple[str, Path]:
    path = tmp_path_factory.mktemp(request.param) / "book.html"
    path.write_bytes(book_html.render(BOOKS[request.param](), boards="board 5 mm"))
    return request.param, path


@pytest.fixture(scope="module")
def look(page) -> tuple[str, Path, dict]:
    """The name of the book, the folder of what was taken of it, and what was seen."""
    name, path = page
    return name, path.parent, looked_at(path, path.parent)


def test_the_checker_finds_no_error(page):
    """published: the HTML standard as the Nu Html Checker (validator.github.io/validator) knows it."""
    assert complaints(page[1]) == []


def test_the_checker_finds_fault_with_a_damaged_page(tmp_path):
    """The check above can fail."""
    path = tmp_path / "book.html"
    path.write_bytes(book_html.render(plain_book()).replace(b"<figcaption", b"<td><figcaption", 1))
    assert complaints(path)


def test_axe_finds_no_violation(look):
    """published: WCAG 2.0 to 2.2, levels A and AA, as axe-core's rules know them; by day, by night, on a phone."""
    _, _, said = look
    assert set(said["axe"]) == {"desk", "phone", "night"}
    for report in said["axe"].values():
        assert report["violations"] == [] and report["passes"] > 5


def test_nothing_is_asked_of_the_network_and_nothing_goes_wrong(look):
    _, _, said = look
    assert said["requests"] == [] and said["errors"] == []


def test_no_page_is_wider_than_its_window(look):
    for wide, window in look[2]["widths"].values():
        assert wide <= window


def test_the_model_turns_by_keys_mouse_buttons_and_touch(look):
    name, _, said = look
    saw = said["turning"]
    if name == "empty":
        assert not saw["begin"]["canvas"]
        return
    assert saw["begin"] == {"canvas": True, "still": False, "controls": True, "other": True}
    assert saw["ring"] == "solid"
    turned = [saw["dragged"], saw["chosen"], *saw["keys"].values(), *saw["buttons"].values()]
    assert saw["first"] not in turned
    assert len(set(saw["keys"].values())) == 6
    assert list(saw["keys"].values()) == list(saw["buttons"].values())
    assert saw["first"] == saw["back"] == saw["all"]
    assert saw["touched"][0] != saw["touched"][1]
    assert saw["words"] == "Seen from front left, 24 degrees above."


def test_the_still_picture_can_be_had_and_stands_where_nothing_turns(look):
    name, _, said = look
    saw = said["turning"]
    still = {"canvas": False, "still": name != "empty", "controls": False, "other": False}
    assert saw["without_scripts"] == saw["without_webgl"] == still
    if name != "empty":
        assert saw["stood"] == still | {"other": True}
        assert saw["again"] == saw["begin"]


def test_the_skip_link_leads_to_the_book_and_a_box_can_be_ticked(look):
    name, _, said = look
    assert (said["skip"], said["main"]) == ("skip", "MAIN")
    assert name == "empty" or said["ticked"] is True


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_prints(look, paper):
    """All headings, the still picture's caption, the plan at the head, no button."""
    name, folder, _ = look
    document = pypdfium2.PdfDocument(folder / f"{paper}.pdf")
    words = [sheet.get_textpage().get_text_range() for sheet in document]
    whole = " ".join(words)
    assert "Turn left" not in whole and "Skip to" not in whole and "ticks are lost" not in whole
    for number, each in enumerate(words, 1):
        assert f"{number} of {len(words)}" in each
    if name == "plain":
        assert all("cordgrass-2, revision C" in each for each in words)
        for chapter in plain_book().chapters:
            for one in (chapter, *chapter.within):
                assert one.heading in whole
        assert len(document) < 8
    if name == "nasty":
        rows = [int(row) for row in re.findall(r"(?<![\d.])\d+(?![\d.])", whole)]
        assert set(range(300)) <= set(rows)


def boxes(*sides: tuple[tuple[float, float, float], tuple[float, float, float]]) -> tuple[Mesh, ...]:
    """Solid boxes between two corners, a mesh each."""
    corners = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
    triangles = np.array(
        [[0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
         [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]]
    )  # fmt: skip
    return tuple(
        Mesh(
            name=f"box {i}",
            stock="b",
            vertices=np.array(low) + corners * (np.array(high) - low),
            triangles=triangles,
        )
        for i, (low, high) in enumerate(sides)
    )


def test_the_first_view_is_what_an_eye_at_the_front_left_above_sees(tmp_path):
    """arithmetic: a parallel projection along the eye's direction, drawn by another library; no mirror image.

    The model has a body, a long right wing, a short left one and a fin: no two views of it are alike.
    """
    several = boxes(
        ((0, -20, 0), (400, 20, 40)), ((80, 20, 30), (180, 350, 40)), ((80, -120, 30), (140, -20, 40)),
        ((330, -5, 40), (400, 5, 140)),
    )  # fmt: skip
    turning = Turning(meshes=several, still=picture(), caption="c")
    path = tmp_path / "book.html"
    chapter = Chapter(id="a", heading="A", blocks=(turning,))
    path.write_bytes(book_html.render(Book(title=PLAIN, chapters=(chapter,))))
    looked_at(path, tmp_path)
    with Image.open(tmp_path / "first.png") as taken:
        inner = np.array(taken.convert("L"))[3:-3, 3:-3]  # without the frame
    ours = inner < 250
    about, above = 1.19 * np.pi, 0.42
    eye = np.array([np.cos(above) * np.cos(about), np.cos(above) * np.sin(about), np.sin(above)])
    assert eye[0] < 0 and eye[1] < 0 and eye[2] > 0  # before, to the left, above
    right = np.cross([0.0, 0.0, 1.0], eye)
    right /= np.linalg.norm(right)
    up = np.cross(eye, right)
    rows, columns = ours.nonzero()
    size = columns.max() - columns.min() + 1, rows.max() - rows.min() + 1
    flat = [one.vertices @ np.array([right, -up]).T for one in several]
    low, high = np.vstack(flat).min(axis=0), np.vstack(flat).max(axis=0)
    scale = (size[0] - 1) / (high - low)[0]
    theirs = Image.new("1", size)
    for one, places in zip(several, flat, strict=True):
        for triangle in one.triangles:
            corners = [tuple(place) for place in ((places[triangle] - low) * scale).tolist()]
            ImageDraw.Draw(theirs).polygon(corners, fill=1)
    cut = ours[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    expected = np.array(theirs)
    assert (cut & expected).sum() / (cut | expected).sum() > 0.97
    assert (cut[:, ::-1] & expected).sum() / (cut[:, ::-1] | expected).sum() < 0.9


@pytest.mark.parametrize("name", BOOKS)
def test_qpdf_finds_nothing_wrong_with_the_printed_book(name, tmp_path):
    path = tmp_path / "book.pdf"
    path.write_bytes(book_pdf.render(BOOKS[name](), boards="board 5 mm"))
    assert "No syntax or stream encoding errors found" in run("qpdf", "--check", path)
    assert "warning" not in run("pdftoppm", "-r", "20", "-png", path, tmp_path / "page").lower()


def test_books_of_the_samples(sample_packs, tmp_path):
    """Every book of a pack before the checkers, that of the twin in the browser."""
    assert complaints(*(folder / "book.html" for folder in sample_packs.values())) == []
    for folder in sample_packs.values():
        assert (folder / "book.html").stat().st_size < 2_000_000
        assert (folder / "book.pdf").stat().st_size < 3_000_000
        assert "No syntax or stream encoding errors found" in run("qpdf", "--check", folder / "book.pdf")
    said = looked_at(sample_packs["cordgrass-2"] / "book.html", tmp_path)
    assert [one["violations"] for one in said["axe"].values()] == [[], [], []]
    assert said["requests"] == [] and said["errors"] == []
    assert said["turning"]["first"] == said["turning"]["back"] != said["turning"]["dragged"]
