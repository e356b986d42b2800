// What lies over the bench when it cannot be worked: before the first tap, and while there is no
// connection, in letters that are read from across the room.

export class Cover {
  constructor() {
    this._home = document.getElementById("cover");
    this._tap = () => {};
    this._timer = 0;
    document.getElementById("cover-button").addEventListener("click", () => this._tap());
  }

  /** Whether something lies over the bench. */
  get isUp() {
    return !this._home.hidden;
  }

  /** The first tap: browsers let a page ring only after one. @param {() => void} tap */
  ask(tap) {
    clearInterval(this._timer);
    this._show({
      look: "ask", mark: "", title: "The bench is here", words: "It rings for a dry check, by sound and by a shake, after one tap.",
      button: "begin", tap, small: "",
    });
  }

  /** There is no connection. @param {Date} since @param {() => void} tryNow @param {string} form */
  lost(since, tryNow, form) {
    const half = form && `What you typed in “${form}” is kept. `;
    const say = () => this._show({
      look: "lost", mark: "!", title: "NO CONNECTION", words: `since ${clock(since)}, ${howLong(since)}`,
      button: "try now", tap: tryNow,
      small: `${half}It is tried again by itself. All that was logged is in the shop's journal; what you tap now is not.`,
    });
    clearInterval(this._timer);
    say();
    this._timer = setInterval(say, 1000);
  }

  /** This page's secret is no longer good. */
  locked() {
    clearInterval(this._timer);
    this._show({
      look: "lost", mark: "!", title: "SCAN ANEW", words: "The bench was begun anew and has a new address.",
      small: "Scan the code that its terminal shows. All that was logged is in the shop's journal.",
    });
  }

  /** The bench was left. @param {string} why @param {() => void} again */
  left(why, again) {
    clearInterval(this._timer);
    this._show({
      look: "ask", mark: "", title: "The bench was left", words: why || "Every clock goes on by itself.",
      button: "open it again", tap: again, small: "",
    });
  }

  /** Take it away. */
  away() {
    clearInterval(this._timer);
    this._home.hidden = true;
  }

  _show({ look, mark, title, words, button = "", tap = () => {}, small }) {
    this._tap = tap;
    this._home.dataset.look = look;
    set("cover-mark", mark);
    set("cover-title", title);
    set("cover-words", words);
    set("cover-button", button);
    set("cover-small", small);
    this._home.hidden = false;
  }
}

function set(id, text) {
  const part = document.getElementById(id);
  if (part.textContent !== text) part.textContent = text; // a reader says what changed, once
  part.hidden = !text;
}

/** @param {Date} at */
function clock(at) {
  return at.toTimeString().slice(0, 5);
}

/** @param {Date} since */
function howLong(since) {
  const seconds = Math.max(0, Math.round((Date.now() - since.getTime()) / 1000));
  return seconds < 60 ? `${seconds} s` : `${Math.floor(seconds / 60)} min`;
}
