from exchange.mail.sending import DeliveryFaultKind
from exchange.words.kernel.mail_faults import fault, trial_letter


def test_every_fault_has_a_sentence_and_keeps_the_servers_answer():
    said = {kind: fault(kind.value, "550 no") for kind in DeliveryFaultKind}

    assert len(set(said.values())) == len(DeliveryFaultKind)
    assert all(one.endswith("It answered: 550 no") for one in said.values())


def test_the_test_letter_names_the_circle():
    assert all("Our Circle" in part for part in trial_letter("Our Circle"))
