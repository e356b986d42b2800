"""Forty made-up logs in words and pictures of makers, written before the words were read by stems.

From what handbooks and makers tell of defects (common practice), by somebody who knew the table
of causes, but wrote none of the words for it. ``called`` is what the defect is called here.
"""

from defect_logs import (
    ALL,
    BARE,
    BODY,
    DAY,
    PAD,
    TUNG,
    brushed,
    coat,
    dye,
    glued,
    hours,
    level,
    oil,
    pumice,
    rub,
    said,
    sand,
    seal,
    sprayed,
    stain,
    tack,
    waterborne,
    wax,
    wiping,
)

FOURTH = [
    said(
        "went as cloudy as a cataract while I was still spraying", "blush", "damp-air",
        [*BARE, sprayed(), sprayed()], air=(20, 83, 0.1), later=hours("3 min"),
    ),
    said(
        "the rubber keeps grabbing and leaves drag lines", "burn|ridge", "soft-below|heaped", BODY,
        shares=ALL(range(2, 9), 0.25), later=hours("1 min"),
    ),
    said(
        "tramlines all over where the brush passed", "ridge|brush marks", "too-heavy",
        [*BARE, seal(), coat("brush", cut="3.5 lb", amount="70 ml/m2", wait="3 h")], later=0.9,
    ),
    said(
        "zebra stripes, shiny then dull then shiny", "streaks", "settled",
        [*BARE, brushed(), brushed()], notes={5: "tin stood since spring, did not stir it"},
        later=DAY,
    ),
    said(
        "it got tacky under the brush and now every stroke shows", "brush marks|streaks|ridge",
        "overworked|lost-edge", [*BARE, brushed()], air=(32, 30, 0.6), later=DAY,
    ),
    said(
        "the holly has an amber cast now, I wanted it pale", "colour change",
        "own-colour|yellowing", [*BARE, brushed(), brushed()], species="holly", later=2 * DAY,
    ),
    said(
        "goosebumps over the whole panel", "orange peel", "too-heavy",
        [*BARE, sprayed(), sprayed()], species="maple", later=DAY,
    ),
    said(
        "feels like sugar along the far edge", "orange peel|dust nib", "lean",
        [*BARE, sprayed(thinned="25 %"), sprayed(thinned="25 %")],
        notes={5: "held the gun half a metre off"}, species="maple", later=DAY,
    ),
    said(
        "little moons opened up as soon as I laid it on", "fisheye", "silicone",
        [*BARE, brushed(), brushed()],
        notes={4: "used a silicone spray on the saw table just before"}, later=hours("5 min"),
    ),
    said(
        "looks like crocodile skin now", "crackle", "thick-film", [*BARE, *[brushed()] * 5],
        used=ALL(range(4, 9), 1.8), later=300 * DAY,
    ),
    said(
        "second coat shrivelled up like a dried apple", "lifting", "recoated-soon",
        [*BARE, brushed(), brushed()], shares={4: 0.3}, later=hours("1 h"),
    ),
    said(
        "still gummy after a fortnight", "sticky", "excess", [*BARE, oil(), oil()],
        used={5: 3}, notes={5: "left it on over lunch, would hardly come off"}, species="cherry",
        later=14 * DAY, not_yet=2,
    ),
    said(
        "my thumb sticks to the lid three days on", "sticky", "cold-damp", [*BARE, brushed()],
        air=None, notes={4: "cold shed today, could see my breath"}, later=3 * DAY, not_yet=1,
    ),
    said(
        "bristles and black bits in the coat", "dust nib", "bits|bristles", [*BARE, brushed()],
        notes={4: "old brush, it sheds"}, later=DAY,
    ),
    said(
        "stubble all over like a chin in the evening", "raised grain", "grain-raised",
        [*BARE, dye(), seal()], species="ash", later=hours("2 h"),
    ),
    said(
        "leopard spots when the stain went on", "blotches", "drinks-unevenly",
        [*BARE, stain("spirit-dye")], species="pine", later=0.9,
    ),
    said(
        "pepper specks under the clear, inky", "rust", "steel",
        [*BARE, waterborne(), level("0000 wool", "dry"), tack(), waterborne()], species="oak",
        later=2 * DAY,
    ),
    said(
        "stands up like a pillow and sounds hollow", "blister", "glue-lets-go",
        [glued(), *BARE, seal(), PAD], shares={1: 0.3}, veneer_mm=0.6, later=10 * DAY,
    ),
    said(
        "I can slide a sheet of paper between the strips since the stove is on", "open seam",
        "dry-room", [glued(), *BARE, seal(), *[PAD] * 5], veneer_mm=0.9, air=(19, 60, 0.1),
        air_later=(23, 24, 0.1), later=70 * DAY,
    ),
    said(
        "the teapot left a pale disc", "white ring", "heat", [*BODY], later=90 * DAY,
    ),
    said(
        "a wet flower pot stood there an hour and left a milky shape", "white ring", "uncured|thin",
        [*BODY], later=2 * DAY,
    ),
    said(
        "wore through along the arris", "sand-through of film", "edge", [*BODY, level("P600")],
        in_hand=1, later=1.2,
    ),
    said(
        "the ply is peeping out", "sand-through of veneer", "thin-veneer|many-sandings",
        [sand("P120"), sand("P180"), sand("P240"), sand("P320")], veneer_mm=0.4, later=hours("1 h"),
    ),
    said(
        "an atlas of islands after I flatted it", "witness lines", "separate|few-coats",
        [*BARE, *[wiping()] * 4, level("P600", "soapy water")], gaps={8: 10}, later=hours("1 h"),
    ),
    said(
        "it fizzed and dried like lemonade", "pinholes", "shaken", [*BARE, brushed()],
        notes={4: "shook the tin well"}, species="maple", later=DAY,
    ),
    said(
        "a needle prick above every pore", "pinholes", "open-pores", [*BARE, *[sprayed()] * 3],
        species="oak", later=DAY,
    ),
    said(
        "holly went pink beside the padauk", "bleeding", "dark-wood", [*BARE, PAD, PAD],
        species="padauk and holly", later=hours("20 min"),
    ),
    said(
        "a brown tea stain has come through", "bleeding|colour change", "tannin",
        [*BARE, waterborne(), waterborne()], species="oak", later=DAY,
    ),
    said(
        "it sweats little beads whenever the sun is on it", "bleeding", "excess",
        [*BARE, oil(), oil()], species="ash", used={4: 2.2}, later=3 * DAY,
    ),
    said(
        "bright at the rim but dead in the middle, looks hungry", "dull patch", "thin-film",
        [*BARE, PAD, PAD], species="walnut", later=2.0,
    ),
    said(
        "its sparkle went a fortnight after I rubbed it", "dull patch|sinking", "rubbed-soon",
        [*BODY, level("P600"), rub("P1500", "soapy water"), rub("", "mineral-oil", "rottenstone")],
        later=14 * DAY,
    ),
    said(
        "the ghost of the grain is back", "sinking", "open-pores|filler-shrunk|rubbed-soon",
        [*BARE, *[sprayed()] * 5], species="mahogany", later=40 * DAY,
    ),
    said(
        "the paper skates and grows warts", "corning", "soft", [*BODY, level()], in_hand=1,
        later=0.2,
    ),
    said(
        "you can read the weave of the blanket in it", "print", "handled-soon",
        [*BARE, *[sprayed()] * 4], later=hours("15 h"),
    ),
    said(
        "pale freckles in the grain under a lens", "white in the pores", "pumice-dry",
        [*BARE, seal(), pumice(), pumice(), PAD, PAD], species="walnut", later=DAY,
    ),
    said(
        "smeary like a badly wiped window after I polished it up", "streaks|sticky|dull patch",
        "wax-on-top", [*BODY, wax()], gaps={10: 25}, later=2 * DAY,
    ),
    said(
        "drapes down the side of the box", "sag", "too-much",
        [*BARE, sprayed(thinned="25 %"), sprayed(thinned="25 %")], used={5: 1.9},
        later=hours("10 min"),
    ),
    said(
        "it melted under the buffing wheel", "burn", "rub-heat",
        [*BODY, rub("P1500", "soapy water"), rub("", "", "rottenstone")], gaps={10: 20},
        later=hours("1 h"),
    ),
    said(
        "a crescent where the clamp slipped onto it", "dent", "knock", [*BARE, seal(), *[PAD] * 4],
        later=DAY,
    ),
    said(
        "the end by the window has lost its red", "colour change", "light",
        [*BARE, oil(TUNG), oil(TUNG)], species="cherry", later=300 * DAY,
    ),
]  # fmt: skip
