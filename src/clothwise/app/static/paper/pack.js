// The pack room: how far a packet is, as the stream of events tells it.

const state = document.getElementById("state");

document.getElementById("events")?.addEventListener("packing", (event) => {
  const far = JSON.parse(event.detail.data);
  const bar = document.getElementById("packing-bar");
  if (far.make !== state.dataset.make || !bar) return;
  bar.value = far.share;
  const words = document.getElementById("packing-words"); // spoken, so it changes only with the stage
  const stage = far.stage.charAt(0).toUpperCase() + far.stage.slice(1);
  if (stage && words.textContent !== stage) words.textContent = stage;
  document.getElementById("packing-detail").textContent = far.detail;
});
