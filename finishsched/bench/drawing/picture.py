"""A picture of the bench as SVG, in a plain frame; it loads nothing from anywhere."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

if TYPE_CHECKING:
    from textual.app import App
    from textual.screen import Screen

LINE_PX, PAD_PX = 24.4, 10
"""The height of a line as rich draws it, and the room around the text."""

_FRAME = """\
<svg viewBox="0 0 {{width}} {height:g}" xmlns="http://www.w3.org/2000/svg">
<style>
.{{unique_id}}-matrix {{{{
  font-family: monospace; font-size: {{char_height}}px; line-height: {{line_height}}px;
}}}}
{{styles}}
</style>
<defs>
<clipPath id="{{unique_id}}-clip-terminal">
<rect x="0" y="0" width="{{terminal_width}}" height="{{terminal_height}}"/>
</clipPath>
{{lines}}
</defs>
<rect width="100%" height="100%" fill="{ground}"/>
<g transform="translate({{terminal_x}}, {pad})" clip-path="url(#{{unique_id}}-clip-terminal)">
{{backgrounds}}
<g class="{{unique_id}}-matrix">
{{matrix}}
</g>
</g>
</svg>
"""


def picture(drawn: RenderableType, columns: int, rows: int, ground: str) -> str:
    """Return what is on a screen as SVG; ``ground`` is the colour around it, such as #151210."""
    console = Console(
        width=columns,
        height=rows,
        file=io.StringIO(),
        force_terminal=True,
        color_system="truecolor",
        record=True,
        legacy_windows=False,
        safe_box=False,
    )
    console.print(drawn)
    height = rows * LINE_PX + 2 * PAD_PX
    return console.export_svg(code_format=_FRAME.format(height=height, ground=ground, pad=PAD_PX))


def picture_of(app: App[None], behind: Sequence[Screen[object]], *, simplify: bool) -> str:
    """Return what ``app`` shows, with the screens ``behind`` the one on top."""
    drawn = app.screen._compositor.render_update(  # noqa: SLF001  # as Textual's own does
        full=True, screen_stack=list(behind), simplify=simplify
    )
    ground = app.current_theme.background or "#000000"
    return picture(drawn or "", app.size.width, app.size.height, ground)
