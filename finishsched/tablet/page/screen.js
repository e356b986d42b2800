// The bench's screen as cells: signs and styles, as the bench writes them.
//
// The bench writes few things: where the cursor goes, how what follows looks, and text. Anything
// else that a terminal may be told is passed over, so that no text can do more than show itself.

/**
 * How a run of signs looks; colours are CSS colours, empty for those of the page.
 * @typedef {{fg: string, bg: string, bold: boolean, faint: boolean, slant: boolean,
 *   under: boolean, reverse: boolean, struck: boolean}} Style
 */

/** @type {Style} */
const PLAIN = Object.freeze({
  fg: "", bg: "", bold: false, faint: false, slant: false, under: false, reverse: false,
  struck: false,
});

// One escape sequence, an unfinished one at the end, a control sign, or a run of text.
const PART = new RegExp(
  [
    "\\x1b\\[([\\x30-\\x3f]*)([\\x20-\\x2f]*)([\\x40-\\x7e])", // a control sequence
    "\\x1b\\][^\\x07\\x1b]*(?:\\x07|\\x1b\\\\)", // an operating system command
    "\\x1b(?:\\[[\\x20-\\x3f]*|\\][^\\x07\\x1b]*\\x1b?)?$", // not all here yet
    "\\x1b[^\\[\\]]",
    "[\\x00-\\x1f\\x7f]",
    "[^\\x00-\\x1f\\x7f]+",
  ].join("|"),
  "g",
);

// Signs of two cells: East Asian wide ones and pictures (Unicode Standard Annex 11, in the main).
const WIDE = /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{1f300}-\u{1f64f}\u{1f680}-\u{1f6ff}\u{1f900}-\u{1f9ff}\u{20000}-\u{3fffd}]/u;
const MARK = /^\p{M}$/u;

// The eight colours of old terminals and their bright ones, for a bench that shows no others.
const OLD_COLOURS = [
  "#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa",
  "#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff",
];

export class Screen {
  /** @param {number} columns @param {number} rows */
  constructor(columns, rows) {
    this.onBell = () => {};
    /** Rows that changed since they were painted. @type {Set<number>} */
    this.changed = new Set();
    /** @type {Map<string, Style>} */
    this._styles = new Map();
    this._rest = "";
    this.resize(columns, rows);
  }

  /** Begin anew with other measures; the bench draws all of itself after that. */
  resize(columns, rows) {
    this.columns = columns;
    this.rows = rows;
    /** @type {string[][]} */
    this.signs = Array.from({ length: rows }, () => new Array(columns).fill(" "));
    /** @type {Style[][]} */
    this.styles = Array.from({ length: rows }, () => new Array(columns).fill(PLAIN));
    this._x = this._y = 0;
    this._style = PLAIN;
    for (let y = 0; y < rows; y += 1) this.changed.add(y);
  }

  /** Take what the bench wrote. @param {string} text */
  feed(text) {
    const all = this._rest + text;
    this._rest = "";
    for (const part of all.matchAll(PART)) {
      const [whole, parameters, , last] = part;
      if (last !== undefined) this._control(parameters, last);
      else if (whole.startsWith("\x1b")) this._keepUnfinished(whole, part.index + whole.length === all.length);
      else if (whole < " " || whole === "\x7f") this._sign(whole);
      else this._write(whole);
    }
  }

  /** The text of a row, for those who read and do not look. @param {number} y */
  text(y) {
    return this.signs[y].join("").trimEnd();
  }

