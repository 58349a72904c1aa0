"""Everything in layout.json that stands in no other output file."""

from pack_beds import check_back_files, check_beds, check_register
from pack_bound import check_bound
from pack_design import Design
from pack_doublers import check_doublers
from pack_drawn import Drawn
from pack_joints import check_joints
from pack_layout import FILE, Layout
from pack_left import check_left
from pack_partial import check_only
from pack_parts import check_parts
from pack_pieces import check_pieces
from pack_poses import check_poses
from pack_report import Report
from pack_sheets import check_placed, check_room, check_sheets
from pack_worked import Expected


def check_layout(
    report: Report, layout: Layout, design: Design | None, drawn: Drawn | None, expected: Expected | None
) -> None:
    """Check everything in layout.json that stands in no other output file."""
    with report.section(FILE, "parts"):
        check_parts(report, layout, design)
    with report.section(FILE, "parts laid alone"):
        check_only(report, layout, design)
    with report.section(FILE, "poses"):
        check_poses(report, layout, design)
    with report.section(FILE, "pieces"):
        check_pieces(report, layout, drawn)
    with report.section(FILE, "joints"):
        check_joints(report, layout, design, drawn)
    with report.section(FILE, "doublers"):
        check_doublers(report, layout, drawn)
    with report.section(FILE, "sheets"):
        check_sheets(report, layout, design)
    with report.section(FILE, "placed pieces"):
        check_placed(report, layout)
    with report.section(FILE, "room between pieces"):
        check_room(report, layout)
    with report.section(FILE, "register holes"):
        check_register(report, layout)
    with report.section(FILE, "bed rectangles"):
        check_beds(report, layout, drawn)
    with report.section(FILE, "what is left in one piece"):
        check_left(report, layout)
    if drawn is not None and expected is not None:
        with report.section(FILE, "files of the turned-over face"):
            check_back_files(report, layout, drawn, expected)
    with report.section(FILE, "bound"):
        check_bound(report, layout, design)
