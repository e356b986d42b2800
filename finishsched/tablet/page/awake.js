// Keeps the tablet's screen from sleeping while a sitting runs, or always where that is wished.

const KEPT = "finishsched.awake";

export class Awake {
  /** @param {(text: string) => void} say */
  constructor(say) {
    this._say = say;
    this._isSitting = false;
    this._lock = null;
    this._told = false;
    document.addEventListener("visibilitychange", () => this._follow()); // a hidden page loses it
  }

  /** Whether the screen is to stay on outside sittings too. */
  get always() {
    return localStorage.getItem(KEPT) === "always";
  }

  set always(wished) {
    localStorage.setItem(KEPT, wished ? "always" : "sittings");
    this._told = false;
    this._follow();
  }

  /** Why it cannot be kept awake; nothing when it can. */
  get lacks() {
    if ("wakeLock" in navigator) return "";
    return window.isSecureContext
      ? "This browser cannot keep the screen awake: set the tablet's own time to sleep to its longest."
      : "Browsers keep a screen awake only over https: serve with a certificate, or set the "
        + "tablet's own time to sleep to its longest.";
  }

  /** Take whether a sitting runs. @param {boolean} isSitting */
  sitting(isSitting) {
    if (isSitting === this._isSitting) return;
    this._isSitting = isSitting;
    this._follow();
  }

  async _follow() {
    const wanted = (this._isSitting || this.always) && document.visibilityState === "visible";
    document.body.dataset.awake = wanted ? (this.lacks ? "cannot" : "kept") : "";
    if (wanted && this.lacks) this._tellOnce(this.lacks);
    else if (wanted && !this._lock) await this._take();
    else if (!wanted) await this._letGo();
  }

  async _take() {
    try {
      this._lock = await navigator.wakeLock.request("screen");
      this._lock.addEventListener("release", () => {
        this._lock = null;
      });
      if (!(this._isSitting || this.always)) await this._letGo(); // it ended while this was asked
    } catch (fault) {
      document.body.dataset.awake = "cannot";
      this._tellOnce(`The screen may sleep: the tablet says ${fault.message || fault.name}.`);
    }
  }

  async _letGo() {
    await this._lock?.release();
    this._lock = null;
  }

  _tellOnce(text) {
    if (!this._told) this._say(text);
    this._told = true;
  }
}
