"""Where in the file each key stands: the syntax tree of a TOML text, asked for lines.

Values never come from here (tomllib is the reader); a wrong line is a nuisance, a wrong value a wrong part.
Lines count from 1. The text has line feeds only and its brackets nest at most 50 deep, so recursion is short.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import tree_sitter
import tree_sitter_toml

Path = tuple[str | int, ...]

_MENTIONED, _TABLE, _TABLES, _VALUE = "mentioned", "table", "tables", "value"


class Clash(NamedTuple):
    """A key given twice: its path, the line of the first and of the second."""

    path: Path
    first: int
    second: int


def rows_with_lines(text: str) -> list[tuple[str, int]]:
    """Return the readings of an outline text, each with the index (from 0) of the text's line it stands in.

    A row ends at the line's end or at ``;``. What stands behind ``#`` is a comment up to the line's end. Rows
    with nothing in them are left out.
    """
    rows: list[tuple[str, int]] = []
    for index, line in enumerate(text.split("\n")):
        content = line.split("#", 1)[0]
        rows.extend((row.strip(), index) for row in content.split(";") if row.strip())
    return rows


class KeyLines:
    """The lines of all keys of one TOML text; also knows faulty lines and keys given twice."""

    def __init__(self, text: str) -> None:
        self._source = text.encode()
        parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
        self._root = parser.parse(self._source).root_node
        self._lines: dict[Path, int] = {}
        self._values: dict[Path, tree_sitter.Node] = {}
        self._kinds: dict[Path, str] = {}
        self._first: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        self.clashes: list[Clash] = []
        self._index()

    # -- what is asked

    def line_of(self, path: Path) -> int | None:
        """Return the line of a key or list item, else of the nearest thing around it that is in the file."""
        best = None
        for length in range(1, len(path) + 1):
            prefix = path[:length]
            if prefix not in self._lines:
                break
            best = self._lines[prefix]
            if prefix in self._values:
                return self._inside(self._values[prefix], path[length:], best)
        return best

    def faulty_lines(self) -> list[int]:
        """Return the lines in which the tree has something that is no TOML, in order, each once.

        All lines of a faulty stretch are in it (the first 1,000), the good ones between two faults too.
        """
        lines: set[int] = set()
        nodes = [self._root]
        while nodes:
            node = nodes.pop()
            if node.is_error or node.is_missing:
                lines.update(range(_line(node), min(node.end_point[0] + 1, _line(node) + 1000) + 1))
            nodes.extend(child for child in node.children if child.has_error or child.is_missing)
        return sorted(lines)

    # -- statements

    def _index(self) -> None:
        for node in self._root.children:
            if node.type == "pair":
                self._pair(node, ())
            elif node.type in ("table", "table_array_element"):
                base = self._header(node)
                for child in node.children:
                    if child.type == "pair" and base is not None:
                        self._pair(child, base)

    def _header(self, node: tree_sitter.Node) -> Path | None:
        names = _names(node)
        if not names:
            return None
        head = self._resolve((), names[:-1])
        path: Path = (*head, names[-1])
        is_list = node.type == "table_array_element"
        self._define(path, _line(node), _TABLES if is_list else _TABLE)
        if not is_list:
            return self._resolve((), names) if path in self._counts else path
        count = self._counts.get(path, 0)
        self._counts[path] = count + 1
        self._lines[(*path, count)] = _line(node)
        return (*path, count)

    def _pair(self, node: tree_sitter.Node, base: Path) -> None:
        names = _names(node)
        if not names:
            return
        path: Path = (*base, *names)
        self._define(path, _line(node), _VALUE, known=len(base))
        value = node.named_children[-1]
        self._values.setdefault(path, value)

    def _resolve(self, base: Path, names: Sequence[str]) -> Path:
        """Return the path of a table: below a list of tables, its last item so far is meant."""
        path = base
        for name in names:
            path = (*path, name)
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _define(self, path: Path, line: int, kind: str, known: int = 0) -> None:
        """Note a definition; the first ``known`` steps of the path are a table that is being filled."""
        for length in range(max(known, 1), len(path)):
            prefix = path[:length]
            if self._kinds.get(prefix) == _VALUE:
                self.clashes.append(Clash(prefix, self._first[prefix], line))
                return
            self._kinds.setdefault(prefix, _MENTIONED)
            self._first.setdefault(prefix, line)
            self._lines.setdefault(prefix, line)
        before = self._kinds.get(path)
        again = before == kind == _TABLES or (kind == _TABLE and before == _MENTIONED)
        if before is not None and not again:
            self.clashes.append(Clash(path, self._first[path], line))
            return
        self._kinds[path] = kind
        self._first.setdefault(path, line)
        if before != _TABLES:
            self._lines[path] = line

    # -- values

    def _inside(self, node: tree_sitter.Node, rest: Path, best: int) -> int:
        """Return the line of ``rest`` within a value, or ``best`` when it is not there."""
        if not rest:
            return best
        step = rest[0]
        if node.type == "array" and isinstance(step, int):
            items = [child for child in node.named_children if child.type != "comment"]
            return self._inside(items[step], rest[1:], _line(items[step])) if step < len(items) else best
        if node.type == "string" and isinstance(step, int):
            rows = _row_lines(self._text(node), _line(node))
            return rows[step] if step < len(rows) else best
        if node.type == "inline_table" and isinstance(step, str):
            return self._in_table(node, rest, best)
        return best

    def _in_table(self, node: tree_sitter.Node, rest: Path, best: int) -> int:
        for pair in (child for child in node.named_children if child.type == "pair"):
            names = _names(pair)
            if names and rest[: len(names)] == names:
                return self._inside(pair.named_children[-1], rest[len(names) :], _line(pair))
            if names and names[: len(rest)] == rest:
                return _line(pair)
        return best

    def _text(self, node: tree_sitter.Node) -> str:
        return self._source[node.start_byte : node.end_byte].decode(errors="replace")


def _line(node: tree_sitter.Node) -> int:
    return node.start_point[0] + 1


def _names(node: tree_sitter.Node) -> tuple[str, ...]:
    """Return the names of the (dotted) key that a pair or header has, unquoted; nothing when it has none."""
    keys = (child for child in node.children if child.type in ("bare_key", "quoted_key", "dotted_key"))
    key = next(keys, None)
    return tuple(_name(leaf) for leaf in _leaves(key)) if key is not None else ()


def _leaves(key: tree_sitter.Node) -> Iterator[tree_sitter.Node]:
    nodes = [key]  # a dotted key nests to the left, one level a dot
    while nodes:
        node = nodes.pop()
        if node.type == "dotted_key":
            nodes.extend(reversed(node.named_children))
        elif node.type in ("bare_key", "quoted_key"):
            yield node


def _name(leaf: tree_sitter.Node) -> str:
    text = (leaf.text or b"").decode(errors="replace")
    if leaf.type == "bare_key":
        return text
    try:
        return next(iter(tomllib.loads(f"{text} = 0")))
    except (tomllib.TOMLDecodeError, StopIteration):
        return text


_PIECES = re.compile(
    r"\\(?P<skip>[ \t]*\n[ \t\n]*)|\\(?P<newline>n|u000[aA]|U0000000[aA])|\\.|(?P<end>\n)|[^\\\n]+",
    re.DOTALL,
)


def _row_lines(literal: str, line: int) -> list[int]:
    """Return the file's line of each row of an outline text; ``literal``, in quotes, begins in ``line``."""
    mark = next(mark for mark in ('"""', "'''", '"', "'") if literal.startswith(mark))
    content = literal[len(mark) : len(literal) - len(mark)]
    if len(mark) == 3 and content.startswith("\n"):
        content, line = content[1:], line + 1
    if mark[0] == "'":
        return [line + index for _, index in rows_with_lines(content)]
    # In a text with escapes a line of the value and a line of the file are two things: follow both.
    starts, value = [line], ""
    for piece in _PIECES.finditer(content):
        if piece["skip"]:
            line += piece["skip"].count("\n")
        elif piece["newline"] or piece["end"]:
            line += 1 if piece["end"] else 0
            starts.append(line)
            value += "\n"
        else:
            value += piece[0]
    return [starts[index] for _, index in rows_with_lines(value)]
