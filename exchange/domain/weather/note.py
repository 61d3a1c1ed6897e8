"""What a reader of an outlook must know."""

from enum import StrEnum


class Note(StrEnum):
    """What a reader must know of a whole outlook; each value is the sentence itself."""

    NO_HEIGHT = "no height was given, so the cold is not corrected for it"
    HEIGHT_FROM_FORECAST = "the height is the forecast's own, nobody has given one"
    NO_FORECAST = "there is no forecast; these are usual nights for the time of year"
    NO_CLIMATE = "no weather station lies near enough to tell what is usual here"
    OLD = "the forecast is older than it should be"
    TOO_OLD = "the forecast is too old to use"
    FROM_THE_FUTURE = "the forecast claims to be from the future and is not used"
    NOTED = "a frost note of the household makes some nights colder than the forecast has them"
    NOTHING = "neither a forecast nor what is usual is known, so nothing can be said of the cold"


class Doubt(StrEnum):
    """What is doubtful in the forecast of a single night."""

    INCOMPLETE = "incomplete"
    TOO_WARM = "too warm"
    TOO_COLD = "too cold"
