"""The other thirty of the eighteenth set: waterborne, oil, wax, fillers, colour and glue.

As its head says; made up, common practice.
"""

from datetime import timedelta

from defect_logs import (
    BARE,
    BODY,
    DAY,
    MONTH,
    PAD,
    bleach,
    brushed,
    coat,
    dye,
    fill,
    glued,
    last,
    level,
    oil,
    pumice,
    rest,
    rub,
    said,
    sand,
    seal,
    sprayed,
    stain,
    tack,
    tape_off,
    waterborne,
    wax,
)


def _shares(numbers, share):
    """Return the same share of the wait for several steps."""
    return dict.fromkeys(numbers, share)


def glaze(wait="48 h"):
    """Return a glaze between coats."""
    return coat(verb="glaze", product="oil-glaze", wait=wait, amount="25 ml/m2")


NINETEENTH = [
    said(
        "dried like the skin of a lemon, all over, never flowed out",
        "orange peel",
        "flashed",
        [*BARE, seal(), sprayed(), sprayed()],
        air=(33.0, 28.0, 0.4),
        used={5: 0.6, 6: 0.6},
        later=0.9,
    ),
    said(
        "long cracks right across the top, every which way, after a night in the van in "
        "january. 9 coats on it",
        "crackle",
        "thick-film",
        [*BARE, seal(), *[sprayed()] * 9, rest("21 days", "cure")],
        used=_shares(range(5, 14), 1.4),
        in_hand=1,
        later=150 * DAY,
    ),
    said(
        "rucked up like a crocodile inside two minutes of spraying. there's only a coat "
        "of oil varnish on it from yesterday",
        "lifting",
        "strong-solvent",
        [*BARE, brushed(), sprayed()],
        later=0.05,
    ),
    said(
        "pinholes and tiny blisters in it this morning, was clear as gin when I locked up",
        "pinholes",
        "trapped",
        [*BARE, seal(), *[sprayed()] * 4],
        used=_shares(range(5, 9), 1.8),
        shares=_shares(range(5, 8), 0.08),
        air=(28.0, 45.0, 0.1),
        later=14 * timedelta(hours=1),
    ),
    said(
        "rough as a badger after one coat, and I'd had it like silk",
        "raised grain",
        "grain-raised",
        [*BARE, waterborne()],
        species="birch",
        later=0.95,
    ),
    said(
        "tea coloured patches coming up through it, tide marks near the ends",
        "bleeding",
        "tannin",
        [*BARE, waterborne(), waterborne()],
        species="oak",
        later=0.9,
    ),
    said(
        "black pepper spots in the last coat, next morning. mould, I think",
        "rust",
        "steel",
        [*BARE, waterborne(), rub("0000 wool", "dry"), tack(), waterborne()],
        species="oak",
        later=20 * timedelta(hours=1),
    ),
    said(
        "dried white and cracked like a mud puddle in august",
        "crackle",
        "cold-film",
        [*BARE, seal(), waterborne()],
        species="maple",
        air=(8.0, 65.0, 0.1),
        later=1.5,
    ),
    said(
        "rolls up in beads and leaves bare islands. oiled it yesterday dinner time",
        "fisheye",
        "green-below",
        [*BARE, oil(wait="24 h"), waterborne()],
        species="maple",
        later=0.05,
    ),
    said(
        "like fly paper after six days. tin's two year old, must have gone off",
        "sticky",
        "excess",
        [*BARE, oil(), oil()],
        used={4: 2.0, 5: 3.0},
        later=6 * DAY,
        not_yet=3,
    ),
    said(
        "shiny specks like fly dirt sat on the pores. wiped it bone dry at five, came back "
        "and there they were, hard by sunday",
        "dust nib",
        "excess",
        [*BARE, oil()],
        species="red oak",
        later=2 * DAY,
    ),
    said(
        "two weeks, and she's as wet as the day I did her. says raw on the tin",
        "sticky",
        "slow-oil",
        [*BARE, oil("raw-linseed-oil", "3 days")],
        later=14 * DAY,
        not_yet=3,
    ),
    said(
        "dark clouds all over like a wet cow. sanded the same everywhere, 240",
        "blotches",
        "drinks-unevenly",
        [*BARE, oil()],
        species="silver birch",
        later=0.9,
    ),
    said(
        "went on near white, it's yellow as cheese now, ten months in the cupboard",
        "colour change",
        "yellowing",
        [*BARE, oil(), oil()],
        species="maple",
        later=300 * DAY,
    ),
    said(
        "finger trails, smears, the duster drags. I put it on good and thick to be sure",
        "sticky",
        "wax-on-top",
        [*BARE, *BODY, rest("14 days", "cure"), wax()],
        in_hand=1,
        later=2 * DAY,
    ),
    said(
        "new polish won't bite, runs away from itself, and where it stays you can rub it "
        "off with a thumb",
        "fisheye",
        "wax-below",
        [*BARE, *BODY, wax(), PAD, PAD],
        later=0.9,
    ),
    said(
        "three weeks after, the pores have gone grey and sunk in. was full and flat before",
        "sinking",
        "filler-green",
        [*BARE, fill(wait="48 h"), sand("P320"), tack(), *BODY],
        species="mahogany",
        shares={4: 0.1},
        later=3 * 7 * DAY,
    ),
    said(
        "meant to darken the pores and no more. whole face is dirty brown now, like it wants "
        "a wash",
        "colour change",
        "filled-bare",
        [*BARE, fill(), *BODY],
        species="ash",
        in_hand=9,
        later=0.05,
    ),
    said(
        "white specks in every pore, like flour. wasn't there when I left it in may",
        "white in the pores",
        "pumice-dry",
        [*BARE, seal(), pumice(), *[PAD] * 7, last(PAD, "20 h")],
        species="walnut",
        later=MONTH,
    ),
    said(
        "flakes off just where the resin filled. felt a bit greasy before I shot it but "
        "I'd no time to wash it",
        "",
        "amine",
        [*BARE, fill("two-part-epoxy", "24 h"), sprayed(), sprayed()],
        species="mahogany",
        later=3 * DAY,
    ),
    said(
        "brush came up brown and the colour slid about, streaks everywhere",
        "bleeding",
        "colour-lifted",
        [*BARE, dye(), waterborne()],
        species="maple",
        later=0.1,
    ),
    said(
        "pale stripe wherever the rubber went twice. rubber's red now",
        "bleeding",
        "colour-lifted",
        [*BARE, stain(), PAD, PAD, PAD],
        later=0.3,
    ),
    said(
        "white frosty fuzz under the varnish like sugar in the grain. bleached it with the "
        "crystals and never got to rinsing",
        "white in the pores",
        "salts",
        [*BARE, bleach(), brushed()],
        species="oak",
        later=5 * DAY,
    ),
    said(
        "black tramlines across the grain the second the colour hit it",
        "scratches",
        "machine-marks|coarse",
        [sand("P80"), sand("P120"), tack(), dye()],
        later=0.02,
    ),
    said(
        "colour turned to mud and skidded under the brush. next day it's all wrinkly",
        "lifting",
        "green-below",
        [*BARE, seal(), glaze(), brushed()],
        shares={5: 0.08},
        later=DAY,
    ),
    said(
        "bubble the size of a penny, clicks under the nail. not there till I wet papered it",
        "blister",
        "water-below|glue-lets-go",
        [
            glued("hot-hide-glue", "36 h"),
            tape_off(),
            *BARE,
            seal(),
            *[PAD] * 4,
            last(PAD, "20 h"),
            level("P400", "soapy water", "4 h"),
        ],
        species="walnut",
        veneer_mm=0.6,
        later=0.2,
    ),
    said(
        "every seam has sunk, catches a nail, three weeks on. joints were tight when it came "
        "out the press",
        "sinking",
        "shrunk",
        [glued(), tape_off("12 h"), *BARE, *BODY],
        species="maple",
        veneer_mm=0.6,
        shares={1: 0.5, 2: 0.05},
        later=3 * 7 * DAY,
    ),
    said(
        "pale flecks where the colour won't take, like somebody spat on it. about a "
        "dozen, 2 to 5 mm",
        "blotches",
        "glue-on-face",
        [glued("pva-glue"), *BARE, dye()],
        species="walnut",
        veneer_mm=0.5,
        later=0.2,
    ),
    said(
        "hair cracks with the grain, 10 to 30 mm, all over, polish has cracked with em",
        "crackle",
        "knife-checks|wood-moved",
        [glued(), tape_off(), *BARE, *BODY],
        species="oak",
        veneer_mm=0.6,
        wood_moisture=14.0,
        air=(23.0, 28.0, 0.1),
        later=60 * DAY,
    ),
    said(
        "lid's cupped 3 mm in 220, hollow on the show side. back of it is bare",
        "warp",
        "one-face",
        [glued(), tape_off(), *BARE, *BODY],
        species="walnut",
        veneer_mm=0.6,
        later=10 * DAY,
    ),
]
