// Walking a seam: where both papers lie at each stop was worked out by the server; here they are
// only put there.

const form = document.getElementById("checked");
const walk = document.querySelector("[data-walk]");

form?.addEventListener("change", () => form.submit());
if (walk) mount();

function mount() {
  const stops = [...walk.querySelectorAll("[data-stop]")];
  const picture = walk.querySelector(".seam-walk");
  const way = walk.querySelector("#walk-at");
  const base = new URL(location.href);
  let at = Number(way.value);

  function go(number) {
    at = Math.min(Math.max(number, 0), stops.length - 1);
    const stop = stops[at];
    for (const side of ["first", "second"]) {
      const piece = stop.dataset[`${side}Piece`];
      for (const paper of picture.querySelectorAll(`.paper[data-side="${side}"]`)) {
        const isHere = paper.dataset.piece === piece;
        if (isHere) paper.setAttribute("transform", stop.dataset[`${side}Matrix`]);
        paper.setAttribute("display", isHere ? "inline" : "none");
      }
      walk.querySelector(`[data-${side}]`).textContent = stop.dataset[`${side}Title`];
      walk.querySelector(`[data-${side}-turned]`).hidden = !(`${side}Turned` in stop.dataset);
    }
    picture.querySelector(".here").setAttribute("transform", `translate(${stop.dataset.here} 0)`);
    walk.querySelector("[data-stop-title]").textContent = stop.dataset.title || "On the way";
    walk.querySelector("[data-stop-words]").textContent = stop.dataset.words;
    walk.querySelector("[data-stop-off]").hidden = !("off" in stop.dataset);
    way.value = at;
    way.setAttribute("aria-valuetext", [stop.dataset.title, stop.dataset.words].filter(Boolean).join(". "));
    for (const button of walk.querySelectorAll("[data-walk-by], [data-walk-to]")) {
      const forward = button.dataset.walkBy !== "-1";
      button.setAttribute("aria-disabled", forward ? at === stops.length - 1 : at === 0);
    }
    base.searchParams.set("at", at);
    history.replaceState(null, "", base);
  }

  way.addEventListener("input", () => go(Number(way.value)));
  walk.addEventListener("click", (event) => {
    const by = event.target.closest("[data-walk-by]");
    const to = event.target.closest("[data-walk-to]");
    const near = event.target.closest("[data-nearness]");
    if (by || to) event.preventDefault();
    if (by) go(at + Number(by.dataset.walkBy));
    if (to) {
      const next = stops.findIndex((stop, number) => number > at && stop.dataset.title);
      go(next < 0 ? stops.length - 1 : next);
    }
    if (near) nearer(Number(near.dataset.nearness));
  });
  walk.addEventListener("keydown", (event) => {
    if (event.key !== " " || !event.target.matches("a[role=button]")) return;
    event.preventDefault();
    event.target.click();
  });
  document.addEventListener("keydown", (event) => {
    if (event.target.matches("input, select, textarea, summary") || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    go(at + step);
  });

  // The picture is looked at from nearer or further; nothing in it moves.
  function nearer(factor) {
    const [, , width] = picture.getAttribute("viewBox").split(" ").map(Number);
    const wide = Math.min(Math.max(width * factor, 60), 2400);
    const high = (wide * 220) / 320;
    picture.setAttribute("viewBox", `${-wide / 2} ${-high / 2} ${wide} ${high}`);
  }

  go(at);
}
