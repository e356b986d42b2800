"""Fifty-two made-up logs told in few and the same words: which cause it is, the log alone decides.

From what handbooks tell of defects (common practice). The first time they were asked, 50 of them
had the cause first that is named here.
"""

from defect_logs import (
    ALL,
    BARE,
    BODY,
    DAY,
    OILED,
    PAD,
    WAXY,
    brushed,
    coat,
    fill,
    glued,
    hours,
    level,
    oil,
    rub_out,
    said,
    sand,
    seal,
    spirit_off,
    sprayed,
    stain,
    tack,
    tape_off,
    wash,
    waterborne,
    wax,
    wiping,
)

SOFT, FLAKES = "it just stays soft", "it is coming off in flakes"
CRACKS, DRAWS_BACK = "fine cracks have come all over", "it draws back in round spots"
DULL, BITS = "it has gone dull", "it is full of little bits"
PRESSED, CLOUDY = "there is a mark of the cloth pressed into it", "it has gone cloudy"
PEBBLY, STROKES = "it is pebbly", "brush marks all over"
PORES, PINHOLES = "the pores show again", "pinholes"


def _told(number, words, cause, steps, **more):
    """Return one log; many have the same words, so they are known by their number."""
    told = said(words, "", cause, steps, **more)
    told.name = f"{number}: {words}"
    return told


