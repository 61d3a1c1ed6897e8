"""What the page on which a variety is corrected shows."""

from dataclasses import dataclass

from exchange.actions.growing.correct_variety import NAME, in_its_way, must_mend
from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.edits import version_of
from exchange.domain.growing.code_advice import Advice, advice_on
from exchange.domain.growing.plant_class import PlantClass
from exchange.domain.permissions import Permission, may
from exchange.records import PLANT_CLASSES
from exchange.records.rows.growing import VarietyRow
from exchange.records.varieties import variety_meant_by


@dataclass(frozen=True, slots=True)
class CorrectPage:
    """A variety to be corrected.

    Attributes
    ----------
    advice : what the code of cultivated-plant names says against its name
    classes : every group and size there is, of whichever kind
    in_its_way : what keeps it from being removed, empty where nothing does
    may_merge : whether the reader may make it one with another
    """

    variety: VarietyRow
    advice: tuple[Advice, ...]
    classes: tuple[PlantClass, ...]
    in_its_way: str
    may_merge: bool

    @property
    def version(self) -> str:
        return version_of(self.variety, NAME)


def correct_page(actor: Actor, variety_id: int) -> CorrectPage:
    """Show a variety to whoever may correct it.

    Raises
    ------
    NotYoursAloneError
        When others have something under it too.
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        must_mend(tx, actor, variety)
        return CorrectPage(
            variety,
            advice_on(variety.name, variety.species),
            PLANT_CLASSES.all(tx, actor.circle_id),
            in_its_way(tx, actor.circle_id, variety.id),
            may(actor.person, Permission.MEND_NAMES),
        )
