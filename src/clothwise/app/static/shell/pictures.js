// A picture that is still being drawn says so in its place; it arrives without moving anything.

for (const picture of document.querySelectorAll(".card__open img")) {
  if (picture.complete) continue;
  picture.classList.add("is-waiting");
  for (const end of ["load", "error"]) {
    picture.addEventListener(end, () => picture.classList.remove("is-waiting"), { once: true });
  }
}
