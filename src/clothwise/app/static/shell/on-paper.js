// A page on paper has nothing folded that can be read, above all no caution. Parts with fields, and
// parts that would first have to be asked for, stay as they are: folded they are left out (style/print.css).

const FIELDS = "form, input, select, textarea";
let opened = [];

window.addEventListener("beforeprint", () => {
  const folded = [...document.querySelectorAll("main details:not([open])")];
  opened = folded.filter((each) => (
    each.matches("[data-on-paper]") || !each.querySelector(FIELDS) && !each.closest("[data-not-on-paper]")));
  for (const each of opened) each.open = true;
});

window.addEventListener("afterprint", () => {
  for (const each of opened) each.open = false;
  opened = [];
});
