// What a finger does on the bench's screen: a tap is a click on its cell, a stroke turns.

/** A finger that moves less far than this, in CSS px, taps. */
const STILL_PX = 12;

/**
 * @param {HTMLElement} home
 * @param {() => {width: number, height: number}} cell the measures of a cell in CSS px
 * @param {(data: string) => void} send
 * @param {(x: number, y: number) => void} touch takes the cell that was tapped, counted from 0
 */
export function watchFingers(home, cell, send, touch) {
  /** @type {{id: number, x: number, y: number, turned: number, moved: boolean} | null} */
  let finger = null;

  const at = (event) => {
    const box = home.getBoundingClientRect();
    const x = Math.floor((event.clientX - box.left) / cell().width) + 1;
    const y = Math.floor((event.clientY - box.top) / cell().height) + 1;
    return [Math.max(1, x), Math.max(1, y)];
  };

  home.addEventListener("pointerdown", (event) => {
    if (finger) return; // a second finger, or the ball of the hand
    finger = { id: event.pointerId, x: event.clientX, y: event.clientY, turned: 0, moved: false };
    finger.cell = at(event);
    home.setPointerCapture(event.pointerId);
    event.preventDefault();
  });

  home.addEventListener("pointermove", (event) => {
    if (!finger || event.pointerId !== finger.id) return;
    const way = finger.y - event.clientY;
    if (Math.hypot(way, event.clientX - finger.x) > STILL_PX) finger.moved = true;
    if (!finger.moved) return;
    // A line for each height of a line: what lies under the finger goes along with it.
    const lines = Math.trunc(way / cell().height) - finger.turned;
    finger.turned += lines;
    const wheel = lines > 0 ? 65 : 64;
    if (lines) send(`\x1b[<${wheel};${finger.cell.join(";")}M`.repeat(Math.abs(lines)));
  });

  home.addEventListener("pointerup", (event) => {
    if (!finger || event.pointerId !== finger.id) return;
    if (!finger.moved) {
      touch(finger.cell[0] - 1, finger.cell[1] - 1);
      show(home, event);
    }
    finger = null;
  });
  home.addEventListener("pointercancel", () => {
    finger = null;
  });

  // With a mouse or a touch pad on the tablet, the wheel turns too.
  home.addEventListener("wheel", (event) => {
    send(`\x1b[<${event.deltaY > 0 ? 65 : 64};${at(event).join(";")}M`);
    event.preventDefault();
  }, { passive: false });
}

/** Show where the finger was, at once: the bench itself may answer a moment later. */
function show(home, event) {
  const spot = document.createElement("div");
  const box = home.getBoundingClientRect();
  spot.className = "spot";
  spot.style.left = `${event.clientX - box.left}px`;
  spot.style.top = `${event.clientY - box.top}px`;
  home.append(spot);
  spot.addEventListener("animationend", () => spot.remove());
}
