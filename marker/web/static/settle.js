// Keys for settling, and the reason kept while the page is left or reloaded. Everything works without this file.

const KEPT = "marker-single-keys";
const box = document.getElementById("single-keys");
const decision = document.getElementById("decision");
const reason = document.getElementById("reason");

function remembered(storage, name) {
  try { return storage.getItem(name); } catch { return null; }
}

function remember(storage, name, value) {
  try {
    if (value) storage.setItem(name, value);
    else storage.removeItem(name);
  } catch { /* a browser that keeps nothing */ }
}

if (box) {
  box.checked = remembered(localStorage, KEPT) !== "off";
  box.addEventListener("change", () => remember(localStorage, KEPT, box.checked ? "" : "off"));
}

if (decision && reason) {
  const name = `marker-reason-${decision.dataset.draft}`;
  if (!reason.value) reason.value = remembered(sessionStorage, name) ?? "";
  reason.addEventListener("input", () => remember(sessionStorage, name, reason.value));
  decision.addEventListener("submit", () => remember(sessionStorage, name, ""));
}

// A digit pressed once too often must not decide about the group that comes up next.
const SETTLING_IN = 350;
const shown = performance.now();
let gone = false;
addEventListener("pageshow", () => { gone = false; });
decision?.addEventListener("submit", () => { gone = true; });

function tooSoon(key) {
  return /^\d$/.test(key) && (gone || performance.now() - shown < SETTLING_IN);
}

function typing(element) {
  return element instanceof HTMLElement && element.matches("input:not([type=checkbox]), textarea, select");
}

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && typing(document.activeElement)) {
    document.activeElement.blur();
    return;
  }
  if (event.ctrlKey || event.altKey || event.metaKey || event.repeat || event.isComposing) return;
  if (!box?.checked || typing(document.activeElement)) return;
  if (tooSoon(event.key)) return;
  const key = CSS.escape(event.key.toLowerCase());
  const goes = document.querySelector(`[data-key="${key}"]`);
  const focuses = document.querySelector(`[data-focus="${key}"]`);
  if (goes) {
    event.preventDefault();
    goes.click();
  } else if (focuses) {
    event.preventDefault();
    focuses.focus();
  }
});
