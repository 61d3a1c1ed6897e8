from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.posting.risk import risk_table
from tests.builders.risk import a_question, journeys
from tests.builders.scalar_risk import scalar_means


@pytest.fixture(scope="module")
def question():
    return replace(a_question(places=30, days=5, most_after=4), needed=(True,) * 5)


def test_the_table_gives_the_numbers_of_a_plain_loop_to_a_billionth(question):
    parcels = journeys(24, places=30)
    table = risk_table(parcels, question)
    hourly = question.air.hourly.tolist()
    frozen = 0
    for number, journey in enumerate(parcels):
        for day in (0, 2, 4):
            for after, means in scalar_means(journey, question, hourly, day).items():
                assert table.loss[number][:, day, after] == pytest.approx(means, abs=1e-9)
                frozen += bool(journey.latent_k and table.box_tenth[number, day, after] == 0)
    assert frozen > 5, "the sample must reach the latent heat of a damp wrap"


def test_a_damp_wrap_holds_the_core_at_freezing_point(question):
    damp = [one for one in journeys(80, places=30) if one.latent_k]
    dry = [replace(one, latent_k=0.0) for one in damp]
    wet_box = risk_table(damp, question).box_tenth
    dry_box = risk_table(dry, question).box_tenth
    assert np.nanmin(dry_box) < -2
    assert np.nanmin(wet_box) == 0


def test_warmer_packing_and_warmer_depots_never_lose_more_to_cold(question):
    base = journeys(40, places=30)
    plain = risk_table(base, question)
    warmer = risk_table([replace(one, depot_offset_c=4.0) for one in base], question)
    assert np.nanmean(warmer.box_middle) > np.nanmean(plain.box_middle)
    assert np.nanmin(warmer.box_tenth - plain.box_tenth) >= -1e-12


def test_the_order_of_parcels_changes_nothing(question):
    base = journeys(150, places=30)
    forward = risk_table(base, question, figures=False)
    backward = risk_table(base[::-1], question, figures=False)
    for one, other in zip(forward.loss, backward.loss[::-1], strict=True):
        assert np.array_equal(one, other)


def test_more_days_on_the_road_lose_more_unless_the_night_was_the_worst(question):
    calm = replace(
        question,
        air=replace(question.air, hourly=np.full_like(question.air.hourly, 12.0)),
        sheltered=np.full_like(question.sheltered, 12.0),
    )
    table = risk_table(journeys(8, places=30), calm, figures=False)
    for loss in table.loss:
        assert (np.diff(loss[:, :, 1:], axis=2) > 0).all()
