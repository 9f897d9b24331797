// The cut room: a touch on the garment paints, a drag on the cloth pins. Geometry is Python's: this
// file shows a move while it is made, and sends how far it went.
import { beside } from "/static/grid/faulty.js";
import { isRefusal, send, tell } from "/static/shell/shell.js";

const STEP_MM = 10;
const FINE_MM = 1;
const CLICK_PX = 4;

const room = document.getElementById("room");

// Painting ----------------------------------------------------------------------------------------

function keyOf(element) {
  const { piece, copy } = element.dataset;
  return `${piece}/${copy}`;
}

function light(key) {
  for (const each of room.querySelectorAll(".lit")) each.classList.remove("lit");
  if (!key) return;
  for (const each of room.querySelectorAll(".target")) {
    each.classList.toggle("lit", keyOf(each) === key);
  }
  for (const each of room.querySelectorAll(".tile")) {
    each.classList.toggle("lit", each.dataset.key === key);
  }
}

function pointed(event) {
  const target = event.target.closest?.(".target, .tile");
  if (!target) return "";
  return target.dataset.key ?? keyOf(target);
}

room.addEventListener("pointerover", (event) => light(pointed(event)));
room.addEventListener("focusin", (event) => light(pointed(event)));

room.addEventListener("click", (event) => {
  const target = event.target.closest(".garments .target");
  if (!target) return;
  const brush = document.querySelector('[name="fabric"]:checked');
  const address = target.closest("[data-paint]").dataset.paint;
  const copies = keyOf(target);
  wet(copies);
  send(address, { copies, fabric: brush ? brush.value : "" }).then((done) => {
    if (done === null) document.body.dispatchEvent(new CustomEvent("cw:repaint"));
  });
});

document.getElementById("painting").addEventListener("submit", (event) => {
  if (event.submitter?.name === "copies") wet(event.submitter.value);
});

/** Show the new cloth at once; what the server draws takes its place. */
function wet(copies) {
  const brush = document.querySelector('[name="fabric"]:checked')?.closest(".brush");
  const fill = brush?.querySelector("svg rect")?.getAttribute("fill");
  if (!fill) return;
  const keys = copies.split("|");
  for (const each of room.querySelectorAll(".target, .tile")) {
    if (keys.includes(each.dataset.key ?? keyOf(each))) {
      each.querySelector(".cloth").setAttribute("fill", fill);
    }
  }
}

// What is painted with, and what has to be bought for it, stay in sight of what is painted.

function inSight() {
  const now = document.getElementById("brush-now");
  const brush = document.querySelector('[name="fabric"]:checked')?.closest(".brush");
  if (now && brush) {
    const words = document.createElement("span");
    words.textContent = brush.querySelector("strong").textContent;
    now.replaceChildren(brush.querySelector("svg, .brush__none").cloneNode(true), words);
    const chosen = brush.querySelector("input").id;
    for (const each of room.querySelectorAll("[data-brush]")) {
      each.setAttribute("aria-pressed", String(each.dataset.brush === chosen));
    }
  }
  const buy = document.getElementById("buy-now");
  const known = [...document.querySelectorAll(".buying__words, .buying__sum")];
  awaitSum();
  measureReach();
  if (!buy || !known.length) return;
  const lines = known.map((each) => {
    const line = document.createElement("p");
    line.textContent = each.textContent;
    if (each.matches(".buying__sum")) line.className = "lead";
    return line;
  });
  if (buy.textContent !== lines.map((each) => each.textContent).join("")) {
    buy.replaceChildren(...lines);
  }
}

// What stays at the top is as high as there is to say; what stays below it begins there.
const measured = new ResizeObserver(() => {
  const sum = document.getElementById("cut-sum");
  const stays = getComputedStyle(sum).position === "sticky" ? sum : sum.closest(".reach");
  document.documentElement.style.setProperty("--reach", `${stays.offsetHeight}px`);
});

function measureReach() {
  const sum = document.getElementById("cut-sum");
  for (const each of [sum, sum.closest(".reach")]) measured.observe(each);
}
measureReach();

let askedFor = "";

function askOnce() {
  const now = document.body.dataset.head;
  const isAsked = document.getElementById("layouts").classList.contains("htmx-request");
  if (isAsked || askedFor === now || document.getElementById("cut-sum").dataset.head === now) return;
  askedFor = now;
  document.body.dispatchEvent(new CustomEvent("cw:layouts"));
}

