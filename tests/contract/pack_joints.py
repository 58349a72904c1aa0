"""Checks of joints in layout.json: where parts are cut, from the sections alone and from the design's words."""

import math
from collections.abc import Iterator
from typing import Any

import shapely
from pack_design import Design
from pack_drawn import Drawn, DrawnPart
from pack_folds import crossing_of
from pack_layout import FILE, Layout
from pack_report import Report
from shapely import LineString, Polygon

# Coordinates carry 6 decimals; a joint line is one x or one y to them.
LINE_MM = 2e-6
# Distances between what two computations make of the same shapes.
OFF_MM = 0.01
SHORTEST_OVER_MM = 20.0


def check_joints(report: Report, layout: Layout, design: Design | None, drawn: Drawn | None) -> None:
    """Joint lines are straight, where they may be, those of the builder where he said."""
    for number, joint in enumerate(layout.raw.get("joints", [])):
        report.expect(
            joint["part"] in layout.parts, FILE, f"joint {number + 1}: part {joint['part']!r} is not listed"
        )
    for name in layout.parts:
        joints = joints_of(layout, name)
        sections = sections_of(layout, name)
        part = drawn.parts.get(name) if drawn else None
        if sections:
            _check_lines(report, layout, name, joints, sections)
        else:
            report.expect(not joints, FILE, f"part {name}: a joint is listed, and it is cut in no sections")
        if part is not None:
            _check_wishes(report, name, joints, part, bool(sections))
            if sections:
                _check_room_along(report, layout, name, joints, part)
            if design is not None and sections and part.joints is None and not part.may_join:
                _check_need(report, layout, design, name)


def joints_of(layout: Layout, name: str) -> list[dict[str, Any]]:
    """Return the joints that the layout lists for a part."""
    return [joint for joint in layout.raw.get("joints", []) if joint["part"] == name]


def sections_of(layout: Layout, name: str, copy: int = 1) -> list[tuple[dict[str, Any], Polygon]]:
    """Return the sections of one copy of a part."""
    return [
        (piece, layout.piece_shape(piece["id"]))
        for piece in layout.pieces.values()
        if piece["part"] == name and piece["copy"] == copy and piece["role"] == "section"
    ]


def seams(sections: list[tuple[dict[str, Any], Polygon]]) -> Iterator[tuple[str, str, LineString]]:
    """Give the straight stretches along which two sections touch."""
    for at, (first, shape) in enumerate(sections):
        for second, other in sections[at + 1 :]:
            shared = shape.boundary.intersection(other.boundary)
            for part in shapely.get_parts(shared):
                if part.geom_type == "LineString" and part.length > 1e-6:
                    yield first["id"], second["id"], part


def on_line(joint: dict[str, Any], seam: LineString) -> bool:
    """Whether a stretch lies on a joint's line."""
    axis = 0 if joint["axis"] == "x" else 1
    return all(abs(point[axis] - joint["at"]) <= LINE_MM for point in seam.coords)


def joint_line(layout: Layout, joint: dict[str, Any]) -> shapely.Geometry:
    """Return the stretches of a part's joint line along which its sections touch."""
    own = [seam for _, _, seam in seams(sections_of(layout, joint["part"])) if on_line(joint, seam)]
    return shapely.union_all(own) if own else LineString()


def _check_lines(
    report: Report,
    layout: Layout,
    name: str,
    joints: list[dict[str, Any]],
    sections: list[tuple[dict[str, Any], Polygon]],
) -> None:
    used: set[int] = set()
    for first, second, seam in seams(sections):
        found = [at for at, joint in enumerate(joints) if on_line(joint, seam)]
        (x0, y0), (x1, y1) = seam.coords[0], seam.coords[-1]
        report.expect(
            bool(found),
            FILE,
            f"part {name}: {first} and {second} meet from ({x0:.3f}, {y0:.3f}) to ({x1:.3f}, {y1:.3f}), "
            "where no joint line is listed",
        )
        used |= set(found)
    left, bottom, right, top = layout.part_shape(name).bounds
    for at, joint in enumerate(joints):
        what = f"part {name}: joint at {joint['axis']} = {joint['at']}"
        report.expect(at in used, FILE, f"{what}: no two sections meet there")
        length = right - left if joint["axis"] == "x" else top - bottom
        report.expect(
            abs(length - joint["length"]) <= OFF_MM,
            FILE,
            f"{what}: the length over it is {joint['length']}, the part is {length:.3f} mm long",
        )


