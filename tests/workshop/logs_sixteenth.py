"""Made-up logs of padded and brushed shellac and of varnish, and what a practitioner names first.

From what makers tell of defects (common practice), in words as people say them, some with a wrong
cause that they believe in. ``called`` is what the defect is called here; a bar between two that it
may be called, or that a practitioner may name first. Somebody who had not seen the tables told
sixty such logs, these and the next set; 52 of those had the cause first that was meant, one a cause
near it, six a wrong one, and one was asked back. Of the first ways to put it right 17 were not what
a master would do, and eight doubtful. The tables were fitted to them after.
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
    glued,
    hours,
    last,
    level,
    pumice,
    rub_out,
    said,
    sand,
    seal,
    spirit_off,
    stain,
    tack,
    tape_off,
)

SIXTEENTH = [
    said(
        "it went milky on me while I stood there, whole lid, like breath on a window pane "
        "only it doesnt go away",
        "blush",
        "damp-air|wet-alcohol",
        [*BARE, *BODY],
        air=(18.0, 85.0, 0.1),
        in_hand=4,
        later=0.5,
    ),
    said(
        "Rubber grabbed on the 5th lap, I was going round every four minutes to get done. "
        "Tore a strip out, rough as a cat's tongue there.",
        "burn",
        "soft-below|dry-pad|stopped",
        [*BARE, seal(), *[PAD] * 8],
        shares=dict.fromkeys(range(5, 12), 0.12),
        in_hand=2,
        later=0.1,
    ),
    said(
        "three weeks and i can still put my thumb print in it like putty. been a cold spring "
        "so i suppose thats it",
        "sticky",
        "old-batch",
        [*BARE, *BODY],
        batch_months=17,
        air=(21.0, 48.0, 0.1),
        later=21 * DAY,
    ),
    said(
        "greasy beads all over it come the morning, I wipe em off wi' a rag and they're back "
        "again next day",
        "bleeding|sticky",
        "oil",
        [*BARE, seal(), *[OILED] * 8, last(OILED, "24 h")],
        later=4 * DAY,
        species="walnut",
    ),
    said(
        "pores all full of tiny white dots under the polish like somebody salted it. guess "
        "there's damp got in",
        "white in the pores",
        "pumice-dry|residue",
        [*BARE, seal(), pumice(), pumice(), *[PAD] * 6, last(PAD, "20 h")],
        species="mahogany",
        later=3 * DAY,
    ),
    said(
        "Flat as glass at Easter. Now you can count every pore again when you hold it to the "
        "light.",
        "sinking",
        "rubbed-soon|open-pores",
        [*BARE, seal(), *[PAD] * 10, level("P400"), *[PAD] * 4, last(PAD, "20 h")],
        species="walnut",
        shares={14: 0.5},
        later=40 * DAY,
    ),
    said(
        "a pale line all down the front edge, colour's gone off it and it looks like bare wood",
        "sand-through of colour|sand-through of film",
        "few-coats|coarse|edge",
        [*BARE, stain(), seal(), *[PAD] * 3, last(PAD, "12 h"), level("P320", "dry")],
        species="maple",
        later=hours("1 h"),
    ),
    said(
        "swirly fine scratches in the shine, you only see them with the sun low or under the lamp",
        "scratches",
        "not-through-grades|grit",
        [*BARE, seal(), *[PAD] * 12, last(PAD, "48 h"), level("P400"), rub_out()],
        later=hours("3 h"),
        used=dict.fromkeys(range(5, 18), 1.3),
    ),
    said(
        "It's crackled all over like an old dinner plate, hair lines every which way. Put on "
        "about 24 coats in two days, then it stood in the sun room.",
        "crackle",
        "thick-film|dry-room|heaped",
        [*BARE, seal(), *[coat(amount="30 ml/m2", cut="2 lb")] * 24],
        shares=dict.fromkeys(range(5, 28), 0.5),
        air_later=(33.0, 22.0, 0.1),
        later=30 * DAY,
    ),
    said(
        "tramlines. ropey ridges running with my strokes, six or seven of them, shiny on top "
        "and dull down between. 3 lb cut, pad good and juicy",
        "ridge",
        "too-heavy|wet-pad",
        [*BARE, seal(), *[coat(cut="3 lb")] * 4],
        used=dict.fromkeys((5, 6, 7, 8), 1.9),
        later=0.6,
    ),
    said(
        "Dead patch, size of an old half crown, where the spiriting off was done. Polish is "
        "just gone there.",
        "dull patch|burn",
        "wet-spirit",
        [*BARE, seal(), *[OILED] * 6, last(OILED, "24 h"), spirit_off()],
        shares={11: 0.06},
        species="mahogany",
        later=0.2,
    ),
    said(
        "the wife stood a cold jug on it Saturday evening and there's a white ring now wont "
        "rub off",
        "white ring",
        "uncured|water-stood",
        [*BARE, *BODY],
        later=4 * DAY,
    ),
    said(
        "shellac keeps drawing back off it in round craters, wood dry in the middle of each, "
        "same places every coat",
        "fisheye",
        "silicone|wax-below",
        [*BARE, seal(), *[PAD] * 3],
        notes={1: "old lid stripped; they had used spray polish on it for years"},
        in_hand=1,
        later=0.3,
        species="mahogany",
    ),
    said(
        "The white lines gone a dirty mauve next to the dark wood. Pad is purple too.",
        "bleeding",
        "dark-wood|wet-seal",
        [*BARE, *[PAD] * 3],
        species="rosewood",
        in_hand=1,
        later=0.3,
        veneer_mm=0.6,
    ),
    said(
        "feels like fine sandpaper now it is dry, specks standing up all over. these new "
        "flakes cant be much good",
        "dust nib",
        "dust-near|not-tacked",
        [*BARE, seal(), *[PAD] * 4, last(PAD, "12 h")],
        sanding_near=9,
        later=0.5,
    ),
    said(
        "smoky grey cloud sits under the polish along both seams. rubbing with spirit makes "
        "no odds to it",
        "blush|white in the pores",
        "water-below",
        [glued(), tape_off(), sand("P180"), tack(), seal(), *[PAD] * 4],
        veneer_mm=0.6,
        shares={2: 0.05},
        later=DAY,
        species="walnut",
    ),
    said(
        "went white round the corners and down the joint after flatting, rest of it is OK",
        "blush|white in the pores|white ring",
        "water-below",
        [*BARE, seal(), *[PAD] * 6, level("P400", "soapy water", "2 h")],
        veneer_mm=0.7,
        shares={10: 1.0},
        later=0.3,
    ),
    said(
        "dried up in furrows like a ploughed field, every hair of the brush to see",
        "brush marks",
        "too-heavy|overworked|flashed",
        [*BARE, brushed(SHELLAC, "3 h", cut="3 lb"), brushed(SHELLAC, "3 h", cut="3 lb")],
        air=(26.0, 40.0, 0.4),
        later=0.5,
    ),
    said(
        "drips and curtains hanging off the moulding, set hard",
        "sag",
        "too-much",
        [*BARE, brushed(SHELLAC, "3 h", cut="1.5 lb"), brushed(SHELLAC, "3 h", cut="1.5 lb")],
        used={4: 1.2, 5: 2.2},
        later=0.8,
    ),
    said(
        "2nd coat dug up the 1st, twenty minutes after. rolled up in little crumbs under the "
        "brush, got bald patches",
        "lifting|burn",
        "bitten|soft-below|overworked",
        [*BARE, brushed(SHELLAC, "3 h", cut="2 lb"), brushed(SHELLAC, "3 h", cut="2 lb")],
        shares={4: 0.1},
        later=0.1,
    ),
    said(
        "wee pin pricks of air dried in it, all strung along the grain, none where the wood's"
        " close",
        "pinholes",
        "open-pores|shaken|warm",
        [*BARE, brushed(SHELLAC, "3 h", cut="2 lb")],
        species="ash",
        air=(29.0, 45.0, 0.1),
        later=0.9,
    ),
    said(
        "five days and its still tacky. shop has been on the cold side I reckon",
        "sticky",
        "oily-wood",
        [*BARE, brushed()],
        species="cocobolo",
        air=(21.0, 50.0, 0.1),
        not_yet=3,
        later=5 * DAY,
        in_hand=0,
    ),
    said(
        "Third morning. Still like flypaper.",
        "sticky",
        "cold-damp",
        [*BARE, brushed(), brushed()],
        species="oak",
        air=(8.0, 82.0, 0.1),
        not_yet=2,
        later=3 * DAY,
    ),
    said(
        "skinned over and then drew up in folds like the skin on custard, worst in the "
        "corners where its deep",
        "lifting",
        "thick-coat|recoated-soon",
        [*BARE, brushed(), brushed()],
        used={5: 2.5},
        later=2.0,
    ),
    said(
        "It come off in strips with my fingernail like sunburn, right down to the orange "
        "shellac, which was the kind with the wax in",
        "lifting",
        "wax-below|unscuffed",
        [
            *BARE,
            coat("brush", WAXY, "3 h", stage="seal", cut="1.5 lb", amount="60 ml/m2"),
            brushed(),
            brushed(),
        ],
        later=20 * DAY,
        species="cherry",
    ),
    said(
        "the top coat flakes off the one beneath it, leaves it clean and shiny below. must "
        "have been a bad tin",
        "lifting",
        "unscuffed",
        [*BARE, brushed(), brushed(), brushed()],
        gaps={6: 16},
        later=7 * DAY,
        species="maple",
    ),
    said(
        "Pin head bubbles set in it everywhere. Gave the tin a right good shake first like always.",
        "pinholes",
        "shaken",
        [*BARE, brushed(), brushed()],
        later=1.0,
    ),
    said(
        "came up patchy. shiny one place dead the next, so you'd think somebody had wiped it",
        "streaks|dull patch|blotches",
        "first-drunk|thin-film|drinks-unevenly",
        [*BARE, brushed()],
        later=1.5,
        species="cherry",
        in_hand=0,
    ),
    said(
        "The felt feet of a lamp have left their pattern in the top, and paper sticks to it. "
        "Last coat was 4 days ago.",
        "print",
        "handled-soon|thick-film|recoated-soon",
        [*BARE, brushed(), brushed(), brushed()],
        later=4 * DAY,
        species="oak",
    ),
]
