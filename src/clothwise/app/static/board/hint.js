// How the tool in hand is used, in a few words: they stand below the tool, and go along with the
// pointer once it is on the board, until the tool was used.

const BESIDE_PX = 18; // of the pointer
const NARROW_PX = 800; // on a board so wide the words lie on pieces, whichever side they stand
const READ_MS = 6000; // so long they stay there; the line below the board keeps them

/**
 * Let an element be the hint of a board; returns what tells it words, or none to take it away, and
 * the button of the tool.
 * @param {HTMLElement} board
 * @param {HTMLElement} place
 */
export function hints(board, place) {
  let [x, y] = [null, null];
  let tool = null;
  let leaving = 0;

  function put() {
    if (place.hidden) return;
    const box = board.getBoundingClientRect();
    if (x === null) {
      const left = (tool?.getBoundingClientRect().left || box.left) - box.left;
      place.style.left = `${Math.max(8, Math.min(left, box.width - place.offsetWidth - 8))}px`;
      place.style.top = "";
      return;
    }
    const right = x - box.left + BESIDE_PX;
    const below = y - box.top + BESIDE_PX;
    const fitsRight = right + place.offsetWidth < box.width - 8;
    const fitsBelow = below + place.offsetHeight < box.height - 44; // the caption stays in sight
    place.style.left = `${Math.max(8, fitsRight ? right : right - 2 * BESIDE_PX - place.offsetWidth)}px`;
    place.style.top = `${Math.max(8, fitsBelow ? below : below - 2 * BESIDE_PX - place.offsetHeight)}px`;
  }

  board.addEventListener("pointermove", (event) => {
    if (event.pointerType === "touch") return;
    [x, y] = [event.clientX, event.clientY];
    put();
  });
  board.addEventListener("pointerleave", () => {
    [x, y] = [null, null];
    put();
  });

  return (words, of = tool) => {
    tool = of;
    place.hidden = !words;
    if (words) place.textContent = words;
    put();
    clearTimeout(leaving);
    const goes = words && x === null && board.clientWidth < NARROW_PX;
    if (goes) leaving = setTimeout(() => (place.hidden = true), READ_MS);
  };
}
