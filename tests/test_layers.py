"""The rooms and what each may import: the table of the contributors' guide, held by this test."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "foamcut"
EVERYBODY = {"units", "errors", "findings"}
MAY_IMPORT: dict[str, set[str]] = {
    "cli": {"plan", "files"},
    "__main__": {"cli"},
    "__init__": set(),
    "plan": {"design", "files", "compare", "write", "book", "draw", "flight", "nest", "airframe", "flat"},
    "design": {"flight", "nest", "airframe", "flat"},
    "files": set(),
    "compare": {"flight", "nest", "airframe", "flat"},
    "write": {"book", "draw", "flight", "nest", "airframe", "flat"},
    "book": {"draw", "flight", "nest", "airframe", "flat"},
    "draw": {"flight", "nest", "airframe", "flat"},
    "flight": {"airframe", "flat"},
    "nest": {"flat"},
    "airframe": {"flat"},
    "flat": set(),
    "units": set(),
    "errors": set(),
    "findings": set(),
}
ONLY_IN: dict[str, set[str]] = {
    "click": {"cli"},
    "pydantic": {"design"},
    "tomllib": {"design"},
    "tree_sitter": {"design"},
    "tree_sitter_toml": {"design"},
    "ezdxf": {"write"},
    "svgwrite": {"write"},
    "jinja2": {"write"},
    "reportlab": {"write"},
    "pyclipper": {"nest"},
    "manifold3d": {"flat"},
}


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    relative = path.relative_to(PACKAGE)
    return relative.parts[0].removesuffix(".py")


def imports(path: Path) -> list[tuple[int, str]]:
    """Every module imported anywhere in the file, inside functions too."""
    found: list[tuple[int, str]] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: relative import"
            module = node.module or ""
            found += [(node.lineno, f"{module}.{alias.name}") for alias in node.names]
    return found


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_room_imports_only_what_the_table_allows(path):
    room = room_of(path)
    allowed = MAY_IMPORT[room] | EVERYBODY | {room, "__version__"}
    for line, name in imports(path):
        parts = name.split(".")
        if parts[0] == "foamcut" and len(parts) > 1:
            assert parts[1] in allowed, f"{path}:{line}: {room} may not import {name}"
        if parts[0] in ONLY_IN:
            assert room in ONLY_IN[parts[0]], f"{path}:{line}: {parts[0]} belongs to {ONLY_IN[parts[0]]}"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_only_files_opens_files_and_nobody_but_the_command_line_sees_the_clock(path):
    room = room_of(path)
    names = {name.split(".")[0] for _, name in imports(path)}
    if room not in {"files", "cli", "plan"}:
        assert not names & {"os", "pathlib", "shutil", "tempfile"}, f"{path} touches the disk"
    if room != "cli":
        assert not names & {"time", "datetime"} or room == "design", f"{path} reads the clock"
    text = path.read_text(encoding="utf-8")
    calls = [
        node.func.id
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    ]
    assert "print" not in calls
    assert "eval" not in calls
    assert room == "files" or "open" not in calls
