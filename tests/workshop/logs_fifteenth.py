"""Fifteen made-up logs of what was named wrongly, or only nearly, when a further fifty were told.

From what makers tell of defects (common practice), in words as people say them. ``called`` is what
the defect is called here; a bar between two that it may be called, or that a practitioner may name
first. Somebody who had not seen the tables told fifty such logs; 42 of those had the cause first
that was meant, and 5 one near it. These are after what was missed, with a few near them that must
not be heard alike; the tables were fitted to them after.
"""

from defect_logs import (
    BARE,
    DAY,
    LACQUER,
    PAD,
    brushed,
    fill,
    glued,
    hours,
    last,
    oil,
    rub,
    said,
    sand,
    seal,
    sprayed,
    tack,
)

TEN = [seal(), *[PAD] * 9, last(PAD, "20 h")]
JOINED = [glued("pva-glue", "24 h"), *BARE, brushed(), brushed()]

FIFTEENTH = [
    said("a shallow furrow along each glued joint, the joints are tight, only the reflection tells",
         "sinking", "joint-swollen", [*JOINED], shares={1: 0.05}, later=25 * DAY),
    said("it is a canoe now, hollow on the face that I veneered, nothing is loose", "warp",
         "one-face|pull", [glued(), sand("P240"), tack(), oil()], veneer_mm=0.6, species="walnut",
         later=14 * DAY, notes={1: "the show side only, the back left raw"}),
    said("its a banana", "warp", "one-face|pull", [glued(), sand("P240")], veneer_mm=0.6,
         later=14 * DAY, notes={1: "no balancer on the back"}),
    said("a vase sweated on it for two days, white ring, smooth and hard there", "white ring",
         "water-stood", [*TEN], later=230 * DAY),
    said("the wet cooler stood on it for an hour, white ring", "white ring", "uncured",
         [seal(), *[PAD] * 4], later=2 * DAY),
    said("craters everywhere, the compressor has a water trap, the other part is perfect",
         "fisheye", "amine", [*BARE, fill("two-part-epoxy", "24 h"), sprayed()], species="mahogany",
         later=hours("10 min")),
    said("craters everywhere, the compressor has no water trap", "fisheye", "air-line",
         [*BARE, sprayed()], later=hours("10 min")),
    said("the wireless has soft rubbery feet, and there are four sticky brown dents under it",
         "sticky|print|dent", "plasticiser", [*BARE, *[sprayed(LACQUER)] * 4], later=300 * DAY),
    said("four gummy marks where the plastic feet of the lamp stood", "sticky|print",
         "plasticiser", [*TEN], later=200 * DAY),
    said("flypaper, every hair that the dog has is on it", "sticky", "excess",
         [*BARE, oil("boiled-linseed-oil")], later=4 * DAY,
         notes={4: "left it good and wet, no wiping"}),
    said("hard shiny pimples, one sits on each pore, and the wood between is dry and matt",
         "bleeding", "excess", [*BARE, oil()], species="oak", later=2 * DAY),
    said("the wool clogs with grey gum and it smears", "corning", "soft",
         [*BARE, brushed(), brushed(), last(brushed(), "24 h"), rub("0000 wool")],
         later=hours("1 h")),
    said("somebody's gin stood in a puddle, the polish there is gluey and the glass stuck to it",
         "white ring|sticky", "spirit-spilt", [*TEN], later=110 * DAY),
    said("red wine stood there overnight, it is soft and dull", "white ring|sticky|dull patch",
         "spirit-spilt", [*TEN], later=100 * DAY),
    said("still soft on the test glass too, the box from the same jar is soft as well", "sticky",
         "old-batch", [*BARE, seal(), *[PAD] * 3], batch_months=17, later=5 * DAY),
]  # fmt: skip
