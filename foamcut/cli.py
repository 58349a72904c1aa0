"""The command line: words, progress, exit codes.  Everything else is in `plan` and `files`.

Only click is imported at the top, so that help comes at once.
"""

import contextlib
import json
import math
import os
import re
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, NoReturn

import click

from foamcut import __version__

if TYPE_CHECKING:
    from foamcut import plan
    from foamcut.errors import FoamcutError

DONE, REFUSED, INTERRUPTED = 0, 1, 130
#: longest wait, seconds, before progress is shown
QUIET_S = 1.0
#: longest squeeze, seconds: a day
LONGEST_SQUEEZE_S = 86400.0

_NUMBER_OF_MM = re.compile(r"\d mm\b")

_DESIGN = click.argument("design", type=click.Path(path_type=Path, dir_okay=False))
_JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON document on standard output.")


def main() -> NoReturn:
    """Run a command and exit as section 'Exit codes' of the README says."""
    try:
        code = commands.main(standalone_mode=False)
    except click.exceptions.Abort:
        click.echo("interrupted; the pack in the folder is whole: the one before, or the new one", err=True)
        code = INTERRUPTED
    except click.ClickException as err:
        err.show()
        code = err.exit_code
    except BrokenPipeError:
        # whoever reads our output has had enough: let Python's own flush at exit find an open end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = DONE
    except OSError as err:
        click.echo(f"the output cannot be written: {(err.strerror or str(err)).lower()}", err=True)
        code = REFUSED
    sys.exit(code if isinstance(code, int) else DONE)


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with: foamcut new my-plane.toml",
)
@click.version_option(__version__, prog_name="foamcut")
def commands() -> None:
    """From the few numbers of a scaled sketch to flat foam-board parts that can be cut."""


@commands.command()
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
        _say(f"{path}: is there already and is left as it is; choose another name")
        return REFUSED
    try:
        text = _asked(path.stem, starter, units) if ask else plan.starter(starter, units or "mm", path.stem)
    except (KeyboardInterrupt, EOFError) as err:
        _say("\nnothing is written: the questions were not answered to the end")
        return INTERRUPTED if isinstance(err, KeyboardInterrupt) else REFUSED
    with _refusals_shown(lambda err: _say(f"{err}")):
        files.save_new(path, text.encode())
        schema, text = path.with_name(plan.SCHEMA_FILE), plan.schema_text()
        if not schema.exists():
            files.save_new(schema, text.encode())
        elif not files.holds(schema, text.encode()):
            _say(f"{schema}: is another one and is left as it is; compare: foamcut schema")
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
            _say(f"  {units[:40]}: write mm or in")
        units = _answer("Sketch: what the ruler on it reads, mm or in", "mm")
    text = plan.starter(starter, units, stem)
    for question in plan.questions(text):
        while True:
            try:
                text, shown = plan.answered(text, question, _answer(question.words, question.default))
            except plan.SumError as err:
                _say(f"  {err}")
            else:
                _say(f"  {shown}")
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
    report = _Report("check", path, as_json=False)
    with report.refusals():
        checked = report.run(lambda plan, data, listener: plan.check(data, path.name, listener=listener))
        report.show_findings(checked)
        click.echo(checked.verdict, err=True)
        return DONE
    _say("these numbers do not go together yet: mend them in the file")
    return REFUSED


@commands.command()
def schema() -> int:
    """Print the design file's JSON Schema, for editors."""
    from foamcut import plan

    click.echo(plan.schema_text(), nl=False)
    return DONE


@commands.command()
@_DESIGN
@click.option("--sizes", is_flag=True, help="List every number as typed, times the scale, at full size.")
@click.option("--strict", is_flag=True, help="Exit with 1 on a warning too.")
@_JSON
def check(design: Path, sizes: bool, strict: bool, as_json: bool) -> int:
    """Look a design over: what stops it, and advice."""
    report = _Report("check", design, as_json)
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