/** What to buy reads as being worked out as long as it is that of an earlier state. */
function awaitSum() {
  const sum = document.getElementById("cut-sum");
  const { head } = sum.dataset;
  const waits = Boolean(head) && head !== document.body.dataset.head;
  if (waits) setTimeout(askOnce); // a change may have come before the first layouts
  for (const each of [sum, document.getElementById("to-buy"), document.getElementById("buy-now")]) {
    if (waits) each?.setAttribute("aria-busy", "true");
    else each?.removeAttribute("aria-busy");
  }
}
document.body.addEventListener("cw:changed", awaitSum);

// A fabric may also be chosen beside the pieces, which lie far below the list of fabrics.
room.addEventListener("click", (event) => {
  const chip = event.target.closest("[data-brush]");
  const brush = chip && document.getElementById(chip.dataset.brush);
  if (!brush) return;
  brush.checked = true;
  inSight();
});

// A figure with lines leads to the fields of its repeat.
room.addEventListener("change", (event) => {
  if (!event.target.matches('select[name="pattern"]')) return;
  const isNamed = nameRepeat(event.target);
  const repeat = event.target.form.querySelector('details[id^="repeat-"]');
  if (isNamed && repeat) repeat.open = true;
});

function nameRepeat({ form, value }) {
  let isNamed = false;
  for (const each of form.querySelectorAll("[data-figure]")) {
    each.hidden = each.dataset.figure !== value;
    isNamed ||= !each.hidden;
  }
  return isNamed;
}

// What was chosen from a list and is not kept yet stays chosen, as what was written in a field does.
const unkept = new Map();
room.addEventListener("change", (event) => {
  if (event.target.matches("#garment select[id]")) unkept.set(event.target.id, event.target.value);
});

function chooseAgain() {
  for (const each of document.querySelectorAll("#garment option[selected]")) each.selected = true;
  for (const [id, value] of unkept) {
    const list = document.getElementById(id);
    if (!list) continue;
    list.value = value;
    if (list.name === "pattern") nameRepeat(list);
  }
}
room.addEventListener("htmx:after:request", (event) => {
  const form = event.target;
  if (!form.matches("#garment form") || event.detail.ctx.response.status !== 204) return;
  // Where a fabric was taken away the others move up.
  if (form.querySelector(".button--danger")) unkept.clear();
  else for (const each of form.querySelectorAll("select[id]")) unkept.delete(each.id);
});

// A field that was refused says so beside it until it is written anew or its form is kept.
const faults = new Map();
document.body.addEventListener("cw:faulty", (event) => {
  const form = event.target.closest("form");
  for (const name of event.detail.fields) {
    const field = form?.querySelector(`[name="${name}"]`);
    if (field?.id && room.contains(field)) faults.set(field.id, event.detail.words);
  }
  showFaults();
  besideFault();
});

function showFaults() {
  for (const [id, words] of faults) {
    const field = document.getElementById(id);
    if (!field) continue;
    field.setAttribute("aria-invalid", "true");
    const said = document.getElementById(`${id}-error`) ?? document.createElement("p");
    Object.assign(said, { id: `${id}-error`, className: "field__error", textContent: words });
    field.closest(".field").append(said);
    field.setAttribute("aria-describedby", [...describing(field), said.id].join(" "));
  }
}

/** The field that was refused lies in sight, and the message clear of it. */
function besideFault() {
  const isTold = document.getElementById("refusal").hasChildNodes();
  const field = isTold && document.getElementById([...faults.keys()].at(-1));
  if (!field) return;
  field.scrollIntoView({ block: "start" }); // below what stands at the top; the message comes below
  beside(field);
}

function describing(field) {
  const words = (field.getAttribute("aria-describedby") ?? "").split(" ");
  return words.filter((id) => id && id !== `${field.id}-error`);
}

function mended(field) {
  if (!faults.delete(field.id)) return;
  field.removeAttribute("aria-invalid");
  field.setAttribute("aria-describedby", describing(field).join(" "));
  document.getElementById(`${field.id}-error`)?.remove();
}
room.addEventListener("input", (event) => mended(event.target));
room.addEventListener("htmx:after:request", (event) => {
  if (!event.target.matches("form") || event.detail.ctx.response.status !== 204) return;
  for (const each of event.target.elements) mended(each);
});

// Where somebody is led to is unfolded.
room.addEventListener("click", (event) => {
  const link = event.target.closest('a[href^="#"]');
  const place = link && document.getElementById(link.hash.slice(1));
  if (!place) return;
  for (let each = place; each; each = each.parentElement?.closest("details")) {
    if (each.matches("details")) each.open = true;
  }
  const part = place.querySelector(":scope > .opens--part");
  if (part) part.open = true;
});

// What somebody has unfolded or folded stays so when the page around it is brought up to date.
const folds = new Map();
room.addEventListener("toggle", (event) => {
  if (event.target.id) folds.set(event.target.id, event.target.open);
}, true);

