"""Commands that begin a design: new, schema."""

import os
import sys
from pathlib import Path

import click

from foamcut.cli.report import Report
from foamcut.cli.saying import DONE, INTERRUPTED, REFUSED, refusals_shown, say


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--units", type=click.Choice(["mm", "in"]), help="What your ruler reads.  [default: mm]")
@click.option(
    "--starter",
    type=click.Choice(["trainer", "twin", "glider", "flying-wing", "box"]),
    default="trainer",
    show_default=True,
    help="What to begin with: an aeroplane of surfaces and bodies, or a slotted box drawn part by part.",
)
@click.option("--ask", is_flag=True, help="Ask for the numbers of your sketch one by one.")
def new(file: Path, units: str | None, starter: str, ask: bool) -> int:
    """Write a commented design to begin with.  Never overwrites."""
    from foamcut import files, plan

    path = file if file.suffix else file.with_suffix(".toml")
    if ask and os.path.lexists(path):
        say(f"{path}: is there already and is left as it is; choose another name")
        return REFUSED
    try:
        text = _asked(path.stem, starter, units) if ask else plan.starter(starter, units or "mm", path.stem)
    except (KeyboardInterrupt, EOFError) as err:
        say("\nnothing is written: the questions were not answered to the end")
        return INTERRUPTED if isinstance(err, KeyboardInterrupt) else REFUSED
    with refusals_shown(lambda err: say(f"{err}")):
        files.save_new(path, text.encode())
        schema, text = path.with_name(plan.SCHEMA_FILE), plan.schema_text()
        if not schema.exists():
            files.save_new(schema, text.encode())
        elif not files.holds(schema, text.encode()):
            say(f"{schema}: is another one and is left as it is; compare: foamcut schema")
        click.echo(f"{path} written; change its numbers, then: foamcut cut {path}", err=True)
        return _looked_over(path) if ask else DONE
    return REFUSED


def _asked(stem: str, starter: str, units: str | None) -> str:
    """The starter with the answers of whoever sits at the keyboard in it.

    Raises
    ------
    EOFError
        The input ended before the last question.
    """
    from foamcut import plan

    click.echo(
        "Enter keeps the number in brackets.  A bare number is a measure off the sketch, one with a unit a"
        " true size: 34, 2 1/2, 62 mm, 3/16 in.",
        err=True,
    )
    while units not in ("mm", "in"):
        if units is not None:
            say(f"  {units[:40]}: write mm or in")
        units = _answer("Sketch: what the ruler on it reads, mm or in", "mm")
    text = plan.starter(starter, units, stem)
    for question in plan.questions(text):
        while True:
            try:
                text, shown = plan.answered(text, question, _answer(question.words, question.default))
            except plan.SumError as err:
                say(f"  {err}")
            else:
                say(f"  {shown}")
                break
    return text


def _answer(words: str, default: str) -> str:
    """One line from the keyboard; the default where it is empty."""
    click.echo(f"{words} [{default}]: ", nl=False, err=True)
    line = sys.stdin.buffer.readline()
    if not line:
        raise EOFError
    return line.decode(errors="replace").strip() or default


def _looked_over(path: Path) -> int:
    """What `check` says of a design that was just asked for."""
    report = Report("check", path, as_json=False)
    with report.refusals():
        checked = report.run(lambda plan, data, listener: plan.check(data, path.name, listener=listener))
        report.show_findings(checked)
        click.echo(checked.verdict, err=True)
        return DONE
    say("these numbers do not go together yet: mend them in the file")
    return REFUSED


@click.command()
def schema() -> int:
    """Print the design file's JSON Schema, for editors."""
    from foamcut import plan

    click.echo(plan.schema_text(), nl=False)
    return DONE
