"""Made-up logs whose defect is called by its name, with the cause that a practitioner names first.

Written with the table of causes (common practice).
"""

from datetime import timedelta

from defect_logs import (
    ALL,
    BODY,
    LACQUER,
    OILED,
    PAD,
    TUNG,
    VARNISH,
    WAXY,
    Told,
    coat,
    dye,
    hours,
    last,
    level,
    rub_out,
    sand,
    seal,
    spirit_off,
    tack,
)

BRUSHED = coat("brush", VARNISH, "20 h", amount="80 ml/m2")
SPRAYED = coat("spray", LACQUER, "2 h", amount="130 ml/m2", thinned="25 %")

NAMED = [
    Told("padded in damp air", "blush", "damp-air", BODY, air=(18.0, 82.0, 0.1)),
    Told("sprayed at 70 %", "blush", "damp-air", [seal(), SPRAYED, SPRAYED], air=(17.0, 70.0, 0.1)),
    Told(
        "coated half an hour after soapy water", "blush", "water-below",
        [*BODY, level("P600", "soapy water", "4 h"), PAD],
        air=(20.0, 45.0, 0.1), shares={10: 0.12}, veneer_mm=0.6, species="maple",
    ),
    Told(
        "padded with oil, never spirited off", "blush", "oil",
        [seal(), *[OILED] * 6, last(OILED, "20 h")], air=(21.0, 45.0, 0.1), later=1.2,
    ),
    Told("touched after two hours", "sticky", "young", BODY),
    Told(
        "varnish in a cold damp shed", "sticky", "cold-damp", [seal(), BRUSHED],
        air=(11.0, 74.0, 0.1), later=hours("30 h"), not_yet=1,
    ),
    Told(
        "a jar fourteen months old", "sticky", "old-batch", BODY, batch_months=14, later=3.0,
        not_yet=2,
    ),
    Told(
        "eight wet coats in a morning", "sticky", "heaped", BODY,
        shares=ALL(range(2, 9), 0.4), used=ALL(range(2, 10), 1.8), later=1.0, batch_months=1,
    ),
    Told(
        "oil straight onto rosewood", "sticky", "oily-wood",
        [sand("P320"), tack(), coat("wipe", TUNG, "30 h", amount="12 ml/m2")],
        species="rosewood", later=4.0, not_yet=2,
    ),
    Told("a 3-lb cut on the pad", "ridge", "too-heavy", [seal(), *[coat(cut="3 lb")] * 5]),
    Told("a dripping pad", "ridge", "wet-pad", BODY, used=ALL(range(2, 10), 1.8)),
    Told("coat on coat without a wait", "ridge", "soft-below", BODY, shares=ALL(range(2, 9), 0.3)),
    Told(
        "brushed by an open door in July", "ridge", "lost-edge",
        [seal(), coat("brush", amount="60 ml/m2", wait="3 h")], air=(31.0, 40.0, 0.7),
    ),
    Told("nearly twice the lacquer", "sag", "too-much", [seal(), SPRAYED, SPRAYED], used={3: 1.8}),
    Told(
        "lacquer thinned by more than half", "sag", "too-thin",
        [seal(), coat("spray", LACQUER, "2 h", amount="130 ml/m2", thinned="55 %")],
    ),
    Told(
        "varnish at eleven degrees", "sag", "cold", [seal(), BRUSHED], air=(11.0, 60.0, 0.1)
    ),
    Told(
        "no tack cloth after dry paper", "dust nib", "not-tacked",
        [seal(), level("P320", "dry"), BRUSHED],
    ),
    Told(
        "the next bench sanding", "dust nib", "dust-near",
        [seal(), level("P320", "dry"), tack(), BRUSHED], sanding_near=4,
    ),
    Told(
        "a fan over wet lacquer", "dust nib", "draught",
        [seal(), level("P320", "dry"), tack(), SPRAYED], air=(21.0, 50.0, 0.6),
    ),
    Told("paper after four hours", "corning", "soft", [*BODY, level()], in_hand=1, later=0.2),
    Told(
        "dry paper on a hard film", "corning", "dry-paper", [*BODY, level("P320", "dry")],
        in_hand=1, later=1.7,
    ),
    Told("sprayed in the heat", "orange peel", "flashed", [seal(), SPRAYED], air=(32.0, 45.0, 0.3)),
    Told(
        "a 4-lb cut brushed", "orange peel", "too-heavy",
        [coat("brush", cut="4 lb", amount="60 ml/m2", wait="3 h")],
    ),
    Told(
        "half the lacquer it wants", "orange peel", "lean", [seal(), SPRAYED, SPRAYED],
        used={3: 0.5},
    ),
    Told("wrapped next morning", "print", "handled-soon", BODY, later=0.5),
    Told("a glass on a film of three days", "white ring", "uncured", BODY, later=timedelta(days=3)),
    Told(
        "a dish on a film of two months", "white ring", "heat", BODY, later=timedelta(days=60),
        batch_months=1,
    ),
    Told(
        "varnish over an oiled rubbing", "fisheye", "oil",
        [*BODY, level("P600", "mineral-oil"), BRUSHED],
    ),
    Told(
        "varnish straight onto teak", "fisheye", "oily-wood",
        [sand("P240"), tack(), BRUSHED], species="teak",
    ),
    Told(
        "varnish over waxy flakes", "fisheye", "wax-below",
        [coat(product=WAXY, stage="seal", wait="2 h"), BRUSHED], species="maple",
    ),
    Told(
        "lacquer over oil varnish", "lifting", "strong-solvent",
        [seal(), BRUSHED, coat("spray", LACQUER, "2 h", amount="130 ml/m2")],
    ),
    Told(
        "water and a coat on veneer within minutes", "lifting", "water-below",
        [*BODY, level("P600", "soapy water", "4 h"), PAD], shares={10: 0.1}, veneer_mm=0.6,
    ),
    Told(
        "fourteen coats of lacquer", "crackle", "thick-film", [seal(), *[SPRAYED] * 14],
        used=ALL(range(2, 16), 1.3), later=timedelta(days=20),
    ),
    Told(
        "varnish again the same afternoon", "crackle", "recoated-soon", [seal(), BRUSHED, BRUSHED],
        shares={2: 0.3}, later=timedelta(days=5),
    ),
    Told(
        "paper after two coats", "sand-through", "few-coats",
        [seal(), PAD, last(PAD, "20 h"), level("P600")], in_hand=1, later=1.2,
    ),
    Told(
        "P240 on a padded film", "sand-through", "coarse", [*BODY, level("P240")],
        in_hand=1, later=1.3,
    ),
    Told(
        "P240 on two coats over dye", "through the stain", "coarse",
        [dye(), seal(), *[PAD] * 5, last(PAD, "20 h"), level("P240")], in_hand=1, later=1.3,
    ),
    Told("a wet pad of alcohol", "sand-through", "wet-spirit", [*BODY, spirit_off()], later=0.5),
    Told(
        "a thin imported veneer", "veneer through", "thin-veneer", [sand("P220"), sand("P320")],
        veneer_mm=0.3,
    ),
    Told(
        "six papers on a good veneer", "veneer through", "many-sandings",
        [sand(g) for g in ("P180", "P220", "P280", "P320", "P360", "P400")], veneer_mm=0.9,
    ),
    Told(
        "levelled into wiping varnish", "witness lines", "separate",
        [*[coat("wipe", "wiping-varnish", "12 h", amount="25 ml/m2")] * 6, level("P600", "dry")],
        later=1.0,
    ),
    Told("open oak without a filler", "pinholes", "open-pores", BODY, species="oak"),
    Told(
        "heavy lacquer on lacquer not dry", "pinholes", "trapped", [seal(), SPRAYED, SPRAYED],
        species="maple", used={3: 1.8}, shares={2: 0.4},
    ),
    Told("a dye under the pad", "bleeding", "colour-lifted", [dye(), seal(), PAD], species="maple"),
    Told(
        "walnut beside maple, no seal", "bleeding", "dark-wood", [PAD, PAD],
        species="walnut and maple",
    ),
    Told("two coats on walnut", "dull patch", "thin-film", [PAD, PAD], species="walnut", later=2.0),
    Told(
        "rubbed with oil and not cleaned", "dull patch", "oil",
        [*BODY, level("P800"), rub_out()], later=1.0,
    ),
    Told(
        "padded on the first wet day", "dull patch", "damp-air", BODY,
        air=(18.0, 80.0, 0.1), later=1.5,
    ),
]  # fmt: skip
