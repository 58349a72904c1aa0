"""Reads a page of HTML into a plain tree (html.parser), and says where its tags are out of order."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
VOID = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr")
)


@dataclass(slots=True, kw_only=True)
class Node:
    """One element with what stands in it; texts are nodes without a tag."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list["Node"] = field(default_factory=list)
    words: str = ""

    def walk(self) -> Iterator["Node"]:
        """Return this element and all in it, in the order of the page."""
        yield self
        for child in self.children:
            yield from child.walk()

    def all(self, *tags: str) -> Iterator["Node"]:
        """Return the elements of these tags in it."""
        return (node for node in self.walk() if node.tag in tags)

    @property
    def text(self) -> str:
        """The words in it, white space as one space; not those of styles and scripts."""
        found = (node.words for node in self.walk_shown() if not node.tag)
        return " ".join(" ".join(found).split())

    def walk_shown(self) -> Iterator["Node"]:
        """Return what a reader sees."""
        if self.tag in ("style", "script", "title", "desc"):
            return
        yield self
        for child in self.children:
            yield from child.walk_shown()


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Node(tag="document")
        self.open = [self.root]
        self.faults: list[str] = []
        self.doctype = ""

    def handle_decl(self, decl: str) -> None:
        self.doctype = self.doctype or decl

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        twice = {name for name in names if names.count(name) > 1}
        if twice:
            self.faults.append(f"line {self.getpos()[0]}: <{tag}> has {', '.join(sorted(twice))} twice")
        node = Node(tag=tag, attributes={name: value or "" for name, value in attrs})
        self.open[-1].children.append(node)
        if tag not in VOID:
            self.open.append(node)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if self.open[-1].tag == tag:
            self.open.pop()
        else:
            self.faults.append(f"line {self.getpos()[0]}: </{tag}> closes <{self.open[-1].tag}>")
            if any(node.tag == tag for node in self.open):
                while self.open.pop().tag != tag:
                    pass

    def handle_data(self, data: str) -> None:
        self.open[-1].children.append(Node(tag="", words=data))


def read_html(text: str) -> tuple[Node, str, list[str]]:
    """Return the tree, the document type and the faults of its tags."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    left = [node.tag for node in reader.open[1:]]
    return reader.root, reader.doctype, reader.faults + ([f"{left} are not closed"] if left else [])
