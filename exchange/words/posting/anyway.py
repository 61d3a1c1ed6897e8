"""Posting against the plan's advice: what is said before, to both ends, and on the slip."""

from datetime import date, datetime

from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred


def warned(loss: float | None) -> str:
    """Say what is known of such a day before it is chosen."""
    if loss is None:
        return "The weather of that day is not known all the way."
    return f"{in_hundred(loss)} such parcels come to harm. The plan advises against it."


def over_limit(why: str) -> str:
    """Refuse to move a parcel to such a day, and say how it goes then all the same."""
    return f"{why} The plan advises against it; “Post anyway, I know” has it go all the same."


def offered(day: date, loss: float | None) -> str:
    """Offer the best of days that are all over the limit."""
    return f"The least risky day soon is {dates.day(day)}: {in_hundred(loss)} such parcels come to harm."


def take_offered(day: date) -> str:
    """Name the press that takes it: "Post on Mon 12 April anyway"."""
    return f"Post on {dates.day(day)} anyway"


def why_told(loss: float | None) -> str:
    """Tell both ends that the day goes against the plan's advice."""
    if loss is None:
        return "It was chosen although the weather is not known all the way."
    return f"It was chosen knowing that {in_hundred(loss)} such parcels come to harm."


def chosen_by(who: str, at: datetime, loss: float | None) -> str:
    """Say who chose it and when: printed on the slip, and shown on the parcel's page."""
    moment = dates.moment(at.replace(second=0, microsecond=0))
    harm = "the weather is not known" if loss is None else f"{in_hundred(loss)} come to harm"
    return f"Posted against the plan’s advice: {harm}. Chosen by {who} on {moment}."
