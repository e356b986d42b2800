"""The twentieth set: logs of every finish that were told wrong, or had a way that no master takes.

Of a hundred and twenty that were written before any table was looked at, 98 had their cause first
when they were first asked, and nine more had it second. Made up, common practice.
"""

from defect_logs import (
    BARE,
    BODY,
    DAY,
    OILED,
    PAD,
    brushed,
    coat,
    dye,
    fill,
    glued,
    level,
    oil,
    rub,
    said,
    sand,
    seal,
    spirit_off,
    sprayed,
    stain,
    tack,
    tape_off,
    waterborne,
    wax,
    wiping,
)

FP = [*BARE, *BODY]
FPO = [*BARE, seal(), *[OILED] * 8]
V3 = [*BARE, brushed(), level(), brushed(), level(), brushed()]
L4 = [*BARE, seal(), *[sprayed()] * 4]
W3 = [*BARE, waterborne(), level("P400", "dry"), waterborne(), waterborne()]
O3 = [*BARE, oil(), oil(), oil()]
WV = [*BARE, *[wiping()] * 4]
DYED = [sand("P180"), sand("P240"), dye()]


def shares_of(numbers, share):
    """Return the same figure for several steps."""
    return dict.fromkeys(numbers, share)


def glaze(wait="48 h"):
    """Return a glaze between coats."""
    return coat(verb="glaze", product="oil-glaze", wait=wait, amount="25 ml/m2")


