// What is drawn on cloth: corners of a remnant on squared paper, and boxes over flaws. Only points
// are sent, in the units of the drawing; the server says what they mean.
import { send, tell } from "/static/shell/shell.js";

const room = document.getElementById("room");
const SVG = "http://www.w3.org/2000/svg";
const CLICK_PX = 4;

let hand = null;

/** Where a pointer is in the units of a drawing. */
function placeIn(svg, event) {
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
}

/** What the pointer would draw on: squared paper for corners or flaws, or a layout that waits. */
function drawnOn(event) {
  const pad = event.target.closest?.("svg.pad");
  if (pad) return { svg: pad, corners: pad.classList.contains("pad--corners") };
  const layout = event.target.closest?.(".layout-scroll.draws svg.layout");
  return layout ? { svg: layout, corners: false } : null;
}

room.addEventListener("pointerdown", (event) => {
  const on = event.button === 0 && drawnOn(event);
  if (!on) return;
  event.preventDefault();
  event.stopImmediatePropagation(); // no piece is dragged meanwhile
  const corner = event.target.closest(".pad__corner");
  const from = placeIn(on.svg, event);
  hand = { ...on, corner, from, id: event.pointerId, left: event.clientX, top: event.clientY };
  on.svg.setPointerCapture(event.pointerId);
  if (on.corners) return;
  hand.box = document.createElementNS(SVG, "rect");
  hand.box.setAttribute("class", "drawn");
  on.svg.append(hand.box);
}, true);

room.addEventListener("pointermove", (event) => {
  if (!hand || event.pointerId !== hand.id) return;
  const to = placeIn(hand.svg, event);
  if (hand.corner) {
    hand.corner.setAttribute("cx", to.x);
    hand.corner.setAttribute("cy", to.y);
  } else if (hand.box) {
    hand.box.setAttribute("x", Math.min(hand.from.x, to.x));
    hand.box.setAttribute("y", Math.min(hand.from.y, to.y));
    hand.box.setAttribute("width", Math.abs(to.x - hand.from.x));
    hand.box.setAttribute("height", Math.abs(to.y - hand.from.y));
  }
});

room.addEventListener("pointerup", (event) => {
  if (!hand || event.pointerId !== hand.id) return;
  const { svg, corners, corner, from, box, left, top } = hand;
  const to = placeIn(svg, event);
  hand = null;
  const stayed = Math.hypot(event.clientX - left, event.clientY - top) <= CLICK_PX;
  if (!corners) sendFlaw(svg, from, to, box);
  else if (!corner || !stayed) sendCorner(svg, to, corner?.dataset.corner ?? "");
});

room.addEventListener("pointercancel", (event) => {
  if (!hand || event.pointerId !== hand.id) return;
  hand.box?.remove();
  hand = null;
});

/** A corner clicked or moved: the form's shape is asked for anew. */
function sendCorner(svg, to, corner) {
  const part = svg.closest("[data-points]");
  part.querySelector('[name="x"]').value = to.x.toFixed(3);
  part.querySelector('[name="y"]').value = to.y.toFixed(3);
  part.querySelector('[name="corner"]').value = corner;
  part.dispatchEvent(new CustomEvent("cw:point"));
}

async function sendFlaw(svg, from, to, box) {
  const cloth = svg.closest("[data-flaw]");
  const layer = cloth.parentElement.querySelector("select.layer");
  const what = cloth.matches(".pad") && cloth.parentElement.querySelector("select.what");
  const done = await send(cloth.dataset.flaw, {
    cloth: cloth.dataset.cloth,
    of: cloth.dataset.of,
    what: what ? what.value : "flaws",
    x0: from.x.toFixed(3), y0: from.y.toFixed(3), x1: to.x.toFixed(3), y1: to.y.toFixed(3),
    scale: svg.dataset.scale,
    zero: svg.dataset.zero,
    layer: layer?.value ?? "",
  });
  box.remove();
  if (done !== null) drawNoMore();
}

function drawNoMore() {
  for (const each of room.querySelectorAll(".layout-scroll.draws")) each.classList.remove("draws");
  for (const each of room.querySelectorAll("[data-draw]")) each.setAttribute("aria-pressed", "false");
}

room.addEventListener("click", (event) => {
  const button = event.target.closest("[data-draw]");
  if (!button) return;
  const begins = button.getAttribute("aria-pressed") !== "true";
  drawNoMore();
  if (!begins) return;
  button.setAttribute("aria-pressed", "true");
  const place = document.getElementById(button.dataset.draw).querySelector(".layout-scroll");
  place.classList.add("draws");
  place.scrollIntoView({ block: "nearest" });
  tell("Draw a box over the flaw. By keyboard: write its place into the fields.");
});

room.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && room.querySelector(".layout-scroll.draws")) drawNoMore();
});
