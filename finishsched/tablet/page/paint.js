// Paints the cells of the screen as elements, row by row, and only the rows that changed.
//
// Every run of text stands where its cell stands, so that a letter of another width moves nothing
// after it. Blocks and lines are painted, not written: no font makes them meet without gaps.

/** @typedef {import("./screen.js").Screen} Screen */
/** @typedef {import("./screen.js").Style} Style */

// What is painted of a cell: left, top, width, height, as parts of it. Lines are given by where
// they run; their strength is added when they are painted.
const BLOCKS = new Map([
  ["█", [0, 0, 1, 1]], ["▀", [0, 0, 1, 0.5]], ["▄", [0, 0.5, 1, 0.5]], ["▌", [0, 0, 0.5, 1]],
  ["▐", [0.5, 0, 0.5, 1]], ["▔", [0, 0, 1, 0.125]], ["▁", [0, 0.875, 1, 0.125]],
  ["▂", [0, 0.75, 1, 0.25]], ["▃", [0, 0.625, 1, 0.375]], ["▅", [0, 0.375, 1, 0.625]],
  ["▆", [0, 0.25, 1, 0.75]], ["▇", [0, 0.125, 1, 0.875]], ["▎", [0, 0, 0.25, 1]],
  ["▍", [0, 0, 0.375, 1]], ["▋", [0, 0, 0.625, 1]], ["▊", [0, 0, 0.75, 1]], ["▉", [0, 0, 0.875, 1]],
  ["▏", [0, 0, 0.125, 1]],
]);
// Which ways a line goes from the middle of its cell: up, right, down, left; 2 is a strong one.
const LINES = new Map([
  ["─", [0, 1, 0, 1]], ["━", [0, 2, 0, 2]], ["│", [1, 0, 1, 0]], ["┃", [2, 0, 2, 0]],
  ["╭", [0, 1, 1, 0]], ["╮", [0, 0, 1, 1]], ["╰", [1, 1, 0, 0]], ["╯", [1, 0, 0, 1]],
  ["┌", [0, 1, 1, 0]], ["┐", [0, 0, 1, 1]], ["└", [1, 1, 0, 0]], ["┘", [1, 0, 0, 1]],
  ["├", [1, 1, 1, 0]], ["┤", [1, 0, 1, 1]], ["┬", [0, 1, 1, 1]], ["┴", [1, 1, 0, 1]],
  ["┼", [1, 1, 1, 1]], ["╷", [0, 0, 1, 0]], ["╵", [1, 0, 0, 0]], ["╴", [0, 0, 0, 1]],
  ["╶", [0, 1, 0, 0]],
]);
const ROUND = new Map([["╭", "top left"], ["╮", "top right"], ["╰", "bottom left"], ["╯", "bottom right"]]);
// Letters that every font of one width gives its own cell; what is not among them stands alone.
const EVEN = /^[\x20-\x7e\u00a0-\u017f]$/;

/** A bench that draws nothing of a new size for so long is shown as it is. */
const PATIENCE_MS = 4000;

export class Painter {
  /** @param {HTMLElement} home @param {Screen} screen */
  constructor(home, screen) {
    this._home = home;
    this._screen = screen;
    /** @type {HTMLElement[]} */
    this._rows = [];
    this._asked = false;
    /** The size of the picture that is waited for. */
    this._held = null;
    this._timer = 0;
  }

  /**
   * Keep the picture as it is, dimmed, until the first of another size is whole: a picture half old
   * and half new cannot be read.
   * @param {ReturnType<typeof import("./sizes.js").fit>} size
   */
  hold(size) {
    this._held = size;
    this._home.classList.add("stale");
    clearTimeout(this._timer);
    this._timer = setTimeout(() => this.release(), PATIENCE_MS);
  }

  /** Paint the new picture: it is whole, or has been waited for long enough. */
  release() {
    if (!this._held) return;
    clearTimeout(this._timer);
    const { cell, letters } = this._held;
    this._held = null;
    this._cell = cell;
    Object.assign(this._home.style, letters);
    this._home.style.setProperty("--line", letters.lineHeight);
    this._home.classList.remove("stale");
    this._home.replaceChildren();
    this._rows = Array.from({ length: this._screen.rows }, (_, y) => {
      const row = document.createElement("div");
      row.className = "row";
      row.style.top = `${y * cell.height}px`;
      return row;
    });
    this._home.append(...this._rows);
    for (let y = 0; y < this._screen.rows; y += 1) this._screen.changed.add(y);
    this.soon();
  }

  /** Paint what changed before the next frame, once for all that changed until then. */
  soon() {
    if (this._asked) return;
    this._asked = true;
    requestAnimationFrame(() => {
      this._asked = false;
      this.now();
    });
  }

  /** Paint what changed. */
  now() {
    if (this._held) return;
    for (const y of this._screen.changed) {
      if (this._rows[y]) this._rows[y].replaceChildren(...this._runs(y));
    }
    this._screen.changed.clear();
  }

