"""Checks of doublers in layout.json: where they lie on their part, what they cover, how they end."""

import math
from collections import Counter
from typing import Any

import shapely
from pack_drawn import Doubling, Drawn, DrawnPart
from pack_folds import fold_bands
from pack_joints import joint_line, joints_of, sections_of
from pack_layout import FILE, Layout
from pack_report import Report
from shapely import LineString, Polygon

OFF_MM = 0.01
# Two areas that only touch.
TOUCH_MM2 = 1e-2
LEAST_COVERED = 0.5


def check_doublers(report: Report, layout: Layout, drawn: Drawn | None) -> None:
    """Every doubler lies inside its part, within an overlap of its joint, off everything, and does its duty."""
    for name, part in layout.parts.items():
        for copy in range(1, part["count"] + 1):
            doublers = doublers_of(layout, name, copy)
            if sections_of(layout, name, copy) or doublers:
                _check_letters(report, layout, name, copy, doublers)
                own = drawn.parts.get(name) if drawn else None
                if own is not None:
                    _check_part(report, layout, own, copy, doublers)


def doublers_of(layout: Layout, name: str, copy: int = 1) -> list[tuple[dict[str, Any], Polygon]]:
    """Return the doublers of one copy of a part."""
    return [
        (piece, layout.piece_shape(piece["id"]))
        for piece in layout.pieces.values()
        if piece["part"] == name and piece["copy"] == copy and piece["role"] == "doubler"
    ]


def letter_of(piece: dict[str, Any]) -> str:
    """Return a doubler's letter: the end of its name."""
    return str(piece.get("name", piece["id"])).rpartition("-")[2].upper()


def _check_letters(
    report: Report, layout: Layout, name: str, copy: int, doublers: list[tuple[dict[str, Any], Polygon]]
) -> None:
    """The letters that the joints list are those of the doublers, each once."""
    listed = Counter(letter for joint in joints_of(layout, name) for letter in joint["doublers"])
    found = Counter(letter_of(piece) for piece, _ in doublers)
    report.expect(
        listed == found,
        FILE,
        f"part {name}, copy {copy}: its joints list doublers {sorted(listed)}, its pieces are {sorted(found)}",
    )
    for joint in joints_of(layout, name):
        at = f"{joint['axis']} = {joint['at']}"
        report.expect(bool(joint["doublers"]), FILE, f"part {name}: joint at {at}: no doubler")


def _check_part(
    report: Report,
    layout: Layout,
    part: DrawnPart,
    copy: int,
    doublers: list[tuple[dict[str, Any], Polygon]],
) -> None:
    shape, doubling = layout.part_shape(part.name), part.doubling
    inner = shape.buffer(-(doubling.inset_mm - OFF_MM), join_style="mitre", mitre_limit=20.0)
    bands = shapely.union_all(fold_bands(part, shape)) if part.folds else Polygon()
    kept = shapely.union_all(list(part.keep_clear)) if part.keep_clear else Polygon()
    for at, (piece, body) in enumerate(doublers):
        where = f"piece {piece['id']}"
        outside = body.difference(inner).area
        report.expect(
            outside < TOUCH_MM2,
            FILE,
            f"{where}: {outside:.3f} mm2 of it lie nearer than its inset of {doubling.inset_mm:g} mm to an edge",
        )
        report.expect(
            not body.buffer(-OFF_MM).intersects(bands), FILE, f"{where}: lies over a fold of its part"
        )
        report.expect(
            body.intersection(kept).area < TOUCH_MM2, FILE, f"{where}: lies where the design keeps clear"
        )
        for what, obstacle in [
            *(("a slot", slot) for slot in part.slots),
            *(("a mark that is kept clear", _on_part(mark, shape)) for mark in part.clear),
        ]:
            apart = body.distance(obstacle)
            report.expect(
                apart >= doubling.inset_mm - OFF_MM,
                FILE,
                f"{where}: {apart:.3f} mm from {what}, its inset is {doubling.inset_mm:g} mm",
            )
        for other, second in doublers[at + 1 :]:
            both = body.intersection(second).area
            report.expect(both < TOUCH_MM2, FILE, f"{where}: lies over {other['id']}")
    for joint in joints_of(layout, part.name):
        own = [(piece, body) for piece, body in doublers if letter_of(piece) in joint["doublers"]]
        _check_joint(report, layout, joint, doubling, own, copy)


def _on_part(mark: shapely.Geometry, shape: Polygon) -> shapely.Geometry:
    """Return what a mark covers; of a circle that the part cuts off its line alone is drawn and kept clear."""
    whole = mark.geom_type != "Polygon" or len(mark.exterior.coords) < 100
    return mark if whole or Polygon(shape.exterior).covers(mark) else mark.exterior


def _check_joint(
    report: Report,
    layout: Layout,
    joint: dict[str, Any],
    doubling: Doubling,
    own: list[tuple[dict[str, Any], Polygon]],
    copy: int,
) -> None:
    """Reach to both sides, cover at least half of the line, run in at the ends."""
    where = f"part {joint['part']}, copy {copy}: joint at {joint['axis']} = {joint['at']}"
    line = joint_line(layout, joint)
    axis = 0 if joint["axis"] == "x" else 1
    covered = 0.0
    for piece, body in own:
        low, high = body.bounds[axis], body.bounds[axis + 2]
        reach = max(joint["at"] - low, high - joint["at"])
        what = f"piece {piece['id']}"
        report.expect(
            reach <= doubling.overlap_mm + OFF_MM,
            FILE,
            f"{what}: reaches {reach:.3f} mm from its joint, its overlap is {doubling.overlap_mm:g} mm",
        )
        on = body.intersection(line).length
        report.expect(on > OFF_MM, FILE, f"{what}: does not lie over its joint")
        covered += on
        _check_ends(report, what, body, axis, joint["at"], doubling)
    share = covered / line.length if line.length else 0.0
    report.expect(
        share >= LEAST_COVERED - 1e-6,
        FILE,
        f"{where}: doublers cover {100 * share:.1f} % of the line, half of it at least is due",
    )


def _check_ends(report: Report, what: str, body: Polygon, axis: int, at: float, doubling: Doubling) -> None:
    """No end runs straight across: what is parallel to the joint at either end is narrower than the doubler."""
    low, high = body.bounds[axis], body.bounds[axis + 2]
    width = body.bounds[3 - axis] - body.bounds[1 - axis]
    for end in (low, high):
        if abs(end - at) < OFF_MM:
            report.expect(False, FILE, f"{what}: reaches to one side of its joint alone")
            continue
        points = [(end, body.bounds[1]), (end, body.bounds[3])]
        if axis == 1:
            points = [(body.bounds[0], end), (body.bounds[2], end)]
        straight = body.boundary.intersection(LineString(points).buffer(OFF_MM / 10)).length
        # cut back at both sides over the taper, at 45 degrees; narrower ones come to a point
        due = max(width - min(doubling.taper_mm, width / 2), 0.0)
        report.expect(
            straight <= due + math.sqrt(2) * OFF_MM,
            FILE,
            f"{what}: its end runs straight across over {straight:.3f} of its {width:.3f} mm",
        )
