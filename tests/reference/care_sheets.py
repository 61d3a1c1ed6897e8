"""Whole care sheets as text, for twenty parcels as they come to a garden in Ludlow."""

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.care import Receiving
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.season import season
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.climate import at_height, usual_night
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource
from exchange.papers.fill import InBox, ReceivingPlace, care_sheet_of
from exchange.words.posting.papers import Going
from tests.builders.arrivals import a_line
from tests.builders.papers import parcel_facts
from tests.builders.weather import a_climate

LUDLOW = at_height(a_climate(), 103.0)
"""Its nearest station is Shawbury, 47 km away."""

COLD_SPELL = (6.0, 3.0, -1.0, 0.5, 4.0, 6.0, 7.0, 7.0)


@dataclass(frozen=True, slots=True)
class Comes:
    """What comes, where it may stand, and when.

    Attributes
    ----------
    forecast : expected minima of the first nights, where a forecast reaches so far [degrees C]
    practice : what of the sheet is common practice without a source, or whose word it is
    """

    name: str
    species: Species
    material: Material
    raised: Raised
    shelters: tuple[ShelterKind, ...]
    day: date
    practice: str
    forecast: tuple[float, ...] = ()
    variety: str = "Chapel Lantern"


def outlook_at_ludlow(day, forecast=()):
    nights = []
    for n in range(40):
        night = usual_night(LUDLOW, day + timedelta(days=n))
        known = n < len(forecast)
        nights.append(
            Night(
                day + timedelta(days=n),
                forecast[n] if known else night.mean_c,
                1.2 if known else night.sd_k,
                night.day_high_c,
                WeatherSource.FORECAST if known else WeatherSource.CLIMATE,
            )
        )
    source = WeatherSource.BOTH if forecast else WeatherSource.CLIMATE
    return Outlook(1, tuple(nights), source)


def sheet_of(comes):
    """Fill the sheet of a parcel that is expected on a day or the day after."""
    line = a_line(1, comes.species, comes.material, comes.raised, 3)
    at = Receiving(
        tuple(Shelter(1, kind) for kind in comes.shelters),
        outlook_at_ludlow(comes.day, comes.forecast),
        season(LUDLOW, comes.day.year),
    )
    facts = parcel_facts(
        (InBox(line, comes.variety),),
        expected=ArrivalWindow(comes.day, comes.day + timedelta(days=1)),
        going=Going("First class", False, comes.day - timedelta(days=1)),
    )
    return care_sheet_of(facts, ReceivingPlace(at, "Ludlow", "GB", "ENG"))


def text_of(sheet):
    """Give the sheet as lines, without what is the same on all of them."""
    rows = [sheet.lead]
    for step in sheet.steps:
        whom = f"{step.whom}: " if step.whom else ""
        rows.append(f"- {step.when}: {whom}{step.title} {step.text}".strip())
    for night in sheet.nights:
        mark = " (cold)" if night.cold else ""
        rows.append(f"- night of {night.night}{mark}: {night.low}, {night.frost}, {night.stand}")
    return "\n".join(rows).replace("\u00a0", " ")


