"""A face as it is: its field, edges and corners, inlays, seams and patches, each a zone.

How much harder paper presses at an edge is not measured for hands. The factors are our assumption
within two formulas: a rigid block that overhangs by a share f presses (1 + 2 f) / (1 - f)^2 times
as hard at the arris (footing on springs, textbook), a pad larger than the work 2.9 times on the
outer tenth (rigid punch: Johnson, Contact Mechanics, Cambridge, 1985; from memory). The trade says
two to three times.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from finishsched.film.abrading import Backing
from finishsched.film.materials import WOOD_SPREAD, Material, material_of, wood_of
from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.place_words import Says, says
from finishsched.model.ranges import NOTHING, Range

PLACE_MM = 15.0
"""One place of a face, across: an area that is cut through or not as a whole. 10 to 20 mm, our
assumption; a face has its area over this squared."""

EDGE_MM = 4.0
"""How far in from the arris an edge reaches: 3 to 5 mm, our assumption."""

PROUD_SPOTS_UM = Range(0.5, 2.0, 4.0)
"""How far the highest spots of sanded wood stand above its face, raised fibres (our assumption)."""
PROUD_SPOTS_SD_UM = 1.0
"""How much that differs from place to place (our assumption)."""

VENEER_TOLERANCE_UM = 40.0
"""How far a stated veneer is out, 5 % to 95 % each way: sliced 0.03 to 0.05 mm (from memory)."""
MEASURED_TOLERANCE_UM = 15.0
"""The same for one that was measured on the piece (our assumption: a caliper and a hand)."""
STEP_TOLERANCE_UM = 10.0
"""How far out a step is that was measured on a face (our assumption: a feeler or a dial gauge)."""
INLAY_TOLERANCE_SHARE = 0.1
"""Of an inlay's thickness: how far it is out, no more than a veneer (our assumption)."""
USUAL_INLAY_SHARE = 0.05
"""Of a face, where a job does not say how large its inlay is (our assumption)."""
USUAL_INLAY_MM = 5.0
"""How wide its parts are then (our assumption)."""

UNCHANGED = Range(1.0, 1.0, 1.0)

_EDGE = r"(?:edge|arris|corner)(?:s|es)?"
_LIGHTLY = (
    r"light(?:ly)?|gent(?:le|ly)|barely|softly"
    r"|(?:one|two|few|couple of)\b.{0,15}\b(?:strokes?|passes)"
)
_SPARES = re.compile(
    rf"\b(?:off|spar\w+|away from|clear of|short of|avoid\w*|not (?:at|on|over)|stop\w* at|"
    rf"easy (?:on|at)|light(?:ly)? (?:on|at)) (?:all )?(?:the )?{_EDGE}"
    rf"|{_EDGE}\b[^.;]{{0,20}}\b(?:once|last|spared|untouched|alone|left|{_LIGHTLY})"
)
"""Words by which edges get one or two strokes and no more."""
_LIGHT = re.compile(rf"\b(?:{_LIGHTLY}|whisper|kiss\w*|nibs?|de-?nib\w*|just dull\w*)\b")


class ZoneKind(StrEnum):
    """What a part of a face is."""

    FIELD = "field"
    EDGE = "edges"
    CORNER = "corners"
    INLAY = "inlay"
    SEAM = "seam"
    PATCH = "patch"
    SPOT = "spot"

    @property
    def is_at_edge(self) -> bool:
        """True where paper presses harder than in the field."""
        return self in (ZoneKind.EDGE, ZoneKind.CORNER)


EDGE_PRESSES = {
    Backing.HARD: Range(1.0, 1.2, 1.5),
    Backing.WORKED: Range(1.5, 2.2, 2.7),
    Backing.CORK: Range(1.5, 2.5, 4.0),
    Backing.FINGERS: Range(2.0, 5.0, 10.0),
    Backing.KEPT_OFF: Range(0.4, 0.8, 1.3),
}
"""Times as much off at an edge as in the field; a hard block is one that is kept three quarters on
(our assumption, within the formulas above)."""

CORNER_POWER = 1.5
"""A corner has an edge's factor to this power: between the edge's own, where strokes overhang one
side at a time, and its square, where they overhang both (our assumption)."""

ARRIS_FILM = Range(0.5, 0.7, 0.9)
"""Film at an arris over that of the face: it draws back while wet (coatings texts; our figure)."""

