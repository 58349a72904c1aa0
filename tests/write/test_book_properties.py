"""Whatever a text holds, both books can be written and read back."""

import io
from html.parser import HTMLParser

import pikepdf
from hypothesis import given
from hypothesis import strategies as st

from foamcut.book.values import Book, Caution, Chapter, Figure, Grid, Listing, Words
from foamcut.write import book_html, book_pdf
from foamcut.write.book_words import readable
from tests.write.book_demo import picture, title

TEXTS = st.text(st.characters(), max_size=80) | st.sampled_from(
    ["</script>", "-->", "]]>", "&#0;", "\\", "{%", "\ud800"]
)


def book_of(texts: list[str]) -> Book:
    one, two, three = texts
    blocks = (
        Words(text=one),
        Caution(text=two),
        Listing(items=(one, two, three), ticked=True),
        Grid(
            caption=three,
            head=(one, two),
            rows=((three, one), (two, three)),
            figures=(1,),
            pictures=(picture(one),),
        ),
        Figure(picture=picture(two, told=three), caption=one),
    )
    within = (Chapter(id="b", heading=two),)
    chapter = Chapter(id="a", heading=three, blocks=blocks, within=within)
    return Book(title=title(name=one, title=two, revision=three), chapters=(chapter,))


class Shown(HTMLParser):
    """Words of the page outside of style and script, and how many elements there are."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.count = 0

    def handle_starttag(self, tag, attrs):
        self.count += 1

    def handle_data(self, data):
        self.words.append(data)


@given(st.lists(TEXTS, min_size=3, max_size=3))
def test_any_text_is_words_in_the_page(texts):
    read = Shown()
    read.feed(book_html.render(book_of(texts)).decode("utf-8"))
    plain = Shown()
    plain.feed(book_html.render(book_of(["a" if readable(text) else "" for text in texts])).decode("utf-8"))
    assert read.count == plain.count
    for text in texts:
        assert readable(text) in " ".join(read.words)


@given(st.lists(TEXTS, min_size=3, max_size=3))
def test_any_text_can_be_printed(texts):
    data = book_pdf.render(book_of(texts))
    assert data == book_pdf.render(book_of(texts))
    with pikepdf.open(io.BytesIO(data)) as document:
        assert len(document.pages) >= 2
        assert not document.check_pdf_syntax()
