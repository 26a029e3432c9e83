// A line is checked without leaving the page, so that the field keeps its place. Everything works without this file.

const PIECES = ["working", "help"];
let busy = false;

function put(text) {
  const made = new DOMParser().parseFromString(text, "text/html");
  const found = PIECES.map((id) => made.getElementById(id));
  if (found.some((piece) => piece === null)) return made;
  for (const piece of found) document.getElementById(piece.id).replaceWith(piece);
  say(made.getElementById("found")?.textContent ?? "");
  return null;
}

function say(text) {
  document.getElementById("found").textContent = text.trim();
}

function tell(text) {
  let note = document.getElementById("line-wrong");
  if (!note) {
    note = document.createElement("p");
    note.id = "line-wrong";
    note.className = "wrong";
    note.setAttribute("role", "alert");
    document.querySelector(".line-form")?.append(note);
  }
  note.textContent = text;
  note.hidden = !text;
}

async function send(form, submitter) {
  const body = new FormData(form, submitter);
  const answer = await fetch(form.action, { method: "POST", body, headers: { "X-Part-Of-Page": "working" } });
  const other = put(await answer.text());
  const line = document.getElementById("line");
  if (other) {
    tell([...other.querySelectorAll("main h1, main p:not(:has(a))")].map((p) => p.textContent.trim()).join(". "));
  } else if (answer.ok) {
    tell("");
    if (line && form.matches(".line-form")) line.value = "";
  } else if (line) {
    tell("This line was not taken in. Make it shorter, or take a line back first.");
  }
  line?.focus();
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches("[data-part]")) return;
  event.preventDefault();
  if (busy) return;
  busy = true;
  send(form, event.submitter)
    .catch(() => form.submit())
    .finally(() => { busy = false; });
});
