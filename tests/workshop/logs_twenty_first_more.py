"""The rest of the twenty-first set, as its head says; made up, common practice."""

from datetime import timedelta

from defect_logs import (
    BARE,
    BODY,
    DAY,
    MONTH,
    PAD,
    VARNISH,
    bleach,
    brushed,
    coat,
    dye,
    fill,
    glued,
    last,
    level,
    oil,
    rest,
    rub_out,
    said,
    sand,
    seal,
    tack,
    tape_off,
    waterborne,
    wax,
    wiping,
)

HOUR = timedelta(hours=1)
SCUFF = level("P320", "dry")
POLISHED = [*BARE, *BODY]
VARNISHED = [*BARE, brushed(VARNISH), SCUFF, brushed(VARNISH)]

MORE = [
    said(
        "brown like tea in patches, came up through the first coat while it dried. is oak",
        "bleeding",
        "tannin",
        [*BARE, waterborne(), waterborne()],
        species="white oak",
        later=1.0,
    ),
    said(
        "froth. it's got froth in it, dried in, like the top of a pint",
        "pinholes",
        "shaken",
        [*BARE, waterborne()],
        notes={4: "looked patchy so I kept brushing it back and forth till it evened out"},
        later=0.9,
    ),
    said(
        "It drew up into islands as I watched. Won't stay on, the oily bits show between.",
        "fisheye",
        "green-below",
        [*BARE, oil(wait="72 h"), waterborne()],
        shares={4: 0.1},
        later=0.1,
    ),
    said(
        "Went on full of little curds and no amount of brushing lays them down. Tin's nearly new, "
        "mind it lived in the van all through that hard frost.",
        "dust nib",
        "frozen",
        [*BARE, waterborne()],
        later=0.9,
    ),
    said(
        "Shut the lid at night to keep the dust out. In the morning it was welded to the rim and "
        "took the finish with it when I opened it.",
        "sticky",
        "shut-soon",
        [*BARE, waterborne(), SCUFF, waterborne()],
        later=14 * HOUR,
    ),
    said(
        "Held to the window, every pore in the walnut is full of white. Looks like it's got flour "
        "in it.",
        "white in the pores",
        "residue",
        [*BARE, seal(), PAD, PAD, wax()],
        species="walnut",
        later=6 * DAY,
    ),
    said(
        "she wanted it shinier so I gave it two more rubbers over the top. Goes on in beads, "
        "and what did stay rubs off with my thumb",
        "sticky",
        "wax-below",
        [*POLISHED, wax(), coat(stage="cure"), coat(stage="cure")],
        gaps={14: 60},
        later=1.0,
    ),
    said(
        "Muddy. Swirls of brown lying on top of the wood under the finish and the figure's gone.",
        "blush",
        "filler-haze",
        [*BARE, fill(), seal(), PAD],
        species="mahogany",
        notes={4: "phone. gone stiff when I came back, got off what I could"},
        later=1.0,
    ),
    said(
        "Some of it rings like glass and some of it is chewing gum, four days now, heater on.",
        "sticky",
        "mis-mixed",
        [*BARE, fill("two-part-epoxy", "24 h")],
        species="ash",
        notes={4: "mixed by eye, bit extra hardener so it'd be quick"},
        later=4 * DAY,
    ),
    said(
        "Pale blobs at the joints, finger size, where the colour just sits on top and wipes off. "
        "I'd swear the wood was clean.",
        "blotches",
        "glue-on-face",
        [glued("pva-glue", "24 h"), *BARE, dye()],
        later=0.5,
    ),
    said(
        "leopard. dark spots light spots, no pattern to it. my boss says it's the wood",
        "blotches",
        "drinks-unevenly",
        [*BARE, dye()],
        species="pine",
        later=0.7,
    ),
    said(
        "It was such a good red. It has stood on my windowsill since you brought it and where the "
        "candlestick was it is still red, the rest is like weak squash.",
        "colour change",
        "light",
        [*BARE, dye(), *BODY, rest("7 days", "cure")],
        species="birch",
        in_hand=1,
        later=9 * MONTH,
    ),
    said(
        "brush picked up the glaze and carried it off, now there's bare stripes and a brown mess "
        "in the pot",
        "bleeding",
        "green-below",
        [*BARE, seal(), coat("glaze", "oil-glaze", "48 h", amount="25 ml/m2"), brushed()],
        shares={5: 0.08},
        later=0.1,
    ),
    said(
        "Frost on the wood. White glittery stuff. When I sanded it I sneezed till I cried.",
        "blush",
        "salts",
        [sand("P180"), bleach(), sand("P240"), tack(), wiping()],
        species="white oak",
        later=1.0,
    ),
    said(
        "looked dead smooth till the dye went on. then: lines, deep ones, everywhere",
        "scratches",
        "not-through-grades",
        [sand("P80"), sand("P240"), tack(), dye()],
        species="hard maple",
        later=0.5,
    ),
    said(
        "Tap it with your nail and one spot goes tock where the rest goes tick. It's stood up a "
        "bit since the seal coat, like a blister on a heel.",
        "blister",
        "gelled",
        [glued("hot-hide-glue", "24 h"), *BARE, seal()],
        veneer_mm=0.7,
        notes={1: "shop cold, glue was jelly before I got to the far end with the hammer"},
        later=2 * DAY,
    ),
    said(
        "The joint down the middle was tight as you like. Now I could post a letter in it.",
        "open seam",
        "shrunk",
        [glued(), *BARE, seal(), PAD, PAD],
        veneer_mm=0.6,
        notes={1: "leaves were wavy, sponged both sides to flatten and straight into the press"},
        later=12 * DAY,
    ),
    said(
        "a band along the seam, wide as the tape was, shiny at its rims, where polish looks paler",
        "streaks",
        "tape-gum",
        [glued(), tape_off(), *BARE, seal(), PAD],
        veneer_mm=0.6,
        notes={2: "hardly damped it, peeled most of it dry"},
        later=1.0,
    ),
    said(
        "Lid is like a roof tile, hollow to the top. I veneered the show side only, inside is "
        "painted, nobody sees it.",
        "warp",
        "one-face",
        [glued(), *BARE, seal(), PAD, PAD, rest("7 days", "cure")],
        veneer_mm=0.6,
        in_hand=1,
        later=1 * MONTH,
    ),
    said(
        "blue black bars across the oak, ink like, just where the cramps went over",
        "rust",
        "iron",
        [glued("pva-glue", "24 h"), *BARE],
        species="white oak",
        later=2 * HOUR,
    ),
    said(
        "Rubbing it out and it's come up with contour lines on it. Like a map of "
        "hills. Each ring is a coat.",
        "witness lines",
        "separate",
        [*VARNISHED, last(brushed(), "10 days"), level("P600"), level("P800")],
        later=1.0,
    ),
    said(
        "paper balls up with hard little pips that then score it. three sheets gone already and "
        "I've done a hand's breadth",
        "corning",
        "soft",
        [*POLISHED, level()],
        shares={12: 0.07},
        later=0.2,
    ),
    said(
        "A mirror, the day it left. Now he rings and says it is dull and he can see scratches, and "
        "by God he's right, all my old 400 marks are back.",
        "scratches",
        "rubbed-soon",
        [*BARE, *BODY[:-1], last(PAD, "14 days"), level(), rub_out()],
        shares={12: 0.1},
        later=1 * MONTH,
    ),
    said(
        "Polish runs away from itself on the wood, like water on a duck. Same wood, same jar as "
        "yesterday. All I changed: my wife washed the cloths for me, very soft, smell of roses.",
        "fisheye",
        "fouled",
        [*BARE, PAD],
        later=0.2,
    ),
    said(
        "Golden beads on the lid after that hot week, sticky, smell like a Christmas tree. Only on "
        "the knots.",
        "sticky",
        "resin",
        [*VARNISHED, rest("7 days", "cure")],
        species="pine",
        air_later=(32.0, 45.0, 0.1),
        in_hand=1,
        later=3 * MONTH,
    ),
]