STIFF_MPA = {
    Backing.HARD: 50.0,
    Backing.WORKED: 50.0,
    Backing.CORK: 10.0,
    Backing.FINGERS: 0.3,
    Backing.KEPT_OFF: 10.0,
}
"""How stiff a backing is (our assumption; from memory of handbooks)."""
PAPER_MM = 0.2
"""How thick the paper is that alone gives on a rigid block."""
HAND_MPA = 0.002
"""How hard a hand presses a block: 10 N on 50 cm2 (our assumption)."""


@dataclass(frozen=True, slots=True)
class Zone:
    """One zone of a face."""

    kind: ZoneKind
    name: str
    """What people call it: ``field``, ``edges``, ``shell inlay``."""
    area_mm2: float
    places: float
    """How many places it has that are cut through or not, 1 or more."""
    material: Material
    thick_um: Range | None = None
    """Of veneer or inlay; None for solid wood."""
    proud_um: Range = NOTHING
    """How far it stands above the field at first."""
    low_um: Range = NOTHING
    """How far it lies below."""
    width_mm: float = 0.0
    film: Range = UNCHANGED
    """Film that a coat lays here over what it lays in the field."""
    beside: str = "field"
    """Of what stands by itself, the zone that it lies in, and that paper brings it down to."""
    lies_at: ZoneKind = ZoneKind.FIELD
    """What that zone is."""

    @property
    def is_wood(self) -> bool:
        """True for the field and for an inlay of another wood."""
        return self.material.spread == WOOD_SPREAD

    @property
    def is_edge(self) -> bool:
        """True where paper presses harder than in the field."""
        return self.kind.is_at_edge

    @property
    def stands_by_itself(self) -> bool:
        """True for what stands above or below the zone round it: inlay, seam, patch, spot."""
        return self.kind is not ZoneKind.FIELD and not self.is_edge

    @property
    def is_mended(self) -> bool:
        """True for a place that is mended by itself: a spot, or a patch let in there."""
        return self.kind in (ZoneKind.SPOT, ZoneKind.PATCH)

    def presses(self, backing: Backing) -> Range:
        """Return how many times as much paper takes here as in the field."""
        kind = self.lies_at if self.stands_by_itself else self.kind
        if not kind.is_at_edge:
            return UNCHANGED
        edge = EDGE_PRESSES[backing]
        if kind is ZoneKind.EDGE:
            return edge
        ends = (math.pow(end, CORNER_POWER) for end in (edge.low, edge.likely, edge.high))
        return Range(*ends)


def backing_of(words: str) -> Backing:
    """Return what is behind the paper by the words of a step; a block where they do not say.

    Known are whatever spares edges (``off the edges``, ``edges last and lightly``), ``hard block``,
    ``cork``, ``felt``, ``finger``, ``by hand`` and ``foam``.
    """
    said = words.lower()
    if _SPARES.search(said):
        return Backing.KEPT_OFF
    if any(word in said for word in ("hard block", "hard, flat block", "glass block")):
        return Backing.HARD
    if any(word in said for word in ("finger", "foam", "sponge", "by hand")):
        return Backing.FINGERS
    return Backing.CORK if "cork" in said or "felt" in said else Backing.WORKED


def is_light(words: str) -> bool:
    """Tell whether a step is said to be done by a light hand: ``lightly``, ``a few strokes``."""
    return _LIGHT.search(words.lower()) is not None


def zones_of(piece: Piece) -> tuple[Zone, ...]:
    """Return the zones of a piece, its field first."""
    wood = wood_of(piece.made_of, piece.hardness_n)
    area_mm2 = piece.area_m2 * 1e6
    around_mm = sum(map(_length_around_mm, piece.faces))
    thick_um = around(piece.veneer_mm * 1000, VENEER_TOLERANCE_UM) if piece.veneer_mm else None
    corners = 4.0 * sum(face.count for face in piece.faces)
    field = Zone(
        ZoneKind.FIELD,
        "field",
        area_mm2,
        max(1.0, area_mm2 / PLACE_MM**2),
        wood,
        thick_um,
    )
    edges = Zone(
        ZoneKind.EDGE,
        "edges",
        around_mm * EDGE_MM,
        max(1.0, around_mm / PLACE_MM),
        wood,
        thick_um,
        width_mm=EDGE_MM,
        film=ARRIS_FILM,
    )
    at_corners = Zone(
        ZoneKind.CORNER,
        "corners",
        corners * EDGE_MM**2,
        max(1.0, corners),
        wood,
        thick_um,
        width_mm=EDGE_MM,
        film=ARRIS_FILM,
    )
    inlays = (_inlaid(inlay, piece) for inlay in piece.inlays)
    return (field, edges, at_corners, *inlays)


