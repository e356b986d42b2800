"""A twenty-first set: sixty, of which 52 had a cause that was meant first and 3 nearly, at first.

Told by somebody who saw no table; the eight that had not are left out. Made up, common practice.
"""

from datetime import timedelta

from defect_logs import (
    BARE,
    BODY,
    DAY,
    LACQUER,
    MONTH,
    OILED,
    PAD,
    TUNG,
    VARNISH,
    WAXY,
    brushed,
    coat,
    fill,
    level,
    oil,
    rest,
    said,
    seal,
    sprayed,
    stain,
    waterborne,
)

HOUR = timedelta(hours=1)
SCUFF = level("P320", "dry")
POLISHED = [*BARE, *BODY]
AGED = [*POLISHED, rest("14 days", "cure")]
VARNISHED = [*BARE, brushed(VARNISH), SCUFF, brushed(VARNISH)]
LACQUERED = [*BARE, seal(), *[sprayed(LACQUER)] * 4, rest("21 days", "cure")]

TWENTY_FIRST = [
    said(
        "Lovely and clear going on, then it came over milky while I stood there looking at it.",
        "blush",
        "damp-air",
        [*BARE, seal(), PAD, PAD, PAD],
        air=(16.0, 87.0, 0.1),
        later=0.4,
    ),
    said(
        "Five days, and the thumb still leaves its mark. Not wet. Like cheese.",
        "sticky",
        "old-batch",
        POLISHED,
        batch_months=21,
        later=5 * DAY,
    ),
    said(
        "rubber grabbed on me and tore up a patch size of a penny, all rough now like bark",
        "burn",
        "soft-below",
        [*BARE, seal(), *[PAD] * 5],
        shares={5: 0.06, 6: 0.04, 7: 0.04, 8: 0.03},
        later=0.03,
    ),
    said(
        "Every morning is again grey and fat on the top, I wipe it, is beautiful, next morning "
        "is grey again.",
        "blush",
        "oil",
        [*BARE, seal(), *[OILED] * 8, rest("7 days", "cure")],
        notes={9: "pad drags, two more drops of oil", 11: "oil again", 12: "oil, a good bit"},
        in_hand=1,
        later=9 * DAY,
    ),
    said(
        "corduroy. every stroke of the brush stood up and stayed there",
        "brush marks",
        "too-heavy",
        [*BARE, brushed("shellac-dewaxed-blonde", "3 h", cut="4 lb")],
        later=0.8,
    ),
    said(
        "It went out of here like a sheet of glass. Two months on the lady sends me a picture "
        "and there's every pore of the mahogany looking back at me.",
        "sinking",
        "filler-green",
        [*BARE, fill(), *BODY, rest("7 days", "cure")],
        species="mahogany",
        shares={4: 0.12},
        in_hand=1,
        later=2 * MONTH,
    ),
    said(
        "Top coat comes off in sheets if you get a nail under, and what's under is still orange "
        "and sound.",
        "lifting",
        "wax-below",
        [*BARE, coat(product=WAXY, wait="12 h", stage="seal"), brushed(), SCUFF, brushed()],
        later=8 * DAY,
    ),
    said(
        "My husband stood his iced water on the lid during the cricket and now there is a white "
        "ring. It does not feel like anything, it is just white.",
        "white ring",
        "water-stood",
        AGED,
        in_hand=1,
        later=3 * MONTH,
    ),
    said(
        "little circles all over where the bubble wrap was. customer not happy. posted it the "
        "day after last coat",
        "print",
        "handled-soon",
        POLISHED,
        later=30 * HOUR,
    ),
    said(
        "white hairs. dozens. like a cat slept on it, and we have no cat",
        "dust nib",
        "lint",
        [*BARE, seal(), *[PAD] * 4],
        notes={4: "cut a pad from the new T-shirt, straight out of the packet"},
        later=0.9,
    ),
    said(
        "Made the lid in maple with red dots let in. Soon as I started padding each dot grew an "
        "orange tail, pointing the way I'd rubbed.",
        "bleeding",
        "dark-wood",
        [*BARE, PAD, PAD],
        species="hard maple",
        later=0.5,
    ),
    said(
        "the colour is on my rubber now instead of on the box and whats left is stripes",
        "bleeding",
        "colour-lifted",
        [*BARE, stain("spirit-dye"), PAD, PAD],
        species="birch",
        later=0.3,
    ),
    said(
        "I wipe it dry, go for my tea, come back, and there's a tiny wet bead on every pore. Next "
        "day they're hard as scabs.",
        "bleeding",
        "excess",
        [*BARE, oil(), oil()],
        species="red oak",
        notes={5: "put it on the sunny sill to help it along"},
        later=0.9,
    ),
    said(
        "flypaper",
        "sticky",
        "excess",
        [*BARE, oil(), oil(), oil()],
        used={5: 3.0, 6: 3.5},
        later=4 * DAY,
    ),
    said(
        "Nine days! Same tin on a walnut offcut was dry the next day. The cocobolo is still wet "
        "as when I put it on.",
        "sticky",
        "oily-wood",
        [*BARE, oil(TUNG, "48 h")],
        species="cocobolo",
        later=9 * DAY,
    ),
    said(
        "Black pepper dots, they get more every week, and it smell like old cellar. In cellar is "
        "where it stands, yes.",
        "rust",
        "mould",
        [*BARE, oil("raw-linseed-oil", "72 h"), oil("raw-linseed-oil", "72 h")],
        species="beech",
        air_later=(13.0, 88.0, 0.02),
        later=2 * MONTH,
    ),
    said(
        "The outside is as pale as ever. The inside of the drawer front, same maple, same tin, "
        "same day, has gone the colour of butter. It is hardly ever opened.",
        "colour change",
        "yellowing",
        [*BARE, oil(), oil(), rest("14 days", "cure")],
        species="hard maple",
        in_hand=1,
        later=10 * MONTH,
    ),
    said(
        "Whoever opens the box shuts it again quick. Smells like an old chip pan. I only oiled "
        "the inside so it'd match.",
        "sticky",
        "shut-in",
        [*BARE, oil(), oil(), rest("7 days", "cure")],
        in_hand=1,
        later=2 * MONTH,
    ),
    said(
        "second coat comes away in long ribbons. first coat underneath shiny as the day I did it, "
        "which was before we went on holiday",
        "lifting",
        "unscuffed",
        [*BARE, brushed(), brushed()],
        gaps={5: 19},
        later=4 * DAY,
    ),
    said(
        "Tiny bubbles, dried in. They pop under the nail and leave a pit.",
        "pinholes",
        "shaken",
        [*BARE, brushed()],
        notes={4: "gave the tin a right good shake first"},
        later=1.0,
    ),
    said(
        "third day and it still takes the fluff off my sleeve. shed's been bitter",
        "sticky",
        "cold-damp",
        VARNISHED,
        air=(6.0, 60.0, 0.1),
        not_yet=2,
        later=3.0,
    ),
    said(
        "Satin it says on the tin. First box out of it came up glossy, the last one, from the "
        "bottom, is like a blackboard.",
        "streaks",
        "settled",
        VARNISHED,
        later=2 * DAY,
    ),
    said(
        "gritty all over, I can feel it with the back of my hand. was spotless when i tacked it",
        "dust nib",
        "dust-near",
        [*BARE, brushed()],
        sanding_near=4,
        later=1.0,
    ),
    said(
        "The teapot was on it for perhaps five minutes. A cloudy white oval, exactly the foot of "
        "the pot. Dry, the table was quite dry!",
        "white ring",
        "heat",
        LACQUERED,
        in_hand=1,
        later=4 * MONTH,
    ),
    said(
        "Round holes straight to the wood with a rim to each, opened up as soon as it landed. It's "
        "an old work box, her cleaner had gone at it with aerosol polish for thirty years.",
        "fisheye",
        "silicone",
        [*BARE, sprayed()],
        species="mahogany",
        later=0.05,
    ),
    said(
        "feels like 400 paper and has no more gloss than a brick",
        "orange peel",
        "lean",
        [*BARE, seal(), sprayed(), sprayed()],
        notes={6: "did not want runs, so stood well back with the gun, arm's length"},
        later=0.9,
    ),
    said(
        "Dried white-ish with cracks like a puddle in a drought. Rub it, it comes off as powder.",
        "crackle",
        "cold-film",
        [*BARE, waterborne(), waterborne()],
        air=(6.0, 55.0, 0.1),
        later=2.0,
    ),
]
