"""All tables, so that migrations see them."""

from exchange.records.tables.base import Base
from exchange.records.tables.circle import CircleTable, ClosureTable, DeedTable, MergerTable
from exchange.records.tables.growing import (
    BatchTable,
    ClaimTable,
    PlantClassTable,
    SpareTable,
    VarietyTable,
)
from exchange.records.tables.people import (
    Account,
    AwayTable,
    HouseholdTable,
    LinkTable,
    MemberTable,
    PlaceTable,
    ShelterTable,
)
from exchange.records.tables.posting import (
    DiaryTable,
    ForecastFaultTable,
    ForecastTable,
    ParcelLineTable,
    ParcelTable,
    RoutePointTable,
    TariffBandTable,
    WayTable,
)
from exchange.records.tables.running import (
    CalendarTable,
    LetterTable,
    SpreadsheetTable,
    TaskTable,
)
from exchange.records.tables.sharing import AllocationTable, AnswerTable, ShareOutTable
from exchange.records.tables.weather import (
    DailyFileTable,
    FrostNoteTable,
    ObservationTable,
    PlaceSkillTable,
)

__all__ = [
    "Account",
    "AllocationTable",
    "AnswerTable",
    "AwayTable",
    "Base",
    "BatchTable",
    "CalendarTable",
    "CircleTable",
    "ClaimTable",
    "ClosureTable",
    "DailyFileTable",
    "DeedTable",
    "DiaryTable",
    "ForecastFaultTable",
    "ForecastTable",
    "FrostNoteTable",
    "HouseholdTable",
    "LetterTable",
    "LinkTable",
    "MemberTable",
    "MergerTable",
    "ObservationTable",
    "ParcelLineTable",
    "ParcelTable",
    "PlaceSkillTable",
    "PlaceTable",
    "PlantClassTable",
    "RoutePointTable",
    "ShareOutTable",
    "ShelterTable",
    "SpareTable",
    "SpreadsheetTable",
    "TariffBandTable",
    "TaskTable",
    "VarietyTable",
    "WayTable",
]
