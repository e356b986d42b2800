// The sheet over the bench: every other thing that it can do, by what it is for, and the page's own
// few settings.

import { button } from "./buttons.js";
import { papersButton } from "./papers.js";
import { rescale, scale } from "./sizes.js";

/**
 * @param {HTMLElement} sheet
 * @param {import("./buttons.js").Button[]} buttons
 * @param {(action: string) => void} tap
 * @param {{awake: import("./awake.js").Awake, sound: import("./sound.js").Sound, fit: () => void}} page
 */
export function openSheet(sheet, buttons, tap, page) {
  const close = () => {
    sheet.hidden = true;
    sheet.replaceChildren();
  };
  const tapAndClose = (action) => {
    close();
    tap(action);
  };
  // The group of the next thing leads; the others follow as the bench tells them.
  const groups = new Map([[buttons.find((one) => one.rank === "main")?.group ?? "", []]]);
  for (const one of buttons) groups.set(one.group, [...(groups.get(one.group) ?? []), one]);
  const parts = [own("back to the bench", "other", close)];
  for (const [name, members] of groups) {
    if (name && members.length) parts.push(heading(name));
    parts.push(...members.map((one) => button(one, "line", tapAndClose)));
  }
  parts.push(heading("papers to print"), papersButton());
  parts.push(heading("this screen"), ...settings(page, () => openSheet(sheet, buttons, tap, page)));
  sheet.replaceChildren(...parts);
  if (sheet.hidden) sheet.scrollTop = 0;
  sheet.hidden = false;
}

function settings({ awake, sound, fit }, anew) {
  const resize = (step) => () => {
    rescale(step);
    fit();
    anew();
  };
  const keep = awake.always ? "stays on always" : "stays on during sittings";
  return [
    own("larger", "line", resize(1), `everything at ${Math.round(100 * scale())} %`),
    own("smaller", "line", resize(-1), `everything at ${Math.round(100 * scale())} %`),
    own(keep, "line", () => {
      awake.always = !awake.always;
      anew();
    }, awake.lacks || "a tap changes it; what rings must be awake"),
    own("ring once", "line", () => sound.ring(), sound.lacks || "to hear it, and to set how loud"),
  ];
}

function heading(text) {
  const made = document.createElement("h2");
  made.textContent = text;
  return made;
}

function own(words, look, tap, about = "") {
  return button({ words, said: about, about: "", action: `page ${words}`, key: "", rank: "", group: "" }, look, tap);
}
