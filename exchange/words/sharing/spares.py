"""Spares, claims and what may be lost, in the growers' words."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.last_plant import LastPlant
from exchange.domain.growing.variety import Species
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence

_WITH_EYES = frozenset({Material.POT_TUBER, Material.DIVISION, Material.CLUMP, Material.STOOL})
_CHOICES = {1: "first choice", 2: "second choice", 3: "third choice"}


@dataclass(frozen=True, slots=True)
class Offer:
    """What a spare says, as far as the words need it.

    Attributes
    ----------
    health_by, health_on : who saw no symptoms, and when
    today : the circle's date
    """

    species: Species
    name: str
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    today: date
    roots_seen: bool = False
    health_by: str = ""
    health_on: date | None = None


def window(material: Material, ready_from: date, send_by: date, today: date) -> str:
    """Give "now to Fri 30 April", "Mon 26 April to Fri 14 May"; unrooted: "can cut from ... to ..."."""
    first = "now" if ready_from <= today else dates.day(ready_from)
    if send_by < today:
        text = f"{dates.day(send_by)}, which has passed"
        return f"until {text}"
    text = f"{first} to {dates.day(send_by)}"
    return f"can cut from {text}" if material is Material.UNROOTED else text


def window_heading(material: Material) -> str:
    """Give "Can cut" or "Ready"."""
    return "Can cut" if material is Material.UNROOTED else "Ready"


def roots(material: Material, roots_seen: bool) -> str:
    """Give "eye seen", "rooted" or nothing."""
    if not roots_seen or material is Material.UNROOTED:
        return ""
    return "eye seen" if material in _WITH_EYES else "rooted"


def health(by: str, on: date | None) -> str:
    """Give "no symptoms seen, Winnie, Sun 28 March"; nothing when nobody looked."""
    if not by and on is None:
        return ""
    parts = ["no symptoms seen"]
    if by:
        parts.append(f"by {by}")
    if on is not None:
        parts.append(f"on {dates.day(on)}")
    return " ".join(parts)


def reads(offer: Offer) -> tuple[str, ...]:
    """Give how a spare will read, line by line."""
    lines = [
        as_sentence(plants.sent_as(offer.material, offer.raised, offer.count)),
        as_sentence(
            f"ready {window(offer.material, offer.ready_from, offer.send_by, offer.today)}"
            if offer.material is not Material.UNROOTED
            else window(offer.material, offer.ready_from, offer.send_by, offer.today)
        ),
        as_sentence(roots(offer.material, offer.roots_seen)),
        as_sentence(health(offer.health_by, offer.health_on)),
    ]
    return tuple(line for line in lines if line)


def last_plant_question(why: LastPlant, name: str) -> str:
    """Ask whether a last plant may go, in one sentence."""
    if why is LastPlant.ONLY_ONE:
        return f"By what is written down this is the circle’s only plant of {name}: may it go?"
    return f"By what is written down this leaves its holder none of {name}: may it go?"


def choice(number: int) -> str:
    """Give "first choice"."""
    return _CHOICES[number]
