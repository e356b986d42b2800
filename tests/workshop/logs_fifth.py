"""Forty made-up logs, written with those before and looked at once, when the work was done.

From what handbooks and makers tell of defects (common practice), by somebody who knew the table
of causes, but wrote none of the words for it. ``called`` is what the defect is called here.
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
    last,
    level,
    oil,
    rub,
    said,
    seal,
    spirit_off,
    sprayed,
    stain,
    tape_off,
    waterborne,
    wax,
    wiping,
)

FIFTH = [
    said(
        "a whitish film that moves when I run a finger through it", "blush", "oil",
        [seal(), *[OILED] * 7, last(OILED, "20 h")], air=(21, 42, 0.1), later=6 * DAY,
    ),
    said(
        "the lid looks as if somebody breathed on it and it stayed", "blush", "damp-air", BODY,
        air=(17, 81, 0.1), later=hours("20 min"),
    ),
    said(
        "opal colour in the thick corners, does not clear", "blush", "water-thick|cold-film",
        [*BARE, waterborne(), waterborne()], air=(12, 60, 0.0), used={5: 1.6}, later=DAY,
    ),
    said(
        "I can push a fingernail in anywhere, like cold butter", "sticky",
        "heaped|thick-film|trapped", [*BARE, *[sprayed()] * 6], shares=ALL(range(4, 10), 0.3),
        used=ALL(range(4, 10), 1.6), later=2 * DAY, not_yet=2,
    ),
    said(
        "ten days and it will still take a thumb print", "sticky|print", "old-batch", BODY,
        batch_months=20, later=10 * DAY, not_yet=3,
    ),
    said(
        "it just will not go off on this timber", "sticky", "oily-wood", [*BARE, brushed()],
        species="rosewood", later=5 * DAY, not_yet=2,
    ),
    said(
        "wet as the day I laid it", "sticky", "slow-oil",
        [*BARE, oil("raw-linseed-oil", "72 h"), oil("raw-linseed-oil", "72 h")], later=6 * DAY,
        not_yet=2, species="ash",
    ),
    said(
        "since I waxed it the top is soft again", "sticky", "waxed-soon", [*BODY, wax()],
        shares={9: 1.0}, later=2 * DAY,
    ),
    said(
        "tore a dull scab out of the gloss with the last wipe of spirit", "burn|dull patch",
        "wet-spirit", [*BODY, spirit_off()], shares={9: 0.2}, later=hours("5 min"),
    ),
    said(
        "swirls you can feel, like the grooves of an old record", "ridge", "too-heavy",
        [seal(), *[coat(cut="3 lb")] * 5],
    ),
    said(
        "each pass has a lip of polish down one side", "ridge", "wet-pad", BODY,
        used=ALL(range(2, 10), 1.8),
    ),
    said(
        "you see where one strip ended and the next began", "ridge|streaks|brush marks",
        "lost-edge", [seal(), coat("brush", amount="60 ml/m2", wait="3 h")], air=(32, 35, 0.7),
    ),
    said(
        "crept down the front and set there in waves", "sag", "too-thin",
        [*BARE, sprayed(thinned="60 %")], later=hours("10 min"),
    ),
    said(
        "tongues of varnish on the upright side", "sag", "cold", [*BARE, brushed()],
        air=(10, 55, 0.1), later=DAY,
    ),
    said(
        "peppered with bits", "dust nib", "dust-near", [*BARE, brushed()], sanding_near=4,
        later=DAY,
    ),
    said(
        "rough as a cat's tongue", "dust nib|raised grain",
        "not-tacked|dust-not-fibres",
        [*BARE, seal(), brushed(), level("P320", "dry"), brushed()], species="maple", later=DAY,
    ),
    said(
        "midges and fluff have landed in it", "dust nib", "draught|open-long", [*BARE, brushed()],
        air=(20, 50, 0.7), notes={4: "window open for the fumes"}, later=DAY,
    ),
    said(
        "like the skin of a basketball", "orange peel", "flashed",
        [*BARE, sprayed(thinned="25 %"), sprayed(thinned="25 %")], air=(33, 35, 0.6),
        species="maple", later=DAY,
    ),
    said(
        "it drew back into puddles with bare rings between", "fisheye", "wax-below",
        [*BARE, coat(product=WAXY, stage="seal", wait="4 h"), waterborne()], later=hours("5 min"),
    ),
    said(
        "the coat opens up round the dark veins of the wood", "fisheye", "oily-wood",
        [*BARE, brushed()], species="cocobolo", later=hours("10 min"),
    ),
    said(
        "comes away like sunburnt skin", "lifting", "green-below|oil", [*BARE, oil(), waterborne()],
        shares={4: 0.6}, later=20 * DAY,
    ),
    said(
        "a knock took off a flake as big as a coin, glass smooth beneath", "lifting", "unscuffed",
        [*BARE, brushed(), brushed()], gaps={5: 40}, later=60 * DAY,
    ),
    said(
        "the coat under it boiled up the moment the gun passed", "lifting", "strong-solvent",
        [*BARE, brushed(), sprayed()], later=hours("2 min"),
    ),
    said(
        "elephant skin where it pooled", "lifting|crackle", "thick-coat", [*BARE, brushed()],
        used={4: 2.2}, later=DAY,
    ),
    said(
        "lines like the glaze of an old cup, since it came back from the cold van", "crackle",
        "cold-check", [*BARE, *[sprayed()] * 6], air_later=(-5, 60, 0.1), later=60 * DAY,
    ),
    said(
        "fell into plates like a dry pond", "crackle", "green-below",
        [*BARE, oil(), *[PAD] * 4, last(PAD, "20 h")], shares={4: 0.4}, later=70 * DAY,
    ),
    said(
        "wavy outlines turned up when I cut it flat", "witness lines", "separate|few-coats",
        [*BARE, *[wiping()] * 3, level("P400", "soapy water")], gaps={7: 10}, later=hours("1 h"),
    ),
    said(
        "raw timber grinning through on the high places", "sand-through of film", "few-coats",
        [seal(), *[PAD] * 3, last(PAD, "20 h"), level("P320")], in_hand=1, later=1.2,
    ),
    said(
        "all the corners have gone light where I eased them", "sand-through of colour", "edge",
        [*BARE, stain(), seal(), *[PAD] * 6, last(PAD, "20 h"), level("P600")], in_hand=1,
        later=1.2,
    ),
    said(
        "the froth never settled and it set like that", "pinholes", "shaken",
        [*BARE, waterborne(), waterborne()], species="maple", later=1.0,
    ),
    said(
        "tiny craters like a sieve although the wood is close", "pinholes", "trapped",
        [*BARE, *[sprayed()] * 3], species="maple", used={6: 1.9}, shares={4: 0.35, 5: 0.35},
        later=DAY,
    ),
    said(
        "yellow halo round every knot", "bleeding|colour change", "resin",
        [*BARE, *[sprayed()] * 3], species="pine", later=20 * DAY,
    ),
    said(
        "my pad turned brown and the wood got lighter", "bleeding", "colour-lifted",
        [*BARE, stain(), PAD], species="maple", later=hours("2 min"),
    ),
    said(
        "ditches along every joint when the light is low", "sinking|open seam", "shrunk",
        [glued(), tape_off(), *BARE, seal(), *[PAD] * 6], shares={1: 0.3, 2: 0.3}, veneer_mm=0.6,
        species="walnut and maple", later=40 * DAY,
    ),
    said(
        "blue-black smudge just where the clamp sat", "rust", "iron", [glued(), *BARE, PAD],
        species="oak", veneer_mm=0.6, later=3 * DAY,
    ),
    said(
        "looks ploughed", "brush marks|ridge", "cold|too-heavy", [*BARE, brushed()],
        air=(10, 55, 0.1), later=DAY,
    ),
    said(
        "bumps came up the first hot afternoon on the sill, they give when pressed", "blister",
        "warm|trapped|glue-lets-go", [*BARE, *[brushed()] * 3], used={6: 1.6}, later=10 * DAY,
    ),
    said(
        "you can count the strokes of the paper from the side", "scratches", "not-through-grades",
        [*BODY, level("P400"), rub("P1500", "soapy water")], gaps={10: 14}, later=hours("1 h"),
    ),
    said(
        "one nasty pigtail in the middle of the lid", "scratches", "grit",
        [*BODY, level("P600"), rub("P1000", "soapy water"), rub("P1500", "soapy water")],
        gaps={10: 14}, later=hours("1 h"),
    ),
    said(
        "grey worms in the grain, deep down", "white in the pores", "filler-green",
        [*BARE, fill(), seal(), *[PAD] * 5], shares={4: 0.25}, species="mahogany", later=25 * DAY,
    ),
]  # fmt: skip
