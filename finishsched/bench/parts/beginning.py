"""To begin a piece, and to change what stands in a document, without an editor."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.choosing import Choosing
from finishsched.bench.parts.stepping import Stepping
from finishsched.bench.typed.beginning import Asked, BoardAsked, LinesAsked, PieceAsked, StepAsked
from finishsched.workshop.base.answers import State

if TYPE_CHECKING:
    from finishsched.bench.screens.choice import Choice
    from finishsched.bench.screens.form import FormCard
    from finishsched.bench.screens.lines import LinesCard
    from finishsched.bench.typed.beginning import ChangeAsked
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.own_lines import OwnLines
    from finishsched.workshop.begin.piece import PieceDraft
    from finishsched.workshop.begin.written import Written

_AS_IT_IS, _SANDED, _OWN = "nothing", "sanded", "own words"
_STEPS, _BACK = "steps of ", "back"
_TOLD = "logged as told afterwards; what no time is said of counts as done just now"
_SHOWN_LINES = 40


class Beginning:
    """Opens the forms, shows what would be written, and writes it once somebody says so."""

    def __init__(self, host: Host, desk: Desk, choosing: Choosing) -> None:
        self._host = host
        self._desk = desk
        self._choosing = choosing
        self._stepping = Stepping(host, self._choose_key, self._put, self._follow)
        self.doings: Doings = {"begin": self.begin, "change": self.change}

    def begin(self) -> None:
        """Ask about a new piece; every field has an answer that enter takes."""
        from finishsched.bench.screens.begin_forms import begin_form  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        self._host.open_card(begin_form(workshop, self._host.now))

    def change(self) -> None:
        """List what can be changed: the piece shown large, its step in hand, the shop."""
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        piece = self._host.large_piece()
        choices = [Choice("shop", "The shop", "its hours, people, tools, jars, usual air")]
        if piece is not None:
            faces = "its due date, faces, schedule, wood, sheen"
            choices.insert(0, Choice(piece.ref, piece.title, faces))
            step = self._step_of(piece.ref)
            if step:
                choices.insert(1, Choice(step, "Its step in hand", "wait, coats, product, grade"))
                steps = Choice(f"{_STEPS}{step.partition('/')[0]}", "The steps of its schedule",
                               "add one, take one out, move one")  # fmt: skip
                choices.insert(2, steps)
        choices.append(Choice(_OWN, "A schedule in your own words", "typed as in a notebook"))
        choices += self._to_take_back()
        card = ChoiceCard("Change what?", "choose it", choices)
        self._host.open_card(card, self._chosen)

    def lines_offered(self, card: LinesCard, asked: LinesAsked) -> None:
        """Keep lines as a schedule: every fault is told in the card, and every doubt is asked."""
        self._keep_lines(card, asked, {})

    def offered(self, form: FormCard, offer: Asked) -> None:
        """Show what would be written, and write it if that is wanted; the form stays till then."""
        workshop = self._host.open_shop()
        if workshop is None:
            return
        if isinstance(offer, (PieceAsked, BoardAsked)):
            self._show_piece(form, offer, workshop)
        elif isinstance(offer, StepAsked):
            self._stepping.offered(form, offer, workshop)
        else:
            self._write_change(form, offer, workshop)

    def _to_take_back(self) -> list[Choice]:
        from finishsched.bench.screens.choice import Choice  # noqa: PLC0415
        from finishsched.workshop.begin.written import newest  # noqa: PLC0415

        workshop = self._desk.workshop
        last = self._host.asked(lambda: newest(workshop.folder)) if workshop else None
        return [Choice(_BACK, "Take back the last change", last.what)] if last else []

    def _chosen(self, what: str) -> None:
        if what == _BACK:
            self._stepping.take_back()
        elif what.startswith(_STEPS):
            self._stepping.open(what.removeprefix(_STEPS))
        elif what != _OWN:
            self._choose_key(what)
        else:
            self._open_lines()

    def _open_lines(self) -> None:
        from finishsched.bench.screens.lines import LinesCard  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is not None:
            self._host.open_card(LinesCard(lambda asked: self._read_lines(asked, {}, workshop)))

    def _read_lines(
        self, asked: LinesAsked, answers: dict[str, str], workshop: Workshop
    ) -> OwnLines:
        from finishsched.workshop.begin.own_lines import read_own_lines  # noqa: PLC0415
        from finishsched.workshop.begin.questions import name_of  # noqa: PLC0415

        called = name_of(asked.name, (), "own-schedule")
        now = self._host.now()
        papers, folder = workshop.papers, workshop.folder
        return read_own_lines(asked.text, "lines", papers, folder, answers, now, called)

    def _keep_lines(self, card: LinesCard, asked: LinesAsked, answers: dict[str, str]) -> None:
        from finishsched.workshop.begin.own_lines import kept_lines  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        own = self._read_lines(asked, answers, workshop)
        if own.read.faults:
            card.refuse(". ".join(f"line {f.line}: {f.message}" for f in own.read.faults))
            return
        if own.read.doubts:
            self._ask_doubt(card, asked, answers, own)
            return
        written = self._host.asked(lambda: kept_lines(own, workshop.folder))
        if written is None or not self._put(written, workshop):
            return
        card.dismiss("")
        self._follow()
        self._host.say(f"kept as {written.path}; a piece may now be finished by it")

    def _ask_doubt(
        self, card: LinesCard, asked: LinesAsked, answers: dict[str, str], own: OwnLines
    ) -> None:
        """Ask the first doubt, what is usual at the top; its answer may open another."""
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        doubt = own.read.doubts[0]
        ordered = sorted(doubt.choices, key=lambda choice: choice[0] != doubt.usual)
        choices = [Choice(word, word, says) for word, says in ordered]
        line = own.lines[doubt.place.line - 1] if doubt.place.line <= len(own.lines) else ""
        question = ChoiceCard(f"{line.strip()}: {doubt.question}", "answer it", choices)

        def answered(word: str) -> None:
            self._keep_lines(card, asked, {**answers, doubt.key: word})

        self._host.open_card(question, answered)

    def _step_of(self, ref: str) -> str:
        """Return the step in hand as a change names it: schedule/stage/step; empty for none."""
        from finishsched.workshop.standing.where import find  # noqa: PLC0415

        workshop = self._desk.workshop
        if workshop is None:
            return ""
        standing = self._host.asked(lambda: find(workshop, ref))
        if standing is None or standing.step is None or standing.schedule is None:
            return ""
        if standing.step.is_rework:
            return ""
        key = standing.step.key.rpartition(":")[0]
        return f"{standing.schedule.id}/{key}"

    def _choose_key(self, what: str) -> None:
        from finishsched.bench.screens.begin_forms import change_form  # noqa: PLC0415
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415
        from finishsched.workshop.begin.changing import values_now  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        found = self._host.asked(lambda: values_now(workshop.papers, workshop.folder, what))
        if found is None:
            return
        choices = [Choice(key, f"{key}: {value or '-'}") for key, value in found.items()]

        def opened(key: str) -> None:
            self._host.open_card(change_form(workshop, what, key, found[key], self._host.now))

        self._host.open_card(ChoiceCard(f"Change {what}", "change it", choices), opened)

    def _show_piece(
        self, form: FormCard, offer: PieceAsked | BoardAsked, workshop: Workshop
    ) -> None:
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415
        from finishsched.bench.screens.page import Paragraph  # noqa: PLC0415
        from finishsched.workshop.begin.answers import speaks  # noqa: PLC0415
        from finishsched.workshop.begin.boards import draft_board  # noqa: PLC0415
        from finishsched.workshop.begin.piece import draft_piece  # noqa: PLC0415
        from finishsched.workshop.begin.telling import NOTHING  # noqa: PLC0415

        about = (workshop.papers, workshop.folder, offer.answers)
        is_board = isinstance(offer, BoardAsked)
        draft = draft_board(*about) if is_board else draft_piece(*about, self._today(workshop))
        if draft.written is None:
            form.refuse(". ".join(draft.faults.values()))
            return
        lines = draft.written.after.splitlines()[-_SHOWN_LINES:]
        shown = tuple(Paragraph("", _set_in(line)) for line in lines)
        choices = [
            Choice(_AS_IT_IS, "Write it", "nothing is done on it yet"),
            Choice(_SANDED, "Write it: its wood is sanded", "the sanding is told as done"),
        ]
        done = offer.answers.get("done", "").strip()
        if done.lower() not in NOTHING:
            choices = [
                Choice(done, f"Write it: {done}", _TOLD),
                Choice(_AS_IT_IS, "Write it without", "as if nothing were done on it yet"),
            ]
        told = (
            speaks(workshop, offer.answers, self._host.now())
            if isinstance(offer, PieceAsked)
            else ()
        )
        why = [Paragraph("", f"by {offer.answers['schedule']}")] if told else []
        before = (*why, *(Paragraph("", says) for says in (*told, *draft.assumed)))
        card = ChoiceCard(draft.written.path, "write it", choices, before=before, after=shown)
        self._host.open_card(card, lambda said: self._write_piece(form, draft, said, workshop))

    def _write_piece(
        self, form: FormCard, draft: PieceDraft, done: str, workshop: Workshop
    ) -> None:
        from finishsched.workshop.begin.joining import tell_done  # noqa: PLC0415

        assert draft.written is not None  # noqa: S101  # it was shown
        if not self._put(draft.written, workshop):
            return
        workshop.changed()
        refs = ",".join(draft.refs)
        self._host.asked(lambda: tell_done(workshop, refs, done, self._host.now()))
        form.dismiss("")
        self._follow()
        self._choosing.choose(draft.refs[0])
        back = self._host.key_for("change")
        self._host.take_view()
        piece = self._host.large_piece()
        begun = piece is not None and piece.state is not State.NOT_BEGUN
        name = piece.title if piece is not None else ", ".join(draft.refs)
        self._host.say(f"{'begun' if begun else 'written'}: {name}; {back} takes it back")

    def _write_change(self, form: FormCard, offer: ChangeAsked, workshop: Workshop) -> None:
        from finishsched.workshop.begin.changing import draft_change  # noqa: PLC0415

        written = self._host.asked(
            lambda: draft_change(
                workshop.papers,
                workshop.folder,
                offer.what,
                offer.key,
                offer.value,
                self._today(workshop),
            )
        )
        if written is None:
            return
        if written.before != written.after and not self._put(written, workshop):
            return
        form.dismiss("")
        self._follow()
        self._host.say(f"{written.path}: {offer.key} of {offer.what} is {offer.value or 'out'}")

    def _today(self, workshop: Workshop) -> date:
        return self._host.now().astimezone(workshop.zone).date()

    def _put(self, written: Written, workshop: Workshop) -> bool:
        """Write a document; tell why not, with all that was typed kept in the form."""
        from finishsched.workshop.begin.written import put  # noqa: PLC0415

        def write() -> bool:
            put(workshop.folder, written, self._host.now())
            return True

        return bool(self._host.asked(write))

    def _follow(self) -> None:
        """Have the board follow the documents at once, before the next beat."""
        self._desk.look(self._host.now())
        self._desk.refresh(self._host.now())
        self._host.take_view()


def _set_in(line: str) -> str:
    """Return a line of a document with dots for the space it begins with, which is not drawn."""
    deep = (len(line) - len(line.lstrip(" "))) // 2
    return f"{'· ' * deep}{line.lstrip(' ')}" or " "
