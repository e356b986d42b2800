// The line to the bench: opened, watched, and opened again by itself when it was lost.
//
// Nothing that was tapped is kept while it is lost: what is not on the screen was not done, and
// what was logged is in the shop's journal.

/** How long to wait before each try, the last again and again. */
const WAITS_MS = [300, 700, 1500, 3000, 5000];
/** The line is asked for a sign of life this often, and is lost after this much silence. */
const ASK_MS = 4000;
const SILENT_MS = 10000;
/** How long the server may take to say whether this page may still come in. */
const PATIENCE_MS = 5000;
/** Said when a line is given up, and not the bench: that is kept, to be found again. */
const LOST = 4001;

/**
 * Where the line stands: it opens, is open, was lost, is locked (the secret is no longer good), or
 * the bench was left.
 * @typedef {"opening" | "open" | "lost" | "locked" | "left"} State
 */

export class Connection {
  /**
   * @param {{text: (text: string) => void, told: (word: string, more: any) => void,
   *   state: (state: State, since: Date) => void, size: () => {columns: number, rows: number}}} hears
   */
  constructor(hears) {
    this._hears = hears;
    /** @type {WebSocket | null} */
    this._socket = null;
    /** @type {State} */
    this.state = "opening";
    this.since = new Date();
    /** Why the bench was left, where somebody should know. */
    this.why = "";
    /** True when it was begun just now, and not only found again. */
    this.isAnew = true;
    /** Which bench is ours: the server keeps it for a while when the line is lost. */
    this._bench = "";
    this._tries = 0;
    this._attempt = 0;
    this._heardAt = 0;
    this._timer = 0;
    setInterval(() => this._ask(), ASK_MS);
    window.addEventListener("online", () => this.tryNow());
    window.addEventListener("offline", () => this._lost());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this._ask(), this.tryNow();
    });
  }

  /** Open the line. */
  async open() {
    clearTimeout(this._timer);
    const attempt = (this._attempt += 1);
    const answer = await this._isServed();
    if (attempt !== this._attempt) return; // a later try is under way
    if (answer === "locked") return this._become("locked");
    if (answer === "away") return this._lost();
    const socket = new WebSocket(`${location.origin.replace(/^http/, "ws")}/bench`);
    socket.binaryType = "arraybuffer";
    const letters = new TextDecoder();
    this._socket = socket;
    this._heardAt = Date.now();
    socket.onopen = () => {
      const { columns, rows } = this._hears.size();
      socket.send(JSON.stringify(["open", { width: columns, height: rows, bench: this._bench }]));
    };
    socket.onmessage = (event) => {
      if (socket !== this._socket) return;
      this._heardAt = Date.now();
      if (typeof event.data !== "string") this._hears.text(letters.decode(event.data, { stream: true }));
      else this._take(...JSON.parse(event.data));
    };
    socket.onclose = () => {
      if (socket !== this._socket) return;
      this._socket = null;
      this._lost();
    };
  }

  /** Open the line now, where it is lost and waits for its next try. */
  tryNow() {
    if (this.state === "lost") {
      this._tries = 0;
      this.open();
    }
  }

  /** Say a word to the bench, if the line is open. @param {string} word */
  send(word, more = {}) {
    if (this.state === "open" && this._socket?.readyState === WebSocket.OPEN) {
      this._socket.send(JSON.stringify([word, more]));
    }
  }

  _take(word, more) {
    if (word === "opened") {
      this._bench = more.bench;
      this.isAnew = more.anew;
      this._become("open");
    } else if (word === "left" || word === "full") {
      this.why = word === "full" ? `${more.open} screens are open already: close one of them.` : more.why;
      this._bench = "";
      this._become("left");
    } else if (word !== "pong") this._hears.told(word, more);
  }

  /** Ask the server whether it is there, and whether this page may still come in. */
  async _isServed() {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), PATIENCE_MS);
    try {
      const answer = await fetch("/page/icon.svg", { cache: "no-store", signal: patience.signal });
      return answer.status === 401 ? "locked" : "served";
    } catch {
      return "away";
    } finally {
      clearTimeout(timer);
    }
  }

  _ask() {
    if (!this._socket) return;
    if (Date.now() - this._heardAt > SILENT_MS) {
      const silent = this._socket;
      this._socket = null;
      silent.close(LOST);
      this._lost();
    } else if (this._socket.readyState === WebSocket.OPEN) {
      this._socket.send(JSON.stringify(["ping", 0]));
    }
  }

  _lost() {
    if (this.state === "locked" || this.state === "left") return;
    if (this._socket) {
      const gone = this._socket;
      this._socket = null;
      gone.close(LOST);
    }
    if (this.state !== "lost") this._become("lost");
    clearTimeout(this._timer);
    const wait = WAITS_MS[Math.min(this._tries, WAITS_MS.length - 1)];
    this._tries += 1;
    this._timer = setTimeout(() => this.open(), wait);
  }

  /** @param {State} state */
  _become(state) {
    const before = this.since;
    this.state = state;
    this.since = new Date();
    if (state === "open") this._tries = 0;
    this._hears.state(state, state === "open" ? before : this.since);
  }
}
