// The print room: the address follows what is chosen; all sizes can be checked at once.

const pages = document.getElementById("pages");

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
