// The fields of a form, with the tablet's own keyboard; what is typed goes to the bench as it is
// typed, and is kept here until the form is closed, should the line be lost meanwhile.

/** @typedef {{id: string, label: string, hint: string, value: string, choices: string[],
 *   lines: number, fault: string}} Field */

const PAUSE_MS = 200;
const MOST_CHIPS = 8;
const KEPT = "finishsched.draft";

export class Fields {
  /**
   * @param {HTMLFormElement} form
   * @param {(field: string, value: string) => void} type
   * @param {() => void} handIn
   */
  constructor(form, type, handIn) {
    this._form = form;
    this._type = type;
    this._title = "";
    this._of = -1;
    /** What was typed and is not sent yet. @type {Map<string, string>} */
    this._unsent = new Map();
    this._timer = 0;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      handIn();
    });
  }

  /** The title of the form that shows; empty for none. */
  get title() {
    return this._title;
  }

  /** Show the fields that are offered; none closes the form. */
  show(offer) {
    const isOpen = offer.fields.length > 0;
    if (!isOpen) {
      if (this._title) this._close();
      return;
    }
    if (offer.of !== this._of || offer.title !== this._title) this._open(offer);
    else this._restore(offer); // found again as it was, but for what was typed meanwhile
    for (const field of offer.fields) this._follow(field);
    const refused = this._form.querySelector(".refused");
    const isNew = refused.textContent !== offer.refused;
    refused.textContent = offer.refused;
    refused.hidden = !offer.refused;
    if (isNew && offer.refused) refused.scrollIntoView({ block: "nearest" }); // the button is far below
  }

  /** Send what was typed and not sent yet: before a button is tapped, for example. */
  flush() {
    clearTimeout(this._timer);
    for (const [id, value] of this._unsent) this._type(id, value);
    this._unsent.clear();
  }

  /** Keep what was typed, beyond this page too: the line was lost. */
  keep() {
    if (!this._title) return;
    const typed = Object.fromEntries(this._inputs().map((input) => [input.name, input.value]));
    sessionStorage.setItem(KEPT, JSON.stringify({ title: this._title, typed }));
  }

  /** Let go of a form that the bench has open no more. @returns its title */
  letGo() {
    const title = this._title;
    this._hide();
    return title;
  }

  _close() {
    sessionStorage.removeItem(KEPT);
    this._hide();
  }

  _hide() {
    this._unsent.clear();
    this._form.hidden = true;
    this._form.replaceChildren();
    this._title = "";
    this._of = -1;
  }

  _open(offer) {
    this._of = offer.of;
    this._title = offer.title;
    const title = document.createElement("h2");
    title.textContent = offer.title;
    const refused = document.createElement("p");
    refused.className = "refused";
    refused.setAttribute("role", "alert");
    // A keyboard's own key for 'go' hands a form in only where it has a button for that.
    const go = document.createElement("button");
    go.hidden = true; // never seen, so never touched
    this._form.replaceChildren(title, refused, ...offer.fields.map((field) => this._made(field)), go);
    this._form.hidden = false;
    this._form.scrollTop = 0;
    this._restore(offer);
  }

  /** Put back what was typed into this form when the line was lost. */
  _restore(offer) {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null");
    if (!kept || kept.title !== offer.title) return;
    for (const field of offer.fields) {
      const typed = kept.typed[field.id];
      if (typed === undefined || typed === field.value) continue;
      this._input(field.id).value = typed;
      this._unsent.set(field.id, typed);
    }
    sessionStorage.removeItem(KEPT);
    this.flush();
  }

  /** @param {Field} field */
  _made(field) {
    const box = document.createElement("label");
    const name = document.createElement("span");
    name.textContent = field.label;
    const input = document.createElement(field.lines > 1 ? "textarea" : "input");
    input.name = field.id;
    input.value = field.value;
    input.placeholder = field.hint;
    input.autocapitalize = "none";
    input.setAttribute("autocorrect", "off");
    input.spellcheck = false;
    if (field.lines > 1) input.rows = field.lines;
    else input.enterKeyHint = "done";
    input.addEventListener("input", () => this._typed(field.id, input.value));
    const fault = document.createElement("em");
    fault.hidden = true;
    box.append(name, input, fault, this._chips(field, input));
    return box;
  }

  /** Answers that need no keyboard. */
  _chips(field, input) {
    const chips = document.createElement("div");
    chips.className = "chips";
    for (const choice of field.choices.slice(0, MOST_CHIPS)) {
      const chip = document.createElement("button");
      chip.type = "button";
      chip.textContent = choice;
      chip.addEventListener("click", () => {
        input.value = choice;
        this._typed(field.id, choice);
        this.flush();
      });
      chips.append(chip);
    }
    return chips;
  }

  _typed(id, value) {
    this._unsent.set(id, value);
    clearTimeout(this._timer);
    this._timer = setTimeout(() => this.flush(), PAUSE_MS);
  }

  /** Follow a field of the bench, unless somebody types in it just now. @param {Field} field */
  _follow(field) {
    const input = this._input(field.id);
    if (!input) return;
    const isTyping = input === document.activeElement || this._unsent.has(field.id);
    if (!isTyping && input.value !== field.value) input.value = field.value;
    const fault = input.parentElement.querySelector("em");
    fault.textContent = field.fault && `! ${field.fault}`;
    fault.hidden = !field.fault;
  }

  /** @returns {HTMLInputElement[]} */
  _inputs() {
    return [...this._form.querySelectorAll("input, textarea")];
  }

  _input(id) {
    return this._inputs().find((input) => input.name === id);
  }
}