  _keepUnfinished(whole, isLast) {
    const isFinished = /^\x1b(?:\].*(?:\x07|\x1b\\)|[^[\]])$/s.test(whole);
    if (isLast && !isFinished && whole.length < 200) this._rest = whole;
  }

  _sign(sign) {
    if (sign === "\x07") this.onBell();
    else if (sign === "\r") this._x = 0;
    else if (sign === "\n") this._y = Math.min(this._y + 1, this.rows - 1);
    else if (sign === "\b") this._x = Math.max(0, this._x - 1);
  }

  _control(parameters, last) {
    if (!/^[\d;:]*$/.test(parameters)) return; // private modes: mouse, cursor, other screen
    const numbers = parameters.split(/[;:]/).map((each) => (each === "" ? 0 : Number(each)));
    if (last === "m") this._look(numbers);
    else if (last === "H" || last === "f") this._move((numbers[1] || 1) - 1, (numbers[0] || 1) - 1);
    else if (last === "J" && numbers[0] >= 2) this.resize(this.columns, this.rows);
    else if (last === "K" && numbers[0] === 0) this._write(" ".repeat(this.columns - this._x), false);
  }

  _move(x, y) {
    this._x = Math.min(Math.max(x, 0), this.columns - 1);
    this._y = Math.min(Math.max(y, 0), this.rows - 1);
  }

  _write(text, goesOn = true) {
    const from = this._x;
    const signs = this.signs[this._y], styles = this.styles[this._y];
    this.changed.add(this._y);
    for (const sign of text) {
      if (MARK.test(sign)) {
        if (this._x > 0) signs[this._x - 1] += sign;
        continue;
      }
      const cells = WIDE.test(sign) ? 2 : 1;
      if (this._x + cells > this.columns) break;
      signs[this._x] = sign;
      styles[this._x] = this._style;
      if (cells === 2) {
        signs[this._x + 1] = ""; // the other half of the sign before it
        styles[this._x + 1] = this._style;
      }
      this._x += cells;
    }
    if (!goesOn) this._x = from;
  }

  _look(numbers) {
    const style = { ...this._style };
    for (let at = 0; at < numbers.length; at += 1) {
      const number = numbers[at];
      if (number === 38 || number === 48) {
        const [colour, taken] = colourOf(numbers, at + 1);
        style[number === 38 ? "fg" : "bg"] = colour;
        at += taken;
      } else setLook(style, number);
    }
    this._style = this._one(style);
  }

  /** The one style object that looks so: cells are compared by it. @param {Style} style */
  _one(style) {
    const key = Object.values(style).join();
    const known = this._styles.get(key);
    if (known) return known;
    this._styles.set(key, Object.freeze(style));
    return style;
  }
}

/** @returns {[string, number]} the colour that begins at ``at``, and how many numbers it took */
function colourOf(numbers, at) {
  if (numbers[at] === 2) {
    const rgb = numbers.slice(at + 1, at + 4).map((each) => Math.min(255, each));
    return [`rgb(${rgb.join(", ")})`, 4];
  }
  return [numbers[at] === 5 ? ofTheMany(numbers[at + 1]) : "", 2];
}

/** A colour of the 256 of a terminal. @param {number} number */
function ofTheMany(number) {
  if (number < 16) return OLD_COLOURS[number];
  if (number >= 232) {
    const grey = 8 + 10 * (number - 232);
    return `rgb(${grey}, ${grey}, ${grey})`;
  }
  const levels = [0, 95, 135, 175, 215, 255], cube = number - 16;
  const rgb = [Math.floor(cube / 36), Math.floor(cube / 6) % 6, cube % 6].map((each) => levels[each]);
  return `rgb(${rgb.join(", ")})`;
}

/** @param {Style} style @param {number} number */
function setLook(style, number) {
  if (number === 0) Object.assign(style, PLAIN);
  else if (number === 1) style.bold = true;
  else if (number === 2) style.faint = true;
  else if (number === 3) style.slant = true;
  else if (number === 4) style.under = true;
  else if (number === 7) style.reverse = true;
  else if (number === 9) style.struck = true;
  else if (number === 22) style.bold = style.faint = false;
  else if (number === 23) style.slant = false;
  else if (number === 24) style.under = false;
  else if (number === 27) style.reverse = false;
  else if (number === 29) style.struck = false;
  else if (number === 39) style.fg = "";
  else if (number === 49) style.bg = "";
  else if (number >= 30 && number <= 37) style.fg = OLD_COLOURS[number - 30];
  else if (number >= 40 && number <= 47) style.bg = OLD_COLOURS[number - 40];
  else if (number >= 90 && number <= 97) style.fg = OLD_COLOURS[number - 82];
  else if (number >= 100 && number <= 107) style.bg = OLD_COLOURS[number - 92];
}