  *_runs(y) {
    const signs = this._screen.signs[y], styles = this._screen.styles[y];
    for (let x = 0, end; x < signs.length; x = end) {
      end = endOfRun(signs, styles, x);
      const text = signs.slice(x, end).join("");
      if (text.trim() || fill(styles[x]).bg || styles[x].under) yield this._run(text, styles[x], x, end);
    }
  }

  _run(text, style, x, end) {
    const run = document.createElement("span");
    const { width, height } = this._cell;
    const { fg, bg } = fill(style);
    run.style.left = `${x * width}px`;
    run.style.width = `${(end - x) * width}px`;
    if (fg) run.style.color = fg;
    if (bg) run.style.backgroundColor = bg;
    if (style.bold) run.style.fontWeight = "bold";
    if (style.slant) run.style.fontStyle = "italic";
    if (style.faint) run.style.opacity = "0.7";
    const lines = [style.under ? "underline" : "", style.struck ? "line-through" : ""].join(" ").trim();
    if (lines) run.style.textDecoration = lines;
    const rectangles = shapes(text[0], width, height);
    if (rectangles) this._shape(run, text, rectangles);
    else run.textContent = text;
    return run;
  }

  /** Paint blocks or lines into a run; their sign stays, unseen, for those who read. */
  _shape(run, text, rectangles) {
    run.classList.add("shape");
    run.textContent = text;
    const { width, height } = this._cell;
    const corner = ROUND.get(text[0]);
    if (corner) {
      run.append(rounded(corner, width, height));
      return;
    }
    // Each is repeated from cell to cell; one as wide as its cell makes one band of the run.
    run.style.backgroundImage = rectangles.map(() => "linear-gradient(currentColor, currentColor)").join();
    run.style.backgroundSize = rectangles.map(([, , w, h]) => `${w}px ${h}px`).join();
    run.style.backgroundPosition = rectangles.map(([left, top]) => `${left}px ${top}px`).join();
    run.style.backgroundRepeat = rectangles.map(([, , w]) => (w >= width ? "repeat-x" : "no-repeat")).join();
  }
}

function endOfRun(signs, styles, x) {
  let end = x + 1;
  const isShape = BLOCKS.has(signs[x]) || LINES.has(signs[x]);
  if (isShape) {
    const isWholeWidth = (BLOCKS.get(signs[x]) ?? [0, 0, 0])[2] === 1 || "─━".includes(signs[x]);
    while (isWholeWidth && end < signs.length && signs[end] === signs[x] && styles[end] === styles[x]) end += 1;
  } else if (EVEN.test(signs[x])) {
    while (end < signs.length && EVEN.test(signs[end]) && styles[end] === styles[x]) end += 1;
  } else {
    while (end < signs.length && signs[end] === "") end += 1; // the other half of a wide sign
  }
  return end;
}

/** @param {Style} style */
function fill(style) {
  if (!style.reverse) return style;
  return { fg: style.bg || "var(--ground)", bg: style.fg || "var(--text)" };
}

/** The rectangles of a sign in px: left, top, width, height; nothing for a letter. */
function shapes(sign, width, height) {
  const block = BLOCKS.get(sign);
  if (block) {
    const left = Math.round(block[0] * width), top = Math.round(block[1] * height);
    const right = Math.round((block[0] + block[2]) * width);
    const bottom = Math.round((block[1] + block[3]) * height);
    return [[left, top, right - left, bottom - top]];
  }
  const ways = LINES.get(sign);
  return ways ? bars(ways, width, height) : null;
}

function bars([up, right, down, left], width, height) {
  const strong = Math.max(up, right, down, left);
  const thick = strong * Math.max(1, Math.round(height / 16));
  const x = Math.round((width - thick) / 2), y = Math.round((height - thick) / 2);
  const found = [];
  if (left || right) {
    const from = left ? 0 : x, to = right ? width : x + thick;
    found.push([from, y, to - from, thick]);
  }
  if (up || down) {
    const from = up ? 0 : y, to = down ? height : y + thick;
    found.push([x, from, thick, to - from]);
  }
  return found;
}

/** A corner that is round, as an element with two borders. */
function rounded(corner, width, height) {
  const [vertical, horizontal] = corner.split(" ");
  const bend = document.createElement("i");
  const thick = Math.max(1, Math.round(height / 16));
  const line = `${thick}px solid currentColor`;
  const x = Math.round((width - thick) / 2), y = Math.round((height - thick) / 2);
  bend.style.left = horizontal === "left" ? `${x}px` : "0";
  bend.style.width = horizontal === "left" ? `${width - x}px` : `${x + thick}px`;
  bend.style.top = vertical === "top" ? `${y}px` : "0";
  bend.style.height = vertical === "top" ? `${height - y}px` : `${y + thick}px`;
  bend.style.setProperty(`border-${vertical}`, line);
  bend.style.setProperty(`border-${horizontal}`, line);
  bend.style.setProperty(`border-${vertical}-${horizontal}-radius`, `${width / 2}px`);
  return bend;
}
