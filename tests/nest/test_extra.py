"""The optional solver: what it answers holds by shapely, and whatever goes wrong is no answer."""

import subprocess
import sys
import time
from pathlib import Path

import pytest
from shapely import Polygon, box, unary_union
from shapely.affinity import rotate, translate

from foamcut.nest import extra
from foamcut.nest.extra import Job, StripItem

ROOT = Path(__file__).parent.parent.parent
TRIANGLE = Polygon([(0, 0), (60, 0), (0, 40)])
ITEMS = [
    StripItem(polygon=TRIANGLE, count=4, turns_deg=(0.0, 180.0)),
    StripItem(polygon=box(-10, -10, 20, 30), count=3, turns_deg=None),
    StripItem(polygon=box(5, 5, 45, 45).difference(box(10, 10, 40, 40)), count=1, turns_deg=(90.0,)),
]


def answered(job: Job, *, within_s: float = 60.0):
    """What a job comes to; the wait ends as soon as it does."""
    end = time.monotonic() + within_s
    while not job.is_over:
        assert time.monotonic() < end, "the job does not end"
        time.sleep(0.02)
    return job.poll()


def laid(items, strip) -> list[Polygon]:
    return [
        translate(rotate(item.polygon, p.turn_deg, origin=(0, 0)), p.x_mm, p.y_mm)
        for item, own in zip(items, strip.placements, strict=True)
        for p in own
    ]


def child_says(monkeypatch, code: str) -> None:
    """Put a program in the child's place."""
    real = subprocess.Popen
    monkeypatch.setattr(
        extra.subprocess, "Popen", lambda words, **more: real([words[0], "-c", code], **more)
    )


def test_a_strip_holds_all_copies_without_overlap():
    """Overlap and extent by shapely (reference library); no length below area over height (arithmetic)."""
    strip = answered(Job.start(ITEMS, height_mm=90, seconds=1, seed=3))
    assert strip is not None
    assert [len(own) for own in strip.placements] == [4, 3, 1]
    shapes = laid(ITEMS, strip)
    filled = [Polygon(shape.exterior) for shape in shapes]
    assert max(a.intersection(b).area for i, a in enumerate(filled) for b in filled[:i]) == 0
    x0, y0, x1, y1 = unary_union(filled).bounds
    assert min(x0, y0, strip.length_mm - x1, 90 - y1) >= 0
    assert strip.length_mm >= sum(shape.area for shape in filled) / 90
    assert {p.turn_deg for p in strip.placements[0]} <= {0.0, 180.0}
    assert {p.turn_deg for p in strip.placements[2]} == {90.0}


def test_a_piece_as_high_as_the_strip_lies_in_it():
    """Three of 300 x 500 take 900 of a strip 500 high (arithmetic)."""
    items = [StripItem(polygon=box(0, 0, 300, 500), count=3, turns_deg=(0.0,))]
    strip = answered(Job.start(items, height_mm=500, seconds=1, seed=1))
    assert strip is not None
    x0, y0, x1, y1 = unary_union(laid(items, strip)).bounds
    assert min(x0, y0, 500 - y1, strip.length_mm - x1) >= -0.0005
    assert strip.length_mm >= 900


def test_without_the_package_there_is_no_answer(monkeypatch):
    monkeypatch.setattr(extra, "PACKAGE", "no_such_package_of_this_name")
    assert not extra.is_there()
    assert answered(Job.start(ITEMS, height_mm=90, seconds=1, seed=3)) is None


def test_whether_it_is_there_is_told_without_importing_it():
    code = (
        "import sys\nfrom foamcut.nest import extra\n"
        "assert extra.is_there()\nassert 'spyrrow' not in sys.modules\n"
        "class Hidden:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'spyrrow': raise ModuleNotFoundError(name)\n"
        "sys.meta_path.insert(0, Hidden())\nassert not extra.is_there()\n"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)