@commands.command()
@_DESIGN
@click.option(
    "--what-if",
    "what_if",
    multiple=True,
    metavar="NAME=VALUE",
    callback=lambda _context, _option, several: [_change(one) for one in several],
    help="Try another number, of [sizes] or any key, and show both; may be given several times.",
)
@click.option("-v", "--verbose", is_flag=True, help="Show where each number comes from, and every weight.")
@_JSON
def balance(design: Path, what_if: list[tuple[str, str]], verbose: bool, as_json: bool) -> int:
    """Weigh a design before it is cut: weight, balance and flight numbers."""
    report = _Report("balance", design, as_json)
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


@commands.command()
@_DESIGN
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder of the pack.")
@click.option(
    "--paper", type=click.Choice(["a4", "a3", "letter", "tabloid", "all"]), help="What you print on."
)
@click.option(
    "--templates",
    type=click.Choice(["part", "sheet"]),
    default="part",
    show_default=True,
    help="Tile part by part, or whole sheets.",
)
@click.option("--every-part", is_flag=True, help="Print the parts too that ruler and pencil would do.")
@click.option(
    "--dxf", type=click.Choice(["r2000", "r12"]), default="r2000", show_default=True, help="DXF version."
)
@click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Start of the search."
)
@click.option(
    "--squeeze",
    type=float,
    metavar="SECONDS",
    callback=lambda _context, _option, value: _seconds(value),
    help="After the search go on by the clock: fewer boards, or a larger piece left.",
)
@_JSON
def cut(
    design: Path,
    out: Path | None,
    paper: str | None,
    templates: str,
    every_part: bool,
    dxf: str,
    seed: int,
    squeeze: float | None,
    as_json: bool,
) -> int:
    """Make the plan pack: sheets, templates, shopping list.

    Ctrl-C while boards are laid keeps the best layout so far and makes the pack of it; again, it stops.
    """
    from foamcut import files

    report = _Report("cut", design, as_json)
    with report.refusals():
        options = {"paper": paper, "by": templates, "every_part": every_part, "dxf": dxf, "seed": seed}
        with _Interrupts() as interrupts:

            def work(plan: Any, data: bytes, listener: Callable[[str], None]) -> Any:
                from foamcut.plan.progress import pace_of

                pace = pace_of(squeeze, time.monotonic, lambda: interrupts.is_stopped)
                told = interrupts.listening(listener)
                return plan.cut(data, design.name, plan.Options(**options, pace=pace), listener=told)

            pack = report.run(work)
        folder = out or Path("output") / files.stem_of(design.stem)
        files.save_pack(folder, pack.files)
        report.result(pack, {"dir": str(folder), **pack.result()})
        if not as_json:
            click.echo("\n".join((*pack.summary, f"written to {folder}")), err=True)
            if interrupts.is_stopped:
                _say("the search was cut short by Ctrl-C; left to its end it may find a better layout")
            report.show_findings(pack)
        return report.finish(DONE)
    return REFUSED


def _seconds(value: float | None) -> float | None:
    """The seconds of a squeeze, when there can be so many."""
    if value is None or (math.isfinite(value) and 0 < value <= LONGEST_SQUEEZE_S):
        return value
    raise click.BadParameter(f"{value:g}: give a number of seconds above 0, at most {LONGEST_SQUEEZE_S:.0f}")


class _Interrupts:
    """Within the block, the first Ctrl-C while a search runs asks it to end; any other ends the command.

    A search runs from its first words of progress to the first words of what comes after it.
    """

    def __init__(self) -> None:
        self.is_stopped = False
        self._is_searching = False
        self._before: Any = None

    def __enter__(self) -> "_Interrupts":
        # where somebody has switched Ctrl-C off, as a shell does for work in the background, it stays off
        usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
        if usual and threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._struck)
        return self

    def __exit__(self, *_: object) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)

    def listening(self, listener: Callable[[str], None]) -> Callable[[str], None]:
        """The listener, listened to as well."""
        from foamcut.plan.progress import Searching

        def listen(words: str) -> None:
            self._is_searching = isinstance(words, Searching)
            listener(words)

        return listen

    def _struck(self, _number: int, _frame: FrameType | None) -> None:
        if self.is_stopped or not self._is_searching:
            raise KeyboardInterrupt
        self.is_stopped = True
        words = "keeping the best so far, the pack is being made; Ctrl-C again stops without a pack"
        # straight to the terminal: sys.stderr may be in the midst of a line of progress
        with contextlib.suppress(OSError, ValueError):
            os.write(sys.stderr.fileno(), f"\r{words}\n".encode())


