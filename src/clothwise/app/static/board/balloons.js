// Numbers of findings at their places. They keep their size on the screen, so that those of places
// near to each other would lie on one another: they are moved apart, as little as that takes.

const CLEAR_PX = 2; // between two rings
const ROUNDS = 24; // of moving; enough for a row of ten
const SAME_PX = 0.5; // nearer than this they lie on one place, and part sideways

/**
 * Move rings apart that lie on one another.
 * @param {Element} pieces holding the spots: groups with `data-spot`, their place on the piece
 * @param {number} k pixels to the millimeter
 */
export function partBalloons(pieces, k) {
  const spots = [...pieces.querySelectorAll("[data-spot]")].map((spot) => ringOf(spot, k));
  for (let round = 0; round < ROUNDS; round += 1) {
    let isStill = true;
    for (const [at, one] of spots.entries()) {
      for (const other of spots.slice(at + 1)) if (part(one, other)) isStill = false;
    }
    if (isStill) break;
  }
  for (const { spot, from, way } of spots) {
    const [x, y] = from.map((each, axis) => each + way[axis] / k);
    spot.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
  }
}

function ringOf(spot, k) {
  const from = spot.dataset.spot.split(" ").map(Number);
  const { x, y } = spot.closest(".place").dataset;
  const origin = [(from[0] + Number(x)) * k, (from[1] + Number(y)) * k];
  return { spot, from, origin, way: [0, 0], radius: Number(spot.querySelector("circle").getAttribute("r")) };
}

// Whether two rings had to be moved.
function part(one, other) {
  const [from, to] = [one, other].map(({ origin, way }) => origin.map((each, axis) => each + way[axis]));
  const apart = from.map((each, axis) => to[axis] - each);
  const distance = Math.hypot(...apart);
  const lacks = one.radius + other.radius + CLEAR_PX - distance;
  if (lacks <= 0.1) return false;
  const along = distance < SAME_PX ? [1, 0] : apart.map((each) => each / distance);
  for (const axis of [0, 1]) {
    one.way[axis] -= (along[axis] * lacks) / 2;
    other.way[axis] += (along[axis] * lacks) / 2;
  }
  return true;
}