@pytest.mark.parametrize(
    "said",
    [
        "", "no json\n", "[]\n", "3\n", '{"length": 1}\n', '{"length": 1, "placed": 4}\n',
        '{"length": 1, "placed": []}\n', '{"length": NaN, "placed": [[0, 0, 1, 1]]}\n',
        '{"length": 9, "placed": [[0, 0, NaN, 1]]}\n', '{"length": 9, "placed": [[1, 0, 1, 1]]}\n',
        '{"length": 9, "placed": [[0, 12, 1, 1]]}\n', '{"length": 9, "placed": [[0, 0, "1", 1]]}\n',
        '{"length": 9, "placed": [[0, 0, 1, 1], [0, 0, 1, 1]]}\n', '{"length": 9, "placed": [[0, 0, 1, 1]]}',
        "\x00\xff\n", "[" * 100_000 + "\n",
    ],
)  # fmt: skip
def test_garbage_is_no_answer(monkeypatch, said):
    child_says(monkeypatch, f"import sys; sys.stdin.readline(); sys.stdout.write({said!r})")
    one = [StripItem(polygon=TRIANGLE, count=1, turns_deg=(0.0, 180.0))]
    assert answered(Job.start(one, height_mm=90, seconds=1, seed=3)) is None


def test_a_plain_answer_is_taken(monkeypatch):
    """The counterpart of the garbage: the same child with an answer that holds."""
    child_says(monkeypatch, "print('{\"length\": 70, \"placed\": [[0, -180, 61, 41]]}')")
    one = [StripItem(polygon=TRIANGLE, count=1, turns_deg=(0.0, 180.0))]
    strip = answered(Job.start(one, height_mm=90, seconds=1, seed=3))
    assert strip is not None
    assert strip.placements[0][0].turn_deg == 180.0


@pytest.mark.parametrize("code", ["import os; os.abort()", "raise SystemExit(3)", "import sys; sys.stdin.close()"])
def test_a_crash_is_no_answer(monkeypatch, code):
    child_says(monkeypatch, code)
    assert answered(Job.start(ITEMS, height_mm=90, seconds=1, seed=3)) is None


def test_a_shape_that_the_solver_cannot_take_is_no_answer():
    too_high = [StripItem(polygon=box(0, 0, 50, 200), count=1, turns_deg=(0.0,))]
    strip = answered(Job.start(too_high, height_mm=90, seconds=1, seed=3))
    assert strip is None or unary_union(laid(too_high, strip)).bounds[3] > 90


def test_nothing_to_lay_is_no_answer():
    assert answered(Job.start([], height_mm=90, seconds=1, seed=3)) is None
    no_turn = [StripItem(polygon=TRIANGLE, count=1, turns_deg=())]
    assert answered(Job.start(no_turn, height_mm=90, seconds=1, seed=3)) is None


def test_a_child_that_does_not_end_is_killed_in_its_time(monkeypatch):
    monkeypatch.setattr(extra, "_GRACE_S", -0.5)
    child_says(monkeypatch, "import time; time.sleep(3600)")
    assert answered(Job.start(ITEMS, height_mm=90, seconds=1, seed=3)) is None


def test_a_stopped_job_has_no_child_any_more(monkeypatch):
    started = []
    real = subprocess.Popen

    def noted(*words, **more):
        started.append(real(*words, **more))
        return started[-1]

    monkeypatch.setattr(extra.subprocess, "Popen", noted)
    job = Job.start(ITEMS, height_mm=90, seconds=60, seed=3)
    job.stop()
    assert job.is_over
    assert job.poll() is None
    assert [child.poll() is None for child in started] == [False]


def test_the_child_ends_when_its_parent_is_killed():
    """Our end of a pipe sees its close only when the last that holds the other end is gone."""
    code = (
        "import os, signal\nfrom shapely import box\nfrom foamcut.nest import extra\n"
        "real = extra.subprocess.Popen\n"
        "extra.subprocess.Popen = lambda words, **more: real(words, **{**more, 'stderr': 1})\n"
        "items = [extra.StripItem(polygon=box(0, 0, 30, 20 + i), count=9, turns_deg=None) for i in range(9)]\n"
        "extra.Job.start(items, height_mm=200, seconds=3600, seed=1)\n"
        "os.write(1, b'begun')\nos.kill(os.getpid(), signal.SIGKILL)\n"
    )
    parent = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stdout=subprocess.PIPE)
    said, _ = parent.communicate(timeout=60)
    assert said.startswith(b"begun")
    assert parent.returncode != 0