TWENTIETH = [
    said(
        "someone set down a gin and it ate a round hole clean through to the wood",
        "sand-through of film",
        "spirit-spilt",
        FP,
        later=60 * DAY,
    ),
    said(
        "oily bloom keeps creeping back, wipe it and in an hour it's greasy grey again",
        "bleeding|sticky",
        "oil",
        FPO,
        later=2 * DAY,
    ),
    said(
        "it had dried proper, then I gave it a long go with meths to clear the oil and "
        "now there's a dull bald patch in the middle",
        "dull patch",
        "wet-spirit",
        [*FPO, spirit_off()],
        notes={13: "pad rather wet with meths"},
    ),
    said(
        "fish eyes. wee round craters, the polish runs away from em. only on the lid "
        "where the hinge got its squirt",
        "fisheye",
        "silicone",
        [*BARE, seal(), PAD, PAD],
        in_hand=0,
        later=0.05,
    ),
    said(
        "high build went on lovely, now pores have all come back, dozens of wee dimples",
        "sinking",
        "rubbed-soon",
        [*BARE, *BODY, level(), rub("P2000", "mineral-oil")],
        species="mahogany",
        later=40 * DAY,
    ),
    said(
        "too glossy for the customer, looks like a toffee apple, he wanted it soft",
        "off sheen",
        "own-sheen",
        FP,
        later=3 * DAY,
    ),
    said(
        "It smells still after two month and is yellow as mustard inside the drawer",
        "colour change|smell",
        "yellowing|shut-in",
        O3,
        later=60 * DAY,
    ),
    said(
        "frosty white film over tung oil, third coat, dull like breath on a window",
        "blush|lifting",
        "frosted",
        [*BARE, oil("tung-oil", "48 h"), oil("tung-oil", "48 h"), oil("tung-oil", "48 h")],
        used=shares_of([5, 6], 1.8),
        air=(18.0, 75.0, 0.1),
        later=1.0,
    ),
    said(
        "dry and starved looking along one board, other is nice",
        "dull patch",
        "thin-film",
        [*BARE, oil()],
        later=4 * DAY,
    ),
    said(
        "cloth left scratch marks going across under the oil, I see them when it's wet only",
        "scratches",
        "across|not-through-grades",
        [sand("P120"), sand("P240"), tack(), oil(), oil()],
        notes={1: "did the ends crossways"},
        later=0.3,
    ),
    said(
        "big rosewood panel, seven days, varnish stays wet over the wood and hard over "
        "the maple stringing",
        "sticky",
        "oily-wood",
        V3,
        species="rosewood",
        later=7 * DAY,
    ),
    said(
        "holidays. The lad missed strips, you see them sideways",
        "dull patch",
        "missed",
        V3,
        later=0.5,
    ),
    said(
        "silky when laid, now every grain line shows as a groove",
        "sinking",
        "open-pores",
        V3,
        species="oak",
        later=30 * DAY,
    ),
    said(
        "four coats and it look like nothing. no build, dead flat",
        "dull patch",
        "thin-film",
        WV,
        later=2 * DAY,
    ),
    said(
        "sticky ribs where the excess was let lie",
        "ridge|sticky",
        "wiped-late|excess",
        WV,
        used=shares_of([7], 2.5),
        later=1.5,
    ),
    said("dry rough overspray on the inner side, like felt", "orange peel", "lean", L4, later=0.5),
    said(
        "stripes light and dark, like a mown lawn, with the toner",
        "streaks",
        "lapped-passes",
        [
            *BARE,
            seal(),
            coat("tone", "amber-toner", wait="2 h", amount="60 ml/m2"),
            sprayed(),
            sprayed(),
        ],
        later=0.5,
    ),
    said(
        "spat. there's blobs of unmixed stuff in a line",
        "orange peel|dust nib",
        "spits",
        L4,
        later=0.3,
    ),
    said(
        "chips off in flakes at a knock, brittle like sugar",
        "chip|lifting",
        "brittle-film|thick-film",
        [*BARE, seal(), *[sprayed()] * 10],
        used=shares_of(range(5, 15), 1.3),
        later=90 * DAY,
    ),
    said(
        "little moons in it after a drop of water out of the airline",
        "fisheye",
        "air-line",
        L4,
        later=0.2,
    ),
    said(
        "brush comes up with rubbery crumbs that end up in the coat",
        "dust nib",
        "bristles|bits",
        W3,
        later=0.5,
    ),
    said(
        "water spotted in one week, white spots on wax only finish",
        "white ring",
        "wax-on-top|thin",
        [*BARE, wax()],
        later=7 * DAY,
    ),
    said(
        "a skim of filler was left on and the whole is like looking through mud",
        "white in the pores",
        "filler-haze|filler-set",
        [*BARE, seal(), fill(), *BODY],
        later=DAY,
    ),
    said(
        "grey pores in wenge, filler was for oak",
        "white in the pores|off shade",
        "pale-filler",
        [*BARE, fill(), *BODY],
        species="wenge",
        later=DAY,
    ),
    said(
        "epoxy fill goes gummy under the paper, clogs, five days on",
        "corning|sticky",
        "mis-mixed",
        [*BARE, fill("two-part-epoxy", "24 h"), level("P220", "dry")],
        in_hand=1,
        later=5 * DAY,
    ),
    said(
        "water filler fell out in plugs when I sanded",
        "pinholes|sinking",
        "filler-loose",
        [*BARE, fill("water-based-filler", "4 h"), sand("P240")],
        later=0.5,
    ),
    said(
        "cross stripes stood out dark the minute stain hit, like a comb",
        "scratches",
        "across|not-through-grades",
        [sand("P100"), sand("P240"), dye()],
        later=0.2,
    ),
    said(
        "pale blots where I squeezed out glue and did not see",
        "blotches",
        "glue-on-face",
        [*DYED, seal()],
        later=1.0,
        notes={1: "wiped squeeze out with wet rag"},
    ),
    said(
        "glaze slid about and came off with the first varnish",
        "lifting|bleeding",
        "recoated-soon|green-below",
        [*BARE, seal(), glaze(), brushed()],
        shares={5: 0.1},
        later=0.05,
    ),
    said(
        "Two halves of the box don't match: one redder",
        "off shade",
        "other-batch|own-wood",
        [*DYED, *BODY],
        later=2 * DAY,
    ),
    said(
        "ebonised job is brown, not black. more rust than ink",
        "off shade",
        "weak-tannin",
        [*BARE[:2], stain()],
        species="maple",
        later=1.0,
    ),
    said(
        "bubble in the veneer, clicks when you tap it",
        "blister",
        "glue-lets-go|starved|void",
        [glued(), *BARE, *BODY],
        veneer_mm=0.6,
        later=20 * DAY,
    ),
    said(
        "shiny dots of glue coming through the burr",
        "bleeding|blotches",
        "glue-through",
        [glued(), *BARE, seal()],
        veneer_mm=0.5,
        later=0.5,
    ),
    said(
        "tape pulled splinters out of the face and left a pale road",
        "lifting|torn grain",
        "tape-torn",
        [glued(), tape_off(), sand("P240"), tack(), seal()],
        veneer_mm=0.6,
        later=0.5,
    ),
    said(
        "white scratches you can catch with a nail, cat", "scratches", "scored", L4, later=200 * DAY
    ),
    said(
        "greasy dark patch where hands go, by the lock",
        "blotches",
        "hand-grease",
        FP,
        later=800 * DAY,
    ),
]
