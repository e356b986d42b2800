"""Pictures for a page: turned upright, made small, without the place where they were taken."""

from __future__ import annotations

import base64
import warnings
from pathlib import Path

from finishsched.documents.plain_files import read_plain
from finishsched.refusals import RefusalError
from finishsched.workshop.papers.picture_entries import kind_of

LONGEST_SIDE_PX = 1400
PLAIN_MOST_BYTES = 600_000
"""Without the extra, a picture is taken as it is, and only up to this size."""

_KINDS = ("JPEG", "PNG")
"""Others are never opened: some make the reader start other programs."""


class PictureFaultError(RefusalError, ValueError):
    """A picture that cannot be put into a page: what is wrong, and what would be right."""


def embedded(folder: Path, name: str) -> str:
    """Return the picture ``name`` of ``folder`` as an address that needs no file beside the page.

    Raises:
        PictureFaultError: when it lies elsewhere, cannot be read, is no picture, or is too large
            as it is.

    """
    path = folder / name
    if not _lies_in(folder, path):
        raise PictureFaultError(
            f"{name!r} lies outside the shop's folder; copy it in, and attach that"
        )
    try:
        data = read_plain(path)
    except OSError as error:
        raise PictureFaultError(
            f"{path.name}: {error.strerror}; put it back, or undo its entry"
        ) from None
    kind, data = _small(path.name, data)
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"


def _lies_in(folder: Path, path: Path) -> bool:
    """Tell whether a picture is the shop's own: a journal from elsewhere may name any file."""
    try:
        return path.resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError):
        return False


def _small(name: str, data: bytes) -> tuple[str, bytes]:
    try:
        from PIL import Image, ImageOps  # noqa: PLC0415  # an extra
    except ImportError:
        return _as_it_is(name, data)
    import io  # noqa: PLC0415

    try:
        with (
            warnings.catch_warnings(action="ignore"),
            Image.open(io.BytesIO(data), formats=_KINDS) as opened,
        ):
            upright = ImageOps.exif_transpose(opened).convert("RGB")
            upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            out = io.BytesIO()
            upright.save(out, "JPEG", quality=82, optimize=True)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise PictureFaultError(
            f"{name}: no picture that can be read ({type(error).__name__}); attach a JPEG or PNG"
        ) from None
    return "image/jpeg", out.getvalue()


def _as_it_is(name: str, data: bytes) -> tuple[str, bytes]:
    kind = kind_of(data)
    if kind is None:
        raise PictureFaultError(f"{name}: no JPEG and no PNG; attach one of these")
    if len(data) > PLAIN_MOST_BYTES:
        raise PictureFaultError(
            f"{name}: {len(data) // 1000} kB; pip install 'finishsched[pictures]' makes it small"
        )
    return kind, data
