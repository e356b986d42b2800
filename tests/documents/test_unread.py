"""Names in documents with faults are told of together with the faults, and nothing twice."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.parsing import parse
from finishsched.documents.references import unknown_names
from finishsched.documents.unread import unread_from
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Schedule

PRODUCTS = {
    "blonde-flakes": Product("blonde-flakes", "Blonde", ProductKind.FLAKES),
    "spirits": Product("spirits", "Spirits", ProductKind.THINNER),
}
SCHEDULES = {"padded": Schedule("padded", "Padded", ())}
STEP = """\
schedule: own
titel: Own
stages:
  - stage: bodi
    steps:
      - rounds: 2
        steps:
          - pad: a
            product: blonde-flaks
          - level: b
            lubricant: soapy water
          - level: c
            lubricant: sprits
"""


def _unread(text, name="s.yaml"):
    with pytest.raises(DocumentFaultsError):
        read(text.encode(), name)
    return unread_from(name, parse(text.encode(), name))


def _told(*unread):
    return [str(fault) for fault in unknown_names([], PRODUCTS, SCHEDULES, unread)]


def test_names_of_a_schedule_with_faults():
    """However deep, each at its place, with the name that was meant; words for water are none."""
    assert _told(_unread(STEP)) == [
        "s.yaml:9:22: there is no product 'blonde-flaks'; did you mean 'blonde-flakes'?",
        "s.yaml:13:24: there is no product 'sprits'; did you mean 'spirits'?",
    ]


def test_names_of_a_job_and_a_shop_with_faults():
    """A job's schedules and a shop's packs are looked up as well."""
    job = _unread("job: a\npieces:\n  - {piece: b, schedule: paded}\n  - {schedule: padded}\n", "j")
    shop = _unread("shop: A\nbel: yes\npacks:\n  - {product: spirts, size: 1 l}\n", "shop.yaml")
    assert _told(job, shop) == [
        "j:3:26: there is no schedule 'paded'; did you mean 'padded'?",
        "shop.yaml:4:15: there is no product 'spirts'; did you mean 'spirits'?",
    ]


def test_a_document_with_faults_is_there_all_the_same():
    """Whoever names it is not told that there is no such product or schedule."""
    product = _unread("product: mine\ntitel: Mine\n", "p.yaml")
    schedule = _unread("schedule: own\ntitel: Own\n", "s.yaml")
    job = read(
        b"job: a\ntitle: A\npieces:\n  - {piece: b, title: B, schedule: own, faces: "
        b"[{face: c, area: 1 m2}]}\n",
        "j.yaml",
    )
    pad = read(
        b"schedule: two\ntitle: T\nsource: mine\nstages:\n  - stage: body\n    steps:\n"
        b"      - {pad: a, product: mine}\n",
        "t.yaml",
    )
    assert unknown_names([job, pad], PRODUCTS, SCHEDULES, [product, schedule]) == []
    assert len(unknown_names([job, pad], PRODUCTS, SCHEDULES)) == 2


@pytest.mark.parametrize("text", ["- a\n- b\n", "just text\n"])
def test_what_is_no_document_has_no_names(text):
    """A list or a word has nothing to look up."""
    assert unread_from("x", parse(text.encode(), "x")) is None


def test_a_word_that_is_no_name_is_told_of_once():
    """What cannot be an id is a fault of its own already."""
    text = "job: a\ntitle: A\npieces:\n  - {piece: b, title: B, schedule: 'No Name'}\n"
    assert _told(_unread(text, "j")) == []


def test_an_accepted_rule_has_its_reason_and_is_there_once():
    """Both keys are wanted, and the same rule twice is a fault at the second."""
    text = b"shop: A\naccepted:\n  - {rule: one-face}\n  - {rule: a-b, because: c}\n"
    with pytest.raises(DocumentFaultsError) as caught:
        read(text + b"  - {rule: a-b, because: d}\n", "shop.yaml")
    assert [(f.line, f.column, f.rule) for f in caught.value.faults] == [
        (3, 5, "missing-key"),
        (5, 12, "duplicate-key"),
    ]
