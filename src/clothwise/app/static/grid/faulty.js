// A field that was refused: it is marked, seen beside the message, and at hand once that is read.

const place = document.getElementById("refusal");
let mending = null;

/** Let the message that is shown lie clear of a field; afterwards one is in the field. */
export function beside(field) {
  mending = field;
  place.classList.remove("is-below");
  if (!isSeen(field)) field.scrollIntoView({ block: "center" });
  const { top } = field.getBoundingClientRect();
  place.classList.toggle("is-below", top < place.getBoundingClientRect().bottom);
}

function isSeen(field) {
  const { top, bottom } = field.getBoundingClientRect();
  return top > 0 && bottom < innerHeight;
}

new MutationObserver(() => {
  if (place.hasChildNodes() || !mending) return;
  const field = mending;
  mending = null;
  setTimeout(() => field.focus());
}).observe(place, { childList: true });

// The server names the fields of a form that it refused.
let refused = [];

document.body.addEventListener("cw:faulty", (event) => {
  const form = event.target.closest("form") ?? document;
  refused = event.detail.fields.map((name) => form.querySelector(`[name="${name}"]`)).filter(Boolean);
  for (const field of refused) {
    field.closest("details")?.setAttribute("open", "");
    field.setAttribute("aria-invalid", "true");
    field.addEventListener("input", () => field.removeAttribute("aria-invalid"), { once: true });
  }
  if (place.hasChildNodes() && refused.length) beside(refused[0]);
});

document.addEventListener("htmx:after:swap", (event) => {
  if (event.detail.ctx?.target === place && refused.length && place.hasChildNodes()) beside(refused[0]);
});
