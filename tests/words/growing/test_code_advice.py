"""Advice on names, in sentences that name the article."""

import pytest

from exchange.domain.growing.code_advice import Advice, CodeRule
from exchange.words.growing.code_advice import advised


@pytest.mark.parametrize("rule", CodeRule)
def test_every_rule_has_a_sentence_with_its_article(rule):
    said = advised(Advice(rule, "Best"))

    assert f"(Article {rule.value.split()[0]}" in said
    assert said.endswith(").")
    assert "{" not in said
