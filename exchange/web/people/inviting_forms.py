"""The forms of inviting: people one a line, and the table in which what is in doubt is asked."""

from wtforms import BooleanField, FieldList, Form, FormField, SelectField, StringField
from wtforms.fields.simple import TextAreaField
from wtforms.validators import InputRequired, Length, Optional

from exchange.domain.circle.people_lines import MOST_PEOPLE
from exchange.web.frame.form_state import PageForm


class PeopleForm(PageForm):
    """People to be invited, one a line."""

    lines = TextAreaField(
        "One a line: name, town, mail",
        [InputRequired("Write at least one line, such as a name and a town.")],
        description="Town and mail may be left out. Who has no mail is a member at once, and you act for them.",
        render_kw={"rows": 8},
    )


class PersonForm(Form):
    """One person in the table; the choices of `chosen` are set by the page."""

    Meta = PageForm.Meta

    text = StringField()
    name = StringField("Name", [Optional(), Length(max=120, message="Write it shorter.")])
    town = StringField("Town", [Optional()])
    chosen = SelectField("Which town", choices=[], validate_choice=False)
    email = StringField("E-mail address", [Optional()])
    somebody_else = BooleanField("Somebody else of this name")
    leave_out = BooleanField("Leave out")


class PeopleTableForm(PageForm):
    """The table of all that were named."""

    people = FieldList(FormField(PersonForm), max_entries=MOST_PEOPLE)