// How long to search is chosen while a short search goes on and brings its part up to date.
let effort = "";
room.addEventListener("change", (event) => {
  if (event.target.name === "effort") effort = event.target.value;
});

document.addEventListener("htmx:after:swap", (event) => {
  for (const [id, open] of folds) document.getElementById(id)?.toggleAttribute("open", open);
  if (isRefusal(event.detail.ctx?.target)) {
    document.body.dispatchEvent(new CustomEvent("cw:repaint"));
  }
  chooseAgain();
  showFaults();
  for (const each of room.querySelectorAll('[name="effort"]')) each.checked ||= each.value === effort;
  chooseNew();
  inSight();
  takeInHand();
});

// What was added does not stand in its form any more, and a new fabric is the one to cut from.
let added = "";

room.addEventListener("htmx:after:request", (event) => {
  const form = event.target;
  if (!form.matches("form[data-empties]") || event.detail.ctx.response.status !== 204) return;
  form.reset();
  for (const each of form.querySelectorAll("[data-figure]")) each.hidden = true;
  for (const each of form.querySelectorAll("details")) each.open = false;
});
document.body.addEventListener("cw:fabric", (event) => {
  added = event.detail.name;
  document.getElementById("change-new").open = false;
});
document.body.addEventListener("cw:added", () => folds.set("remnant-new", false));

function chooseNew() {
  const brush = [...room.querySelectorAll('[name="fabric"]')].find((each) => each.value === added);
  if (!added || !brush) return;
  brush.checked = true;
  added = "";
}
room.addEventListener("change", inSight);

// Pinning -----------------------------------------------------------------------------------------

let drag = null;

// Pieces that somebody has moved and not yet pinned or let go: where on the cloth each is held, in
// mm. A layout that comes meanwhile takes nothing out of the hand.
const inHand = new Map();
let picked = "";

function unitsPerPixel(svg) {
  return 1 / svg.getScreenCTM().a;
}

function show(piece, x, y) {
  if (x || y) piece.setAttribute("transform", `translate(${x} ${y})`);
  else piece.removeAttribute("transform");
}

function moved(piece) {
  return { x: Number(piece.dataset.x ?? 0), y: Number(piece.dataset.y ?? 0) };
}

function put(piece, x, y) {
  piece.dataset.x = x;
  piece.dataset.y = y;
  piece.classList.toggle("moved", Boolean(x || y));
  show(piece, x, y);
  const { copy, along, across } = piece.dataset;
  const scale = Number(piece.ownerSVGElement.dataset.scale);
  const { cloth } = piece.closest("[data-cloth]").dataset;
  if (x || y) inHand.set(copy, [Number(along) + x * scale, Number(across) - y * scale, cloth]);
  else inHand.delete(copy);
}

function cutOf(copy) {
  return [...room.querySelectorAll(".layout .cut.free")].find((each) => each.dataset.copy === copy);
}

/** After a layout has taken the place of another: what is in hand is held where it was. */
function takeInHand() {
  for (const [copy, [along, across, cloth]] of [...inHand]) {
    const piece = cutOf(copy);
    if (piece?.closest("[data-cloth]").dataset.cloth !== cloth) {
      inHand.delete(copy);
      tell("The piece that you moved does not lie there any more; nothing was pinned.");
      continue;
    }
    const scale = Number(piece.ownerSVGElement.dataset.scale);
    const { along: from, across: low } = piece.dataset;
    put(piece, (along - Number(from)) / scale, (Number(low) - across) / scale);
  }
  if (drag) holdOn(cutOf(drag.copy));
  const at = document.activeElement;
  const isLost = at === document.body || (at.matches(".layout .cut") && at.dataset.copy !== picked);
  if (picked && isLost) cutOf(picked)?.focus({ preventScroll: true });
}

/** The pointer goes on with the same piece, though another element may stand for it now. */
function holdOn(piece) {
  if (!piece) {
    drag = null;
    return;
  }
  const { x, y } = moved(piece);
  const scale = drag.far ? unitsPerPixel(piece.ownerSVGElement) : 0;
  drag.from = { x: x - drag.dx * scale, y: y - drag.dy * scale };
  if (piece !== drag.piece) piece.setPointerCapture(drag.id);
  drag.piece = piece;
}

// Which piece has the focus: a layout that comes may give its element to another piece.
document.addEventListener("focusin", (event) => {
  picked = event.target.closest(".layout .cut.free")?.dataset.copy ?? "";
});
document.addEventListener("pointerdown", (event) => {
  if (!event.target.closest?.(".layout .cut.free")) picked = "";
});

