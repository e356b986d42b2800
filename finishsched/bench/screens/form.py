"""A form of text fields; nothing is handed in until every field reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import tzinfo
from functools import partial
from typing import TYPE_CHECKING, ClassVar, TypeAlias

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.suggester import SuggestFromList
from textual.widgets import Input, Static

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.typed.beginning import Asked
from finishsched.bench.typed.reading import FormFaultError, RagsWent
from finishsched.bench.typed.seeing import SurfaceSeen
from finishsched.bench.widgets.taps import Tap, TapLine, tap
from finishsched.model.shop import Air
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.stock.shelf_entries import Mixed

if TYPE_CHECKING:
    from finishsched.bench.parts.drafts import Drafts

_LOOKS, _BETWEEN_LOOKS_S = 20, 0.02
"""How often, and after how long, a fault is brought into sight again."""

Offer: TypeAlias = Entry | Air | Mixed | RagsWent | SurfaceSeen | Asked


@dataclass(frozen=True, slots=True)
class Field:
    """One text field."""

    id: str
    label: str
    hint: str = ""
    value: str = ""
    suggestions: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    """What a tap answers on a page, where a keyboard would hide half the screen."""
    lines: int = 1
    """How many lines it shows; one takes a single line only."""
    goes_on: bool = False
    """True where what stands there is a beginning: what is typed follows it."""


_TAPS = (
    Tap("enter", "take it", "screen.hand_in"),
    Tap("↓", "next", "app.focus_next"),
    tap(keys.CLOSE, "back"),
)


class FormCard(Card):
    """Reads its fields into an entry or a reading of the air, and offers it to the app."""

    BINDINGS: ClassVar[list[BindingType]] = [
        bindings.binding(keys.CLOSE),
        Binding("down", "app.focus_next", "next field", id="field-next"),
        Binding("up", "app.focus_previous", "field before", id="field-before"),
    ]

    ONCE, TWICE = "hand_in", "close"

    class Offered(Message):
        """A form was filled in so that it reads."""

        def __init__(self, form: FormCard, offer: Offer) -> None:
            super().__init__()
            self.form = form
            self.offer = offer

    def __init__(
        self,
        title: str,
        fields: Sequence[Field],
        read: Callable[[Mapping[str, str]], Offer],
        live: Callable[[Mapping[str, str]], Iterable[str]] | None = None,
        *,
        widens: bool = True,
    ) -> None:
        """``live`` gives lines to show as it is typed, or raises FormFaultError.

        An entry is about all that stand as one with its piece, unless ``widens`` is False.
        """
        super().__init__()
        self.widens = widens
        self._live = live
        self.set_class(live is not None, "-live")
        self._title = title
        self._fields = tuple(fields)
        self._at_first = {field.id: field.value for field in self._fields}
        self._drafts: Drafts | None = None
        self._left_at = ""
        self._read = read
        self.faults: Mapping[str, str] = {}
        """What is wrong in each field, by its id, as told last."""
        self.refused = ""
        """Why it was not taken, as told last."""

    @property
    def title_words(self) -> str:
        """What the form is about."""
        return words.plain(self._title)

    def take_up(self, drafts: Drafts, zone: tzinfo) -> None:
        """Begin with what was typed when this form was left."""
        self._drafts = drafts
        draft = drafts.take(self.title_words)
        if draft is None:
            return
        self._left_at = f"{draft.left_at.astimezone(zone):%H:%M}"
        typed = draft.values
        self._fields = tuple(
            replace(field, value=typed.get(field.id, field.value)) for field in self._fields
        )

    def action_close(self) -> None:
        """Close; what was typed is kept for when the form is opened again."""
        values = self._values()
        if values != self._at_first and self._drafts is not None:
            self._drafts.keep(self.title_words, values)
        super().action_close()

    def fields(self) -> tuple[Field, ...]:
        """Return the fields as they stand, for a page that shows them itself."""
        values = self._values()
        return tuple(replace(field, value=values[field.id]) for field in self._fields)

    def compose(self) -> ComposeResult:
        """Lay out the fields."""
        self.set_class(not self._left_at and self._live is None, "-only-fields")
        with Body():
            yield line(self._title, "bold", classes="title")
            if self._left_at:
                yield line(f"as you left it at {self._left_at}", "$text-muted", classes="hint")
            for field in self._fields:
                yield line(field.label, "$text-muted", classes="label")
                yield _input(field)
                yield Static("", id=f"fault-{field.id}", classes="of-field", markup=False)
            if self._live is not None:
                yield Static("", id="live", markup=False)
            yield Static("", id="fault", markup=False)
            yield Foot(TapLine(_TAPS))

    def on_mount(self) -> None:
        """Begin at the top: a field that waits for words is in sight, however low the screen is."""
        self.call_after_refresh(self.query_one(Body).scroll_home, animate=False)

    @on(Input.Submitted)
    def action_hand_in(self) -> None:
        """Read every field; say what is wrong, or offer what was read."""
        try:
            offer = self._read(self._values())
        except FormFaultError as fault:
            self._refuse_fields(fault)
            return
        self.refused = ""
        self._tell_at({})
        self.post_message(self.Offered(self, offer))

    @on(Input.Changed)
    def show_live(self) -> None:
        """Show what comes of the fields as they stand."""
        if self._live is None:
            return
        try:
            lines = [_plain_drawing(text) for text in self._live(self._values())]
        except FormFaultError as fault:
            lines = [f"! {words.plain(str(fault))}"]
        self.query_one("#live", Static).update(Content.styled("\n".join(lines), "bold"))

    def _values(self) -> dict[str, str]:
        return {field.id: self.query_one(f"#{field.id}", Input).value for field in self._fields}

    def _refuse_fields(self, fault: FormFaultError) -> None:
        """Tell each fault below its field, where that is known, and all of them at the foot."""
        self._tell_at(fault.at)
        if not fault.at:
            self.refuse(str(fault))
            return
        self._tell_at_foot(str(fault))
        first = next(field.id for field in self._fields if field.id in fault.at)
        self.query_one(f"#{first}", Input).focus()
        self.call_after_refresh(self._bring_into_sight, first)

    def _bring_into_sight(self, field: str, looks: int = _LOOKS) -> None:
        """Show what is wrong with a field, and the field itself, whose line stands above it.

        Room for it is made in its own time, and a glide to the field before may still be under way.
        """
        typed = self.query_one(f"#{field}", Input)
        self.query_one(f"#fault-{field}", Static).scroll_visible(animate=False, immediate=True)
        typed.scroll_visible(animate=False, immediate=True)
        if looks and typed.has_focus:
            again = partial(self._bring_into_sight, field, looks - 1)
            self.set_timer(_BETWEEN_LOOKS_S, again)

    @on(Input.Changed)
    def forget_fault(self, event: Input.Changed) -> None:
        """Take away what was wrong with a field that says something else now."""
        if event.input.id in self.faults:
            self._tell_at({id_: text for id_, text in self.faults.items() if id_ != event.input.id})
            self.refused = ""
            self.query_one("#fault", Static).update("")

    def _tell_at(self, faults: Mapping[str, str]) -> None:
        self.faults = faults
        for field in self._fields:
            text = faults.get(field.id, "")
            told = Content.styled(f"! {words.plain(text)}", "bold $text-error") if text else ""
            place = self.query_one(f"#fault-{field.id}", Static)
            place.update(told)
            place.set_class(bool(text), "-told")

    def refuse(self, text: str) -> None:
        """Say what is wrong, and keep what was typed."""
        self._tell_at_foot(text).scroll_visible(animate=False)

    def _tell_at_foot(self, text: str) -> Static:
        self.refused = words.plain(text)
        foot = self.query_one("#fault", Static)
        foot.update(Content.styled(f"! {words.plain(text)}", "bold $text-error"))
        return foot


def _plain_drawing(text: str) -> str:
    """Return a line with its spaces kept, for letters that are drawn, and nothing unprintable."""
    return "".join(sign if sign.isprintable() else " " for sign in text)


def _input(field: Field) -> Input:
    suggester = (
        SuggestFromList(field.suggestions, case_sensitive=False) if field.suggestions else None
    )
    return Input(
        field.value,
        placeholder=field.hint,
        id=field.id,
        compact=True,
        suggester=suggester,
        select_on_focus=not field.goes_on,
    )