def _check_wishes(
    report: Report, name: str, joints: list[dict[str, Any]], part: DrawnPart, joined: bool
) -> None:
    """Where the builder says where a part is joined, it is joined there; "none" forbids it.

    With may_join it is joined there or not at all.
    """
    if part.joints is None or (part.joints and part.may_join and not joined):
        return
    if not part.joints:
        report.expect(not joined, FILE, f"part {name}: is joined, and its design says joints = none")
        return
    wished = sorted(part.joints)
    found = sorted((joint["axis"], float(joint["at"])) for joint in joints)
    same = len(wished) == len(found) and all(
        a == c and math.isclose(b, d, abs_tol=1e-5) for (a, b), (c, d) in zip(wished, found, strict=True)
    )
    report.expect(same, FILE, f"part {name}: joined at {found}, the design says {wished}")


def _check_room_along(
    report: Report, layout: Layout, name: str, joints: list[dict[str, Any]], part: DrawnPart
) -> None:
    """One overlap off slots, cutouts, tabs, what is kept clear and folds beside; no section too short."""
    shape, overlap = layout.part_shape(name), part.doubling.overlap_mm
    for joint in joints:
        line = joint_line(layout, joint)
        if line.is_empty:
            continue
        where = f"part {name}: joint at {joint['axis']} = {joint['at']}"
        for what, obstacle in _obstacles(part, shape, line):
            apart = line.distance(obstacle)
            report.expect(
                apart >= overlap - OFF_MM,
                FILE,
                f"{where}: {apart:.3f} mm from {what}, an overlap of {overlap:g} mm is due",
            )
    shortest = 2 * overlap + SHORTEST_OVER_MM
    for piece, section in sections_of(layout, name):
        for axis, (low, high) in _cut_sides(section, joints).items():
            report.expect(
                high - low >= shortest - OFF_MM,
                FILE,
                f"piece {piece['id']}: {high - low:.3f} mm along {axis}, a section is {shortest:g} mm at least",
            )


def _cut_sides(section: Polygon, joints: list[dict[str, Any]]) -> dict[str, tuple[float, float]]:
    """Return a section's extent along each axis across which it is cut."""
    left, bottom, right, top = section.bounds
    box = {"x": (left, right), "y": (bottom, top)}
    return {
        axis: box[axis]
        for axis in ("x", "y")
        if any(
            joint["axis"] == axis and min(abs(joint["at"] - end) for end in box[axis]) <= LINE_MM
            for joint in joints
        )
    }


def _obstacles(
    part: DrawnPart, shape: Polygon, line: shapely.Geometry
) -> Iterator[tuple[str, shapely.Geometry]]:
    for ring in shape.interiors:
        yield "a hole", Polygon(ring)
    for slot in part.slots:
        yield "a slot", slot
    for tab in part.tabs:
        yield "a tab", tab
    for box in part.keep_clear:
        yield "what is kept clear", box
    for number, fold in enumerate(part.folds):
        own = crossing_of(fold, part.thickness_mm, shape)
        for run in own.runs:
            axis = own.frame.line(0.0, *run)
            if not axis.intersects(line):
                yield f"fold {number + 1}, which lies beside it", axis


def _check_need(report: Report, layout: Layout, design: Design, name: str) -> None:
    """A part that lies whole on a board in one of its turns is not cut in two."""
    part, shape = layout.parts[name], layout.part_shape(name)
    stock = next((stock for stock in design.stocks if stock.name == part["stock"]), None)
    if stock is None:
        return
    margin = layout.stocks[stock.name]["margin"]
    left, bottom, right, top = shape.bounds
    sides = [(right - left, top - bottom)]
    grain = layout.stocks[stock.name]["grain"]
    if part["turns"] in ("quarter", "any") and (grain == "none" or part["grain"] == "any"):
        sides.append(sides[0][::-1])
    for board in stock.boards:
        if board.size_mm is None or board.offcut:
            continue
        wide, high = (side - 2 * margin + 1e-9 for side in board.size_mm)
        fits = any(width <= wide and height <= high for width, height in sides)
        if grain != "none" and part["grain"] not in ("any", grain):
            fits = False  # then it lies turned, which is not looked into here
        report.expect(
            not fits,
            FILE,
            f"part {name}: is cut in sections, and lies whole on a board of {board.size_mm} mm",
        )
