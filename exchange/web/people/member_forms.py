"""Forms about people: joining, inviting, names."""

from wtforms import HiddenField, RadioField, SelectField, StringField
from wtforms.validators import InputRequired, Length, Optional

from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm

NAME = [InputRequired("Write the name."), Length(max=60, message="Write it shorter.")]


class TownFields(PageForm):
    """A town or postal district, and the one chosen where several have the name."""

    town = StringField(
        "Town or postal district",
        description="Such as Ludlow, or SY8. The street is not asked.",
    )
    chosen = RadioField("Which one?", choices=[], validate_choice=False)

    def offer(self, towns: list[tuple[str, str]]) -> None:
        """Show the towns of that name, to choose one."""
        self.chosen.choices = towns


class JoinForm(TownFields):
    """What somebody gives when joining: a name and a town."""

    first_name = StringField("Your first name", NAME)
    surname = StringField("Your surname", [Optional(), Length(max=60)])
    email = StringField("Your e-mail address", [Optional()])


class AskLinkForm(PageForm):
    """An e-mail address to send a sign-in link to."""

    email = StringField("Your e-mail address", [InputRequired("Write your e-mail address.")])


class NewAddressForm(PageForm):
    """Another e-mail address to sign in with."""

    email = StringField("The new address", [InputRequired("Write the new address.")])


class HouseholdForm(EditingForm):
    """The household a member shares."""

    # Its page has a second form with a version, and an id stands once on a page.
    version = HiddenField(id="household-version")
    household_id = SelectField(
        "Shares a household with", coerce=int, choices=[], validate_choice=False
    )


class HelperForm(EditingForm):
    """What a member helps the organiser with."""

    helper = SelectField(
        "Helps with",
        choices=[
            ("", "nothing in particular"),
            ("names", "names of varieties"),
            ("members", "members"),
            ("postage", "postage"),
            ("trouble", "trouble reports"),
        ],
    )
