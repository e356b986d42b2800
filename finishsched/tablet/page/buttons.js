// The buttons for the hand: what the bench offers now, the most needed first, the rest in a sheet.

/** @typedef {{action: string, key: string, words: string, said: string, rank: string,
 *   about: string, group: string}} Button */

// On the board these lead the bar; then what the bench itself puts first (rags that lie about, a
// notice), then these. What a finger does on the screen, choosing and turning, needs no button.
const ALWAYS = ["app.do('sitting')", "app.do('undo')"];
const THEN = ["app.do('begin')", "app.do('plan')"];
const BY_FINGER = new Set([
  "app.do('up')", "app.do('down')", "app.do('first')", "app.do('help')", "screen.sheet(-1)",
  "screen.sheet(1)", "app.do('next-thing')",
]);
/** Room that a plain button takes in the bar, in CSS px at the usual size. */
const PLAIN_PX = 92, MAIN_PX = 520;
/** A finger that is lifted has tapped by then. */
const AFTER_TAP_MS = 60;
/** How many plain ones stand in the bar beside a screen that is low. */
const ASIDE = 6;

export class Buttons {
  /**
   * @param {HTMLElement} bar
   * @param {(action: string, of: number) => void} tap
   * @param {() => void} openSheet
   */
  constructor(bar, tap, openSheet) {
    this._bar = bar;
    this._tap = tap;
    this._openSheet = openSheet;
    this._shown = "";
    this._of = 0;
    this._isHeld = false;
    /** @type {(() => void) | null} */
    this._waiting = null;
    /** @type {Button[]} */
    this.all = [];
    this.screen = "";
    this._standStill();
  }

  /** Change nothing under a finger: a button that goes while it is touched takes no tap. */
  _standStill() {
    this._bar.addEventListener("pointerdown", () => { this._isHeld = true; });
    const lifted = () => setTimeout(() => {
      this._isHeld = false;
      this._waiting?.();
    }, AFTER_TAP_MS);
    for (const end of ["pointerup", "pointercancel"]) window.addEventListener(end, lifted);
  }

  /**
   * Show what is offered, and which screen and piece it is of: a tap goes to these alone.
   * @param {{of: number, screen: string, buttons: Button[]}} offer @param {number} by
   */
  show(offer, by) {
    this._waiting = this._isHeld ? () => this.show(offer, by) : null;
    if (this._waiting) return;
    this._of = offer.of;
    this.all = offer.buttons;
    this.screen = offer.screen;
    const room = this._room(by);
    const wanted = JSON.stringify([offer.screen, offer.buttons, room]);
    if (wanted === this._shown) return;
    this._shown = wanted;
    this._bar.replaceChildren(...this._made(room));
  }

  _room(by) {
    const look = getComputedStyle(this._bar);
    if (look.getPropertyValue("--aside").trim()) return ASIDE;
    const width = this._bar.clientWidth / by;
    const isOneRow = look.getPropertyValue("--one-row").trim();
    return Math.max(4, Math.floor((isOneRow ? width - MAIN_PX : width) / PLAIN_PX));
  }

  *_made(room) {
    const main = this.all.find((one) => one.rank === "main");
    const other = this.all.find((one) => one.rank === "other");
    const tap = (action) => this._tap(action, this._of);
    if (main) yield button(main, "main", tap);
    if (other) yield button(other, main ? "other" : "main quiet", tap);
    if (main || other) yield document.createElement("hr"); // where a narrow bar goes on below
    const plain = this._plain();
    const isBoard = this.screen === "board";
    const shown = isBoard || plain.length > room ? plain.slice(0, room - 1) : plain;
    for (const one of shown) yield button(one, "plain", tap);
    if (isBoard || shown.length < plain.length) yield this._more();
  }

  _plain() {
    const plain = this.all.filter((one) => !one.rank);
    if (this.screen !== "board") return plain;
    const named = (actions) => actions.map((action) => plain.find((one) => one.action === action)).filter(Boolean);
    const always = named(ALWAYS), then = named(THEN);
    // The bench tells its strips first: the last of them, which can hurt most, leads here.
    const urgent = plain.slice(0, plain.findIndex((one) => always.includes(one))).reverse();
    const rest = plain.filter((one) => ![...always, ...urgent, ...then].includes(one) && !BY_FINGER.has(one.action));
    return [...always, ...urgent, ...then, ...rest];
  }

  _more() {
    const more = document.createElement("button");
    more.type = "button";
    more.className = "plain more";
    more.textContent = "more";
    more.addEventListener("click", this._openSheet);
    return more;
  }
}

/** @param {Button} one */
export function button(one, look, tap) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = look;
  made.dataset.action = one.action;
  if (one.key) made.dataset.key = one.key; // the bench names its keys in sentences
  const words = document.createElement("b");
  words.textContent = one.words;
  made.append(words);
  const under = one.said || (look === "line" ? one.about : "");
  if (under) {
    const said = document.createElement("small");
    said.textContent = under;
    made.append(said);
  }
  made.addEventListener("click", () => tap(one.action));
  return made;
}
