// Ringing: a sound that is made here, and a shake. Browsers allow both only after a first tap.

/** A small bell, three strokes: when each begins, in seconds, and its pitch, in hertz. */
const STROKES = [[0, 880], [0.35, 1175], [0.7, 880], [1.6, 880], [1.95, 1175], [2.3, 880]];
const SHAKE_MS = [200, 120, 200, 120, 400];

export class Sound {
  constructor() {
    /** @type {AudioContext | null} */
    this._sound = null;
  }

  /** To be called from a tap: from here on the page may ring. */
  unlock() {
    const Context = window.AudioContext ?? window.webkitAudioContext;
    if (Context && !this._sound) this._sound = new Context();
    this._sound?.resume();
    navigator.vibrate?.(40);
    this._strike(0, 880, 0.06);
  }

  /** Whether anything would be heard now. */
  get isOn() {
    return this._sound?.state === "running";
  }

  /** What this browser cannot do, in words; nothing when it can do both. */
  get lacks() {
    const missing = [this._sound ? "" : "sound", "vibrate" in navigator ? "" : "vibration"];
    const said = missing.filter(Boolean).join(" and no ");
    return said ? `This browser gives no ${said}.` : "";
  }

  /** Ring. */
  ring() {
    this._sound?.resume(); // a browser may have put it to rest while the page was hidden
    navigator.vibrate?.(SHAKE_MS);
    for (const [at, pitch] of STROKES) this._strike(at, pitch, 0.5);
  }

  _strike(at, pitch, loud) {
    if (!this._sound) return;
    const begins = this._sound.currentTime + at;
    const tone = this._sound.createOscillator(), strength = this._sound.createGain();
    tone.type = "triangle"; // its overtones are heard over a fan, where a pure tone is not
    tone.frequency.value = pitch;
    strength.gain.setValueAtTime(0.0001, begins);
    strength.gain.exponentialRampToValueAtTime(loud, begins + 0.01);
    strength.gain.exponentialRampToValueAtTime(0.0001, begins + 0.6);
    tone.connect(strength).connect(this._sound.destination);
    tone.start(begins);
    tone.stop(begins + 0.65);
  }
}
