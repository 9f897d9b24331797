// Which line or piece is meant, and what lights up with it.

const AROUND = [[0, 0], [0, -8], [8, 0], [0, 8], [-8, 0]]; // tried by a finger

// Lay a wide, unseen twin over each edge: lines are easier to meet than they are wide.
export function widen(place) {
  const wide = document.createElementNS("http://www.w3.org/2000/svg", "g");
  wide.setAttribute("class", "reaches");
  for (const edge of place.querySelectorAll(".edge")) {
    const twin = document.createElementNS("http://www.w3.org/2000/svg", "path");
    twin.setAttribute("class", "reach");
    twin.setAttribute("d", edge.getAttribute("d"));
    twin.dataset.of = edge.dataset.edge;
    wide.append(twin);
  }
  place.append(wide);
}

// The edge, mark, placed piece, balloon or piece under a place of the screen.
export function meant(board, clientX, clientY, isFinger = false) {
  let found = null;
  if (board.hasAttribute("data-sizes")) found = sizeNear(board, clientX, clientY);
  for (const [dx, dy] of isFinger ? AROUND : AROUND.slice(0, 1)) {
    const hit = document.elementFromPoint(clientX + dx, clientY + dy);
    if (!hit || !board.contains(hit)) continue;
    const place = hit.closest(".place");
    if (hit.matches(".reach") && place && hit.dataset.of) {
      return place.querySelector(`.edge[data-edge="${CSS.escape(hit.dataset.of)}"]`);
    }
    found ||= hit.closest(".balloon, .placed, [data-says]") || hit.closest(".piece");
  }
  return found;
}

// The line of one of the nested sizes.
function sizeNear(board, clientX, clientY) {
  for (const [dx, dy] of AROUND) {
    const hit = document.elementFromPoint(clientX + dx / 3, clientY + dy / 3);
    if (hit && board.contains(hit) && hit.matches(".size")) return hit;
  }
  return null;
}

export function pieceOf(element) {
  return element?.closest(".place")?.dataset.place || "";
}

// The place of the board under a place of the screen, if a piece lies there.
export function placeAt(board, clientX, clientY) {
  const hit = document.elementFromPoint(clientX, clientY);
  return hit && board.contains(hit) ? hit.closest(".place") : null;
}

export function edgeOf(board, piece, edge) {
  const place = board.querySelector(`.place[data-place="${CSS.escape(piece)}"]`);
  return place?.querySelector(`.edge[data-edge="${CSS.escape(edge)}"]`) || null;
}

// Everything that is sewn to an edge: what lies on it brightly, the rest of the seam softly.
export function light(board, edge, as) {
  dim(board, as);
  if (!edge) return;
  edge.classList.add(`${as}-own`);
  const names = (edge.dataset.seam || "").split(" ").filter(Boolean);
  for (const name of names) {
    for (const each of board.querySelectorAll(`[data-seam~="${CSS.escape(name)}"]`)) {
      if (each !== edge) each.classList.add(`${as}-seam`);
    }
  }
  for (const partner of (edge.dataset.partners || "").split(" ").filter(Boolean)) {
    const dot = partner.indexOf(".");
    edgeOf(board, partner.slice(0, dot), partner.slice(dot + 1))?.classList.add(`${as}-partner`);
  }
}

export function dim(board, as) {
  for (const kind of ["own", "seam", "partner"]) {
    for (const each of board.querySelectorAll(`.${as}-${kind}`)) {
      each.classList.remove(`${as}-${kind}`);
    }
  }
}
