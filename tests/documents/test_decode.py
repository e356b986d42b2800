"""Reading documents: each kind of fault with its exact place, and what a good one becomes."""

from __future__ import annotations

import textwrap

import pytest
from read_documents import JOB, PRODUCT, SCHEDULE, faults_of, rounds, step, summary

from finishsched.documents.decode import load
from finishsched.documents.faults import DocumentFaultsError

ONE_FAULT = [
    # The document as a whole.
    ("- a\n", (1, 1, "unknown-kind"), "a document is keys with values", "write its kind first"),
    ("just text\n", (1, 1, "unknown-kind"), "a document is keys", "job:"),
    ("jobb: a\n", (1, 1, "unknown-kind"), "'jobb'", "did you mean 'job'?"),
    ("title: a\njob: b\n", (1, 1, "unknown-kind"), "'title'", "put 'job:' first"),
    # Keys.
    (PRODUCT.replace("title", "titel"), (2, 1, "unknown-key"), "'titel'", "mean 'title'?"),
    (PRODUCT + "wholly_odd: 1\n", (9, 1, "unknown-key"), "'wholly_odd'", "leave it out"),
    (PRODUCT + "title: B\n", (9, 1, "duplicate-key"), "line 2, column 1", "keep one"),
    (PRODUCT.replace("title: An oil\n", ""), (1, 1, "missing-key"), "no 'title'", "add 'title:'"),
    (PRODUCT.replace("An oil", ""), (2, 7, "bad-value"), "nothing is written", "write"),
    (PRODUCT.replace("An oil", "[a]"), (2, 8, "bad-value"), "not a list", "write"),
    (PRODUCT.replace("An oil", "{a: b}"), (2, 8, "bad-value"), "not keys with values", "write"),
    # Products.
    (PRODUCT.replace("product: oil", "product: My Oil!"), (1, 10, "bad-value"), "no id", "my-oil"),
    (PRODUCT.replace("kind: oil", "kind: oill"), (3, 7, "bad-value"), "'oill'", "mean 'oil'?"),
    (PRODUCT.replace("self-heating", "x"), (5, 7, "bad-value"), "'x'", "flammable, harmless or"),
    (PRODUCT.replace("[]", "[H225, X1]"), (4, 17, "bad-value"), "'X1'", "H225"),
    (PRODUCT.replace("[]", "H225"), (4, 10, "bad-value"), "a list of hazard statements", "'- '"),
    (PRODUCT + "waxy: perhaps\n", (9, 7, "bad-value"), "neither yes nor no", "yes or no"),
    (PRODUCT + "dries: {at: 20}\n", (9, 13, "no-unit"), "'20' has no unit", "20 degC or 20 degF"),
    (PRODUCT + "dries: {recoat: 2 h}\n", (7, 3, "missing-key"), "'recoat'", "published source"),
    (PRODUCT + "density: 0.8 g/ml\n", (7, 3, "missing-key"), "'density'", "published source"),
    (PRODUCT + "  recot: x\n", (9, 3, "unknown-key"), "'recot'", "did you mean 'recoat'?"),
    (PRODUCT.replace("  rags: common practice\n", ""), (7, 3, "missing-key"), "'rags'", "add"),
    # Schedules.
    (SCHEDULE.replace("stage: body", "stage: boddy"), (5, 12, "bad-value"), "'boddy'", "'body'?"),
    (SCHEDULE + "look: shiny\n", (10, 7, "bad-value"), "'shiny'", "flat"),
    (SCHEDULE[: SCHEDULE.index("\n  - ")] + " []\n", (4, 9, "bad-value"), "no stages", "least one"),
    (step("padd: ovals"), (7, 9, "unknown-key"), "'padd'", "did you mean 'pad'?"),
    (step("id: a"), (7, 9, "missing-key"), "a step has no verb", "sand, tack off"),
    (step("pad: a", "sand: b"), (8, 9, "duplicate-key"), "'pad' on line 7", "two of them"),
    (step("pad: a", "product: b", "cut: 2"), (9, 14, "no-unit"), "'2' has no unit", "2 lb"),
    (step("pad: a", "cut: 2 lb"), (7, 9, "missing-key"), "no 'product'", "id"),
    (step("pad: a", "product: b", "cut: 2 ml"), (9, 14, "bad-value"), "not a cut", "2 lb"),
    (step("pad: a", "thinned: 50 %"), (7, 9, "missing-key"), "no 'product'", "thinned"),
    (step("pad: a", "coats: 0"), (8, 16, "bad-value"), "'0'", "from 1 to 200"),
    (step("pad: a", "coats: 2.5"), (8, 16, "bad-value"), "'2.5'", "from 1 to 200"),
    (step("pad: a", "coats: [2, 3]"), (8, 16, "bad-value"), "list outside rounds", "one number"),
    (step("sand: a", "grade: 600"), (8, 16, "bad-value"), "one grade or", "P600 or CAMI 600?"),
    (step("sand: a", "grade: fine"), (8, 16, "bad-value"), "not a grade", "P400"),
    (step("sand: a", "grade: [P80, P120]"), (8, 16, "bad-value"), "2 values for 1 coat", "each"),
    (step("sand: a", "lubricant: Olive Oil"), (8, 20, "bad-value"), "no id", "olive-oil"),
    (step("pad: a", "amount: 15"), (8, 17, "no-unit"), "has no unit", "15 ml/m2"),
    (step("pad: a", "amount: 15 ml"), (8, 17, "bad-value"), "not an amount", "g/m2"),
    (step("pad: a", "amount: 9000 g/m2"), (8, 17, "bad-value"), "outside", "5000 g/m2"),
    (step("pad: a", "hands_on: 5 min + 4 ml"), (8, 19, "bad-value"), "'4 ml'", "min/m2"),
    (step("pad: a", "hands_on: 5"), (8, 19, "no-unit"), "'5' has no unit", "5 min"),
    (step("pad: a", "wait: 2 h", "dry_check: b"), (8, 15, "bad-value"), "range", "{earliest"),
    (step("rest: a", "wait: {earliest: 1 h, likely: 2 h}"), (7, 9, "missing-key"), "'dry_check'",
     "ends the wait"),
    (step("rest: a", "wait: {earliest: 3 h, likely: 2 h}", "dry_check: b"), (8, 39, "bad-value"),
     "'likely' is sooner than 'earliest'", "or more"),
    (step("rest: a", "wait: {earliest: 1 h, likely: 2 h, latest: 1 h}", "dry_check: b"),
     (8, 52, "bad-value"), "'latest' is sooner", "or more"),
    (step("rest: a", "wait: {earliest: 1 h, likely: 2 h, next_by: 1 h}", "dry_check: b"),
     (8, 53, "bad-value"), "'next_by' is sooner", "or more"),
    (step("rest: a", "wait: {likely: 2 h}", "dry_check: b"), (8, 15, "missing-key"), "'earliest'",
     "add"),
    (step("rest: a", "wait: {first: {earliest: 1 h, likely: 2 h}}", "dry_check: b"),
     (8, 15, "missing-key"), "'after'", "last coat"),
    (step("pad: a", "product: b", "thin_to: 1 lb", "coats: 2"), (7, 9, "missing-key"), "no 'cut'",
     "first coat"),
    (step("pad: a", "product: b", "cut: 1 lb", "thin_to: 2 lb", "coats: 2"), (10, 18, "bad-value"),
     "stronger", "thinner"),
    (step("pad: a", "product: b", "cut: 2 lb", "thin_to: 1 lb"), (10, 18, "bad-value"),
     "there is one", "more coats"),
    (step("pad: a", "product: b", "cut: [2 lb, 1 lb]", "thin_to: 1 lb", "coats: 2"),
     (10, 18, "bad-value"), "two things", "keep one"),
    (step("pad: a", "product: b", "cut: []"), (9, 14, "bad-value"), "no cuts", "least one"),
    (rounds("pad: a", "product: b", "cut: [2 lb, 1 lb]"), (11, 18, "bad-value"),
     "2 values for 3 rounds", "each round"),
    (rounds("pad: a", "coats: [1, 2]"), (10, 20, "bad-value"), "2 values for 3 rounds", "each"),
    (rounds("pad: a", count="1"), (7, 17, "bad-value"), "'1'", "from 2 to 50"),
    (rounds("rounds: 2"), (9, 13, "bad-value"), "rounds within rounds", "one group"),
    # Jobs.
    (JOB + "due: 2026-13-01\n", (9, 6, "bad-value"), "no day", "month"),
    (JOB + "due: next week\n", (9, 6, "bad-value"), "not a date", "2026-12-18"),
    (JOB.replace("220 mm", "220"), (8, 29, "no-unit"), "'220' has no unit", "220 mm or 220 in"),
    (JOB.replace(", width: 160 mm", ""), (8, 9, "missing-key"), "no 'width'", "other side"),
    (JOB.replace("length: 220 mm, width: 160 mm", "count: 2"), (8, 9, "missing-key"), "'length'",
     "area"),
    (JOB.replace("160 mm", "160 mm, area: 1 m2"), (8, 58, "bad-value"), "both", "keep"),
    (JOB + JOB[JOB.index("  - piece"):], (9, 12, "duplicate-key"), "line 4, column 12", "another"),
    # Shops.
    ("shop: A\ntime_zone: Europe/Lisbn\n", (2, 12, "bad-value"), "no time zone", "Europe/Lisbon"),
    ("shop: A\ntime_zone: ../etc/passwd\n", (2, 12, "bad-value"), "no time zone", "IANA"),
    ("shop: A\nunits: {volume: g}\n", (2, 17, "bad-value"), "not a volume", "250 ml"),
    ("shop: A\nunits: {cut: lbb}\n", (2, 14, "bad-value"), "no unit 'lbb'", "did you mean"),
    ("shop: A\nalcohol: {strength: 95 %}\n", (2, 21, "bad-value"), "'95 %'", "95 %vol"),
    ("shop: A\nusual_air: {humidity: 5 %}\n", (2, 12, "missing-key"), "'temperature'", "add"),
    ("shop: A\ntools: {scale: 1}\n", (2, 16, "no-unit"), "'1' has no unit", "1 g"),
    ("shop: A\ntools: {scale: 0 g}\n", (2, 16, "bad-value"), "'0 g'", "more than 0"),
    ("shop: A\nkitchen: {volume: oz}\n", (2, 19, "bad-value"), "an ounce is a weight", "floz"),
    ("shop: A\njars: [250 g]\n", (2, 8, "bad-value"), "not a volume", "250 ml"),
    ("shop: A\npacks: [{product: a}]\n", (2, 9, "missing-key"), "no 'size'", "250 g or 1 l"),
    ("shop: A\npacks: [{size: 1 l}]\n", (2, 9, "missing-key"), "no 'product'", "add"),
    ("shop: A\npacks: [{product: a, size: big}]\n", (2, 28, "bad-value"), "'big'", "30 g"),
    ("shop: A\npacks: [{product: a, size: 1 m2}]\n", (2, 28, "bad-value"), "'1 m2'", "250 ml"),
    ("shop: A\npacks: [{product: a, size: [1 l]}]\n", (2, 28, "bad-value"), "a list", "250 g"),
    ("shop: A\npacks: [{product: a, size: 1 l, price: 18}]\n", (2, 40, "bad-value"), "'18'",
     "18.50 EUR"),
    ("shop: A\npacks: [{product: a, size: 1 l, price: '18,50 EUR'}]\n", (2, 40, "bad-value"),
     "not a price", "18.50 EUR"),
    (("shop: A\npacks:\n- {price: 9 EUR, product: a, size: 1 l}\n"
      "- {price: 1 USD, product: b, size: 1 l}"), (4, 11, "bad-value"), "in USD", "one currency"),
    # Settings.
    ("settings: other\n", (1, 11, "bad-value"), "one value only", "write bench"),
    ("settings: bench\ntheme: drak\n", (2, 8, "bad-value"), "'drak'", "did you mean 'dark'?"),
    ("settings: bench\nkeys: {Log It: x}\n", (2, 8, "bad-value"), "'Log It'", "hyphens"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "where", "message", "remedy"), ONE_FAULT)
