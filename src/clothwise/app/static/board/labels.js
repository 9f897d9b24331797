// Where the words of pieces stand. They keep their size on the screen: they go to the first place
// inside in which they have room, level if they can, the name alone if there is no room for both.
// A name that fits nowhere inside stands beside its piece, with a thin line to it; a long one in two
// lines. Where it would cover something else it is not shown until one comes closer.

const SVG = "http://www.w3.org/2000/svg";
const BESIDE_PX = [3, 12, 26, 45, 70, 110, 160, 220]; // how far from the piece, nearest first
const WAYS = [[0, 1], [0, -1], [1, 0], [-1, 0], [1, 1], [-1, 1], [1, -1], [-1, -1]];
const HIGH_PX = 17; // of a name inside
const BESIDE_HIGH_PX = 14;
const CLEAR_PX = 1; // between a name beside and what else lies there
const COVERED = 10; // what a square pixel counts that lies on something else, in pixels further away
const CROSSED = 45; // the same for what the line to the piece leads over
const WORST = 120; // what a name beside may cost at most, to be shown; our own choice
const WAY_SHARES = Array.from({ length: 12 }, (_, at) => at / 11);
const BESIDE_SIZE = 14 / 16; // of the letters, against those inside

/**
 * Place all words of a board.
 * @param {Element} pieces
 * @param {number} k pixels to the millimeter
 * @param {{left: number, top: number, width: number, height: number}} seen what of the board is in
 *   sight, in pixels from its origin: there the names beside pieces stay, if their pieces are there
 * @param {Array} glass what lies over the board, likewise
 */
export function placeLabels(pieces, k, seen, glass) {
  const outside = [...pieces.querySelectorAll(".label")].filter((label) => !placedInside(label, k));
  if (!outside.length) return;
  const taken = [...[...pieces.children].map((place) => boxOf(place, k)), ...glass];
  for (const label of outside) {
    const found = placedBeside(label, taken, k, seen);
    if (found) taken.push(found);
  }
}

/** What was measured before the type was there counts no more. */
export function measureAnew() {
  widths.clear();
  families.clear();
}

// The third place of a piece lies over thin lines.
function placedInside(label, k) {
  const texts = ["name", "how-cut"].map((each) => label.querySelector(`.${each}`));
  const [name, cut] = texts.map((each) => wide(each));
  const spots = spotsOf(label);
  const clear = spots.slice(0, 2).sort((one, other) => one[4] - other[4]);
  const fits = (width, height) => ([, , w, h]) => w * k >= width && h * k >= height;
  const both = clear.find(fits(Math.max(name, cut), 38));
  const found = both || clear.find(fits(name, HIGH_PX)) || spots.slice(2).find(fits(name, HIGH_PX));
  label.classList.toggle("name-only", !both);
  label.classList.toggle("beside", !found);
  label.classList.remove("without-room");
  label.querySelector(".leader")?.remove();
  if (!found) return false;
  write(texts[0], [texts[0].textContent]);
  const [x, y, , , turned] = found;
  label.setAttribute("transform", `translate(${x} ${y})${turned ? " rotate(-90)" : ""}`);
  return true;
}

// The best place around the piece: nothing else lies there, it is near, and the way to the piece
// crosses no other. Null where every place is bad.
function placedBeside(label, taken, k, seen) {
  const place = label.closest(".place");
  const box = boxOf(place, k);
  const text = label.querySelector(".name");
  const lines = inLines(text);
  write(text, lines);
  const width = Math.max(...lines.map((line) => wide(text, line))) * BESIDE_SIZE;
  const high = lines.length * BESIDE_HIGH_PX;
  const isSeen = cover(box, seen) > 0;
  let best = { cost: Infinity };
  for (const away of BESIDE_PX) {
    for (const way of WAYS) {
      const found = beside(box, way, away, width, high);
      const hidden = isSeen ? width * high - cover(found, seen) : 0;
      const covered = taken.reduce((sum, each) => sum + cover(found, each, CLEAR_PX), 2 * hidden);
      const least = COVERED * covered + away;
      if (least >= best.cost) continue;
      const cost = least + CROSSED * crossed(found, box, taken);
      if (cost < best.cost) best = { ...found, cost };
    }
    if (best.cost <= away) break; // further away is only worse
  }
  label.classList.toggle("without-room", best.cost > WORST);
  if (best.cost > WORST) return null;
  const [x, y] = [best.left + width / 2, best.top + high / 2];
  const [left, top] = [Number(place.dataset.x), Number(place.dataset.y)];
  const at = [x / k - left, y / k - top];
  label.setAttribute("transform", `translate(${at.map((each) => each.toFixed(2)).join(" ")})`);
  lead(label, best, [x, y], at, k);
  return best;
}

