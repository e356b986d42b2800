"""The causes of the twentieth set told in new words, after their words were taught by groups.

Of 25 such wordings 11 were right before that. Made up, common practice.
"""

from defect_logs import (
    BARE,
    BODY,
    DAY,
    OILED,
    brushed,
    dye,
    fill,
    glued,
    level,
    oil,
    rub,
    said,
    sand,
    seal,
    sprayed,
    tack,
    tape_off,
    wax,
    wiping,
)

FP = [*BARE, *BODY]
FPO = [*BARE, seal(), *[OILED] * 8]
V3 = [*BARE, brushed(), level(), brushed(), level(), brushed()]
L4 = [*BARE, seal(), *[sprayed()] * 4]
WV = [*BARE, *[wiping()] * 4]
DYED = [sand("P180"), sand("P240"), dye()]

NEW_WORDS = [
    said(
        "She says it's much too bright, she wanted a matt look like the old one",
        "off sheen",
        "own-sheen",
        FP,
        later=3 * DAY,
    ),
    said(
        "gloss is way over the top on this, more like glass than wood",
        "off sheen",
        "own-sheen",
        L4,
        later=9 * DAY,
    ),
    said(
        "satin was on the order but it dried glossy everywhere",
        "off sheen",
        "own-sheen|settled",
        V3,
        later=9 * DAY,
    ),
    said(
        "I overdid it with the buffing, now it glares",
        "off sheen",
        "rubbed-far",
        [*FP, wax(), rub("", "", "rottenstone")],
        later=2 * DAY,
    ),
    said(
        "comes out flat all over where the sample had a gloss",
        "off sheen",
        "too-flat",
        V3,
        later=9 * DAY,
    ),
    said(
        "Whisky tumbler ate down to the bare wood",
        "sand-through of film|white ring",
        "spirit-spilt",
        FP,
        later=60 * DAY,
    ),
    said(
        "the grease comes up again however often i wipe it",
        "bleeding|sticky",
        "oil",
        FPO,
        later=2 * DAY,
    ),
    said(
        "looks hoary, like frost on grass, the tung oil",
        "blush|lifting",
        "frosted",
        [*BARE, oil("tung-oil", "48 h"), oil("tung-oil", "48 h"), oil("tung-oil", "48 h")],
        air=(14.0, 78.0, 0.1),
        used={6: 2.0},
        later=1.0,
    ),
    said(
        "dry on the sycamore line but never dries on the palisander beside it",
        "sticky|bleeding",
        "oily-wood",
        V3,
        species="rosewood",
        later=7 * DAY,
    ),
    said(
        "there is a stripe with no varnish on it at all, I must have jumped it",
        "dull patch|streaks",
        "missed",
        V3,
        later=0.5,
    ),
    said(
        "was flat as glass; six weeks on there's a furrow along every vein",
        "sinking",
        "open-pores",
        V3,
        species="oak",
        later=42 * DAY,
    ),
    said(
        "didn't wipe it in time, it's all tacky ropes", "ridge|sticky", "wiped-late", WV, later=1.0
    ),
    said("chalky feel at the far end of each pass, dust dry", "orange peel", "lean", L4, later=0.5),
    said(
        "gun kept spluttering, big fat splats all along the top",
        "orange peel|sag|dust nib",
        "spits",
        L4,
        later=0.3,
    ),
    said(
        "craters, and I found the trap on the hose full of water",
        "fisheye",
        "air-line",
        L4,
        later=0.2,
    ),
    said(
        "never scraped the filler off clean, everything looks dirty",
        "white in the pores",
        "filler-haze|filler-set",
        [*BARE, seal(), fill(), *BODY],
        later=DAY,
    ),
    said(
        "pores come out much lighter than the wood, it was a pine filler",
        "white in the pores|off shade",
        "pale-filler",
        [*BARE, fill(), *BODY],
        species="walnut",
        later=DAY,
    ),
    said(
        "half the grain filler came away again with the sandpaper",
        "pinholes|sinking",
        "filler-loose",
        [*BARE, fill("water-based-filler", "4 h"), sand("P240")],
        later=0.5,
    ),
    said(
        "rungs of a ladder right over the door, dark, soon as the dye was on",
        "scratches",
        "across|not-through-grades",
        [sand("P100"), sand("P240"), dye()],
        later=0.2,
    ),
    said(
        "left door came out browner than its mate",
        "off shade",
        "other-batch|own-wood",
        [*DYED, *BODY],
        later=2 * DAY,
    ),
    said(
        "glue has wept out through the amboyna in little bright points",
        "bleeding|blotches",
        "glue-through",
        [glued(), *BARE, seal()],
        veneer_mm=0.5,
        later=0.5,
    ),
    said(
        "stripping the paper tape took slivers of the face with it",
        "lifting|torn grain",
        "tape-torn",
        [glued(), tape_off(), sand("P240"), tack(), seal()],
        veneer_mm=0.6,
        later=0.5,
    ),
    said("cut with drugstore 70% and it's gone milky", "blush", "wet-alcohol", FP, later=0.5),
    said(
        "polished over the beeswax he'd used for years, soft like cheese after a month",
        "sticky",
        "wax-below",
        FP,
        later=30 * DAY,
    ),
    said(
        "edges hold tight but the middle of the leaf is up",
        "blister|lifting",
        "glue-lets-go|starved",
        [glued(), *BARE, *BODY],
        veneer_mm=0.6,
        later=20 * DAY,
    ),
]
