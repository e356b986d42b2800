"""``need`` as a command: its promised keys, its tables, and its refusals."""

import re
from datetime import timedelta

import pytest

from finishsched.mixing.cut import mix_for_volume
from finishsched.model.shop import Alcohol

POUND = 453.59237 / 3.785411784


def test_need_answers_in_the_promised_keys(shop):
    """products, batches and buy, each with its own keys, and the coats one by one."""
    need = shop("need", "tea-chest", "--json").json
    assert need.keys() >= {"products", "batches", "buy", "assumptions", "pieces"}
    for product in need["products"]:
        assert product.keys() >= {
            *("product", "title", "cut_lb_per_gal", "volume_ml", "mass_g", "flakes_g"),
            *("alcohol_ml", "alcohol_g", "coats", "area_m2", "in_stock_ml", "in_stock_g"),
            *("to_mix_ml", "low_ml", "high_ml"),
        }
        assert product["low_ml"] <= product["volume_ml"] <= product["high_ml"]
    for batch in need["batches"]:
        assert batch.keys() >= {
            *("product", "cut_lb_per_gal", "makes_ml", "jar_ml", "flakes_g", "alcohol_ml")
        }
        assert batch["makes_ml"] <= batch["jar_ml"]
    for bought in need["buy"]:
        assert bought.keys() >= {"product", "packs", "amount_g", "amount_ml", "cost", "currency"}
    for coat in need["pieces"]:
        assert coat.keys() >= {"piece", "step", "product", "area_m2", "amount_ml"}


def test_products_sum_up_the_coats(shop):
    """What the products take, with the alcohol that lets them down, is what the coats take."""
    need = shop("need", "tea-chest", "--whole", "--json").json
    laid_ml = sum(coat["amount_ml"] for coat in need["pieces"])
    products = need["products"]
    assert laid_ml == pytest.approx(
        sum(product["volume_ml"] + product["let_down_alcohol_ml"] for product in products)
    )
    assert sum(product["coats"] for product in products) == len(need["pieces"])


def test_a_cloth_that_oils_this_evening_is_counted_for_no_other(shop):
    """Minutes after a coat of oil the next, a day away, takes a fresh cloth, as it does tomorrow.

    It was counted as laid with the cloth of this evening, though its wait runs through the night.
    """
    (shop.cwd / "jobs" / "dish.yaml").write_text(
        "job: dish\ntitle: Dish\npieces:\n  - {piece: dish, title: Dish, species: walnut, "
        "schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}\n",
        "utf-8",
    )
    shop("log", "dish", "start")
    for _ in range(7):
        assert shop("log", "dish", "done").status == 0

    def oil_ml():
        """Return what the coats that are left take of oil."""
        return sum(one["volume_ml"] for one in shop("need", "dish", "--json").json["products"])

    this_evening = oil_ml()
    shop.now += timedelta(days=1)
    assert oil_ml() == pytest.approx(this_evening)
    assert this_evening > 3 * 5.0


def test_a_cut_is_split_by_the_exact_balance(shop):
    """Flakes and alcohol of a row are those that `mix` gives for its volume."""
    need = shop("need", "tea-chest", "--json").json
    for product in need["products"]:
        batch = mix_for_volume(
            product["cut_lb_per_gal"] * POUND, product["volume_ml"], Alcohol(95.0, 19.0)
        )
        assert product["flakes_g"] == pytest.approx(batch.flakes_g)
        assert product["alcohol_g"] == pytest.approx(batch.alcohol_g)


def test_one_piece_needs_no_more_than_the_job(shop):
    """--piece takes its part of the job, and the parts make up the whole."""
    refs = ("lid", "body", "tray")
    parts = [shop("need", "tea-chest", "--piece", ref, "--json").json["pieces"] for ref in refs]
    whole = shop("need", "tea-chest", "--json").json["pieces"]
    apart = [coat for part in parts for coat in part]
    # Each part by itself charges a pad of its own, where the job has one for all.
    assert [coat["step_key"] for coat in apart] == [coat["step_key"] for coat in whole]
    shared = ("pad_ml", "amount_ml", "from_jar_ml", "low", "likely", "high")
    for one, other in zip(apart, whole, strict=True):
        if one["pad_ml"] == other["pad_ml"]:
            assert one == other
        else:
            assert {k for k in one if one[k] != other[k]} >= set(shared[:1])


def test_the_whole_is_more_than_what_is_left(shop):
    """--whole reckons pieces begun from their first step."""
    left = shop("need", "tea-chest", "--all-left", "--json").json
    whole = shop("need", "tea-chest", "--whole", "--json").json
    assert left["pieces"] == shop("need", "tea-chest", "--json").json["pieces"]
    assert len(whole["pieces"]) > len(left["pieces"])
    assert {piece["scope"] for piece in whole["scope"]} == {"whole"}


