"""One repository per noun: where each kind of row is read and written."""

from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch
from exchange.domain.growing.plant_class import PlantClass
from exchange.domain.posting.route_point import RoutePoint
from exchange.records import tables
from exchange.records.repository import Repository
from exchange.records.rows import circle, growing, people, posting, running, sharing, weather
from exchange.records.rows.wanted import ById, NeverChanged

HOUSEHOLDS = Repository(
    tables.HouseholdTable,
    people.HouseholdRow,
    people.HouseholdChange,
    ById,
    sorts=("name",),
    facts=True,
)
MEMBERS = Repository(
    tables.MemberTable,
    people.MemberRow,
    people.MemberChange,
    people.MemberWhere,
    sorts=("first_name", "surname"),
    facts=True,
)
PLACES = Repository(
    tables.PlaceTable,
    Place,
    people.PlaceChange,
    people.PlaceWhere,
    sorts=("household_id", "name"),
    facts=True,
)
SHELTERS = Repository(
    tables.ShelterTable,
    people.ShelterRow,
    people.ShelterChange,
    people.ShelterWhere,
    sorts=("place_id",),
    facts=True,
)
AWAY = Repository(
    tables.AwayTable,
    people.AwayRow,
    people.AwayChange,
    people.AwayWhere,
    sorts=("first",),
    facts=True,
)
VARIETIES = Repository(
    tables.VarietyTable,
    growing.VarietyRow,
    growing.VarietyChange,
    growing.VarietyWhere,
    sorts=("species", "folded"),
    facts=True,
)
PLANT_CLASSES = Repository(
    tables.PlantClassTable,
    PlantClass,
    growing.PlantClassChange,
    growing.PlantClassWhere,
    sorts=("species", "sort", "position"),
)
BATCHES = Repository(tables.BatchTable, Batch, growing.BatchChange, growing.BatchWhere, facts=True)
SPARES = Repository(
    tables.SpareTable,
    growing.SpareRow,
    growing.SpareChange,
    growing.SpareWhere,
    facts=True,
)
CLAIMS = Repository(
    tables.ClaimTable,
    growing.ClaimRow,
    growing.ClaimChange,
    growing.ClaimWhere,
    facts=True,
)
SHARE_OUTS = Repository(
    tables.ShareOutTable,
    sharing.ShareOutRow,
    sharing.ShareOutChange,
    sharing.ShareOutWhere,
    sorts=("closes_on",),
)
ANSWERS = Repository(
    tables.AnswerTable,
    sharing.ClaimAnswerRow,
    sharing.ClaimAnswerChange,
    sharing.ClaimAnswerWhere,
)
ALLOCATIONS = Repository(
    tables.AllocationTable,
    sharing.AllocationRow,
    sharing.AllocationChange,
    sharing.AllocationWhere,
    facts=True,
)
WAYS = Repository(
    tables.WayTable,
    posting.WayRow,
    posting.WayChange,
    posting.WayWhere,
    facts=True,
)
ROUTE_POINTS = Repository(
    tables.RoutePointTable,
    RoutePoint,
    NeverChanged,
    posting.RoutePointWhere,
    facts=True,
)
TARIFF_BANDS = Repository(
    tables.TariffBandTable,
    posting.TariffBandRow,
    NeverChanged,
    posting.TariffBandWhere,
    sorts=("price",),
)
CLOSURES = Repository(
    tables.ClosureTable,
    circle.ClosureRow,
    NeverChanged,
    circle.ClosureWhere,
    sorts=("day",),
    facts=True,
)
MERGERS = Repository(
    tables.MergerTable,
    circle.MergerRow,
    circle.MergerChange,
    circle.MergerWhere,
    sorts=("done_at",),
)
PARCELS = Repository(
    tables.ParcelTable,
    posting.ParcelRow,
    posting.ParcelChange,
    posting.ParcelWhere,
)
PARCEL_LINES = Repository(
    tables.ParcelLineTable,
    posting.ParcelLineRow,
    posting.ParcelLineChange,
    posting.ParcelLineWhere,
)
FAULTS = Repository(
    tables.ForecastFaultTable,
    posting.ForecastFaultRow,
    NeverChanged,
    ById,
    sorts=("at",),
)
FROST_NOTES = Repository(
    tables.FrostNoteTable,
    weather.FrostNoteRow,
    NeverChanged,
    weather.FrostNoteWhere,
    sorts=("night",),
    facts=True,
)
OBSERVATIONS = Repository(
    tables.ObservationTable,
    weather.ObservationRow,
    NeverChanged,
    weather.ObservationWhere,
    sorts=("place_id", "day"),
)
DAILY_FILES = Repository(
    tables.DailyFileTable,
    weather.DailyFileRow,
    weather.DailyFileChange,
    weather.DailyFileWhere,
    sorts=("read_at",),
    facts=True,
)
PLACE_SKILLS = Repository(
    tables.PlaceSkillTable,
    weather.PlaceSkillRow,
    NeverChanged,
    weather.PlaceSkillWhere,
    facts=True,
)
DIARY = Repository(
    tables.DiaryTable,
    posting.DiaryRow,
    posting.DiaryChange,
    posting.DiaryWhere,
    sorts=("first_day", "key"),
)
TASKS = Repository(tables.TaskTable, running.TaskRow, NeverChanged, running.TaskWhere)
LETTERS = Repository(
    tables.LetterTable, running.LetterRow, running.LetterChange, running.LetterWhere
)
CALENDARS = Repository(
    tables.CalendarTable,
    running.CalendarAddressRow,
    running.CalendarAddressChange,
    running.CalendarAddressWhere,
)
SPREADSHEETS = Repository(
    tables.SpreadsheetTable,
    running.SpreadsheetRow,
    running.SpreadsheetChange,
    running.SpreadsheetWhere,
    sorts=("handed_in_at",),
)
DEEDS = Repository(tables.DeedTable, circle.DeedRow, NeverChanged, ById, sorts=("done_at",))
