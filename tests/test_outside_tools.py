"""Programs beyond Python read what is written; a missing program is a failure, not a skip."""

import json
import re
import subprocess

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageFilter

from foamcut.compare.archive import archive_bytes

pytestmark = pytest.mark.outside_tools


def run(*command: object) -> str:
    done = subprocess.run([str(word) for word in command], capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{command}: {done.stdout}{done.stderr}"
    return done.stdout


def all_files(packs, ending):
    found = [path for folder in packs.values() for path in sorted(folder.rglob(f"*{ending}"))]
    assert found
    return found


def test_qpdf_finds_nothing_wrong_with_any_pdf(sample_packs):
    for path in all_files(sample_packs, ".pdf"):
        out = run("qpdf", "--check", path)
        assert "No syntax or stream encoding errors found" in out


def test_unzip_takes_out_what_was_put_in(sample_packs, tmp_path):
    """The system's own program finds no fault with a pack in one ZIP file, and the same files in it."""
    folder = sample_packs["cordgrass-2"]
    files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    archive = tmp_path / "cordgrass-2.zip"
    archive.write_bytes(archive_bytes(files, "cordgrass-2"))
    assert "No errors detected" in run("unzip", "-t", archive)
    run("unzip", "-q", archive, "-d", tmp_path)
    out = tmp_path / "cordgrass-2"
    assert {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*") if p.is_file()} == files


def test_xmllint_reads_every_svg(sample_packs):
    for path in all_files(sample_packs, ".svg"):
        run("xmllint", "--noout", "--nonet", path)


def test_a_second_renderer_draws_an_svg_at_its_size(sample_packs, tmp_path):
    """At 25.4 dpi a millimetre is a pixel: the picture is as large as the drawing says."""
    for path in all_files(sample_packs, ".svg"):
        target = tmp_path / "sheet.png"
        run("rsvg-convert", "--dpi-x", "25.4", "--dpi-y", "25.4", path, "-o", target)
        width, height = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', path.read_text()).groups()
        with Image.open(target) as picture:
            assert abs(picture.width - float(width)) <= 1.5
            assert abs(picture.height - float(height)) <= 1.5


def test_ogrinfo_counts_every_piece_of_every_dxf(sample_packs):
    for folder in sample_packs.values():
        for sheet in json.loads((folder / "layout.json").read_text())["sheets"]:
            dxf = folder / next(name for name in sheet["files"] if name.endswith(".dxf"))
            out = run("ogrinfo", "-ro", "-al", "-q", "-where", "Layer = 'THROUGH'", dxf)
            assert out.count("OGRFeature") == len(sheet["placed"])


#: share of dark dots that may stray: where many dashed lines lie side by side, the two begin dashes unlike
STRAY = 0.03


def test_poppler_and_pdfium_draw_the_same_pages(sample_packs, tmp_path):
    """Two renderers of unlike origin put the ink in the same places: at 100 dpi, two dots allowed."""
    for path in all_files(sample_packs, ".pdf"):
        run("pdftoppm", "-r", "100", "-gray", "-png", path, tmp_path / path.stem)
        pages = sorted(tmp_path.glob(f"{path.stem}-*.png"))
        document = pypdfium2.PdfDocument(path)
        assert len(pages) == len(document)
        for page, picture in zip(document, pages, strict=True):
            ours = page.render(scale=100 / 72, grayscale=True).to_pil()
            with Image.open(picture) as theirs:
                assert abs(theirs.width - ours.width) <= 1
                assert abs(theirs.height - ours.height) <= 1
                size = min(theirs.width, ours.width), min(theirs.height, ours.height)
                one, other = ours.crop((0, 0, *size)), theirs.convert("L").crop((0, 0, *size))
                assert stray(one, other) < STRAY
                assert stray(other, one) < STRAY
            picture.unlink()
        document.close()


def stray(picture: Image.Image, other: Image.Image) -> float:
    """The share of a picture's dark dots with nothing dark within two dots of it in the other picture."""
    dark = np.asarray(picture) < 100
    near = np.asarray(other.filter(ImageFilter.MinFilter(5))) < 180
    assert dark.any()
    return float((dark & ~near).sum() / dark.sum())