// A line from the edge of the words to what is nearest of the piece.
function lead(label, words, [x, y], at, k) {
  const ends = endsOf(label).map(([inX, inY]) => [(inX - at[0]) * k, (inY - at[1]) * k]);
  const [toX, toY] = ends.sort((one, other) => Math.hypot(...one) - Math.hypot(...other))[0];
  const from = [
    Math.max(words.left - x, Math.min(toX, words.left + words.width - x)),
    Math.max(-words.height / 2, Math.min(toY, words.height / 2)),
  ];
  const line = document.createElementNS(SVG, "line");
  line.setAttribute("class", "leader");
  const places = { x1: from[0] / k, y1: from[1] / k, x2: toX / k, y2: toY / k };
  for (const [key, value] of Object.entries(places)) line.setAttribute(key, value.toFixed(2));
  label.prepend(line);
}

// Places along the edges of a piece, of one without any its roomiest place.
function endsOf(label) {
  const edges = [...label.closest(".piece").querySelectorAll(".edge[data-handles]")];
  const places = edges.flatMap((edge) => pairs(edge.dataset.handles));
  return places.length ? places : [spotsOf(label)[0].slice(0, 2)];
}

function pairs(text) {
  const found = text.split(" ").filter(Boolean).map(Number);
  return found.flatMap((x, at) => (at % 2 ? [] : [[x, found[at + 1]]]));
}

function beside({ left, top, width, height }, [across, down], away, wideWords, highWords) {
  const middle = left + width / 2 + across * (width / 2 + away + wideWords / 2);
  const level = top + height / 2 + down * (height / 2 + away + highWords / 2);
  return {
    left: middle - wideWords / 2,
    top: level - highWords / 2,
    width: wideWords,
    height: highWords,
  };
}

// A name in two lines if it has a comma, parted where the longer of them is shortest.
function inLines(text) {
  const name = text.textContent;
  const commas = [...name.matchAll(/, /g)].map((found) => found.index + 2);
  const parted = commas.map((at) => [name.slice(0, at), name.slice(at)]);
  const longest = (lines) => Math.max(...lines.map((line) => wide(text, line)));
  return parted.sort((one, other) => longest(one) - longest(other))[0] || [name];
}

function write(text, lines) {
  if (lines.length === (text.children.length || 1)) return;
  text.replaceChildren(
    ...lines.map((line, at) => {
      if (lines.length === 1) return line;
      const part = document.createElementNS(SVG, "tspan");
      part.textContent = line;
      part.setAttribute("x", 0);
      part.setAttribute("dy", at ? "1em" : "-0.5em");
      return part;
    }),
  );
}

// How many other things the way from one rectangle to another leads over.
function crossed(one, other, taken) {
  const [from, to] = [one, other].map(({ left, top, width, height }) => [left + width / 2, top + height / 2]);
  const spots = WAY_SHARES.map((share) => from.map((each, at) => each + (to[at] - each) * share));
  const over = taken.filter((each) => cover(each, other) === 0);
  return over.filter((each) => spots.some(([left, top]) => cover({ left, top, width: 1, height: 1 }, each))).length;
}

// How much of one rectangle lies on another, in square pixels; `clear` is room around it.
function cover(one, other, clear = 0) {
  const across = Math.min(one.left + one.width, other.left + other.width) - Math.max(one.left, other.left);
  const down = Math.min(one.top + one.height, other.top + other.height) - Math.max(one.top, other.top);
  return across > -clear && down > -clear ? (across + clear) * (down + clear) : 0;
}

function boxOf(place, k) {
  const [left, top, width, height] = place.dataset.box.split(" ").map(Number);
  return {
    left: (left + Number(place.dataset.x)) * k,
    top: (top + Number(place.dataset.y)) * k,
    width: width * k,
    height: height * k,
  };
}

function spotsOf(label) {
  return label.dataset.spots.split(";").map((each) => each.split(" ").map(Number));
}

const widths = new Map();
const families = new Map();
const pen = document.createElement("canvas").getContext("2d");

// All names are written in one type, and all instructions in another.
function familyOf(text) {
  const kind = text.matches(".name");
  if (!families.has(kind)) families.set(kind, getComputedStyle(text).fontFamily);
  return families.get(kind);
}

function wide(text, words = text.textContent) {
  const family = familyOf(text);
  const font = text.matches(".name") ? `500 16px ${family}` : `400 12.5px ${family}`;
  const key = `${font} ${words}`;
  if (!widths.has(key)) {
    pen.font = font;
    widths.set(key, pen.measureText(words).width + 4);
  }
  return widths.get(key);
}
