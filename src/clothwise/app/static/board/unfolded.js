// What is folded and unfolded stays so when a part of the page comes anew.

/**
 * Change a part of the page; what is known there by its id, or by that of its summary, is afterwards
 * as folded as it was.
 * @param {HTMLElement} place
 * @param {function} change puts something else into it, or in its place
 */
export function keepsUnfolded(place, change) {
  const was = [...place.querySelectorAll("details")].map((each) => [named(each), each.open]);
  change();
  for (const [id, isOpen] of was) {
    const details = id && document.getElementById(id)?.closest("details");
    if (details) details.open = isOpen;
  }
}

function named(details) {
  return details.id || details.querySelector(":scope > summary[id]")?.id || "";
}
