"""Which packs and speed controls feed which motors."""

from foamcut.flight.power_supply import circuits, engines, share_of
from foamcut.flight.values import Carried, Packs, Wiring
from tests.airframe.motors_sample import in_nose
from tests.flight.power_sample import aboard, battery, control, pair, setup

WING = pair().motors
BOTH = (*WING, in_nose())


def names(circuit) -> tuple[list[str], list[str]]:
    return [one.name for one in circuit.engines], [one.key for one in circuit.packs]


def test_one_pack_without_a_word_feeds_every_motor():
    (only,) = circuits(BOTH, setup(battery(), control()))
    assert names(only) == (["wing", "nose"], ["aboard[0]"])
    assert [one.count for one in only.engines] == [2, 1]
    assert (only.cells, only.apart) == (3, False)


def test_packs_that_name_a_motor_feed_it_alone():
    wing, nose = battery(0, feeds="motor.wing"), battery(1, feeds="nose", cells=2)
    first, second = circuits(BOTH, setup(wing, nose))
    assert names(first) == (["wing"], ["aboard[0]"])
    assert names(second) == (["nose"], ["aboard[1]"])
    assert second.cells == 2


def test_a_pack_without_a_word_feeds_what_no_other_does():
    first, second = circuits(BOTH, setup(battery(0, feeds="motor.wing"), battery(1)))
    assert names(first) == (["wing"], ["aboard[0]"])
    assert names(second) == (["nose"], ["aboard[1]"])


def test_a_pack_feeds_a_motor_through_its_speed_control():
    through = control(1, name="left hand", feeds="motor.nose")
    first, second = circuits(BOTH, setup(battery(0, feeds="left hand"), through, battery(2)))
    assert names(first) == (["wing"], ["aboard[2]"])
    assert names(second) == (["nose"], ["aboard[0]"])
    assert [one.key for one in second.controls[0]] == ["aboard[1]"]
    # a control that says nothing feeds all, and so does its pack
    (only,) = circuits(WING, setup(battery(0, feeds="speed_control"), control(1)))
    assert names(only) == (["wing"], ["aboard[0]"])


def test_a_pack_for_something_else_feeds_no_motor():
    things = battery(0, feeds="receiver"), aboard(Carried.RECEIVER, 1)
    (only,) = circuits(WING, setup(*things))
    assert names(only) == (["wing"], [])
    assert only.cells is None


def test_controls_that_name_each_other_come_to_an_end():
    one, two = control(1, name="a", feeds="b"), control(2, name="b", feeds="a")
    (only,) = circuits(WING, setup(battery(0, feeds="a"), one, two))
    assert names(only) == (["wing"], [])


def test_mirrored_packs_count_twice_and_may_be_apart():
    both = battery(mirrored=True)
    (together,) = circuits(WING, setup(both))
    (apart,) = circuits(WING, setup(both, wiring=Wiring(packs=Packs.APART)))
    assert len(together.packs) == len(apart.packs) == 2
    assert (together.apart, apart.apart) == (False, True)
    (one,) = circuits(WING, setup(battery(), wiring=Wiring(packs=Packs.APART)))
    assert not one.apart


def test_packs_that_each_name_a_speed_control_are_apart():
    things = (
        control(2, name="left", feeds="motor.wing"),
        control(3, name="right", feeds="motor.wing"),
        battery(0, feeds="left"),
        battery(1, feeds="right"),
    )
    (only,) = circuits(WING, setup(*things))
    assert names(only) == (["wing"], ["aboard[0]", "aboard[1]"])
    assert only.apart
    (joined,) = circuits(WING, setup(*things, wiring=Wiring(packs=Packs.TOGETHER)))
    assert not joined.apart


def test_unlike_packs_have_no_number_of_cells():
    (only,) = circuits(WING, setup(battery(0), battery(1, cells=4)))
    assert only.cells is None


def test_how_many_motors_a_control_drives():
    for things, share in (
        ((control(mirrored=True),), 1.0),
        ((control(),), 2.0),
        ((control(1), control(2)), 1.0),
        ((control(1, mirrored=True), control(3)), 1.0),
    ):
        (only,) = circuits(WING, setup(battery(), *things))
        assert share_of(things[0], only, only.engines[0]) == share


def test_motors_that_are_only_aboard_are_motors_without_numbers():
    motor = aboard(Carried.MOTOR, 3, name="pusher", mirrored=True)
    every = engines(WING, setup(motor))
    assert [(one.name, one.count, one.motor is None) for one in every] == [
        ("wing", 2, False),
        ("pusher", 2, True),
    ]
    (only,) = circuits((), setup(battery(), motor))
    assert names(only) == (["pusher"], ["aboard[0]"])


def test_without_motors_there_are_no_circuits():
    assert circuits((), setup(battery(), control())) == ()


def test_the_battery_of_the_receiver_feeds_no_motor():
    """By its name where it says nothing; by what it feeds, whatever its name is."""
    flight, own = battery(), battery(5, name="receiver pack", cells=2)
    (only,) = circuits(WING, setup(flight, own, control()))
    assert (names(only), only.cells) == ((["wing"], ["aboard[0]"]), 3)
    (fed,) = circuits(WING, setup(battery(5, name="receiver pack", feeds="motor.wing")))
    assert names(fed) == (["wing"], ["aboard[5]"])
    (none,) = circuits(WING, setup(own))
    assert none.packs == ()
