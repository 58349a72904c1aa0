"""A TOML text changed at one place, everything else kept byte for byte.

The syntax tree tells where keys and values stand; whether a change says what it should is asked of tomllib by
whoever makes it.  UTF-8 without a byte-order mark; line ends of either kind.
"""

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import tree_sitter
import tree_sitter_toml

from foamcut.design.keys import key_of
from foamcut.design.structure import Path

Node = tree_sitter.Node


@dataclass(frozen=True, slots=True)
class Section:
    """A header with what stands under it up to the next one, or what stands before the first header.

    `path` leads to its table, entries of lists by their index; `pairs` are its keys with their nodes.
    """

    path: Path
    node: Node
    pairs: tuple[tuple[Path, Node], ...]
    start: int

    @property
    def last_byte(self) -> int:
        """Where its last key ends, or its header; what follows are comments and empty lines."""
        if self.pairs:
            return _value_of(self.pairs[-1][1]).end_byte
        closing = [child for child in self.node.children if child.type in ("]", "]]")]
        return closing[0].end_byte if closing else self.start


class Places:
    """Where the keys and values of a text stand.

    Raises
    ------
    ValueError
        The text has no tree without faults.
    """

    def __init__(self, text: bytes) -> None:
        self.text = text
        parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
        self._root = parser.parse(text).root_node
        if self._root.has_error:
            raise ValueError("the text of the design has a fault")
        self.sections = tuple(self._sections())
        self.values: dict[Path, Node] = {}
        for section in self.sections:
            for path, node in section.pairs:
                self._note(path, _value_of(node))

    def _sections(self) -> Iterator[Section]:
        counts: dict[Path, int] = {}
        top = tuple((_names(node), node) for node in self._root.children if node.type == "pair")
        yield Section((), self._root, top, 0)
        for node in self._root.children:
            if node.type not in ("table", "table_array_element"):
                continue
            path: Path = ()
            for name in _names(node):
                path = (*path, counts[path] - 1) if path in counts else path
                path = (*path, name)
            if node.type == "table_array_element":
                counts[path] = counts.get(path, 0) + 1
            path = (*path, counts[path] - 1) if path in counts else path
            pairs = ((*path, *_names(child)) for child in node.children if child.type == "pair")
            nodes = (child for child in node.children if child.type == "pair")
            yield Section(path, node, tuple(zip(pairs, nodes, strict=True)), node.start_byte)

    def _note(self, path: Path, node: Node) -> None:
        self.values[path] = node
        if node.type == "array":
            items = (child for child in node.named_children if child.type != "comment")
            for i, item in enumerate(items):
                self._note((*path, i), item)
        elif node.type == "inline_table":
            for pair in (child for child in node.named_children if child.type == "pair"):
                self._note((*path, *_names(pair)), _value_of(pair))

    def raw(self, path: Path) -> str | None:
        """The text of a value as it stands there; None when it does not."""
        node = self.values.get(path)
        return None if node is None else self.text[node.start_byte : node.end_byte].decode()

    @property
    def line_end(self) -> str:
        """What ends the lines."""
        return "\r\n" if b"\r\n" in self.text else "\n"

    # -- changes: each gives the whole text anew

    def spliced(self, start: int, end: int, words: str) -> bytes:
        """The text with words in place of what stands from byte to byte."""
        return self.text[:start] + words.encode() + self.text[end:]

    def with_values(self, changes: Sequence[tuple[Path, str]]) -> bytes:
        """The text with several values as in `with_value`; no path leads into another's value."""
        there = [(self.values[path], words) for path, words in changes if path in self.values]
        text = self.text
        for node, words in sorted(there, key=lambda change: -change[0].start_byte):
            text = text[: node.start_byte] + words.encode() + text[node.end_byte :]
        for path, words in changes:
            if path not in self.values:
                text = Places(text).with_value(path, words)
        return text

    def with_value(self, path: Path, words: str) -> bytes:
        """The text with a value replaced, or a key added where a value was left out.

        Raises
        ------
        ValueError
            There is no place for it.
        """
        if node := self.values.get(path):
            return self.spliced(node.start_byte, node.end_byte, words)
        for length in range(len(path) - 1, -1, -1):
            table, rest = path[:length], path[length:]
            if any(isinstance(step, int) for step in rest):
                break
            if (node := self.values.get(table)) and node.type == "inline_table":
                return self._into_inline(node, _dotted(rest), words)
            if table in self.values:
                break
            section = next((one for one in reversed(self.sections) if one.path == table), None)
            if section and (table or length == len(path) - 1):
                return self._under(section, section.last_byte, _dotted(rest), words)
            for section in self.sections:
                beside = [node for name, node in section.pairs if name[:length] == table]
                if table and beside and length > len(section.path):
                    at = _value_of(beside[-1]).end_byte
                    return self._under(section, at, _dotted(path[len(section.path) :]), words)
        if any(isinstance(step, int) for step in path):
            raise ValueError("there is no place for it in the text")
        return self.at_the_end(f"[{_dotted(path[:-1])}]", f"{_dotted(path[-1:])} = {words}")

    def _into_inline(self, node: Node, name: str, words: str) -> bytes:
        pairs = [child for child in node.named_children if child.type == "pair"]
        if not pairs:
            return self.spliced(node.start_byte, node.end_byte, f"{{ {name} = {words} }}")
        at = pairs[-1].end_byte
        return self.spliced(at, at, f", {name} = {words}")

    def _under(self, section: Section, after: int, name: str, words: str) -> bytes:
        """A line behind the one that ends a key, set in as that key is."""
        line = f"{name} = {words}"
        if not section.pairs and not section.path:
            return self.spliced(section.start, section.start, f"{line}{self.line_end}")
        at = self.text.find(b"\n", after) + 1
        indent = ""
        if section.pairs:
            start = section.pairs[-1][1].start_byte
            indent = self.text[self.text.rfind(b"\n", 0, start) + 1 : start].decode()
            indent = indent if not indent.strip() else ""
        if not at:
            at = len(self.text)
            return self.spliced(at, at, f"{self.line_end}{indent}{line}{self.line_end}")
        return self.spliced(at, at, f"{indent}{line}{self.line_end}")

    def at_the_end(self, *lines: str, after: int | None = None) -> bytes:
        """Lines behind an empty one at the end, or behind the line that ends at a byte."""
        end = self.line_end
        at = len(self.text) if after is None else self.text.find(b"\n", after) + 1 or len(self.text)
        before = b"" if at == 0 or self.text[:at].endswith(b"\n") else end.encode()
        words = "".join(f"{line}{end}" for line in ("", *lines))
        return self.text[:at] + before + words.encode() + self.text[at:]

    def without(self, name: str) -> bytes:
        """The text without the tables of a name, their comments inside with them, not those behind."""
        text = self.text
        cuts = [(s.start, s.last_byte) for s in self.sections if s.path[:1] == (name,)]
        top = self.sections[0].pairs
        cuts += [(node.start_byte, _value_of(node).end_byte) for path, node in top if path[:1] == (name,)]
        for start, end in sorted(cuts, reverse=True):
            start = text.rfind(b"\n", 0, start) + 1
            end = text.find(b"\n", end) + 1 or len(text)
            text = _without_double_gap(text[:start], text[end:])
        return text


def _without_double_gap(before: bytes, after: bytes) -> bytes:
    """Both together; of two gaps that meet one is left, none at the end."""
    end = b"\r\n" if before.endswith(b"\r\n") else b"\n"
    if not after.strip():
        kept = before.rstrip(b"\r\n")
        return kept + end if kept else after
    if (not before.strip() or before.endswith(end + end)) and after.startswith(end):
        return before + after[len(end) :]
    return before + after


def _dotted(path: Sequence[str | int]) -> str:
    return ".".join(key_of((step,)) for step in path)


def _value_of(pair: Node) -> Node:
    return [child for child in pair.named_children if child.type != "comment"][-1]


def _names(node: Node) -> tuple[str, ...]:
    """The names of the key that a pair or a header has, unquoted."""
    keys = (child for child in node.children if child.type in ("bare_key", "quoted_key", "dotted_key"))
    key = next(keys, None)
    if key is None:
        return ()
    path: list[str] = []
    here = tomllib.loads(f"{(key.text or b'').decode()} = 0")
    while isinstance(here, dict):
        ((name, here),) = here.items()
        path.append(name)
    return tuple(path)
