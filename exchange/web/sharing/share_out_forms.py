from wtforms import DateField, IntegerField, RadioField, SelectField, StringField
from wtforms.validators import InputRequired, Length, Optional

from exchange.actions.sharing.share_out_choices import LONGEST_REASON, ClaimChoices, NewChoice
from exchange.actions.sharing.share_out_proposal import ChoiceKind
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm, an_id


class OpenShareOutForm(PageForm):
    name = StringField("What is shared out", [Length(max=80, message="Write it shorter.")])
    closes_on = DateField("Closing day", [InputRequired("Give the day on which claims close.")])


class ChangeShareOutForm(OpenShareOutForm, EditingForm):
    """A share-out that is open already."""


class ChoiceForm(EditingForm):
    """What the organiser wants for one claim; what was chosen for it before may be replaced by it."""

    # The act decides which spares are still open.
    spare = SelectField("Which spare", coerce=an_id, choices=[], validate_choice=False)
    what = RadioField(
        "What you want",
        choices=[
            ("pin", "They go to this claim, whatever the rules say"),
            ("forbid", "They do not go to this claim"),
        ],
        validators=[InputRequired("Choose one of the two.")],
    )
    count = IntegerField(
        "How many plants go",
        [Optional()],
        default=1,
    )
    reason = StringField(
        "Why",
        [
            InputRequired("Give the reason; it is kept with the share-out."),
            Length(max=LONGEST_REASON, message="Write it shorter."),
        ],
        description="Kept with the share-out, and only the organiser reads it.",
    )

    def choice(self, claim_id: int) -> NewChoice:
        count = self.count.data if self.count.data is not None else 0
        return NewChoice(
            self.spare.data or 0,
            claim_id,
            count if self.what.data == "pin" else None,
            self.reason.data or "",
        )


def of_choices(settled: ClaimChoices) -> dict[str, object]:
    """Give what was chosen last for a claim, as its form says it."""
    said: dict[str, object] = {"version": settled.version}
    if settled.choices:
        last = settled.choices[-1]
        pinned = last.kind is ChoiceKind.PIN
        said |= {"spare": last.spare_id, "what": last.kind.value, "reason": last.reason}
        said |= {"count": last.count} if pinned else {}
    return said
