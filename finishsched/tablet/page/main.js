// The page around the bench: it draws what the bench writes, and gives it hands, a bell and a line.

import { Awake } from "./awake.js";
import { Buttons } from "./buttons.js";
import { Connection } from "./connection.js";
import { Cover } from "./cover.js";
import { Fields } from "./fields.js";
import { watchFingers } from "./fingers.js";
import { watchKeyboard } from "./keyboard.js";
import { Painter } from "./paint.js";
import { Screen } from "./screen.js";
import { openSheet } from "./sheet.js";
import { fit, scale } from "./sizes.js";
import { Sound } from "./sound.js";
import { Stood } from "./stood.js";

const WORD_MS = 9000;
const home = document.getElementById("screen");
const sheet = document.getElementById("sheet");
const cover = new Cover();
const sound = new Sound();
const awake = new Awake(say);
const stood = new Stood();
let isUnlocked = false;
/** It rang before the page was allowed to. */
let isRingDue = false;
/** What the bench offers now. */
let offer = { of: 0, seen: 0, screen: "", title: "", refused: "", buttons: [], fields: [] };

let size = measured();
const screen = new Screen(size.columns, size.rows);
const painter = new Painter(home, screen);
painter.hold(size);
screen.onBell = ring;

const line = new Connection({
  text(text) {
    screen.feed(text);
    painter.soon();
  },
  told,
  state: follow,
  size: () => size,
});
const sendKeys = (data) => line.send("type", data);
const buttons = new Buttons(document.getElementById("hand"), tap, () => openSheet(sheet, buttons.all, tap, { awake, sound, fit: refit }));
const fields = new Fields(
  document.getElementById("fields"),
  (field, value) => line.send("typed", { of: offer.of, field, value }),
  () => tapRank("main"),
);

// A code that is scanned again brings its key along; it is not to be read off the address.
history.replaceState(null, "", location.pathname + location.search);
watchFingers(home, () => size.cell, sendKeys, (x, y) => line.send("touch", { ...stood.seen, x, y }));
watchKeyboard(sendKeys);
new ResizeObserver(refit).observe(home);
window.visualViewport?.addEventListener("resize", makeRoom);
makeRoom();
line.open();

/** Take what the bench tells beside what it draws. */
function told(word, more) {
  if (word === "look") dress(more);
  else if (word === "offer") take(more);
  else if (word === "ring") ring();
}

function take(now) {
  stood.take(now);
  if (now.of !== offer.of) sheet.hidden = true; // its buttons were of a screen that has gone
  offer = now;
  if (now.width === size.columns && now.height === size.rows) painter.release();
  document.body.dataset.on = now.screen;
  awake.sitting(now.screen === "sitting");
  fields.show(now);
  buttons.show(now, scale());
  if (now.screen) uncover();
}

/** Wear the colours of the bench. */
function dress({ colours, dark }) {
  for (const [name, colour] of Object.entries(colours)) document.documentElement.style.setProperty(`--${name}`, colour);
  document.documentElement.style.colorScheme = dark ? "dark" : "light";
  for (let y = 0; y < screen.rows; y += 1) screen.changed.add(y);
}

function tap(action, of = offer.of) {
  fields.flush();
  line.send("tap", { of, action });
}

function tapRank(rank) {
  const found = offer.buttons.find((one) => one.rank === rank);
  if (found) tap(found.action);
}

/** Follow the line: what lies over the bench, and what a new bench must know. */
function follow(state, since) {
  document.body.dataset.line = state;
  if (state === "open") return openAgain();
  awake.sitting(false);
  fields.keep();
  if (state === "lost") cover.lost(since, () => line.tryNow(), fields.title);
  else if (state === "locked") cover.locked();
  else if (state === "left") cover.left(line.why, () => location.reload());
}

/** The line is there: the same bench goes on where it was, or a new one begins. */
function openAgain() {
  const form = line.isAnew ? fields.letGo() : "";
  if (form) say(`Here again. “${form}” was open: open it, and what you typed is there.`);
  screen.resize(size.columns, size.rows);
  painter.hold(size);
}

/** Show the bench, once it has said what it offers. */
function uncover() {
  if (isUnlocked) cover.away();
  else cover.ask(() => {
    isUnlocked = true;
    sound.unlock();
    document.body.dataset.sound = sound.isOn ? "on" : "";
    cover.away();
    if (isRingDue) ring();
    if (sound.lacks) say(sound.lacks);
  });
}

function ring() {
  isRingDue = !isUnlocked;
  if (isRingDue) return;
  document.body.dataset.rings = String(Number(document.body.dataset.rings ?? 0) + 1);
  sound.ring();
  document.body.classList.remove("ringing");
  requestAnimationFrame(() => document.body.classList.add("ringing"));
  setTimeout(() => document.body.classList.remove("ringing"), 4000);
}

/** Say something of the page's own for a while. */
function say(text) {
  const word = document.getElementById("word");
  word.textContent = text;
  word.hidden = false;
  clearTimeout(say.timer);
  say.timer = setTimeout(() => {
    word.hidden = true;
  }, WORD_MS);
}

function measured() {
  document.documentElement.style.setProperty("--scale", String(scale()));
  return fit(home);
}

/** Have as many cells as there is room for now. */
function refit() {
  const now = measured();
  const isSame = JSON.stringify(now) === JSON.stringify(size);
  size = now;
  if (!isSame) {
    screen.resize(size.columns, size.rows);
    painter.hold(size);
    line.send("resize", { width: size.columns, height: size.rows });
  }
  if (offer.screen) buttons.show(offer, scale());
}

/** Keep clear of the tablet's keyboard, which lies over a page without telling its layout. */
function makeRoom() {
  const height = window.visualViewport?.height ?? window.innerHeight;
  document.documentElement.style.setProperty("--height", `${Math.floor(height)}px`);
}
