"""Commands that look a design over: check, balance."""

from pathlib import Path

import click

from foamcut.cli.options import DESIGN, JSON
from foamcut.cli.report import Report
from foamcut.cli.saying import DONE, REFUSED


@click.command()
@DESIGN
@click.option("--sizes", is_flag=True, help="List every number as typed, times the scale, at full size.")
@click.option("--strict", is_flag=True, help="Exit with 1 on a warning too.")
@JSON
def check(design: Path, sizes: bool, strict: bool, as_json: bool) -> int:
    """Look a design over: what stops it, and advice."""
    report = Report("check", design, as_json)
    with report.refusals():
        checked = report.run(lambda plan, data, listener: plan.check(data, design.name, listener=listener))
        tables = {"parts": checked.parts_table(), "sizes": checked.sizes_table()}
        report.result(checked, {**tables, "joints": checked.joints_table()})
        if not as_json:
            if sizes:
                click.echo(checked.sizes_text(), nl=False)
            report.show_findings(checked)
            click.echo(checked.verdict, err=True)
        return report.finish(REFUSED if checked.stops(strict=strict) else DONE)
    return REFUSED


@click.command()
@DESIGN
@click.option(
    "--what-if",
    "what_if",
    multiple=True,
    metavar="NAME=VALUE",
    callback=lambda _context, _option, several: [_change(one) for one in several],
    help="Try another number, of [sizes] or any key, and show both; may be given several times.",
)
@click.option("-v", "--verbose", is_flag=True, help="Show where each number comes from, and every weight.")
@JSON
def balance(design: Path, what_if: list[tuple[str, str]], verbose: bool, as_json: bool) -> int:
    """Weigh a design before it is cut: weight, balance and flight numbers."""
    report = Report("balance", design, as_json)
    with report.refusals():
        found = report.run(
            lambda plan, data, listener: plan.balance(data, design.name, changes=what_if, listener=listener)
        )
        report.result(found, found.result())
        if not as_json:
            click.echo(found.screen(verbose=verbose), nl=False)
            report.show_findings(found)
        return report.finish(DONE)
    return REFUSED


def _change(text: str) -> tuple[str, str]:
    """A name and the number to try for it."""
    name, equals, value = text.partition("=")
    if equals and name.strip() and value.strip():
        return name.strip(), value.strip()
    raise click.BadParameter(f'"{text}": write a name, = and a value, such as half_span=96')
