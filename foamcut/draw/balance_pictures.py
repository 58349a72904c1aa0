"""All pictures of a balance that have something to show."""

from foamcut.draw.balance_side import side_picture
from foamcut.draw.balance_speeds import speed_picture
from foamcut.draw.balance_weights import weight_picture
from foamcut.draw.picture import Picture
from foamcut.draw.values import Title
from foamcut.flight.figures import Report
from foamcut.flight.values import Model, Setup


def balance_pictures(report: Report, model: Model, setup: Setup, title: Title) -> tuple[Picture, ...]:
    """The side view, the speeds, the weights; those that would be empty are left out."""
    several = (
        side_picture(report, model, setup, title),
        speed_picture(report, title),
        weight_picture(report, title),
    )
    return tuple(picture for picture in several if picture is not None)
