// The checking room: findings and their places on the board, each leading to the other.

import { mount } from "/static/board/board.js";
import { ask } from "/static/shell/asking.js";

const SVG = "http://www.w3.org/2000/svg";
const NEAR_MM = 260; // at least so much is shown around the place of a finding
const SHARE = 0.6; // and so much of its piece, by which one knows it

const element = document.getElementById("board");
const form = document.getElementById("checked");
const list = document.getElementById("findings");
const board = mount(element);
let isFirst = true;
let latest = 0;

for (const button of element.querySelectorAll("[data-zoom]")) {
  button.addEventListener("click", () => board.closer(button.dataset.zoom));
}
draw();

async function draw() {
  const number = ++latest;
  const fields = new URLSearchParams(new FormData(form));
  fields.set("before", element.dataset.version);
  const response = await ask(`${element.dataset.address}?${fields}`, { headers: { Accept: "application/json" } });
  if (number !== latest || !response.ok) return;
  const data = await response.json();
  const note = document.getElementById("board-refused");
  note.hidden = !data.refused;
  if (data.refused) {
    note.querySelector("[data-what]").textContent = data.refused.what;
    note.querySelector("[data-remedy]").textContent = data.refused.what_to_do;
    return;
  }
  board.update(data);
  board.settle();
  if (isFirst) board.fit();
  isFirst = false;
  mark();
}

// Another garment or size is another page; that keeps its address true.
form.addEventListener("change", (event) => {
  if (!event.target.matches("[data-leads]")) return;
  event.stopPropagation();
  const chosen = new URLSearchParams([...new FormData(form)].filter(([name]) => ["of", "size", "scope"].includes(name)));
  location.assign(`${form.action}?${chosen}`);
}, true);

document.body.addEventListener("cw:changed", () => {
  looksAgain(true);
  draw();
});
document.addEventListener("htmx:after:swap", (event) => {
  if (event.detail?.ctx?.target === list) looksAgain(false);
  mark();
});
document.addEventListener("htmx:error", (event) => {
  if (event.detail.error?.name !== "AbortError") looksAgain(false); // which the page tells
});

// After a change what was found before may be true no more, until the list was asked for anew.
function looksAgain(isSo) {
  list.setAttribute("aria-busy", String(isSo));
  element.classList.toggle("finds-again", isSo);
}

// Of the list only the count is spoken, once it stands; whoever stood on what is gone stands at the list.
const told = document.getElementById("findings-told");
let wasInList = false;
document.addEventListener("focusin", (event) => { wasInList = list.contains(event.target); });
document.addEventListener("htmx:after:swap", () => {
  const words = [...list.querySelectorAll("[data-told]")].map((each) => each.textContent.replace(/\s+/g, " ").trim()).join(" ");
  if (!list.querySelector("progress") && told.textContent !== words) told.textContent = words;
  if (wasInList && document.activeElement === document.body) list.focus();
});

// Every view in every size: what was found meanwhile, and that it has ended.
document.getElementById("events")?.addEventListener("check-range", () => {
  if (new FormData(form).get("scope") === "range") document.body.dispatchEvent(new CustomEvent("cw:range"));
});
form.addEventListener("change", (event) => {
  if (event.target.name !== "scope") return;
  const address = new URL(location.href);
  address.searchParams.set("scope", event.target.value);
  history.replaceState(null, "", address);
  for (const tab of document.querySelectorAll(".check__tabs a")) {
    const there = new URL(tab.href);
    if (event.target.value === "range") there.searchParams.set("scope", "range");
    else there.searchParams.delete("scope");
    tab.href = there;
  }
});

/** A number in a ring for each finding of the list that has a place. */
function mark() {
  for (const each of element.querySelectorAll(".balloons")) each.remove();
  for (const item of list.querySelectorAll("[data-finding][data-piece]")) {
    const place = board.place(item.dataset.piece);
    if (!place) continue;
    let layer = place.querySelector(":scope > .balloons");
    if (!layer) {
      layer = node("g", "balloons");
      place.append(layer);
    }
    const spot = node("g", "spot");
    spot.dataset.spot = `${item.dataset.x} ${item.dataset.y}`;
    const balloon = node("g", `steady balloon balloon--${item.dataset.severity}`);
    balloon.dataset.finding = item.dataset.finding;
    balloon.dataset.says = item.querySelector(".finding__message").textContent;
    const ring = node("circle", "ring");
    ring.setAttribute("r", 12);
    const words = node("text", "number");
    words.textContent = item.dataset.finding;
    balloon.append(ring, words);
    spot.append(balloon);
    layer.append(spot);
  }
  board.partBalloons();
  const chosen = list.querySelector("[aria-current]");
  if (chosen) choose(chosen, { looks: false });
}

function node(name, kind) {
  const found = document.createElementNS(SVG, name);
  found.setAttribute("class", kind);
  return found;
}

function choose(item, { looks = true } = {}) {
  for (const each of list.querySelectorAll("[data-finding]")) {
    if (each === item) each.setAttribute("aria-current", "true");
    else each.removeAttribute("aria-current");
  }
  for (const each of element.querySelectorAll(".balloon")) {
    each.classList.toggle("is-chosen", each.dataset.finding === item.dataset.finding);
  }
  if (!item.dataset.piece) return;
  const place = board.place(item.dataset.piece);
  if (!place) return;
  board.select(item.dataset.piece, item.dataset.edge || "");
  if (!looks) return;
  const x = Number(place.dataset.x) + Number(item.dataset.x);
  const y = Number(place.dataset.y) + Number(item.dataset.y);
  const [, , width, height] = place.dataset.box.split(" ").map(Number);
  const near = Math.max(NEAR_MM, SHARE * Math.max(width, height));
  board.view.fit([x - near / 2, y - near / 2, near, near]);
}

list.addEventListener("click", (event) => {
  if (!event.target.closest("[data-show-finding]")) return;
  choose(event.target.closest("[data-finding]"));
  if (window.matchMedia("(max-width: 62rem)").matches) element.scrollIntoView({ block: "start" });
});

element.addEventListener("cw:pick", (event) => {
  const item = event.detail.finding && list.querySelector(`[data-finding="${CSS.escape(event.detail.finding)}"]`);
  if (!item) return;
  choose(item, { looks: false });
  item.scrollIntoView({ block: "nearest" });
  item.querySelector("[data-show-finding]")?.focus();
});
