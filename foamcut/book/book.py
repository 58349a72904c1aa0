"""The book: what stands before the steps, the steps, what stands behind them."""

from foamcut.book.chapters import back_chapters, front_chapters
from foamcut.book.facts import Facts
from foamcut.book.step import Step, Tie
from foamcut.book.step_figures import step_pictures
from foamcut.book.steps import build_steps
from foamcut.book.values import Block, Book, Caution, Chapter, Figure, Listing, Words
from foamcut.draw.picture import Picture

_HOW_TO_READ = (
    "A number in brackets behind a name is the one on the piece. Tick every box before you go on. Behind"
    ' "Comes after" stand the steps that have to be done first, and why:'
    f' "{Tie.GLUED.value}" what that step made; "{Tie.SHUT_IN.value}" this step, so that nobody reaches it'
    f' afterwards; "{Tie.CHECKED.value}", since what that step checks cannot be mended any more after this'
    " one. Steps that do not wait for each other may change places."
)


def book_of(facts: Facts) -> Book:
    """The whole book."""
    steps = build_steps(facts)
    pictures = step_pictures(steps, facts)
    headings = {step.id: f"{number} {step.heading}" for number, step in enumerate(steps, 1)}
    chapters = [_step_chapter(step, headings, pictures.get(step.id)) for step in steps]
    middle = (
        (
            Chapter(
                id="steps",
                heading="Building, step by step",
                blocks=(Words(text=_HOW_TO_READ),),
                within=tuple(chapters),
            ),
        )
        if chapters
        else ()
    )
    return Book(title=facts.title, chapters=(*front_chapters(facts), *middle, *back_chapters(facts)))


def _step_chapter(step: Step, headings: dict[str, str], picture: Picture | None) -> Chapter:
    blocks: list[Block] = [Caution(text=text) for text in step.cautions]
    if step.tools:
        blocks.append(Words(text=f"At hand: {', '.join(step.tools)}."))
    blocks.append(Listing(items=step.does, numbered=True))
    if picture is not None:
        blocks.append(Figure(picture=picture, caption=headings[step.id]))
    blocks += step.blocks
    if step.checks:
        blocks.append(Listing(items=step.checks, ticked=True))
    if step.after:
        blocks.append(Words(text=_waits(step, headings)))
    return Chapter(id=f"step-{step.id}", heading=headings[step.id], blocks=tuple(blocks))


def _waits(step: Step, headings: dict[str, str]) -> str:
    """After which steps it comes, and why."""
    ties: dict[str, list[str]] = {}
    for tie, other in step.after:
        ties.setdefault(other, []).append(tie.value)
    several = [f"{headings[other]} ({', '.join(dict.fromkeys(why))})" for other, why in ties.items()]
    return f"Comes after: {'; '.join(several)}."