async function pin(piece, turn = "keep") {
  const place = piece.closest("[data-pin]");
  const scale = Number(piece.ownerSVGElement.dataset.scale);
  const { x, y } = moved(piece);
  piece.classList.add("waiting");
  const { copy } = piece.dataset;
  const held = inHand.get(copy);
  const done = await send(place.dataset.pin, {
    copy,
    along: `${piece.dataset.along}mm`,
    across: `${piece.dataset.across}mm`,
    dx_mm: (x * scale).toFixed(3),
    dy_mm: (-y * scale).toFixed(3),
    turn,
  });
  const now = cutOf(copy) ?? piece; // a layout may have come meanwhile
  now.classList.remove("waiting");
  if (done === null) put(now, 0, 0);
  // It lies where it was put until the layout with its pin is there, unless it was moved further.
  else if (inHand.get(copy) === held) inHand.delete(copy);
}

const FIXED =
  "This piece is cut once from folded cloth, or where the cloth is opened out: it cannot be pinned " +
  "there. Pairs and pieces on the fold can be, and all pieces where the cloth lies in a single layer.";

function unpin(piece) {
  if (!piece.classList.contains("pinned")) {
    tell("This piece is not pinned.");
    return;
  }
  send(piece.closest("[data-unpin]").dataset.unpin, { copy: piece.dataset.copy });
}

room.addEventListener("pointerdown", (event) => {
  const piece = event.target.closest(".layout .cut");
  if (!piece || event.button !== 0) return;
  if (piece.classList.contains("fixed")) {
    event.preventDefault();
    tell(FIXED);
    return;
  }
  if (event.pointerType === "touch" && document.activeElement !== piece) return; // first touch picks
  event.preventDefault();
  if (piece.nextElementSibling) piece.parentNode.append(piece); // it passes over the others
  piece.focus();
  const from = moved(piece);
  const { pointerId: id, clientX: left, clientY: top } = event;
  drag = { piece, copy: piece.dataset.copy, id, left, top, from, far: false, dx: 0, dy: 0 };
  piece.setPointerCapture(event.pointerId);
});

room.addEventListener("pointermove", (event) => {
  if (!drag || event.pointerId !== drag.id) return;
  const dx = event.clientX - drag.left;
  const dy = event.clientY - drag.top;
  Object.assign(drag, { dx, dy });
  drag.far ||= Math.hypot(dx, dy) > CLICK_PX;
  if (!drag.far) return;
  const scale = unitsPerPixel(drag.piece.ownerSVGElement);
  put(drag.piece, drag.from.x + dx * scale, drag.from.y + dy * scale);
});

function dropped(event) {
  if (!drag || event.pointerId !== drag.id) return;
  const { piece, far, from } = drag;
  drag = null;
  if (event.type === "pointercancel") put(piece, from.x, from.y);
  else if (far) pin(piece);
}
room.addEventListener("pointerup", dropped);
room.addEventListener("pointercancel", dropped);

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

room.addEventListener("keydown", (event) => {
  const piece = event.target.closest?.(".layout .cut.free");
  if (!piece) return;
  const arrow = ARROWS[event.key];
  if (arrow) {
    const step = (event.shiftKey ? FINE_MM : STEP_MM) / Number(piece.ownerSVGElement.dataset.scale);
    const { x, y } = moved(piece);
    put(piece, x + arrow[0] * step, y + arrow[1] * step);
  } else if (event.key === "Enter" || event.key === " ") pin(piece);
  else if (event.key === "t" || event.key === "T") pin(piece, "around");
  else if (event.key === "Escape") put(piece, 0, 0);
  else if (event.key === "Delete" || event.key === "Backspace") unpin(piece);
  else return;
  event.preventDefault();
});

// Long work --------------------------------------------------------------------------------------

const OFTEN_MS = 400; // faster than this nobody sees it

// What the stream of events tells of this make is asked for by the part of the page that shows it.
for (const part of ["layouts", "search", "stash", "table", "tune"]) {
  let waiting = 0;
  let last = 0;
  document.getElementById("events")?.addEventListener(`cut-${part}`, (event) => {
    if (event.detail.data !== room.dataset.make || waiting) return;
    waiting = setTimeout(() => {
      waiting = 0;
      last = Date.now();
      document.body.dispatchEvent(new CustomEvent(`cw:${part}`));
    }, Math.max(0, last + OFTEN_MS - Date.now()));
  });
}

// A packet, or work on another make, keeps shorter layouts too when it finds them.
document.getElementById("events")?.addEventListener("ongoing", (event) => {
  if (JSON.parse(event.detail.data).how === "done") {
    document.body.dispatchEvent(new CustomEvent("cw:layouts"));
  }
});
