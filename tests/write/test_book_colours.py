"""Colours of the book's page by the formula of WCAG 2.2, for every rule of the style, by day and by night."""

import re
from importlib.resources import files

import pytest

from foamcut.draw.picture import PENS
from foamcut.draw.styles import RGB, luminance
from foamcut.write import book_html
from foamcut.write.book_turning import _SHADES
from tests.write.book_demo import empty_book

#: WCAG 2.2, 1.4.3 and 1.4.11 (from memory): ratios for words, and for edges and marks
WORDS, EDGES = 4.5, 3.0
CSS = (files("foamcut.write.pages") / "book.css").read_text(encoding="utf-8")
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


def colour(text: str) -> RGB:
    digits = text.removeprefix("#")
    digits = "".join(2 * letter for letter in digits) if len(digits) == 3 else digits
    red, green, blue = bytes.fromhex(digits)
    return red, green, blue


def contrast(one: RGB, other: RGB) -> float:
    """arithmetic: (L1 + 0.05) / (L2 + 0.05), L1 the lighter (WCAG 2.2, "contrast ratio")."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def declarations(body: str) -> dict[str, str]:
    return {
        name.strip(): value.strip()
        for name, _, value in (line.partition(":") for line in body.split(";") if ":" in line)
    }


def themes() -> dict[str, dict[str, str]]:
    """What the names of colours stand for by day, and by night."""
    day, night = (
        declarations(body) for selector, body in RULE.findall(CSS) if selector.strip().endswith(":root")
    )
    assert set(day) == set(night)
    return {"day": day, "night": night}


def rules() -> list[tuple[str, dict[str, str]]]:
    """Selector and declarations of every rule but those that name colours."""
    body = CSS[CSS.index("* {") :]
    return [
        (selector.split("{")[-1].strip(), declarations(inside)) for selector, inside in RULE.findall(body)
    ]


THEMES = themes()


def named(value: str, theme: str) -> RGB | None:
    """The colour in a declaration, if it names one."""
    if found := re.search(r"var\((--[a-z-]+)\)", value):
        return colour(THEMES[theme][found.group(1)])
    found = re.search(r"#[0-9a-f]{3,6}\b", value)
    return colour(found.group()) if found else None


def test_the_formula_gives_what_the_standard_says():
    """memory: black on white 21:1; #767676 on white is the palest grey above 4.5:1."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast(colour("#767676"), (255, 255, 255)) == pytest.approx(4.54, abs=0.005)
    assert contrast(colour("#777"), (255, 255, 255)) < WORDS


@pytest.mark.parametrize("theme", THEMES)
def test_words_stand_out_from_what_is_behind_them(theme):
    """Every rule that colours words says their ground, so that no pair is left out here."""
    pairs = [(selector, each) for selector, each in rules() if "color" in each]
    assert len(pairs) >= 6
    for selector, each in pairs:
        assert "background-color" in each, selector
        ratio = contrast(named(each["color"], theme), named(each["background-color"], theme))
        assert ratio >= WORDS, (theme, selector, ratio)


@pytest.mark.parametrize("theme", THEMES)
def test_edges_and_the_ring_of_the_focus_stand_out(theme):
    ground = colour(THEMES[theme]["--ground"])
    found = 0
    for selector, each in rules():
        for name, value in each.items():
            if name.startswith(("border", "outline")) and (drawn := named(value, theme)):
                grounds = [ground, *filter(None, [named(each.get("background-color", ""), theme)])]
                assert min(contrast(drawn, one) for one in grounds) >= EDGES, (theme, selector, name)
                found += 1
    assert found >= 6


def test_the_style_has_no_colour_that_is_not_looked_at_here():
    """All colours are names, but the white of pictures; nothing moves by itself."""
    loose = {
        match
        for _, each in rules()
        for value in each.values()
        for match in re.findall("#[0-9a-f]{3,6}", value)
    }
    assert loose == {"#ffffff"}
    assert not re.search("animation|transition|@keyframes|smooth", CSS)


def test_pictures_are_drawn_in_colours_that_stand_out_from_white():
    """Pale fills have dark edges."""
    for ink, pen in PENS.items():
        assert contrast(pen.colour, (255, 255, 255)) >= EDGES, ink
    assert ".picture text{" in book_html.render(empty_book()).decode()


def test_edges_of_the_model_stand_out_from_its_faces():
    """The darkest that a face is drawn is 0.66 of its shade; edges are a near black."""
    script = (files("foamcut.write.pages") / "turning.js").read_text(encoding="utf-8")
    least = float(re.search(r"light = ([\d.]+) \+", script).group(1))

    def shade(name: str) -> RGB:
        red, green, blue = (
            round(float(v) * 255) for v in re.search(rf"{name} = \[(.*?)\]", script)[1].split(",")
        )
        return red, green, blue

    for bright in (*_SHADES, shade("CHOSEN")):
        dim = tuple(round(value * least) for value in bright)
        assert contrast(shade("EDGE"), dim) >= EDGES
    assert contrast(shade("BARE"), (255, 255, 255)) < contrast(shade("EDGE"), (255, 255, 255))
