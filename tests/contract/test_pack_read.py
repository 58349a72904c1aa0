"""What people read of a pack: each rule on a fragment written by hand."""

import json
import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from pack_book import _check_alone, _check_links, _check_page, _check_seen, _counted
from pack_built import built_table, path_of
from pack_design import read_design
from pack_html import read_html
from pack_layout import Layout
from pack_marking import check_marking, corners_of
from pack_marking_rows import HEADER, fraction_of
from pack_partial import check_only
from pack_printed import SCALES, _near, _pairs
from pack_report import Report


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", Fraction(12)),
        ("12.5", Fraction(25, 2)),
        ("17/32", Fraction(17, 32)),
        ("8 17/32", Fraction(273, 32)),
        ("8 2/4", None),
        ("8 5/4", None),
        ("8.50", None),
        ("-1", None),
        ("8 17", None),
        ("", None),
    ],
)
def test_a_number_is_read_as_people_write_it(text: str, value: Fraction | None) -> None:
    """Fractions stand in their lowest terms and below one, decimals without a last nought."""
    assert fraction_of(text) == value


def test_corners_are_told_from_the_vertices_of_a_curve() -> None:
    """A half disc of chords 0.005 mm off its arc has two corners; a point on a straight edge is none."""
    radius = 10.0
    steps = math.ceil(math.pi / (2 * math.acos(1 - 0.005 / radius)))
    arc = [(radius * math.cos(a), radius * math.sin(a)) for a in np.linspace(0, math.pi, steps + 1)]
    ring = np.array([*arc, (0.0, 0.0), arc[0]])
    assert sorted(corners_of(ring).round(6).tolist()) == [[-radius, 0.0], [radius, 0.0]]


SQUARE = [[3.25, 3], [13.25, 3], [13.25, 13], [3.25, 13], [3.25, 3]]


def _layout() -> Layout:
    entry = {"piece": "s-1", "x": 3.25, "y": 3, "turn_deg": 0, "flipped": False, "polygon": [SQUARE]}
    return Layout(raw={"sheets": [{"stock": "board", "number": 1, "size": [100, 80], "placed": [entry]}]})


ROWS = (
    "board,1,s-1,1 of outline,3.5,3,mm,3.5 and 3,0.25",
    "board,1,s-1,2 of outline,13.5,3,mm,13.5 and 3,0.25",
    "board,1,s-1,3 of outline,13.5,13,mm,13.5 and 13,0.25",
    "board,1,s-1,4 of outline,3.5,13,mm,3.5 and 13,0.25",
)


def _faults(*rows: str) -> list[str]:
    report = Report()
    data = "".join(f"{row}\r\n" for row in (HEADER, *rows)).encode()
    check_marking(report, data, _layout(), None, {})
    return [fault.text for fault in report.faults]


def test_a_true_table_has_no_fault() -> None:
    assert _faults(*ROWS) == []


@pytest.mark.parametrize(
    ("was", "now", "fault"),
    [
        ("1 of outline,3.5,3,mm,3.5 and 3", "1 of outline,4,3,mm,4 and 3", "no row for its corner at (3.250, 3.000)"),
        ("3.5 and 13,0.25", "3.5 and 13,0.2", "is told 0.2 mm off and is 0.2500 mm off"),
        ("3.5 and 13,0.25", "3 1/2 and 13,0.25", ""),
        ("3.5 and 13,0.25", "3 1/4 and 13,0.25", "is not 3.5 and 13"),
        ("4 of outline,3.5,13", "4 of rim,3.5,13", "is oddly named"),
        ("4 of outline", "1 of outline", "1 of s-1 is two places"),
    ],
)  # fmt: skip
def test_rows_of_a_table_are_held_against_the_layout(was: str, now: str, fault: str) -> None:
    faults = _faults(*(row.replace(was, now) for row in ROWS))
    assert any(fault in text for text in faults) if fault else faults == []


def test_a_circle_is_marked_out_by_its_middle() -> None:
    """A disc of 6 mm about (20.2, 30): its compass stands at 20 and 30, 0.2 mm off."""
    ring = [[20.2 + 3 * math.cos(a), 30 + 3 * math.sin(a)] for a in np.linspace(0, 2 * math.pi, 101)]
    layout = _layout()
    layout.raw["sheets"][0]["placed"][0]["polygon"] = [ring]
    for left, error, good in (("20", "0.2", True), ("20", "0.1", False), ("20.5", "0.2", False)):
        report = Report()
        row = f'board,1,s-1,"c1 of outline, circle, diameter 6 mm",{left},30,mm,{left} and 30,{error}'
        check_marking(report, f"{HEADER}\r\n{row}\r\n".encode(), layout, None, {})
        assert (not report.faults) is good


@pytest.mark.parametrize(
    ("told", "due", "same"),
    [
        ("547", 546.987, True),
        ("547", 546.4, False),
        ("36.1", 36.14, True),
        ("35 23/32", 35.73, True),
        ("35 23/32", 35.75, False),
    ],
)
def test_a_number_of_a_drawing_is_told_to_its_last_digit(told: str, due: float, same: bool) -> None:
    assert _near(told, due) is same


