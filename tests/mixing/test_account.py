"""One account of a coat: what is used is in the pad, lost, or laid."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.mixing.account import account_of, cut_as_laid, is_as_told
from finishsched.mixing.amount import pad_charge_ml, used_amount
from finishsched.model.verbs import Verb

amounts = st.floats(0.0, 500.0)
laying = st.sampled_from([verb for verb in Verb if verb.lays_coats])


@given(amounts, st.floats(0.01, 200.0), laying)
def test_nothing_is_lost_from_the_account(used, scheduled, verb):
    """Pad, loss and coat are together what was used, and none of them is negative."""
    account = account_of(used, scheduled, verb)
    assert min(account.in_pad, account.lost, account.laid) >= 0
    assert account.in_pad + account.lost + account.laid == pytest.approx(used)


@given(st.floats(0.01, 200.0), laying, st.floats(0.0, 1.0))
def test_who_takes_what_is_told_lays_what_is_scheduled(scheduled, verb, charge):
    """With a fresh pad, a charged one or anything between, the coat is the schedule's."""
    told = used_amount(scheduled, 1.0, 1, verb) + charge * pad_charge_ml(verb)
    assert account_of(told, scheduled, verb).laid == pytest.approx(scheduled)


@given(amounts, amounts, st.floats(0.01, 200.0), laying)
def test_more_used_is_never_less_laid(one, other, scheduled, verb):
    """The coat never grows thinner by more being used."""
    low, high = sorted((one, other))
    thin, thick = (account_of(used, scheduled, verb).laid for used in (low, high))
    assert thin <= thick + 1e-9


def test_a_thinned_coat_is_as_weak_as_it_was_let_down():
    """From the jar of its sitting a coat has its own cut; from another jar, that jar's."""
    sitting = (240.0, 240.0, 120.0)
    assert cut_as_laid(120.0, sitting, 240.0) == 120.0
    assert cut_as_laid(120.0, sitting, 236.0) == 120.0
    assert cut_as_laid(120.0, sitting, 360.0) == 360.0
    assert cut_as_laid(120.0, sitting, None) == 120.0
    assert cut_as_laid(None, (), 240.0) == 240.0


@given(amounts, st.floats(0.01, 200.0), laying, st.floats(0.0, 50.0))
def test_bare_wood_drinks_only_what_is_more_than_the_coat(used, scheduled, verb, soaks):
    """The schedule's coat lies on the work first; wood takes of the rest, no more than it can."""
    account = account_of(used, scheduled, verb, soaks=soaks)
    reaches = used - account.in_pad - account.lost
    assert account.soaked == pytest.approx(min(soaks, max(0.0, reaches - scheduled)), abs=1e-9)
    assert account.laid + account.soaked == pytest.approx(reaches, abs=1e-9)


def test_what_wood_drinks_of_a_generous_coat():
    """Worked by hand: 20 ml reach wood that drinks 4 ml, where 10 ml are a coat: 16 ml lie."""
    used_ml = 20.0 / (1 - Verb.BRUSH.does.lost_share)
    account = account_of(used_ml, 10.0, Verb.BRUSH, soaks=4.0)
    assert (account.soaked, account.laid) == pytest.approx((4.0, 16.0))


@pytest.mark.parametrize(
    ("amount", "as_told"), [(8.9, False), (9.1, True), (10.0, True), (10.9, True), (11.1, False)]
)
def test_an_amount_within_a_tenth_is_the_one_that_was_told(amount, as_told):
    """Of 10 ml that were told: told in two digits, so near to it is the same (our assumption)."""
    assert is_as_told(amount, 10.0) is as_told
