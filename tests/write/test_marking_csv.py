"""The table of the marking-out sheet: its header, its numbers, and nothing that a spreadsheet would run."""

import csv
import io

from foamcut.draw.marking import MarkingRow
from foamcut.write.marking_csv import render


def row(**more) -> MarkingRow:
    values = {
        "stock": "board",
        "sheet": 2,
        "piece": "floor-1",
        "point": "3 of slot 1, takes ply",
        "from_left": "9.40625",
        "from_bottom": "0.5",
        "unit": "in",
        "written": "9 13/32 and 1/2",
        "rounding_error_mm": 0.123456,
    } | more
    return MarkingRow(**values)


def test_the_header_and_a_row():
    assert render([row()]).decode() == (
        "stock,sheet,piece,point,from_left,from_bottom,unit,written,rounding_error_mm\r\n"
        'board,2,floor-1,"3 of slot 1, takes ply",9.40625,0.5,in,9 13/32 and 1/2,0.1235\r\n'
    )


def test_no_rows_leave_the_header():
    assert render([]).count(b"\r\n") == 1


def test_names_come_back_whole_and_run_nothing():
    names = ["=1+1", 'side "left", new', "潮汐記録器", "a" * 200]
    data = render([row(piece=name) for name in names])
    read = [one["piece"] for one in csv.DictReader(io.StringIO(data.decode(), newline=""))]
    assert read == ["'=1+1", *names[1:]]
