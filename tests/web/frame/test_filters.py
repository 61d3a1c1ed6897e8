"""What templates ask of words and forms."""

from flask import Flask
from markupsafe import Markup
from werkzeug.datastructures import MultiDict
from wtforms import (
    BooleanField,
    FieldList,
    Form,
    FormField,
    HiddenField,
    IntegerField,
    RadioField,
    StringField,
)
from wtforms.validators import InputRequired, Optional

from exchange.domain.growing.variety import Species, Variety
from exchange.web.frame.filters import (
    code,
    number_word,
    plant,
    things_to_put_right,
    variety,
)
from exchange.web.frame.form_filters import first_error, is_optional, kind_of_field, mistakes, said
from exchange.web.frame.form_state import PageForm
from exchange.web.home import parts_form
from exchange.web.sharing.spare_forms import RowForm


class Batch(Form):
    Meta = PageForm.Meta
    count = IntegerField("How many")


class Listing(PageForm):
    token = HiddenField()
    name = StringField("Variety", [InputRequired("Write the name.")])
    remark = StringField("Remark", [Optional()])
    sent_as = RadioField("Sent as", choices=[("rooted", "Rooted cutting"), ("clump", "Clump")])
    batches = FieldList(FormField(Batch))


def listing(**answers) -> Listing:
    given = {"name": "Tin Kettle", "sent_as": "clump"} | answers
    form = Listing(MultiDict(given))
    form.validate()
    return form


def test_a_plant_is_written_as_on_its_label():
    assert plant("Tin Kettle", "Dahlia") == Markup(
        '<span class="plant"><i>Dahlia</i> <b>‘Tin Kettle’</b></span>'
    )
    assert variety(Variety(1, Species.DAHLIA, "Tin Kettle")) == plant("Tin Kettle", "Dahlia")


def test_a_name_cannot_write_markup():
    assert "<script>" not in plant("<script>", "<i>")
    assert "<script>" not in code("<script>")


def test_a_long_name_may_break():
    assert 'class="long"' in plant("A Seedling of Her Own Kitchen Garden")
    assert 'class="long"' not in plant("Tin Kettle")


def test_small_numbers_are_words():
    assert [number_word(value) for value in (0, 1, 10, 11)] == ["no", "one", "ten", "11"]
    assert things_to_put_right(1) == "One thing to put right"
    assert things_to_put_right(2) == "Two things to put right"


def test_mistakes_are_numbered_in_the_order_of_the_fields():
    form = listing(name="", sent_as="seed")

    found = mistakes(form)

    assert [(one.number, one.anchor) for one in found] == [(1, "name"), (2, "sent_as-0")]
    assert (form["name"].mistake_number, form["sent_as"].mistake_number) == (1, 2)


def test_a_form_without_mistakes_has_none():
    assert mistakes(listing()) == []


def test_a_mistake_deep_in_a_list_leads_to_its_own_field():
    form = listing(**{"batches-0-count": "a few"})

    (found,) = mistakes(form)

    assert found.anchor == "batches-0-count"
    assert found.sentence == "Write a whole number, such as 4."


def test_the_librarys_sentences_are_put_in_ours():
    form = listing(sent_as="seed")

    assert first_error(form["sent_as"]) == "Choose one of these."


def test_what_concerns_the_whole_form_is_said_once_and_leads_nowhere():
    form = listing()
    form.form_errors = ["Invalid password", "Invalid password"]

    found = mistakes(form)

    assert [(one.anchor, one.sentence) for one in found] == [("", "That is not your password.")]


def test_an_input_says_what_describes_it():
    wrong, right = listing(name="")["name"], listing()["name"]

    assert said(right, None) == {}
    assert said(right, "From your own stock.") == {"aria-describedby": "name-hint"}
    assert said(wrong, "From your own stock.") == {
        "aria-describedby": "name-hint name-error",
        "aria-invalid": "true",
    }


def test_a_whole_number_is_typed_as_text_so_that_a_slip_comes_back():
    form = parts_form.with_mistakes()

    assert said(form["count"], None)["inputmode"] == "numeric"
    assert 'value="a few"' in form["count"](**said(form["count"], None))


def test_each_field_is_drawn_after_its_kind():
    form = parts_form.blank()

    kinds = {field.name: kind_of_field(field) for field in form}

    assert kinds == {
        "name": "input",
        "count": "input",
        "sent_as": "choices",
        "accepted": "choices",
        "wanted": "choices",
        "choice": "input",
        "send_by": "input",
        "remark": "input",
        "looked_over": "tick",
    }
    assert kind_of_field(listing()["token"]) == "hidden"


def test_a_field_that_may_stay_empty_says_so():
    form = listing()

    assert is_optional(form["remark"])
    assert not is_optional(form["name"])


class Asked(PageForm):
    name = StringField("Variety", [InputRequired()])
    count = IntegerField("How many")
    looked_over = BooleanField("Looked over", default=True)


def test_a_form_that_was_sent_is_read_and_says_its_mistakes_in_our_words():
    with Flask("exchange").test_request_context(method="POST", data={"count": "a few"}):
        form = Asked(data={"name": "Tin Kettle"})
        assert not form.validate_on_submit()

    assert form.errors == {
        "name": ["This is still empty. Please fill it in."],
        "count": ["Write a whole number, such as 4."],
    }
    assert form.looked_over.data is False


def test_a_form_that_is_first_met_has_its_first_answers():
    with Flask("exchange").test_request_context():
        form = Asked(data={"name": "Tin Kettle"})
        assert not form.validate_on_submit()

    assert (form.name.data, form.looked_over.data, form.errors) == ("Tin Kettle", True, {})


def test_a_line_within_a_form_says_its_mistakes_in_our_words():
    row = RowForm(MultiDict({"count": "a few", "material": "cabbage"}))

    assert not row.validate()
    assert first_error(row["count"]) == "Write a whole number, such as 4."
    assert first_error(row["material"]) == "Choose one of these."
