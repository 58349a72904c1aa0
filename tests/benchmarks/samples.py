"""Time and memory of the main job on every sample, and of `foamcut -h` beside an empty click command.

    python -m tests.benchmarks.samples

Each run is a process of its own; seconds are the best of three, MiB the peak of resident memory.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
PAPERS = ("a4", "a3", "letter", "tabloid")
EMPTY = "import click\n@click.command()\ndef main(): 'Nothing.'\nmain()"


def timed(command: list[str], runs: int = 3) -> tuple[float, str]:
    """Seconds of the quickest run, and its standard output."""
    best, out = float("inf"), ""
    for _ in range(runs):
        began = time.perf_counter()
        done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT)
        best, out = min(best, time.perf_counter() - began), done.stdout
    return best, out


def peak_mib(command: list[str]) -> float:
    """Peak resident memory of a command, MiB."""
    code = (
        "import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, capture_output=True);"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    done = subprocess.run([sys.executable, "-c", code, *command], capture_output=True, text=True, check=True, cwd=ROOT)
    return int(done.stdout) / 1024


def main() -> None:
    """Print both tables."""
    print(f"{'sample':14} parts pieces  {'sheets (new, at least)':44} {'pages ' + ' '.join(PAPERS):28} seconds   MiB")
    with tempfile.TemporaryDirectory() as folder:
        for path in sorted((ROOT / "sample_designs").glob("*.toml")):
            cut = [sys.executable, "-m", "foamcut", "cut", str(path), "--json", "--out", f"{folder}/{path.stem}"]
            seconds, _ = timed(cut)
            mib = peak_mib(cut)
            _, out = timed([*cut[:-1], f"{folder}/{path.stem}-all", "--paper", "all"], runs=1)
            result = json.loads(out)["result"]
            layout = json.loads((Path(result["dir"]) / "layout.json").read_text())
            sheets = "; ".join(
                f"{b['stock']} {sum(s['stock'] == b['stock'] for s in layout['sheets'])} ({b['new']}, {b['at_least']})"
                for b in layout["bound"]
            )
            pages = " ".join(str(result["pages"][f"templates-{paper}.pdf"]) for paper in PAPERS)
            print(
                f"{path.stem:14} {len(layout['parts']):5} {len(layout['pieces']):6}  {sheets:44} {pages:28} "
                f"{seconds:7.2f} {mib:5.0f}"
            )
    empty, _ = timed([sys.executable, "-c", EMPTY, "--help"], runs=15)
    ours, _ = timed([sys.executable, "-m", "foamcut", "-h"], runs=15)
    print(f"\nfoamcut -h {ours:.3f} s, an empty click command {empty:.3f} s: {ours / empty:.2f} times")


if __name__ == "__main__":
    main()
