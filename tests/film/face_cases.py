"""Faces, coats and papers that the tests of zones are made of."""

from __future__ import annotations

from hypothesis import strategies as st

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import begin_face
from finishsched.film.ledger import Ground, Laid
from finishsched.film.zones import zones_of
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, grade_of
from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.ranges import NOTHING, Range

SHELL = Inlay("shell", 0.3, in_mm=0.6, area_m2=400e-6, width_mm=10.0)
STRINGING = Inlay("holly", 0.7, in_mm=0.6, area_m2=500e-6, width_mm=1.0)

PATCH = Inlay("patch", 0.6, in_mm=0.45, area_m2=100e-6, width_mm=10.0)
SEAM = Inlay("seam", 0.6, stated_proud_mm=0.03, area_m2=300e-6, width_mm=1.0)

coats = st.builds(
    lambda wet_um: Laid(
        Range(0.7 * wet_um, wet_um, 1.4 * wet_um), Range(0.16, 0.17, 0.18), Range(0.2, 0.4, 0.65)
    ),
    st.floats(10, 80),
)
grades = st.sampled_from([f"P{number}" for number in FEPA_UM]).map(grade_of)
strokes = st.builds(
    Stroke,
    grade=grades,
    reach=st.none() | st.sampled_from(Reach),
    wet=st.booleans(),
    rubs=st.booleans(),
    backing=st.sampled_from(Backing),
)


def piece(*inlays, veneer_mm=0.6, species="walnut", sides=(300.0, 200.0)):
    """Return a veneered panel."""
    face = Face("top", length_mm=sides[0], width_mm=sides[1])
    return Piece("p", "P", "any", (face,), species, veneer_mm, inlays=inlays)


def face(*inlays, ground=None, **more):
    """Return the zones of such a panel before any work."""
    return begin_face(zones_of(piece(*inlays, **more)), ground or Ground(NOTHING, NOTHING))


def exactly(value):
    """Return a range without width."""
    return Range(value, value, value)
