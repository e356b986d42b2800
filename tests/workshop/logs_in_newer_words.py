"""More causes told in new words: of 54 such wordings 31 were right first.

Made up, common practice.
"""

from defect_logs import (
    BARE,
    BODY,
    DAY,
    brushed,
    dye,
    fill,
    glued,
    level,
    oil,
    said,
    sand,
    seal,
    sprayed,
    tack,
    tape_off,
    waterborne,
    wax,
    wiping,
)

FP = [*BARE, *BODY]
V3 = [*BARE, brushed(), level(), brushed(), level(), brushed()]
L4 = [*BARE, seal(), *[sprayed()] * 4]
O3 = [*BARE, oil(), oil(), oil()]
WV = [*BARE, *[wiping()] * 4]
DYED = [sand("P180"), sand("P240"), dye()]


def shares_of(numbers, share):
    """Return the same figure for several steps."""
    return dict.fromkeys(numbers, share)


NEWER_WORDS = [
    said(
        "hair spray settled on the dressing table, sticky freckles all over",
        "sticky|dull patch",
        "spirit-spilt",
        FP,
        later=200 * DAY,
    ),
    said(
        "too little shine for what he paid, he says. even all over",
        "off sheen",
        "too-flat",
        FP,
        later=5 * DAY,
    ),
    said(
        "customer sends it back: glares under the spotlights, was to be eggshell",
        "off sheen",
        "own-sheen|settled",
        L4,
        later=20 * DAY,
    ),
    said(
        "left the oil standing while I ate, now it's like toffee in the corners",
        "sticky",
        "excess",
        O3,
        later=1.0,
    ),
    said(
        "oil bloomed out of the open grain in beads, wiped twice already",
        "bleeding",
        "excess",
        O3,
        species="oak",
        used={4: 2.0},
        later=1.0,
    ),
    said("bits of rotten rubber seal from the lid of the tin", "dust nib", "bits", V3, later=0.5),
    said(
        "a hundred little stings, like a pincushion, day after I flooded it on",
        "pinholes",
        "trapped",
        L4,
        shares=shares_of(range(5, 8), 0.2),
        used=shares_of(range(5, 9), 1.7),
        later=1.5,
    ),
    said(
        "gun too far from the work, came out like sandpaper", "orange peel", "lean", L4, later=0.5
    ),
    said(
        "water spat out of the hose and left holes in the wet lacquer",
        "fisheye|pinholes",
        "air-line",
        L4,
        later=0.2,
    ),
    said(
        "white waterborne went pink over the mahogany",
        "bleeding",
        "tannin|colour-lifted|wet-seal",
        [*BARE, waterborne(), waterborne()],
        species="mahogany",
        later=0.4,
    ),
    said(
        "the wax went on thick as jam, comes off on the cushions",
        "sticky",
        "wax-on-top",
        [*FP, wax()],
        later=9 * DAY,
    ),
    said(
        "soft as soap, I laid the polish straight over his old furniture wax",
        "sticky",
        "wax-below",
        FP,
        later=14 * DAY,
    ),
    said(
        "pad left its weave where I set it down to answer the door",
        "print|burn",
        "stopped",
        FP,
        in_hand=2,
        later=0.01,
    ),
    said(
        "turps stood wet on it when I coated, little eyes opened",
        "fisheye",
        "spirits",
        V3,
        notes={7: "wetted with turps"},
        later=0.2,
    ),
    said(
        "fine dust in the last coat, sweeping up was a mistake",
        "dust nib",
        "dust-near",
        V3,
        later=0.5,
    ),
    said(
        "fish eyes! the varnish opened up everywhere I'd had the hand cream on, still wet",
        "fisheye",
        "silicone",
        V3,
        later=0.02,
    ),
    said(
        "brandy got under the decanter and the finish is gone there",
        "white ring|dull patch",
        "spirit-spilt",
        FP,
        later=60 * DAY,
    ),
    said(
        "you'd never think I gave it five coats, there's nothing there",
        "dull patch",
        "thin-film",
        WV,
        later=2 * DAY,
    ),
    said(
        "a whole strip by the hinge got none, I see it against the window",
        "dull patch|streaks",
        "missed",
        V3,
        later=0.5,
    ),
    said(
        "waited too long before wiping, cloth stuck and left ropes",
        "ridge|sticky",
        "wiped-late",
        WV,
        later=1.0,
    ),
    said(
        "spray was landing as dust by the time it got there", "orange peel", "lean", L4, later=0.5
    ),
    said(
        "it sneezes lumps each time I pull the trigger",
        "orange peel|dust nib",
        "spits",
        L4,
        later=0.3,
    ),
    said(
        "short and hard, it shatters off the corners",
        "chip|lifting",
        "brittle-film",
        [*BARE, seal(), *[sprayed()] * 10],
        used=shares_of(range(5, 15), 1.3),
        later=90 * DAY,
    ),
    said(
        "compressor spat water, and now there's little eyes", "fisheye", "air-line", L4, later=0.2
    ),
    said(
        "didn't get the filler off in time and it's dull and murky all over",
        "white in the pores|blush",
        "filler-haze",
        [*BARE, seal(), fill(), *BODY],
        later=DAY,
    ),
    said(
        "pores stand out pale, the tin of filler said maple",
        "white in the pores|off shade",
        "pale-filler",
        [*BARE, fill(), *BODY],
        species="walnut",
        later=DAY,
    ),
    said(
        "my filler keeps dropping out of the holes",
        "pinholes|sinking",
        "filler-loose",
        [*BARE, fill("water-based-filler", "4 h"), sand("P240")],
        later=0.5,
    ),
    said(
        "the one leaf of the pair is more orange",
        "off shade",
        "other-batch|own-wood",
        [*DYED, *BODY],
        later=2 * DAY,
    ),
    said(
        "gummed tape came away with half the grain stuck to it",
        "lifting|torn grain",
        "tape-torn",
        [glued(), tape_off(), sand("P240"), tack(), seal()],
        veneer_mm=0.6,
        later=0.5,
    ),
    said(
        "stays mushy, he'd beeswaxed it for thirty years and I only dusted it off",
        "sticky",
        "wax-below",
        FP,
        later=30 * DAY,
    ),
    said(
        "more gloss than he ordered, can I bring it down",
        "off sheen",
        "own-sheen",
        FP,
        later=5 * DAY,
    ),
    said(
        "the tung's gone matt and white like rime",
        "blush|lifting",
        "frosted",
        [*BARE, oil("tung-oil", "48 h"), oil("tung-oil", "48 h"), oil("tung-oil", "48 h")],
        air=(14.0, 78.0, 0.1),
        used={6: 2.0},
        later=1.0,
    ),
    said(
        "dry on the maple and wet on the rosewood after ten days",
        "sticky",
        "oily-wood",
        V3,
        species="rosewood",
        later=10 * DAY,
    ),
]