def test_one_mistake_is_one_fault_at_its_place(text, where, message, remedy):
    """Each mistake gives exactly one fault, with place, rule, what is wrong and what would do."""
    (fault,) = faults_of(text)
    assert (fault.line, fault.column, fault.rule) == where
    assert message in fault.message
    assert remedy in fault.remedy


def test_all_faults_are_told_at_once_in_reading_order():
    """Faults at every depth and of every kind come together, sorted by place."""
    text = textwrap.dedent("""\
        schedule: plain
        titel: Plain
        source: common practice
        stages:
          - stage: boddy
            steps:
              - rounds: 3
                steps:
                  - pad: ovals
                    product: flakes
                    cut: [2, 1 lb]
                    wait: {earliest: 1 h, likely: 2}
              - level: straight
                grade: 400
                grade: P400
        """)
    assert summary(text) == [
        (2, 1, "unknown-key"),
        (5, 12, "bad-value"),
        (9, 13, "missing-key"),
        (11, 18, "bad-value"),
        (11, 19, "no-unit"),
        (12, 43, "no-unit"),
        (14, 16, "bad-value"),
        (15, 9, "duplicate-key"),
    ]


def test_a_document_of_another_kind_than_wanted_is_refused():
    """A job where a shop is wanted is told as such, not as forty unknown keys."""
    (fault,) = faults_of(JOB, "shop")
    assert (fault.line, fault.column, fault.rule) == (1, 1, "unknown-kind")
    assert "'job'" in fault.message


def test_a_file_that_cannot_be_read_is_a_fault(tmp_path):
    """A missing file and a folder are faults like any other, not tracebacks."""
    for path in (tmp_path / "none.yaml", tmp_path):
        with pytest.raises(DocumentFaultsError) as caught:
            load(path)
        assert caught.value.faults[0].rule == "no-file"


def test_a_file_is_read_no_further_than_the_limit(tmp_path):
    """A file of ten megabytes is refused by its size, with one fault that names it."""
    path = tmp_path / "big.yaml"
    path.write_bytes(b"#" * 10_000_000)
    with pytest.raises(DocumentFaultsError) as caught:
        load(path)
    assert (
        str(caught.value) == f"{path}:1:1: the document is larger than 1 MB; split it into several"
    )
