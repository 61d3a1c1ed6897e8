"""Forms about people: joining, inviting, names."""

from wtforms import Form, RadioField, SelectField, StringField
from wtforms.validators import InputRequired, Length, Optional

from exchange.words.phrase import _

NAME = [InputRequired(_("Write the name.")), Length(max=60, message=_("Write it shorter."))]


class TownFields(Form):
    """A town or postal district, and the one chosen where several have the name."""

    town = StringField(
        _("Town or postal district"),
        description=_("Such as Ludlow, or SY8. The street is not asked."),
    )
    chosen = RadioField(_("Which one?"), choices=[], validate_choice=False)

    def offer(self, towns: list[tuple[str, str]]) -> None:
        """Show the towns of that name, to choose one."""
        self.chosen.choices = towns


class JoinForm(TownFields):
    """What somebody who joins tells: a name and a town."""

    first_name = StringField(_("Your first name"), NAME)
    surname = StringField(_("Your surname"), [Optional(), Length(max=60)])
    email = StringField(_("Your e-mail address"), [Optional()])


class InviteForm(Form):
    """Somebody invited to the circle."""

    first_name = StringField(_("First name"), NAME)
    surname = StringField(_("Surname"), [Optional(), Length(max=60)])
    email = StringField(
        _("E-mail address"),
        [Optional()],
        description=_("Left empty, you get the invitation as text to hand over."),
    )


class AddMemberForm(TownFields):
    """Somebody without an account, for whom the organiser acts."""

    first_name = StringField(_("First name"), NAME)
    surname = StringField(_("Surname"), [Optional(), Length(max=60)])
    telephone = StringField(_("Telephone"), [Optional(), Length(max=40)])
    household = SelectField(_("Household"), coerce=int, choices=[])


class AskLinkForm(Form):
    """An e-mail address to send a sign-in link to."""

    email = StringField(_("Your e-mail address"), [InputRequired(_("Write your e-mail address."))])


class NewAddressForm(Form):
    """Another e-mail address to sign in with."""

    email = StringField(_("The new address"), [InputRequired(_("Write the new address."))])


class HouseholdForm(Form):
    """The household a member shares."""

    household_id = SelectField(_("Shares a household with"), coerce=int, choices=[])


class HelperForm(Form):
    """What a member helps the organiser with."""

    helper = SelectField(
        _("Helps with"),
        choices=[
            ("", _("nothing in particular")),
            ("names", _("names of varieties")),
            ("members", _("members")),
            ("postage", _("postage")),
            ("trouble", _("trouble reports")),
        ],
    )