class _Report:
    """What a command says: words on standard error, or one JSON document on standard output."""

    def __init__(self, command: str, design: Path, as_json: bool) -> None:
        self.command, self.path, self.as_json = command, design, as_json
        self.document: dict[str, Any] = {
            "command": command,
            "foamcut": __version__,
            "ok": False,
            "design": None,
            "refusals": [],
            "findings": [],
            "result": None,
        }

    def run(self, work: Callable[[Any, bytes, Any], Any]) -> Any:
        """Read the design and do the work, with progress on a terminal."""
        from foamcut import files, plan

        data = files.read_design(self.path, limit=plan.LARGEST_FILE)
        with _progress(quiet=self.as_json) as listener:
            return work(plan, data, listener)

    @contextlib.contextmanager
    def refusals(self) -> Iterator[None]:
        """Refusals inside the block are shown; the block ends there."""
        with _refusals_shown(self._refused):
            yield

    def _refused(self, err: "FoamcutError") -> None:
        from foamcut.errors import Refusal, Refused

        refusals = err.refusals if isinstance(err, Refused) else (Refusal(key="", text=str(err)),)
        self.document["refusals"] = [
            {"file": str(self.path), "line": r.line, "key": r.key, "text": r.text} for r in refusals
        ]
        if self.as_json:
            self.finish(REFUSED)
            return
        if not isinstance(err, Refused):
            _say(str(err))
            return
        for refusal in refusals:
            place = ":".join(filter(None, (str(self.path), str(refusal.line or ""))))
            _say(": ".join(filter(None, (place, refusal.key, refusal.text))))
        if err.later_steps:
            _say("later steps not yet looked at")
        _say_places(err.places, (refusal.text for refusal in refusals))

    def result(self, outcome: "plan.Balanced | plan.Checked | plan.Pack", result: dict[str, Any]) -> None:
        """Note what came out."""
        self.document.update(design=outcome.design_facts(), findings=outcome.findings_table(), result=result)

    def show_findings(self, outcome: "plan.Balanced | plan.Checked | plan.Pack") -> None:
        """Findings in words, the closing words last."""
        lines = outcome.findings_lines(str(self.path))
        for line in lines:
            _say(line)
        _say_places(outcome.design.plan.places, lines)

    def finish(self, code: int) -> int:
        """Print the document if it was asked for, and pass the exit code on."""
        self.document["ok"] = code == DONE
        if self.as_json:
            click.echo(json.dumps(self.document, indent=1))
        return code


@contextlib.contextmanager
def _refusals_shown(show: "Callable[[FoamcutError], None]") -> Iterator[None]:
    from foamcut.errors import FoamcutError

    try:
        yield
    except FoamcutError as err:
        show(err)


def _say(words: str) -> None:
    """One line to standard error; control characters that a design may hold do not reach the terminal."""
    click.echo("".join(c if c.isprintable() or c == "\n" else "?" for c in words), err=True)


def _say_places(words: str, said: Iterable[str]) -> None:
    """What places are measured in, once, where any of the words said holds a number of mm."""
    if words and any(_NUMBER_OF_MM.search(one) for one in said):
        _say(words)


@contextlib.contextmanager
def _progress(*, quiet: bool) -> "Iterator[Callable[[str], None]]":
    """A listener that shows one changing line on a terminal once the work takes over a second."""
    if quiet or not sys.stderr.isatty():
        yield lambda _: None
        return
    began = shown = time.monotonic()
    width = 0

    def listen(words: str) -> None:
        nonlocal shown, width
        now = time.monotonic()
        if now - began < QUIET_S or now - shown < 0.1:
            return
        line = words[:78]
        sys.stderr.write("\r" + line.ljust(width))
        sys.stderr.flush()
        shown, width = now, len(line)

    try:
        yield listen
    finally:
        if width:
            sys.stderr.write("\r" + " " * width + "\r")
            sys.stderr.flush()