NO_SOURCE = "common practice, no source"
DAHLIA, PELARGONIUM, CHRYSANTHEMUM = Species.DAHLIA, Species.PELARGONIUM, Species.CHRYSANTHEMUM
HEATED, FROST_FREE, COLD = ShelterKind.HEATED, ShelterKind.FROST_FREE, ShelterKind.COLD
IN_HEAT, COOL, HARDENED = Raised.IN_HEAT, Raised.COOL, Raised.HARDENED
TWENTY = (
    Comes(
        "Rooted dahlias raised in heat, a frost-free house and a frame, mid-April",
        DAHLIA, Material.ROOTED, IN_HEAT, (FROST_FREE, COLD), date(2027, 4, 14),
        f"nip off black leaves (willowrock); first pot 7.5 to 9 cm (gardenhive); almost dry, then no feed for three weeks (cardunculus); apart for four weeks: {NO_SOURCE}",
    ),
    Comes(
        "Rooted dahlias raised in heat, a cold house, late April with a frost forecast",
        DAHLIA, Material.ROOTED, IN_HEAT, (COLD,), date(2027, 4, 28),
        f"indoors until settled, and in on cold nights: {NO_SOURCE}",
        COLD_SPELL,
    ),
    Comes(
        "Rooted dahlias raised cool, a cold house, mid-May",
        DAHLIA, Material.ROOTED, COOL, (COLD,), date(2027, 5, 12),
        f"ten days of hardening, out by day and in at evening (National Dahlia Society); three nights to settle: {NO_SOURCE}",
    ),
    Comes(
        "Young dahlias hardened off, a frame, late May",
        DAHLIA, Material.YOUNG_PLANT, HARDENED, (COLD,), date(2027, 5, 25),
        f"hardened plants go straight to the frame: {NO_SOURCE}",
    ),
    Comes(
        "Unrooted dahlia cuttings, a propagator, late March",
        DAHLIA, Material.UNROOTED, COOL, (ShelterKind.PROPAGATOR,), date(2027, 3, 24),
        f"rooted in 10 to 25 days at 18 to 21 °C (American Dahlia Society, Which?); recut below a joint, a tug tells roots: {NO_SOURCE}",
    ),
    Comes(
        "Dahlia divisions, a frost-free house, mid-March",
        DAHLIA, Material.DIVISION, COOL, (FROST_FREE,), date(2027, 3, 17),
        f"ten weeks from waking to planting out (fraylick); crown showing (National Dahlia Society); started without heat from late March: {NO_SOURCE}",
    ),
    Comes(
        "Dahlia clumps, a heated house, mid-February",
        DAHLIA, Material.CLUMP, COOL, (HEATED,), date(2027, 2, 17),
        f"cuttings at 7 to 10 cm, new shoots follow each cut, hollow ones do not root (National Dahlia Society, Which?); above the lowest joint: {NO_SOURCE}",
    ),
    Comes(
        "Dahlia pot tubers, a cold house, mid-April",
        DAHLIA, Material.POT_TUBER, COOL, (COLD,), date(2027, 4, 14),
        f"a cold house starts in April: {NO_SOURCE}",
    ),
    Comes(
        "Dahlia divisions, open ground, mid-May",
        DAHLIA, Material.DIVISION, COOL, (ShelterKind.OPEN_GROUND,), date(2027, 5, 19),
        f"resting tubers may go in before the last frost if shoots are covered (a society’s text); 10 cm deep: {NO_SOURCE}",
    ),
    Comes(
        "Chrysanthemum stools, a cold house, mid-March",
        CHRYSANTHEMUM, Material.STOOL, COOL, (COLD,), date(2027, 3, 17),
        f"stools winter in a cold house (chrysanthemumsdirect); shoots from below ground (gardenadvice); last cuttings at the end of April: {NO_SOURCE}",
        variety="Pewter Jug",
    ),
    Comes(
        "Rooted chrysanthemums raised cool, a cold house, late March",
        CHRYSANTHEMUM, Material.ROOTED, COOL, (COLD,), date(2027, 3, 24),
        f"planted out in May (gardenadvice); a fortnight before frost is rare: {NO_SOURCE}",
        variety="Pewter Jug",
    ),
    Comes(
        "Unrooted pelargoniums, indoors, early September",
        PELARGONIUM, Material.UNROOTED, COOL, (ShelterKind.INDOORS,), date(2027, 9, 8),
        f"no cover over pelargoniums, two to four weeks at 18 °C: from memory; kept at 7 to 10 °C in one grower’s winter house (hort.net), 5 to 7 °C and nearly dry: {NO_SOURCE}",
        variety="Ferry Bell",
    ),
    Comes(
        "Young pelargoniums hardened off, a frost-free house, mid-September",
        PELARGONIUM, Material.YOUNG_PLANT, HARDENED, (FROST_FREE,), date(2027, 9, 15),
        f"in a week before the first early frost, nearly dry for the winter: {NO_SOURCE}",
        variety="Ferry Bell",
    ),
    Comes(
        "Rooted fuchsias raised cool, a frost-free house, late March",
        Species.FUCHSIA, Material.ROOTED, COOL, (FROST_FREE,), date(2027, 3, 24),
        f"as dahlias: {NO_SOURCE}",
        variety="Lantern Row",
    ),
    Comes(
        "Rooted salvias raised cool, a frost-free house, late August",
        Species.SALVIA, Material.ROOTED, COOL, (FROST_FREE,), date(2027, 8, 25),
        f"late cuttings are kept rooted and frost-free until May (RHS tender cuttings); barely damp: {NO_SOURCE}",
        variety="Inkwell",
    ),
    Comes(
        "Rooted coleus raised in heat, a heated house, early June",
        Species.COLEUS, Material.ROOTED, IN_HEAT, (HEATED,), date(2027, 6, 2),
        f"leaves fail below 10 °C (biologyinsights); out once usual nights keep above it: {NO_SOURCE}",
        variety="Treacle Lace",
    ),
    Comes(
        "Unrooted coleus raised in heat, a propagator, mid-June",
        Species.COLEUS, Material.UNROOTED, IN_HEAT, (ShelterKind.PROPAGATOR,), date(2027, 6, 9),
        f"roots in one to two weeks: from memory; so late it stays under glass: {NO_SOURCE}",
        variety="Treacle Lace",
    ),
    Comes(
        "Tuberous begonias at rest, a heated house, late March",
        Species.TUBEROUS_BEGONIA, Material.CLUMP, COOL, (HEATED,), date(2027, 3, 24),
        "hollow side up, hardly covered: from memory",
        variety="Copper Pan",
    ),
    Comes(
        "Rooted foliage begonias raised cool, indoors, late May",
        Species.FOLIAGE_BEGONIA, Material.ROOTED, COOL, (ShelterKind.INDOORS,), date(2027, 5, 26),
        f"as coleus: {NO_SOURCE}",
        variety="Snail Shell",
    ),
    Comes(
        "Dahlia seed, a cold house, November",
        DAHLIA, Material.SEED, COOL, (COLD,), date(2027, 11, 10),
        f"dry, in paper: {NO_SOURCE}",
        variety="Chapel Lantern",
    ),
)  # fmt: skip
READ = Path(__file__).with_name("care_sheets.txt")


def written():
    """Give all twenty as they are kept to be read."""
    parts = [
        f"{number}. {one.name}\nPractice: {one.practice}.\n\n{text_of(sheet_of(one))}\n"
        for number, one in enumerate(TWENTY, 1)
    ]
    return "\n\n".join(parts)


if __name__ == "__main__":
    READ.write_text(written(), encoding="utf-8")
