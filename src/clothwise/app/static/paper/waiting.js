// What a room of a make waits for: once it was refused, the room no longer says that it is coming.

const refusal = document.getElementById("refusal");

new MutationObserver(() => {
  if (refusal.childElementCount) document.getElementById("room").classList.add("was-refused");
}).observe(refusal, { childList: true });
