"""Thirty made-up logs of an eighteenth set of sixty: shellac, varnish and lacquer.

From what makers tell of defects (common practice), by somebody who had not seen the tables.
``called`` is what the defect is called here; a bar between two that it may be called, or that a
practitioner may name first. Of the sixty 51 had the cause first that was meant and 4 one near it
when they were first told; 44 first ways were sound, 13 doubtful, 3 absurd.
Words were fitted to the five after.
"""

from defect_logs import (
    BARE,
    BODY,
    DAY,
    OILED,
    PAD,
    SHELLAC,
    WAXY,
    brushed,
    coat,
    dye,
    last,
    level,
    rest,
    rub_out,
    said,
    seal,
    spirit_off,
    sprayed,
    tack,
    wiping,
)


def _shares(numbers, share):
    """Return the same share of the wait for several steps."""
    return dict.fromkeys(numbers, share)


EIGHTEENTH = [
    said(
        "aye it's gone milky aw ower, like breath on a windae, the minute the pad cam aff",
        "blush",
        "damp-air",
        [*BARE, *BODY],
        air=(18.0, 84.0, 0.1),
        in_hand=4,
        later=0.02,
    ),
    said(
        "day after and she still takes my thumb print all over. it's this wet weather we "
        "been having",
        "sticky",
        "old-batch",
        [*BARE, *BODY],
        air=(21.0, 42.0, 0.1),
        batch_months=14,
        later=0.95,
        not_yet=2,
    ),
    said(
        "sixth go and the rubber started grabbing, tore it up in little ridges, middle of the"
        " panel worst",
        "burn",
        "soft-below",
        [*BARE, *BODY],
        shares=_shares(range(4, 10), 0.08),
        in_hand=3,
        later=0.05,
    ),
    said(
        "comes over greasy and foggy. wipe it off, back again by morning. third day now",
        "blush",
        "oil",
        [*BARE, seal(), *[OILED] * 7, last(OILED, "20 h")],
        later=3 * DAY,
    ),
    said(
        "white cloudy lines right along the joints, third coat after the wet papering. "
        "reckon glue's let go in there",
        "blush",
        "water-below",
        [
            *BARE,
            seal(),
            *[PAD] * 4,
            last(PAD, "20 h"),
            level("P400", "soapy water", "4 h"),
            *[PAD] * 3,
        ],
        species="sycamore",
        veneer_mm=0.6,
        shares={10: 0.08},
        air=(20.0, 55.0, 0.1),
        later=0.5,
    ),
    said(
        "pale stripe down both long edges, 3 mm, brown's gone out of it. came while I was flatting",
        "sand-through of colour",
        "few-coats",
        [*BARE, dye(), seal(), PAD, PAD, last(PAD, "12 h"), level("P320", "dry")],
    ),
    said(
        "glass at christmas. six weeks on and every pore's a dimple under the lamp. cheap "
        "flakes, that's what",
        "sinking",
        "rubbed-soon",
        [*BARE, *BODY, level("P600", "mineral-spirits"), *[PAD] * 3, last(PAD, "20 h"), rub_out()],
        species="walnut",
        later=6 * 7 * DAY,
    ),
    said(
        "the white line has gone pink, only where it sits next the red wood, pinker every coat",
        "bleeding",
        "dark-wood",
        [*BARE, *BODY],
        species="padauk",
        veneer_mm=0.6,
        in_hand=4,
    ),
    said(
        "45 min and it's still tacky, streaks winna lie down. shop's perishin, 9 degrees",
        "sticky",
        "cold-damp",
        [*BARE, *BODY],
        air=(9.0, 60.0, 0.1),
        in_hand=5,
        later=1.5,
        not_yet=2,
    ),
    said(
        "ropes and ridges all one way, i can catch em with a nail, dried hard like that",
        "ridge",
        "soft-below|too-heavy",
        [*BARE, seal(), *[coat(cut="3 lb")] * 6, last(coat(cut="3 lb"), "20 h")],
        used=_shares(range(5, 12), 2.4),
        later=0.8,
    ),
    said(
        "wee white hairs stuck in the polish, hundreds. put a bit of new shirt on the rubber "
        "this morning",
        "dust nib",
        "lint",
        [*BARE, *BODY],
        in_hand=3,
    ),
    said(
        "it's come up gritty like a cat's tongue. jar must have gone grainy, wants straining",
        "",
        "dust",
        [*BARE, *BODY],
        sanding_near=10,
        in_hand=2,
        later=0.6,
    ),
    said(
        "shone lovely when ah rubbed it oot. fortnight on it's flat, and ah can see "
        "scratches ah thought were gone",
        "scratches",
        "rubbed-soon",
        [
            *BARE,
            *BODY,
            level("P1000", "mineral-spirits"),
            *[PAD] * 3,
            last(PAD, "20 h"),
            rest("21 days", "cure"),
            rub_out(),
        ],
        species="maple",
        shares={17: 0.1},
        in_hand=1,
        later=14 * DAY,
    ),
    said(
        "a bite out of it the shape of the pad, 40 mm, middle of the lid, rucked inside. "
        "phone went and I stopped",
        "burn",
        "stopped",
        [*BARE, *BODY],
        in_hand=2,
        later=0.2,
    ),
    said(
        "cloudy again on a dry day, dial says 40. meths came out of the can that's stood "
        "with no cap on since summer",
        "blush",
        "wet-alcohol",
        [*BARE, *BODY],
        air=(22.0, 40.0, 0.1),
        in_hand=3,
        later=0.3,
    ),
    said(
        "white ring 80 mm over, somebody stood a mug of tea on it all evening",
        "white ring",
        "heat",
        [*BARE, *BODY, rest("14 days", "cure")],
        in_hand=1,
        later=60 * DAY,
    ),
    said(
        "went over with neat meths to fetch the oil out, an hour after the last coat, and now"
        " dull burnt smears 2 inches long, rough",
        "burn",
        "wet-spirit",
        [*BARE, seal(), *[OILED] * 7, last(OILED, "20 h"), spirit_off()],
        shares={12: 0.05},
    ),
    said(
        "every hair of the brush is still there, like corduroy, 2nd coat no better than the first",
        "brush marks",
        "too-heavy",
        [*BARE, brushed(SHELLAC, "3 h", cut="3.5 lb"), brushed(SHELLAC, "3 h", cut="3.5 lb")],
        air=(29.0, 40.0, 0.1),
    ),
    said(
        "tears ran down all four walls inside and set at the bottom like candle wax",
        "sag",
        "too-much",
        [*BARE, seal(), brushed(SHELLAC, "3 h", cut="2 lb", amount="60 ml/m2")],
        used={5: 2.1},
    ),
    said(
        "second brushing picked the first one up and dragged it to crumbs",
        "burn",
        "soft-below",
        [*BARE, brushed(SHELLAC, "3 h", cut="2 lb"), brushed(SHELLAC, "3 h", cut="2 lb")],
        shares={4: 0.06},
        later=0.05,
    ),
    said(
        "pinhead bubbles bang over the pores, hundreds. brought it in from the cold shed to "
        "by the stove and brushed it straight off",
        "pinholes",
        "warm",
        [*BARE, brushed(SHELLAC, "3 h", cut="2 lb")],
        species="red oak",
        air=(24.0, 40.0, 0.1),
    ),
    said(
        "4 days and it still sticks to your finger on the dark oily timber. tin says ten hours",
        "sticky",
        "oily-wood",
        [*BARE, brushed()],
        species="cocobolo",
        later=4 * DAY,
        not_yet=3,
    ),
    said(
        "knocked a corner, and I could peel it with a nail clean back to the shellac, like "
        "cling film",
        "lifting",
        "wax-below",
        [*BARE, seal(product=WAXY), brushed(), level("P320", "dry"), tack(), brushed()],
        later=6 * DAY,
    ),
    said(
        "top coat lifts in one sheet, under it the first sits there shiny. life got in the "
        "way, ten days between",
        "lifting",
        "unscuffed",
        [*BARE, seal(), brushed(), brushed()],
        gaps={6: 10},
        later=4 * DAY,
    ),
    said(
        "wrinkled up like a prune by morning, still jelly under the skin 3 days on",
        "lifting",
        "thick-coat",
        [*BARE, seal(), brushed()],
        used={5: 2.6},
        air=(24.0, 50.0, 0.1),
        later=3 * DAY,
    ),
    said(
        "curtains all along the front, 10 mm long. mate says the varnish is too thin out the tin",
        "sag",
        "too-much",
        [*BARE, seal(), brushed(), level("P320", "dry"), tack(), brushed()],
        used={8: 1.9},
        later=0.7,
    ),
    said(
        "saturday's coat. it's tuesday. still tacky.",
        "sticky",
        "cold-damp",
        [*BARE, seal(), brushed()],
        air=(11.0, 82.0, 0.1),
        later=3 * DAY,
        not_yet=3,
    ),
    said(
        "patchy, shiny islands in a dull sea, specially near end grain. only had two wipes of"
        " it so far",
        "streaks",
        "first-drunk",
        [*BARE, wiping(), wiping()],
        species="walnut",
        later=1.0,
    ),
    said(
        "craters, wee rings wi a dot in the middle, as soon as it went on. top's had "
        "polish out a spray can on it for thirty year",
        "fisheye",
        "silicone",
        [*BARE, brushed()],
        later=0.02,
    ),
    said(
        "went white as skimmed milk a minute behind the gun. cheap thinners, never again",
        "blush",
        "damp-air",
        [*BARE, seal(), sprayed(), sprayed()],
        air=(27.0, 80.0, 0.3),
        later=0.05,
    ),
]
