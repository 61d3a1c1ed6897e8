"""One shelf a noun: where each kind of row is read and written."""

from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch
from exchange.domain.growing.variety import Variety
from exchange.domain.posting.route_point import RoutePoint
from exchange.records import tables, values, weather_values
from exchange.records.shelf import Shelf, reader

HOUSEHOLDS = Shelf(
    tables.HouseholdTable, reader(values.HouseholdEntry), "household", ("name",), facts=True
)
MEMBERS = Shelf(
    tables.MemberTable, reader(values.Member), "member", ("first_name", "surname"), facts=True
)
PLACES = Shelf(tables.PlaceTable, reader(Place), "place", ("household_id", "name"), facts=True)
SHELTERS = Shelf(
    tables.ShelterTable, reader(values.ShelterEntry), "shelter", ("place_id",), facts=True
)
AWAY = Shelf(tables.AwayTable, reader(values.AwayEntry), "time away", ("first",), facts=True)
VARIETIES = Shelf(
    tables.VarietyTable, reader(Variety), "variety", ("species", "folded"), facts=True
)
BATCHES = Shelf(tables.BatchTable, reader(Batch), "batch", facts=True)
SPARES = Shelf(tables.SpareTable, reader(values.SpareEntry), "spare", facts=True)
CLAIMS = Shelf(tables.ClaimTable, reader(values.ClaimEntry), "claim", facts=True)
SHARE_OUTS = Shelf(tables.ShareOutTable, reader(values.ShareOutEntry), "share-out", ("closes_on",))
ANSWERS = Shelf(tables.AnswerTable, reader(values.Answer), "answer to a claim")
ALLOCATIONS = Shelf(tables.AllocationTable, reader(values.Allocation), "allocation", facts=True)
WAYS = Shelf(tables.WayTable, reader(values.WayEntry), "way of sending", facts=True)
ROUTE_POINTS = Shelf(tables.RoutePointTable, reader(RoutePoint), "route point", facts=True)
CLOSURES = Shelf(tables.ClosureTable, reader(values.Closure), "closure", ("day",), facts=True)
PARCELS = Shelf(tables.ParcelTable, reader(values.ParcelEntry), "parcel")
PARCEL_LINES = Shelf(tables.ParcelLineTable, reader(values.ParcelLine), "line of a parcel")
FAULTS = Shelf(tables.ForecastFaultTable, reader(values.ForecastFault), "forecast fault", ("at",))
FROST_NOTES = Shelf(
    tables.FrostNoteTable,
    reader(weather_values.FrostNoteEntry),
    "frost note",
    ("night",),
    facts=True,
)
OBSERVATIONS = Shelf(
    tables.ObservationTable,
    reader(weather_values.Observation),
    "night observed",
    ("place_id", "day"),
)
DAILY_FILES = Shelf(
    tables.DailyFileTable, reader(weather_values.DailyFile), "daily file", ("read_at",), facts=True
)
PLACE_SKILLS = Shelf(
    tables.PlaceSkillTable, reader(weather_values.PlaceSkill), "skill at a place", facts=True
)
DIARY = Shelf(tables.DiaryTable, reader(values.DiaryRow), "diary entry", ("first_day", "key"))
TASKS = Shelf(tables.TaskTable, reader(values.Task), "task")
LETTERS = Shelf(tables.LetterTable, reader(values.Letter), "letter")
CALENDARS = Shelf(tables.CalendarTable, reader(values.CalendarAddress), "calendar")
DEEDS = Shelf(tables.DeedTable, reader(values.Deed), "deed", ("done_at",))
