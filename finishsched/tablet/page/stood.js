// Which picture a finger has seen: what changed a moment ago, nobody has answered yet.

/** To see, decide and move takes 240 ms at the usual pace (Card, Moran and Newell, The Psychology of
 * Human-Computer Interaction, Lawrence Erlbaum, 1983). */
const UNSEEN_MS = 240;

export class Stood {
  /** @param {() => number} clock gives milliseconds that only go forward */
  constructor(clock = () => performance.now()) {
    this._clock = clock;
    this._now = { of: 0, seen: 0 };
    this._before = this._now;
    this._changedAt = -Infinity;
  }

  /** Take the numbers of what is offered now. @param {{of: number, seen: number}} offer */
  take({ of, seen }) {
    if (of === this._now.of && seen === this._now.seen) return;
    if (this._now.of) { // else nothing was there yet
      // Of changes close upon each other, nobody saw what lay between.
      this._before = this.seen;
      this._changedAt = this._clock();
    }
    this._now = { of, seen };
  }

  /** The numbers of what a finger that taps now was meant for. */
  get seen() {
    return this._clock() - this._changedAt < UNSEEN_MS ? this._before : this._now;
  }
}
