"""Fifteen made-up logs of what was named wrongly, or only nearly, when a set of fifty was told.

From what makers tell of defects (common practice), in words as people say them. ``called`` is what
the defect is called here; a bar between two that it may be called, or that a practitioner may name
first. Somebody who had not seen the tables told fifty such logs; 34 of those had the cause first
that was meant, and 9 one near it. These are after the rest; the tables were fitted to them after.
"""

from defect_logs import (
    BARE,
    DAY,
    PAD,
    SHELLAC,
    VARNISH,
    brushed,
    coat,
    fill,
    glued,
    hours,
    last,
    level,
    oil,
    said,
    sand,
    seal,
    sprayed,
    stain,
    tack,
    tape_off,
    wax,
)

TEN = [seal(), *[PAD] * 9, last(PAD, "20 h")]

FOURTEENTH = [
    said("four days on, a thumbnail goes in like into cheese", "sticky", "old-batch",
         [*TEN], batch_months=17, later=4 * DAY),
    said("it is dull and greasy again every few days, and a finger can write in it",
         "sticky|blush|bleeding", "oil",
         [*BARE, seal(), *[coat(lubricant="mineral-oil")] * 6], later=12 * DAY),
    said("tiny white hairs lie all the way I wiped, off the old towel I think", "dust nib", "lint",
         [*BARE, coat("wipe", SHELLAC), coat("wipe", SHELLAC)], later=hours("2 h")),
    said("six days and still like flypaper, the stool of the same evening was dry by morning",
         "sticky", "oily-wood", [*BARE, brushed(VARNISH, wait="20 h")], species="rosewood",
         later=6 * DAY, not_yet=1),
    said("masking tape pulled off a strip of varnish, below it a whole and glossy layer", "lifting",
         "unscuffed", [*BARE, brushed(), brushed()], gaps={5: 15}, later=15 * DAY),
    said("pale tracks in the red where the rubber went and dark edges where it turned",
         "bleeding|streaks", "colour-lifted", [sand("P240"), stain(), PAD, PAD, PAD],
         species="maple", later=hours("5 min"), notes={5: "the cloth is all red"}),
    said("an orange's peel, even all over", "orange peel", "too-heavy", [*BARE, sprayed()],
         later=hours("1 h"), notes={4: "straight out of the drum, the thinner is finished"}),
    said("dull and rough like a slate, I had stood well back with the gun", "orange peel", "lean",
         [*BARE, sprayed()], later=hours("1 h")),
    said("it crawled up into wrinkles at once as if stripper had been sprayed on it", "lifting",
         "strong-solvent", [*BARE, brushed(wait="48 h"), sprayed()], species="beech",
         later=hours("5 min")),
    said("smears wherever it is touched, and buffing only moves it about", "sticky|streaks",
         "wax-on-top", [*TEN, wax()], gaps={12: 24}, later=DAY,
         notes={12: "put on with the fingers, thick as butter"}),
    said("a grey crust over all of it and I cannot shift it, it should be in the pores only",
         "white in the pores", "filler-set", [*BARE, seal(), fill()], species="mahogany",
         later=hours("70 min"), notes={5: "the phone, came back after fifty minutes"}),
    said("pale shiny stripes exactly where the strips of paper had been", "streaks|blotches",
         "tape-gum", [glued(), tape_off(), sand("P220"), tack(), seal()], veneer_mm=0.6,
         later=hours("1 h")),
    said("all took the brown but for pale spots round the joints, smooth as glass", "blotches",
         "glue-on-face", [glued(), *BARE, stain()], species="maple", veneer_mm=0.6,
         later=hours("2 h")),
    said("a light rim all along the edge, the wood feels dry there",
         "sand-through of film|sand-through of colour",
         "edge|few-coats|coarse", [*TEN, level("P320")], later=hours("20 min")),
    said("still like a spring onion's skin, it smells of oil inside the drawer after six weeks",
         "smell|sticky", "shut-in|excess|young", [*BARE, oil(), oil()], later=42 * DAY),
]  # fmt: skip