_LOGS = [
    # Soft.
    (SOFT, "cold-damp", [*BARE, brushed()], {"air": (9, 78, 0.05), "later": 4 * DAY}),
    (SOFT, "old-batch", BODY, {"batch_months": 18, "later": 10 * DAY}),
    (SOFT, "recoated-soon", [*BARE, brushed(), brushed()], {"shares": {4: 0.2}, "later": 6 * DAY}),
    (SOFT, "green-below", [*BARE, oil(), brushed()], {"shares": {4: 0.2}, "later": 6 * DAY}),
    (SOFT, "thick-film|heaped", [*BARE, brushed(), brushed()],
     {"used": {4: 2.0, 5: 2.5}, "later": 6 * DAY}),
    (SOFT, "slow-oil", [*BARE, oil("raw-linseed-oil")], {"later": 10 * DAY}),
    (SOFT, "waxed-soon", [*BODY, wax()], {"shares": {9: 0.1}, "later": 2 * DAY}),
    (SOFT, "heaped", [seal(), *[PAD] * 8], {"shares": ALL(range(2, 9), 0.15), "later": 3 * DAY}),
    (SOFT, "young", [*BARE, brushed()], {"later": 0.5}),
    (SOFT, "oily-wood", [*BARE, brushed()], {"species": "rosewood", "later": 6 * DAY}),
    (SOFT, "oil-on-film", [*BARE, sprayed(), sprayed(), oil()], {"gaps": {6: 9}, "later": 4 * DAY}),
    (SOFT, "excess", [*BARE, oil(), oil()], {"used": {4: 2, 5: 2.5}, "later": 5 * DAY}),
    # Flakes and cracks.
    (FLAKES, "wax-below",
     [*BARE, coat(product=WAXY, stage="seal", wait="4 h"), brushed(), brushed()],
     {"later": 10 * DAY}),
    (FLAKES, "unscuffed", [*BARE, brushed(), brushed()], {"gaps": {5: 40}, "later": 10 * DAY}),
    (FLAKES, "oil", [seal(), *[OILED] * 6, brushed()], {"later": 10 * DAY}),
    (FLAKES, "green-below", [*BARE, oil(), brushed(), brushed()],
     {"shares": {4: 0.15}, "later": 10 * DAY}),
    (FLAKES, "wax-below", [*BODY, wax(), coat()], {"later": 3 * DAY}),
    (CRACKS, "cold-check", [*BARE, *[sprayed()] * 4],
     {"air_later": (-5, 50, 0.1), "later": 20 * DAY}),
    (CRACKS, "cold-film", [*BARE, waterborne(), waterborne()],
     {"air": (8, 60, 0.1), "later": DAY}),
    (CRACKS, "green-below",
     [*BARE, coat("brush", "oil-glaze", "24 h", amount="20 ml/m2"), sprayed(), sprayed()],
     {"shares": {4: 0.2}, "later": 20 * DAY}),
    (CRACKS, "thick-film", [*BARE, *[brushed(amount="120 ml/m2")] * 7], {"later": 60 * DAY}),
    # Draws back.
    (DRAWS_BACK, "spirits", [*BARE, brushed(), wash(wait="1 h"), waterborne()],
     {"shares": {5: 0.1}, "later": hours("5 min")}),
    (DRAWS_BACK, "oily-wood", [*BARE, brushed()],
     {"species": "rosewood", "later": hours("5 min")}),
    (DRAWS_BACK, "oil", [seal(), *[OILED] * 6, waterborne()], {"later": hours("5 min")}),
    (DRAWS_BACK, "wax-below", [*BODY, wax(), waterborne()],
     {"gaps": {10: 20}, "later": hours("5 min")}),
    # Dull, bits, a print.
    (DULL, "rubbed-soon", [*BODY, rub_out()], {"shares": {9: 0.2}, "later": 14 * DAY}),
    (DULL, "damp-air", BODY, {"air": (20, 86, 0.1), "later": hours("30 min")}),
    (DULL, "thin-film", [*BARE, wiping()], {"species": "oak", "later": 3 * DAY}),
    (DULL, "wet-spirit", [*BODY, spirit_off()],
     {"used": {10: 2.5}, "shares": {9: 0.2}, "later": hours("30 min")}),
    (BITS, "not-tacked", [*BARE, brushed(), level("P320", "dry"), brushed()], {"later": DAY}),
    (BITS, "dust-near", [*BARE, brushed()], {"sanding_near": 4, "later": DAY}),
    (BITS, "draught", [*BARE, brushed()], {"air": (20, 50, 0.8), "later": DAY}),
    (PRESSED, "handled-soon", BODY, {"later": 0.4}),
    # Cloudy.
    (CLOUDY, "damp-air", BODY, {"air": (14, 88, 0.1), "later": hours("30 min")}),
    (CLOUDY, "water-below", [glued(), tape_off(), sand("P220"), tack(), seal(), PAD],
     {"veneer_mm": 0.6, "shares": {2: 0.15}, "later": DAY}),
    (CLOUDY, "oil", [seal(), *[OILED] * 7], {"later": 5 * DAY}),
    (CLOUDY, "water-thick", [*BARE, waterborne(), waterborne()],
     {"used": {4: 2.2, 5: 2.2}, "later": DAY}),
    (CLOUDY, "bloom", [*BARE, brushed(), brushed()],
     {"air_later": (8, 88, 0.0), "later": 2 * DAY}),
    (CLOUDY, "trapped", [*BARE, sprayed(), sprayed(), sprayed()],
     {"used": {4: 2, 5: 2, 6: 2}, "shares": {4: 0.2, 5: 0.2}, "later": DAY}),
    (CLOUDY, "filler-haze|filler-green", [*BARE, fill(), seal(), PAD],
     {"species": "mahogany", "shares": {4: 0.3}, "later": DAY}),
    # How it flowed.
    (PEBBLY, "too-heavy", [*BARE, sprayed(thinned="0 %")], {"later": DAY}),
    (PEBBLY, "cold", [*BARE, sprayed(thinned="25 %")], {"air": (7, 50, 0.1), "later": DAY}),
    (PEBBLY, "lean", [*BARE, sprayed(thinned="25 %")], {"used": {4: 0.5}, "later": DAY}),
    (PEBBLY, "flashed", [*BARE, sprayed(thinned="25 %")], {"air": (34, 30, 0.6), "later": DAY}),
    (STROKES, "cold", [*BARE, brushed()], {"air": (7, 50, 0.1), "later": DAY}),
    (STROKES, "too-heavy", [*BARE, coat("brush", cut="4 lb")], {"later": DAY}),
    # Pores.
    (PORES, "filler-green|filler-shrunk", [*BARE, fill(), seal(), *[PAD] * 6],
     {"shares": {4: 0.2}, "species": "mahogany", "later": 30 * DAY}),
    (PORES, "rubbed-soon", [*BARE, sprayed(), sprayed(), level("P600"), rub_out()],
     {"shares": {5: 0.2}, "species": "maple", "later": 30 * DAY}),
    (PORES, "open-pores", [*BARE, *[sprayed()] * 3], {"species": "mahogany", "later": 10 * DAY}),
    (PINHOLES, "trapped", [*BARE, sprayed(), sprayed()],
     {"used": {4: 2, 5: 2.2}, "shares": {4: 0.2}, "species": "maple", "later": DAY}),
    (PINHOLES, "open-pores", [*BARE, sprayed(), sprayed()], {"species": "oak", "later": DAY}),
    ("the colour came up", "colour-lifted", [stain(), PAD],
     {"species": "maple", "later": hours("5 min")}),
]  # fmt: skip
SAME_WORDS = [_told(number, *log[:3], **log[3]) for number, log in enumerate(_LOGS, start=1)]
