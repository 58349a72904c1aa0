"""What a body refuses: with the key of the cause, the other key, and how many millimetres."""

from dataclasses import replace

import pytest

from foamcut.airframe.values import Corners
from tests.airframe.body_sample import (
    KEY,
    WIDTH,
    bare,
    body,
    dowels,
    former,
    made_of,
    plain,
    refusals,
    servo,
    side,
    tail,
    twin,
    wing,
)

LONG = ((0.0, 0.0, 60.0), (600.0, 0.0, 60.0))
#: what is asked for, where it is refused, words of the refusal
REFUSED = {
    "narrow": (bare(plain(LONG, width_mm=18.0)), f"{KEY}.width", "leaves 8 mm inside, less than 10 mm"),
    "narrow, doubled": (
        bare(plain(LONG, width_mm=28.0, nose_doubler_mm=(0.0, 100.0))),
        f"{KEY}.width",
        "4 boards",
    ),
    "wide": (
        bare(plain(LONG, width_mm=372.0)),
        f"{KEY}.width",
        "372 mm at full size is 0.62 times as wide as the body is long (body.fuselage.side), more than 0.6: a"
        ' bare number is read off the sketch; write it with its unit, such as "62 mm"',
    ),
    "wide, wing above": (
        twin(body(width_mm=372.0), surfaces=(wing(at=(240.0, 86.0)),)),
        "surface.wing",
        f"the body is 372 mm wide ({KEY}.width): a bare number",
    ),
    "one reading": (bare(plain(((0.0, 0.0, 60.0),))), f"{KEY}.side", "two readings or more"),
    "upside down": (bare(plain(((0.0, 60.0, 0.0), (600.0, 0.0, 60.0)))), f"{KEY}.side[0]", "swap them"),
    "backwards": (bare(plain((*LONG, (500.0, 0.0, 60.0)))), f"{KEY}.side[2]", "from nose to tail"),
    "twice": (bare(plain((*LONG, (600.0, 0.0, 50.0)))), f"{KEY}.side[2]", "each place once"),
    "flat": (
        bare(plain(((0.0, 0.0, 8.0), (600.0, 0.0, 8.0)))),
        f"{KEY}.side",
        "nowhere is the body 10 mm high",
    ),
    "pinched": (
        bare(plain(((0.0, 0.0, 60.0), (300.0, 9.0, 9.0), (600.0, 0.0, 60.0)))),
        f"{KEY}.side[1]",
        "meet",
    ),
    "deck off": (bare(plain(LONG, deck_mm=(500.0, 640.0))), f"{KEY}.deck", "40 mm past the body"),
    "deck turned": (bare(plain(LONG, deck_mm=(500.0, 400.0))), f"{KEY}.deck", "at least 10 mm behind"),
    "hatch on deck": (
        bare(plain(LONG, deck_mm=(200.0, 600.0), hatch_mm=(100.0, 230.0))),
        f"{KEY}.hatch",
        f"({KEY}.deck) by 30 mm",
    ),
    "deck under wing": (
        twin(body(deck_mm=(400.0, 864.0))),
        f"{KEY}.deck",
        'overlaps the wing "wing" (surface.wing), which takes 239.3 to 443.4 mm, by 43.4 mm',
    ),
    "former off": (
        bare(plain(LONG, formers=(former(0, 598.0),))),
        f"{KEY}.formers[0]",
        "603 mm along, off the body",
    ),
    "former low": (
        bare(plain(((0.0, 0.0, 10.0), (600.0, 0.0, 60.0)), formers=(former(0, 24.0),))),
        f"{KEY}.formers[0]",
        "would be 6 mm high between the floor's inside at 5 mm and 11 mm, less than 8 mm",
    ),
    "former over the end of the doublers": (
        bare(plain(LONG, formers=(former(0, 98.0),), nose_doubler_mm=(0.0, 100.0))),
        f"{KEY}.formers[0]",
        f"the nose doublers end at 100 mm ({KEY}.nose_doubler), in the middle of it: move one by 2 mm",
    ),
    "former in former": (
        bare(plain(LONG, formers=(former(0, 100.0), former(1, 103.0)))),
        f"{KEY}.formers[1]",
        f"inside former-1 ({KEY}.formers[0]), which goes from 100 mm to 105 mm",
    ),
    "opening": (
        bare(plain(LONG, formers=(former(0, 100.0, opening_mm=(46.0, 20.0)),))),
        f"{KEY}.formers[0].opening",
        "leaves 3 mm at each side of former 1, which is 52 mm wide",
    ),
    "wing above": (
        bare(plain(LONG), surfaces=(wing(at=(200.0, 70.0)),)),
        "surface.wing",
        f'mm above the sides of "fuselage" all along its chord ({KEY}.side)',
    ),
    "wing deep": (
        bare(plain(((0.0, 0.0, 30.0), (600.0, 0.0, 30.0))), surfaces=(wing(at=(200.0, 8.0), angle_deg=0.0),)),
        "surface.wing",
        "less than 12 mm",
    ),
    "former in tail": (
        twin(body(formers=(former(0, 800.0),))),
        f"{KEY}.formers[0]",
        'stands where "tail" goes through the body (surface.tail)',
    ),
    "tail at the edge": (
        bare(plain(LONG), surfaces=(tail(at=(400.0, 54.0)),)),
        "surface.tail",
        "leaves 0.9 mm of the side",
    ),
    "tail open, low": (bare(plain(LONG), surfaces=(tail(at=(540.0, 6.0)),)), "surface.tail", "below it"),
    "dowel off": (bare(plain(LONG), dowels=dowels((300.0, 80.0))), "dowel[0].at[0]", "lies off the side"),
    "dowel at the edge": (
        bare(plain(LONG), dowels=dowels((300.0, 55.0))),
        "dowel[0].at[0]",
        "3 mm has to stay",
    ),
    "dowel in former": (
        bare(plain(LONG, formers=(former(0, 300.0),)), dowels=dowels((305.0, 48.0))),
        "dowel[0].at[0]",
        f"meets former 1 ({KEY}.formers[0])",
    ),
    "dowel in floor": (bare(plain(LONG), dowels=dowels((300.0, 7.0))), "dowel[0].at[0]", "meets the floor"),
    "dowels together": (
        bare(plain(LONG), dowels=dowels((300.0, 30.0), (308.0, 30.0))),
        "dowel[0].at[1]",
        "comes within 1.98 mm of the hole of a dowel (dowel[0].at[0])",
    ),
    "pushrod in air": (
        bare(plain(LONG, cooling_out_mm=(300.0, 16.0), pushrods_mm=((310.0, 32.0),))),
        f"{KEY}.pushrods[0]",
        f"the air outlet ({KEY}.cooling.out)",
    ),
    "strap under former": (
        bare(plain(LONG, formers=(former(0, 300.0),), straps_mm=(305.0,))),
        f"{KEY}.straps[0]",
        f"meets former 1 ({KEY}.formers[0])",
    ),
    "strap, narrow": (bare(plain(LONG, width_mm=24.0, straps_mm=(300.0,))), f"{KEY}.straps[0]", "14 mm wide"),
    "strap on a fold": (
        bare(plain(((0.0, 20.0, 60.0), (100.0, 0.0, 60.0), (600.0, 0.0, 60.0)), straps_mm=(105.0,))),
        f"{KEY}.straps[0]",
        "meets a fold",
    ),
    "servo nowhere": (
        bare(plain(LONG), servos=(servo("deck", (300.0, 0.0)),)),
        "servo[0].on",
        'no panel "deck"; it has side, floor: write for example "fuselage.side"',
    ),
    "servo too wide": (
        bare(plain(LONG, deck_mm=(100.0, 500.0)), servos=(servo("deck", (300.0, 20.0)),)),
        "servo[0]",
        "of the deck",
    ),
    "bends too close": (
        bare(plain(((0.0, 30.0, 60.0), (100.0, 0.0, 60.0), (103.0, 2.0, 60.0), (600.0, 40.0, 90.0)))),
        f"{KEY}.side",
        "of flat board between",
    ),
    "no room for doublers": (
        bare(plain(((0.0, 0.0, 9.0), (300.0, 0.0, 60.0), (600.0, 0.0, 60.0)), nose_doubler_mm=(0.0, 10.0))),
        f"{KEY}.nose_doubler",
        "have no room",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_built_is_refused_with_its_key_and_numbers(name):
    inputs, key, words = REFUSED[name]
    found = refusals(inputs)
    assert key in found, found
    assert words in found[key]


def test_all_that_is_wrong_is_told_at_once():
    one = plain(LONG, width_mm=15.0, deck_mm=(0.0, 700.0), hatch_mm=(50.0, 52.0))
    assert set(refusals(bare(one))) == {f"{KEY}.width", f"{KEY}.deck", f"{KEY}.hatch"}


def test_a_wing_of_another_body_is_not_this_ones():
    """The float below has no saddle for the wing that lies in the fuselage."""
    low = replace(
        plain(), key="body.float", name="float", side=side((0.0, -60.0, -20.0), (700.0, -60.0, -20.0))
    )
    inputs = replace(twin(), bodies=(low, body()))
    assert made_of(inputs).refusals == ()
    assert {part.name for part in made_of(inputs).parts} == {
        "float-side",
        "float-floor",
        "float-nose",
        "float-tail",
    }


def test_every_corner_refuses_alike():
    texts = {
        kind: refusals(bare(plain(LONG, corners=kind), dowels=dowels((300.0, 55.0)))) for kind in Corners
    }
    assert texts[Corners.BUTT] == texts[Corners.WRAPPED] == texts[Corners.MITRED] != {}
    assert WIDTH == 62.0