def test_slots_of_a_gauge_are_read_in_columns() -> None:
    assert _pairs("", " -0.4 4.6 -0.3 4.7") == [(-0.4, 4.6), (-0.3, 4.7)]
    assert _pairs(" slot, in", " -0.4 4.36 0.172 0.6 5.36 0.211") == [(-0.4, 4.36), (0.6, 5.36)]


def test_the_scales_of_the_standard_are_1_2_and_5_times_powers_of_ten() -> None:
    """ISO 5455 as commonly told, from memory: memory."""
    assert {"1:1", "1:2", "1:5", "1:10", "1:20", "2:1"} <= SCALES
    assert not {"1:3", "1:4", "1:8", "1:25"} & SCALES


def _page(body: str, head: str = "<title>x</title>") -> list[str]:
    report = Report()
    text = (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">{head}</head><body>{body}</body></html>'
    )
    root, _, faults = read_html(text)
    nodes = list(root.walk())
    _check_page(report, root, nodes)
    _check_links(report, nodes)
    _check_alone(report, nodes)
    _check_seen(report, nodes)
    return faults + [fault.text for fault in report.faults]


LINKS = "".join(f'<a href="#{name}">{name}</a>' for name in "abcd")
BODY = (
    f'<h1>x</h1>{LINKS}<main id="a"><h2 id="b">y</h2><h3 id="c">z</h3><p id="d">w<br>v</p>'
    '<svg role="img" aria-labelledby="t"><title id="t">a wing</title><path d="M0 0"/></svg></main>'
)


def test_a_good_page_has_no_fault() -> None:
    assert _page(BODY) == []


@pytest.mark.parametrize(
    ("was", "now", "fault"),
    [
        ("<h3", "<h4", "skips from 2 to 4"),
        ('id="b"', 'id="a"', "id 'a' stands 2 times"),
        ('href="#b"', 'href="#e"', "'#e' leads nowhere"),
        ('href="#b"', 'href="https://example.org/"', "leads out"),
        ("a wing", "", "no text in its place"),
        ("</h2>", "", "closes"),
        ("<p ", "<p onclick='x()' ", "onclick"),
        ("<p ", "<p style='background: url(//x)' ", "loads '//x'"),
    ],
)
def test_faults_of_a_page_are_found(was: str, now: str, fault: str) -> None:
    assert any(fault in text for text in _page(BODY.replace(was, now)))


def test_numbers_of_pieces_are_read_in_rows_and_runs() -> None:
    assert _counted("3; 5") == {3, 5}
    assert _counted("3 to 5; 8") == {3, 4, 5, 8}


def test_keys_lead_into_tables_lists_and_quoted_names() -> None:
    assert path_of("half_span") == ["half_span"]
    assert path_of("surface.wing.stations[1].chord") == ["surface", "wing", "stations", 1, "chord"]
    assert path_of('parts."left wing".outline') == ["parts", "left wing", "outline"]
    for odd in ("a b", "a..b", 'parts."x', "[x]"):
        with pytest.raises(ValueError):
            path_of(odd)


def test_what_was_built_takes_the_place_of_what_was_drawn() -> None:
    """A size by its name, a key that was left out, an entry of a list."""
    entries = (
        ("half_span", "96"),
        ("surface.wing.angle", "2"),
        ("aboard[1].mass", '"38 g"'),
        ("stock.board.spare", "1"),
    )
    text = (
        '[plan]\nname = "p"\n[sizes]\nhalf_span = 92\n[surface.wing]\nspan = 1\n[stock.board]\n'
        '[[aboard]]\nname = "a"\n[[aboard]]\nname = "b"\nmass = "35 g"\n'
    )
    text += "".join(
        f"[[built]]\nkey = '{key}'\nvalue = {value}\nwhy = 'x'\ndate = 2031-05-02\n" for key, value in entries
    )
    table = built_table(text)
    assert table["sizes"] == {"half_span": 96}
    assert table["surface"]["wing"] == {"span": 1, "angle": 2}
    assert table["aboard"][1]["mass"] == "38 g"
    design = read_design(text.encode())
    assert [one.key for one in design.built] == [key for key, _ in entries]
    assert design.stocks[0].spare == 1
    assert design.aboard == ("a", "b")


def test_some_parts_are_told_as_they_are_laid() -> None:
    def faults(**more: list[str]) -> list[str]:
        report = Report()
        check_only(report, Layout(raw={"parts": [{"name": "a"}, {"name": "b"}], **more}), None)
        return [fault.text for fault in report.faults]

    assert faults() == faults(only=["a", "b"], added=["b"]) == []
    assert any("names" in text for text in faults(only=["a"], added=[]))
    assert any("not among" in text for text in faults(only=["a", "b"], added=["c"]))
    assert any("only one of" in text for text in faults(only=["a", "b"]))


def test_every_name_of_a_file_in_the_book_is_looked_for(tmp_path: Path) -> None:
    from pack_book import _check_files

    (tmp_path / "marking-out.pdf").write_bytes(b"")
    (tmp_path / "layout.json").write_text(json.dumps({}))
    report = Report()
    rows = [
        ["marking-out.pdf, .csv", "x"],
        ["layout.json", "y"],
        ["sheets/....svg, .dxf", "z"],
        ["gauges.pdf", "w"],
    ]
    _check_files(report, [(["File", "What it is for"], rows)], tmp_path)
    assert [fault.text for fault in report.faults] == ["gauges.pdf is told to be in the pack and is not"]
