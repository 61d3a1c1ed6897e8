"""What somebody who leaves is asked and told."""

from exchange.words.circle import leaving as words


def test_a_few_varieties_are_all_named_and_many_are_counted():
    assert "‘One’ and ‘Two’." in words.only_held(["One", "Two"])
    assert "and 2\u00a0more." in words.only_held([str(number) for number in range(8)])


def test_what_leaves_depends_on_who_stays():
    assert "Claims and spares leave too" in words.lead("Effie", alone=True)
    assert "The household stays" in words.lead("Effie", alone=False)


def test_parcels_on_the_way_are_counted():
    assert words.on_their_way(1).startswith("1\u00a0parcel is still")
    assert words.on_their_way(2).startswith("2\u00a0parcels are still")
