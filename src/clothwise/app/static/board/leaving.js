// Leaving the room while something waits for a yes. A link to another page asks first, in words of
// ours; of everything else that leaves, such as closing the window, the browser asks in its own.

/**
 * Let nothing that waits be lost unasked.
 * @param {HTMLDialogElement} dialog with a place for words, and buttons that keep, drop and stay
 * @param {Object} waits see pending.js
 */
export function asksBeforeLeaving(dialog, waits) {
  const button = (name) => dialog.querySelector(`[data-leaving-${name}]`);
  let to = ""; // where the link leads
  let isAnswered = false;

  window.addEventListener("beforeunload", (event) => {
    if (waits.now && !isAnswered) event.preventDefault();
  });
  window.addEventListener("pageshow", () => { isAnswered = false; });

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href]");
    if (!waits.now || !link || !leadsAway(link, event)) return;
    event.preventDefault();
    to = link.href;
    dialog.querySelector("[data-leaving-words]").textContent = waits.text;
    dialog.showModal();
  });

  // Keys belong to the question while it stands: Escape stays here, and drops nothing.
  dialog.addEventListener("keydown", (event) => event.stopPropagation());

  function go() {
    isAnswered = true;
    location.assign(to);
  }

  button("keep").addEventListener("click", async () => {
    dialog.close();
    if (await waits.now.keep()) go(); // else it was refused, which is told
  });
  button("drop").addEventListener("click", () => {
    dialog.close();
    go();
  });
  button("stay").addEventListener("click", () => dialog.close());
}

// Whether a click on a link takes this window to another page.
function leadsAway(link, event) {
  if (event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) {
    return false;
  }
  if (link.hasAttribute("download") || !["", "_self"].includes(link.target)) return false;
  const [there, here] = [link, location].map(({ origin, pathname, search }) => origin + pathname + search);
  return there !== here || !link.hash;
}
