// The papers of the shop, to print from the tablet: asked for only when somebody wants one, for
// the machine has to reckon them.

import { button } from "./buttons.js";

/** The button that asks which papers there are, and gives way to them. */
export function papersButton() {
  const ask = line("papers", "record, sheet, labels and week, to read or print");
  ask.addEventListener("click", async () => {
    ask.querySelector("small").textContent = "looking which there are";
    try {
      const answer = await fetch("/papers", { cache: "no-store" });
      if (!answer.ok) throw new Error(await answer.text());
      const { papers } = await answer.json();
      ask.replaceWith(...papers.map(link));
    } catch (fault) {
      ask.querySelector("small").textContent = `! none to be had: ${fault.message}; tap to ask again`;
    }
  });
  return ask;
}

/** @param {{paper: string, title: string, of: string}} one */
function link(one) {
  const made = line(one.title, one.of ? one.paper : "of the whole shop");
  // In a page beside this one: the bench stays as it is.
  made.addEventListener("click", () => window.open(`/papers/${one.paper}?of=${encodeURIComponent(one.of)}`, "_blank"));
  return made;
}

function line(words, said) {
  return button({ words, said, about: "", action: `page ${words}`, key: "", rank: "", group: "" }, "line", () => {});
}