LEAST_NAME = 3
"""A word of a zone's name that is no longer names nothing by itself: ``of``."""
NAMED = {Says.CORNER: ZoneKind.CORNER, Says.EDGE: ZoneKind.EDGE}


def zone_named(words: str, zones: tuple[Zone, ...]) -> Zone:
    """Return the zone that words mean: an inlay by its material, edge, corner; else the field."""
    said = words.lower()
    inlaid = [zone for zone in zones if zone.stands_by_itself]
    for zone in inlaid:
        if zone.name.removesuffix(" inlay") in said:
            return zone
    for zone in inlaid:
        # ``the holly`` is the holly stringing, and so is ``the stringing``.
        own = zone.name.removesuffix(" inlay").split()
        if any(word in said.split() for word in own if len(word) > LEAST_NAME):
            return zone
    spoken = re.findall(r"[a-z]+", said)
    for named, kind in NAMED.items():
        if any(says(word, named) for word in spoken):
            return next(zone for zone in zones if zone.kind is kind)
    return inlaid[0] if inlaid and "inlay" in said else zones[0]


_OF_THE_VENEER = {"patch": ZoneKind.PATCH, "seam": ZoneKind.SEAM}


def patch_of(piece: Piece, number: int, area_m2: float, where: str = "") -> Zone:
    """Return the zone that a patch is once it is let in and brought flush with the face.

    Source: a square of the piece's own wood (our assumption).

    Args:
        piece: what it is let into.
        number: of the patch, 1 or more, no unit.
        area_m2: m2, above 0.
        where: it lies, in words; empty for the field.

    """
    return _mended(ZoneKind.PATCH, piece, number, area_m2, where)


def spot_of(piece: Piece, number: int, area_m2: float, where: str = "") -> Zone:
    """Return the zone that a spot is which is mended by itself; its ground is that round it.

    Source: a square (our assumption).

    Args:
        piece: that it lies on.
        number: of the spot, 1 or more, no unit.
        area_m2: m2, above 0.
        where: it lies, in words; empty for the field.

    """
    return _mended(ZoneKind.SPOT, piece, number, area_m2, where)


def _mended(kind: ZoneKind, piece: Piece, number: int, area_m2: float, where: str) -> Zone:
    zones = zones_of(piece)
    named = zone_named(where, zones)
    # In an inlay or a seam it is brought down to the face round that.
    host = zones[0] if named.stands_by_itself else named
    area_mm2 = area_m2 * 1e6
    return Zone(
        kind,
        f"{kind.value} {number}",
        area_mm2,
        max(1.0, area_mm2 / PLACE_MM**2),
        host.material if kind is ZoneKind.PATCH else named.material,
        width_mm=math.sqrt(area_mm2),
        film=host.film,
        beside=host.name,
        lies_at=host.kind,
    )


def _inlaid(inlay: Inlay, piece: Piece) -> Zone:
    area_mm2 = 1e6 * (inlay.area_m2 or piece.area_m2 * USUAL_INLAY_SHARE)
    stated_um = inlay.thickness_mm * 1000
    tolerance_um = min(VENEER_TOLERANCE_UM, stated_um * INLAY_TOLERANCE_SHARE)
    kind = _OF_THE_VENEER.get(inlay.material, ZoneKind.INLAY)
    return Zone(
        kind,
        inlay.name,
        area_mm2,
        max(1.0, area_mm2 / PLACE_MM**2),
        material_of(inlay.made_of, inlay.hardness_n)
        if kind is ZoneKind.INLAY
        else wood_of(piece.made_of, piece.hardness_n),
        around(stated_um, tolerance_um),
        around(inlay.proud_um, min(inlay.proud_um / 2, tolerance_um)),
        around(inlay.low_um, min(inlay.low_um / 2, tolerance_um)),
        inlay.width_mm or min(math.sqrt(area_mm2), USUAL_INLAY_MM),
    )


def around(value: float, side: float) -> Range:
    """Return a range of ``side`` each way, never below 0.

    Source: by definition.

    Args:
        value: mm, um or any unit, 0 or more.
        side: in the same unit, 0 or more.

    """
    return Range(max(0.0, value - side), value, value + side)


def _length_around_mm(face: Face) -> float:
    """Return the length of all edges of a face; of a square one where its sides are not known."""
    if face.length_mm and face.width_mm:
        return 2 * (face.length_mm + face.width_mm) * face.count
    return 4 * math.sqrt(face.area_m2 / face.count * 1e6) * face.count
