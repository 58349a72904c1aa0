"""The child process of `foamcut.nest.extra`: one job of strip packing in, one answer out, as lines of JSON.

A job: ``{"height": mm, "seconds": whole, "seed": whole, "items": [{"shape": [[x, y], ..], "count": n,
"turns": [degrees, ..] or null}]}``.  The answer: ``{"length": mm, "placed": [[item, turn, x, y], ..]}``.
"""

import io
import json
import signal
import sys
import threading
from typing import Any


def answer(job: dict[str, Any]) -> dict[str, Any]:
    """Lay the strip.  `spyrrow` may end the whole process on a shape that it cannot take."""
    import spyrrow

    items = [
        spyrrow.Item(str(index), [tuple(point) for point in item["shape"]], item["count"], item["turns"])
        for index, item in enumerate(job["items"])
    ]
    seconds, seed = job["seconds"], job["seed"]
    config = spyrrow.StripPackingConfig(total_computation_time=seconds, num_workers=1, seed=seed)
    laid = spyrrow.StripPackingInstance("strip", job["height"], items).solve(config)
    placed = [[int(one.id), one.rotation, *one.translation] for one in laid.placed_items]
    return {"length": laid.width, "placed": placed}


def _end_with_parent() -> None:
    """End at once when standard input closes: whoever asked is gone."""
    # not by way of the buffer, which this thread would hold for ever and Python wants at its own end
    io.FileIO(sys.stdin.fileno(), closefd=False).read(1)
    signal.raise_signal(signal.SIGTERM)


def main() -> None:
    """Read a job, answer it."""
    job = json.loads(sys.stdin.buffer.readline())
    threading.Thread(target=_end_with_parent, daemon=True).start()
    sys.stdout.write(json.dumps(answer(job)) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
