// A keyboard, or a foot switch that sends a key, on the tablet: its keys go to the bench.

const NAMED = new Map([
  ["Enter", "\r"], ["Escape", "\x1b"], ["Backspace", "\x7f"], ["Tab", "\t"],
  ["ArrowUp", "\x1b[A"], ["ArrowDown", "\x1b[B"], ["ArrowRight", "\x1b[C"], ["ArrowLeft", "\x1b[D"],
  ["Home", "\x1b[H"], ["End", "\x1b[F"], ["PageUp", "\x1b[5~"], ["PageDown", "\x1b[6~"],
  ["Delete", "\x1b[3~"], ["F1", "\x1bOP"], ["F2", "\x1bOQ"], ["F3", "\x1bOR"], ["F4", "\x1bOS"],
  ["F5", "\x1b[15~"], ["F6", "\x1b[17~"], ["F7", "\x1b[18~"], ["F8", "\x1b[19~"], ["F9", "\x1b[20~"],
  ["F10", "\x1b[21~"], ["F11", "\x1b[23~"], ["F12", "\x1b[24~"],
]);

/** @param {(data: string) => void} send */
export function watchKeyboard(send) {
  document.addEventListener("keydown", (event) => {
    if (event.target instanceof Element && event.target.closest("input, textarea, button, #sheet, #cover")) return;
    if (event.ctrlKey || event.metaKey || event.altKey) return; // the browser's own
    const data = NAMED.get(event.key) ?? ([...event.key].length === 1 ? event.key : "");
    if (!data) return;
    event.preventDefault();
    send(data);
  });
}
