// Entries that can't be sent wait on this device and go once the garden answers again, each under the id it was
// given here, so that one sent twice is one. Without this script every form still works as a plain form.
"use strict";
const STORE = "evenpick.waiting";
const PATIENCE = 8000; // ms until a request counts as not answered
const AGAIN = 15000;
let shown = location.pathname + location.search; // what the page shows; a jump within it is no other page

// what the script says, in the page's language, its places filled
const TOLD = JSON.parse((document.getElementById("queue") || { dataset: { told: "{}" } }).dataset.told);
const say = (name, places) => Object.entries(places).reduce((text, [place, value]) => text.replaceAll(`{${place}}`, () => value), TOLD[name]);

const waiting = () => JSON.parse(localStorage.getItem(STORE) || "[]");
const store = (entries) => localStorage.setItem(STORE, JSON.stringify(entries));
const newId = () => {
  const chance = crypto.getRandomValues(new Uint8Array(10));
  return Date.now().toString(16).padStart(12, "0") + Array.from(chance, (byte) => byte.toString(16).padStart(2, "0")).join("");
};

function ask(url, options = {}) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE);
  return fetch(url, { ...options, signal: stop.signal, headers: { Accept: "text/html", ...options.headers } }).finally(() => clearTimeout(timer));
}
const post = (entry) => ask(entry.url, { method: "POST", body: new URLSearchParams(entry.fields) });

async function send(event) {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.hasAttribute("data-queue")) return;
  event.preventDefault();
  const button = event.submitter;
  const fields = [...new FormData(form, button)].map(([name, value]) => [name, name === "id" ? newId() : String(value)]);
  const said = button && button.name === "answer" ? `: ${TOLD.answers[button.value] || button.value}` : "";
  const entry = { url: new URL(form.action).pathname, fields, words: form.dataset.words + said, refused: "" };
  const focus = document.activeElement && document.activeElement.id;
  let answer;
  try {
    answer = await post(entry);
  } catch {
    // out of reach nobody can read it back: it is kept as it is understood when it arrives
    entry.fields = entry.fields.map(([name, value]) => [name, name === "step" && value === "read" ? "later" : value]);
    store([...waiting(), entry]);
    form.reset();
    tell();
    document.getElementById("main").focus();
    return;
  }
  put(await answer.text(), answer.url, answer.ok, focus);
}

function put(text, url, ok, focus) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const made = page.getElementById("main");
  if (!made) return location.reload();
  document.getElementById("main").replaceWith(document.adoptNode(made));
  document.title = page.title;
  if (ok && location.href !== url) history.pushState({}, "", url);
  shown = location.pathname + location.search;
  if (window.htmx) htmx.process(made);
  tell();
  const next = (focus && document.getElementById(focus)) || made.querySelector("[role=alert]") || made;
  if (!next.hasAttribute("tabindex") && !/^(A|BUTTON|INPUT|TEXTAREA|SELECT)$/.test(next.tagName)) next.tabIndex = -1;
  next.focus({ preventScroll: !made.querySelector("[role=alert]") });
}

function tell() {
  const entries = waiting();
  const place = document.getElementById("queue");
  if (!place) return;
  const open = entries.filter((entry) => !entry.refused);
  place.hidden = entries.length === 0;
  place.replaceChildren();
  if (open.length) place.append(line(say(open.length === 1 ? "one" : "many", { n: open.length, entries: open.map((entry) => entry.words).join("; ") })));
  entries.forEach((entry) => {
    if (!entry.refused) return;
    const drop = document.createElement("button");
    drop.textContent = TOLD.forget;
    drop.addEventListener("click", () => { store(waiting().filter((each) => id(each) !== id(entry))); tell(); });
    const told = line(`${say("refused", { entry: entry.words + text(entry), why: entry.refused })} `);
    told.append(drop);
    place.append(told);
  });
  for (const entry of open) {
    const job = entry.fields.find(([name]) => name === "job");
    const shown = job && document.querySelector(`[data-job="${CSS.escape(job[1])}"]`);
    if (!shown || shown.classList.contains("waits")) continue;
    shown.classList.add("waits");
    shown.append(line(say("waits", { entry: entry.words })));
  }
}
const id = (entry) => entry.fields.find(([name]) => name === "id")[1];
const text = (entry) => { const found = entry.fields.find(([name]) => name === "line"); return found ? ` “${found[1]}”` : ""; };
function line(words) {
  const made = document.createElement("span");
  made.style.display = "block";
  made.textContent = words;
  return made;
}

let sending = false;
async function flush() {
  if (sending || !waiting().some((entry) => !entry.refused)) return;
  sending = true;
  let sent = 0;
  try {
    const fresh = await ask("/token", { headers: { Accept: "application/json" } });
    if (!fresh.ok) return;
    const { token } = await fresh.json();
    for (const entry of waiting().filter((each) => !each.refused)) {
      entry.fields = entry.fields.map(([name, value]) => [name, name === "token" ? token : value]);
      const answer = await post(entry);
      if (answer.status === 401 || answer.status === 429 || answer.status >= 500) return;
      const left = waiting();
      if (answer.ok) {
        store(left.filter((each) => id(each) !== id(entry)));
        sent += 1;
      } else {
        const why = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[role=alert] li, [role=alert]");
        store(left.map((each) => (id(each) === id(entry) ? { ...each, refused: why ? why.textContent.trim() : say("no", { status: answer.status }) } : each)));
      }
    }
  } catch {
    return; // still out of reach: what waits goes on waiting
  } finally {
    sending = false;
    tell();
    if (sent && ["/", "/diary", "/water"].includes(location.pathname) && !document.querySelector("textarea:focus")) {
      ask(location.href).then((answer) => answer.text().then((words) => put(words, answer.url, answer.ok, ""))).catch(() => {});
    }
  }
}

document.addEventListener("submit", send);
document.addEventListener("submit", (event) => {
  if (event.target.hasAttribute("data-leave") && window.caches) caches.keys().then((names) => names.forEach((name) => caches.delete(name)));
});
window.addEventListener("online", flush);
window.addEventListener("storage", tell);
window.addEventListener("popstate", () => { if (location.pathname + location.search !== shown) location.reload(); });
setInterval(flush, AGAIN);
tell();
flush();
if ("serviceWorker" in navigator && window.isSecureContext) navigator.serviceWorker.register("/sw.js").catch(() => {});
