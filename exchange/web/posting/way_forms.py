"""Forms of the ways of sending and the days without post."""

from wtforms import (
    BooleanField,
    DateField,
    IntegerField,
    SelectField,
    SelectMultipleField,
    StringField,
)
from wtforms.validators import InputRequired, Length, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.actions.posting.closures import LONGEST_LABEL
from exchange.actions.posting.ways import LONGEST_NAME, NewWay, WayTerms
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm
from exchange.web.people.member_forms import TownFields
from exchange.words.people.places import weekday_words

_WHOLE = "Write a whole number from 0 to 100."


def weekdays_field(label: str) -> SelectMultipleField:
    return SelectMultipleField(
        label,
        choices=[(number, weekday_words(number)) for number in range(7)],
        coerce=int,
        default=[0, 1, 2, 3, 4, 5],
        widget=ListWidget(prefix_label=False),
        option_widget=CheckboxInput(),
    )


class WayFields(PageForm):
    """What a circle may say of any way."""

    used = BooleanField("The circle uses it", default=True)
    postage = IntegerField(
        "Postage of a usual parcel, in whole pence",
        [Optional()],
        description="For example 349. It only weighs one way against another; left empty, it does not.",
    )
    cut_off_hour = IntegerField(
        "Taken in until",
        [InputRequired("Write an hour from 0 to 23, such as 16.")],
        default=16,
        description="The last full hour of the day, from 0 to 23.",
    )
    hand_over_weekdays = weekdays_field("Taken in on")
    delivery_weekdays = weekdays_field("Delivered on")

    def terms(self) -> WayTerms:
        return WayTerms(
            bool(self.used.data),
            frozenset(self.hand_over_weekdays.data or ()),
            frozenset(self.delivery_weekdays.data or ()),
            int(self.cut_off_hour.data or 0),
            self.postage.data if self.postage else None,
        )


class WayForm(WayFields, EditingForm):
    """What a circle may change of a way."""


class ThroughForm(TownFields, EditingForm):
    """The town a way goes through."""

    town = StringField(
        "Goes through",
        [InputRequired("Write a town, such as Shap, or leave the page.")],
        description="The town in whose depot parcels lie after the first night, if you know it.",
    )


class NewWayForm(WayFields):
    """A way of the circle's own."""

    name = StringField(
        "What it is called",
        [InputRequired("Give it a name."), Length(max=LONGEST_NAME)],
    )
    country = SelectField("Country", choices=[], validate_choice=False)
    quick = BooleanField(
        "It is quick: most come the next day",
        description="Cuttings go by quick ways only.",
    )
    next_day = IntegerField("Of 100 parcels, come the next day", [InputRequired(_WHOLE)])
    second_day = IntegerField("On the second day", [InputRequired(_WHOLE)])
    third_day = IntegerField("On the third day", [InputRequired(_WHOLE)])
    later = IntegerField("Later", [InputRequired(_WHOLE)])

    def new_way(self) -> NewWay:
        shares = (self.next_day, self.second_day, self.third_day, self.later)
        first, second, third, later = (int(one.data or 0) for one in shares)
        return NewWay(
            self.name.data or "",
            self.country.data or "",
            bool(self.quick.data),
            (first, second, third, later),
            self.terms(),
        )


class ClosureForm(PageForm):
    """A day on which there is no post."""

    day = DateField("Day without post", [InputRequired("Give the day.")])
    area = SelectField("Where", choices=[], validate_choice=False)
    label = StringField(
        "Why",
        [InputRequired("Say why there is no post."), Length(max=LONGEST_LABEL)],
        description="For example: post office shut for repairs.",
    )
