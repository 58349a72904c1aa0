"""Checks of the poses in layout.json: unit and square, hands mirrored, hand-drawn parts where the design says."""

import math
from typing import Any

from pack_built import built_table
from pack_design import Design
from pack_layout import FILE, Layout
from pack_report import Report
from pack_sums import measures_of

# Unit vectors carry 6 decimals.
UNIT = 3e-6
# Places carry 6 decimals, mm.
PLACE_MM = 2e-6
WORDS = {
    "aft": (1, 0, 0),
    "fore": (-1, 0, 0),
    "up": (0, 0, 1),
    "down": (0, 0, -1),
    "right": (0, 1, 0),
    "left": (0, -1, 0),
}


def check_poses(report: Report, layout: Layout, design: Design | None) -> None:
    """Every pose turns and moves only; the other hand's is its mirror image at the centre plane."""
    for name, part in layout.parts.items():
        pose = part["pose"]
        if pose is not None:
            _check_square(report, name, pose)
        if part["hand"] == "right":
            other = layout.parts.get(name.removesuffix("-right") + "-left")
            if other is not None:
                due = None if pose is None else mirrored_pose(pose)
                report.expect(
                    _alike(other["pose"], due),
                    FILE,
                    f"part {other['name']}: its pose is not the mirror image of the right hand's",
                )
    if design is not None:
        _check_drawn(report, layout, design)


def mirrored_pose(pose: dict[str, Any]) -> dict[str, Any]:
    """Return the pose of the mirror-image part (y -> -y of the part) on the other side of the centre plane."""
    (ax, ay, az), (xx, xy, xz), (yx, yy, yz) = pose["at"], pose["x"], pose["y"]
    return {"at": [ax, -ay, az], "x": [xx, -xy, xz], "y": [-yx, yy, -yz]}


def _check_square(report: Report, name: str, pose: dict[str, Any]) -> None:
    for axis in ("x", "y"):
        report.expect(
            abs(math.hypot(*pose[axis]) - 1) <= UNIT, FILE, f"part {name}: pose: {axis} is no unit vector"
        )
    lean = math.fsum(a * b for a, b in zip(pose["x"], pose["y"], strict=True))
    report.expect(abs(lean) <= UNIT, FILE, f"part {name}: pose: x and y are not square to each other")


def _alike(one: dict[str, Any] | None, other: dict[str, Any] | None) -> bool:
    if one is None or other is None:
        return one is other
    return all(
        abs(a - b) <= (PLACE_MM if key == "at" else UNIT)
        for key in ("at", "x", "y")
        for a, b in zip(one[key], other[key], strict=True)
    )


def _check_drawn(report: Report, layout: Layout, design: Design) -> None:
    """A part that the design draws has a pose when it has a place, and the one that its place says."""
    table = built_table(design.text)
    measures = measures_of(table)
    for name, entry in table.get("parts", {}).items():
        hand = entry.get("pair")
        own = layout.parts.get(f"{name}-{hand}" if hand else name)
        if own is None:
            continue
        place = entry.get("place")
        report.expect(
            (own["pose"] is None) == (place is None),
            FILE,
            f"part {own['name']}: {'a pose, and no place' if place is None else 'a place, and no pose'}",
        )
        if place is None or own["pose"] is None:
            continue
        along, up = measures.point_mm(place["at"])
        at = [along, measures.length_mm(place["out"]) if "out" in place else 0.0, up]
        x = _direction(place["x"])
        y = _direction(place["y"])
        if x is None or y is None:
            continue
        lean = math.fsum(a * b for a, b in zip(x, y, strict=True))
        due = {"at": at, "x": x, "y": _unit([b - lean * a for a, b in zip(x, y, strict=True)])}
        report.expect(
            _alike(own["pose"], due), FILE, f"part {own['name']}: its pose is not the place in the design"
        )


def _direction(value: Any) -> list[float] | None:
    """Return a direction in words or plain numbers; None for what would have to be worked out."""
    if isinstance(value, str):
        return _unit(list(WORDS[value.strip()])) if value.strip() in WORDS else None
    return _unit(value) if all(isinstance(one, int | float) for one in value) else None


def _unit(vector: list[float]) -> list[float]:
    length = math.hypot(*vector)
    return [one / length for one in vector]
