// The print room: the address follows what is chosen; all sizes can be checked at once.

const pages = document.getElementById("pages");

// Until the pages of the latest choice are there, those that are shown are told to be of before, and
// no answer to an earlier wish takes the place of that choice.
const OLD = "is-old";
const REFUSED = "is-refused";
const wishes = new WeakMap(); // what was asked for, and after how many choices
let choices = 0;
let awaited = null; // the answer to the latest choice
let hasMissed = false; // whether the design changed while it was drawn

document.addEventListener("htmx:before:request", ({ detail: { ctx } }) => {
  if (ctx.sourceElement.id === "print-choose") {
    awaited = ctx;
    choices += 1;
    pages.classList.add(OLD);
    pages.classList.remove(REFUSED);
  }
  wishes.set(ctx, awaited && awaited !== ctx ? choices - 1 : choices);
});

document.addEventListener("htmx:before:swap", (event) => {
  const { ctx } = event.detail;
  if (ctx.target !== pages || (wishes.get(ctx) ?? choices) === choices) return;
  event.preventDefault();
  hasMissed ||= "address" in ctx.sourceElement.dataset;
  if (!awaited) follow();
});

// What is chosen was drawn from a design that has changed since: once more.
function follow() {
  if (!hasMissed) return;
  hasMissed = false;
  const address = pages.querySelector("[data-address]").getAttribute("hx-get");
  window.htmx.ajax("GET", address, { source: pages, target: "#pages", swap: "innerMorph" });
}

document.addEventListener("htmx:after:swap", ({ detail: { ctx } }) => {
  const isAnswer = ctx === awaited;
  if (isAnswer) awaited = null;
  if (ctx.target === pages) pages.classList.remove(OLD, REFUSED);
  else if (isAnswer) pages.classList.add(REFUSED);
  if (isAnswer) follow();
});

document.addEventListener("htmx:error", ({ detail: { ctx, error } }) => {
  if (!awaited || ctx !== awaited || error?.name === "AbortError") return;
  awaited = null;
  pages.classList.add(REFUSED);
});

// A page of before is not turned to while the new ones are drawn.
pages.addEventListener("click", (event) => {
  if (!awaited || !event.target.closest("a[hx-get]")) return;
  event.preventDefault();
  event.stopPropagation();
}, true);

document.addEventListener("htmx:after:swap", () => {
  const place = pages.querySelector("[data-address]");
  if (!place) return;
  wereSeveral = severalSizes();
  history.replaceState(null, "", place.dataset.address);
  // Spoken: what is printed now, and which page of it is looked at.
  const words = ["print-what", "look-name"].map((id) => document.getElementById(id).textContent.trim()).join(". ");
  const told = document.getElementById("pages-told");
  if (told.textContent !== words) told.textContent = words;
});

// The chart begins with the size that was shown, and several sizes without stitching lines: before
// the form is sent, so in the capturing phase.
pages.addEventListener("change", (event) => {
  if (event.target.name !== "several" && event.target.name !== "sizes") return;
  const sizes = [...pages.querySelectorAll('input[name="sizes"]')];
  const nearest = sizes.find((size) => "nearest" in size.dataset);
  if (isOfChart() && nearest && !sizes.some((size) => size.checked)) nearest.checked = true;
  const areSeveral = severalSizes();
  if (areSeveral === wereSeveral) return;
  wereSeveral = areSeveral;
  const stitching = pages.querySelector('input[name="layers"][value="stitching lines"]');
  if (stitching) stitching.checked = !areSeveral;
}, true);

let wereSeveral = severalSizes();

function isOfChart() {
  return Boolean(pages.querySelector('input[name="several"][value="yes"]:checked'));
}

function severalSizes() {
  return isOfChart() && pages.querySelectorAll('input[name="sizes"]:checked').length > 1;
}

pages.addEventListener("click", (event) => {
  const name = event.target.closest("[data-check-all]")?.dataset.checkAll;
  if (!name) return;
  const boxes = [...pages.querySelectorAll(`input[name="${name}"]`)];
  const all = boxes.every((box) => box.checked);
  for (const box of boxes) box.checked = !all;
  boxes[0]?.dispatchEvent(new Event("change", { bubbles: true }));
});