def test_need_tells_people_what_to_mix_and_buy(shop):
    """Short tables that fit the width, the assumptions at the end, and the data sheet first."""
    ran = shop("need", "tea-chest")
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert [line for line in lines if line in {"takes", "mix", "buy", "assumed"}]
    assert max(map(len, lines)) <= 100
    assert lines.index("takes") < lines.index("assumed")
    assert "data sheet" in lines[-1]
    assert "pad coat" not in ran.out
    assert "pad coat 6 of 8" in shop("need", "tea-chest", "--coats").out
    assert "Federal Specification" in shop("need", "tea-chest", "--why").out


def test_need_speaks_in_the_units_of_the_shop(shop):
    """Ounces and fluid ounces for a shop that wants them."""
    document = shop.cwd / "shop.yaml"
    text = document.read_text().replace("volume: ml, mass: g", "volume: floz, mass: oz")
    document.write_text(text)
    out = shop("need", "tea-chest").out
    assert " floz  (" in out
    assert " oz flakes" in out


def test_what_is_to_be_bought_stands_on_its_row(shop):
    """In ounces too no row of papers and cloths is broken, and no bracket repeats its figure."""
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text("utf-8").replace("volume: ml", "volume: floz"), "utf-8")
    lines = shop("need", "all").out.splitlines()
    begins = lines.index("papers and cloths") + 1
    rows = lines[begins : lines.index("assumed")]
    assert len(rows) > 5
    assert all(re.search(r"  (buy \d|there)", row) for row in rows)
    ends = [re.match(r" *(\S+) .*\((\S+)-(\S+)\)", row) for row in rows]
    assert not [one for one in ends if one and len({*one.groups()}) == 1]


def test_what_is_there_in_full_has_no_second_figure(shop):
    """A jar that holds all that is wanted is said to, and not in other digits than what is."""
    shop("stock", "--bought", "boiled-linseed-oil: 333 ml")
    (shop.cwd / "jobs" / "dish.yaml").write_text(
        "job: dish\ntitle: Dish\npieces:\n  - {piece: dish, title: Dish, species: walnut, "
        "schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}\n",
        "utf-8",
    )
    said = " ".join(shop("need", "dish").out.split())
    assert "Boiled linseed oil all of it in stock" in said
    assert "ml in stock" not in said


def test_nothing_named_is_all_that_is_open(shop):
    """Before a walk to the dealer's one word is enough; every job is in its head."""
    out = shop("need").out
    assert out == shop("need", "all").out
    assert out.startswith("all: ")
    assert "Tea chest" in out.splitlines()[0]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("tea-chset",), "did you mean 'tea-chest'?"),
        (("quilt",), "there are"),
        (("tea-chest", "--piece", "lidd"), "did you mean 'lid'?"),
    ],
)
def test_bad_names_are_refused_in_one_line(shop, arguments, said):
    """An unknown job or piece, or none at all: one line with the remedy, and status 2."""
    ran = shop("need", *arguments)
    assert (ran.status, ran.out, len(ran.err_lines)) == (2, "", 1)
    assert said in ran.err


def test_need_wants_a_shop(cli):
    """Outside a shop it says how to get one."""
    ran = cli("need", "box")
    assert (ran.status, ran.out, len(ran.err_lines)) == (2, "", 1)
    assert "there is no shop here" in ran.err


def test_a_job_with_faults_is_told_with_every_place(shop):
    """Every fault of the job's document, as FILE:LINE:COLUMN, and status 2."""
    job = shop.cwd / "jobs/letter-box.yaml"
    job.write_text(job.read_text().replace("length: 330 mm", "length: 330"))
    ran = shop("need", "letter-box")
    assert (ran.status, ran.out) == (2, "")
    assert len(ran.err_lines) == 2
    assert all(line.startswith("jobs/letter-box.yaml:") for line in ran.err_lines)


def test_a_piece_without_a_schedule_is_a_notice_beside_the_answer(shop):
    """The rest of the job is answered, with status 0, in both forms."""
    job = shop.cwd / "jobs/tea-chest.yaml"
    job.write_text(job.read_text().replace("quick-shellac-insides", "slow-shellac"))
    ran = shop("need", "tea-chest", "--json")
    assert ran.status == 0
    assert "notice: tea-chest/tray is left out" in ran.err
    assert ran.json["notices"]
    assert {coat["piece"] for coat in ran.json["pieces"]} == {"tea-chest/lid", "tea-chest/body"}


def test_what_is_weighed_is_told_as_the_scale_reads_it(shop):
    """On a scale of 5 g every weight of the batches is a whole number of those."""
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text().replace("scale: 0.5 g", "scale: 5 g"))
    told = re.findall(r"([\d.]+) g flakes", shop("need", "tea-chest", "--whole").out)
    assert told
    assert all(float(grams) % 5 == 0 for grams in told), told


def test_what_is_thinned_is_told_with_the_names_of_both(shop):
    """Who mixes by the list reads what goes to what, as due has it, and no bare 'thinner'."""
    document = shop.cwd / "jobs/oiled.yaml"
    document.write_text(
        "job: oiled\ntitle: Oiled\npieces:\n"
        "  - {piece: lid, title: Lid, schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}\n"
    )
    told = " ".join(shop("need", "oiled").out.split())
    assert " ml Boiled linseed oil + " in told
    assert " ml Mineral spirits buy" in told
    assert " ml thinner" not in told
