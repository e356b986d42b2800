// How large a cell is, and how many of them the screen has room for.

/** The height of a line in CSS px: two of them are the 44 that a finger needs. */
const LINE_PX = 22;
const CELL_PX = 11;
/** A narrow screen has smaller letters before it has fewer of them than this. */
const COLUMNS = 48, FEWEST_COLUMNS = 40, LEAST_CELL_PX = 7;
const KEPT = "finishsched.scale";
export const SCALES = [1, 1.15, 1.3, 1.5, 1.75, 2];

/** The scale of everything: as it was chosen, or as the address says. */
export function scale() {
  const asked = new URLSearchParams(location.search).get("scale") ?? localStorage.getItem(KEPT);
  const known = Number(asked);
  return known >= 1 && known <= 3 ? known : 1;
}

/** Choose the next larger or smaller scale. @param {number} step */
export function rescale(step) {
  const nearest = SCALES.findIndex((each) => each >= scale());
  const chosen = Math.min(Math.max(nearest + step, 0), SCALES.length - 1);
  localStorage.setItem(KEPT, String(SCALES[chosen]));
}

/** How wide a letter of a font of 100 px is, as a part of its size. @param {HTMLElement} home */
function widthOfLetter(home, size) {
  const ruler = document.createElement("span");
  ruler.className = "ruler";
  ruler.style.fontSize = `${size}px`;
  ruler.textContent = "m".repeat(100);
  home.append(ruler);
  const width = ruler.getBoundingClientRect().width / 100;
  ruler.remove();
  return width;
}

/** The fewest and most rows and columns that a bench is drawn for. */
const ROWS = [8, 200], WIDTHS = [20, 400];

/**
 * How the screen's letters fit into its room.
 * @param {HTMLElement} home
 * @returns {{cell: {width: number, height: number}, columns: number, rows: number,
 *   letters: {fontSize: string, lineHeight: string, letterSpacing: string}}}
 */
export function fit(home) {
  const room = home.getBoundingClientRect(), by = scale();
  const height = Math.round(LINE_PX * by);
  const least = by > 1 ? FEWEST_COLUMNS : COLUMNS;
  const width = Math.max(LEAST_CELL_PX, Math.min(Math.round(CELL_PX * by), Math.floor(room.width / least)));
  const size = Math.min((width / widthOfLetter(home, 100)) * 100, height * 0.86);
  return {
    cell: { width, height },
    columns: within(Math.floor(room.width / width), WIDTHS),
    rows: within(Math.floor(room.height / height), ROWS),
    letters: {
      fontSize: `${size}px`,
      lineHeight: `${height}px`,
      letterSpacing: `${width - widthOfLetter(home, size)}px`,
    },
  };
}

function within(number, [least, most]) {
  return Math.min(Math.max(number, least), most);
}
