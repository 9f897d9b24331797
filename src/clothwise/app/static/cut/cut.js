// The cut room: a touch on the garment paints, a drag on the cloth pins. Geometry is Python's: this
// file shows a move while it is made, and sends how far it went.
import { send, tell } from "/static/shell/shell.js";

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
  }
  const buy = document.getElementById("buy-now");
  const known = [...document.querySelectorAll(".buying__words, .buying__sum")];
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
// What somebody has unfolded stays so when the page around it is brought up to date.
const unfolded = new Set();
room.addEventListener("toggle", (event) => {
  if (event.target.id) unfolded[event.target.open ? "add" : "delete"](event.target.id);
}, true);

document.addEventListener("htmx:after:swap", (event) => {
  for (const id of unfolded) document.getElementById(id)?.setAttribute("open", "");
  if (event.detail.ctx?.target?.id === "refusal") {
    document.body.dispatchEvent(new CustomEvent("cw:repaint"));
  }
  // A list that somebody chose from keeps its choice when the page around it is brought up to date.
  for (const each of document.querySelectorAll("#garment option[selected]")) each.selected = true;
  inSight();
});
room.addEventListener("change", inSight);

// Pinning -----------------------------------------------------------------------------------------

let drag = null;

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
}

async function pin(piece, turn = "keep") {
  const place = piece.closest("[data-pin]");
  const scale = Number(piece.ownerSVGElement.dataset.scale);
  const { x, y } = moved(piece);
  piece.classList.add("waiting");
  const done = await send(place.dataset.pin, {
    copy: piece.dataset.copy,
    along: `${piece.dataset.along}mm`,
    across: `${piece.dataset.across}mm`,
    dx_mm: (x * scale).toFixed(3),
    dy_mm: (-y * scale).toFixed(3),
    turn,
  });
  piece.classList.remove("waiting");
  if (done === null) put(piece, 0, 0);
}

function unpin(piece) {
  if (!piece.classList.contains("pinned")) {
    tell("This piece is not pinned.");
    return;
  }
  send(piece.closest("[data-unpin]").dataset.unpin, { copy: piece.dataset.copy });
}

room.addEventListener("pointerdown", (event) => {
  const piece = event.target.closest(".layout .cut.free");
  if (!piece || event.button !== 0) return;
  if (event.pointerType === "touch" && document.activeElement !== piece) return; // first touch picks
  event.preventDefault();
  piece.focus();
  const from = moved(piece);
  drag = { piece, id: event.pointerId, left: event.clientX, top: event.clientY, from, far: false };
  piece.setPointerCapture(event.pointerId);
});

room.addEventListener("pointermove", (event) => {
  if (!drag || event.pointerId !== drag.id) return;
  const dx = event.clientX - drag.left;
  const dy = event.clientY - drag.top;
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

function isInHand() {
  return drag || room.querySelector(".cut.moved");
}

// What the stream of events tells of this make is asked for by the part of the page that shows it.
for (const part of ["layouts", "search", "stash", "table", "tune"]) {
  let waiting = 0;
  let last = 0;
  document.getElementById("events")?.addEventListener(`cut-${part}`, (event) => {
    if (event.detail.data !== room.dataset.make || waiting) return;
    waiting = setTimeout(() => {
      waiting = 0;
      last = Date.now();
      if (part === "layouts" && isInHand()) return;
      document.body.dispatchEvent(new CustomEvent(`cw:${part}`));
    }, Math.max(0, last + OFTEN_MS - Date.now()));
  });
}
