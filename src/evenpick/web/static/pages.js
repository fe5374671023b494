// Forms sent without leaving the page, and pages put in each other's place; what can't be sent waits (waiting.js).
"use strict";
let shown = location.pathname + location.search; // what the page shows; a jump within it is no other page

// What a form writes has one id for as long as the form is shown as it is: sent twice it is one entry. It is made
// here, for a page kept for later is shown more than once, and each time it is another answer.
const ids = new WeakMap();
const idOf = (form) => ids.get(form) || ids.set(form, newId()).get(form);

let inReachSince = 0; // when the browser last said that the network came back
const underWay = new WeakSet(), onTheWay = new Set();
async function send(event) {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.hasAttribute("data-queue")) return;
  event.preventDefault();
  if (underWay.has(form)) return;
  underWay.add(form);
  const focus = document.activeElement && document.activeElement.id;
  const entry = entryOf(form, event.submitter);
  const free = busy(form, event.submitter);
  store([...without(id(entry)), { ...unread(entry), until: Date.now() + SENDING }]);
  onTheWay.add(id(entry));
  try {
    await sent(entry, form, focus);
  } finally {
    onTheWay.delete(id(entry));
    underWay.delete(form);
    free(focus);
  }
}

// The garden's day by now: that on which the page was made, and the nights since. A page may be open or kept for
// days, and what is pressed on it is done when it is pressed.
function now() {
  const { day, made } = document.getElementById("main").dataset;
  const midnight = (moment) => Date.UTC(moment.getFullYear(), moment.getMonth(), moment.getDate());
  const since = Math.max(midnight(new Date()) - midnight(new Date(1000 * made)), 0);
  return new Date(Date.parse(day) + since).toISOString().slice(0, 10);
}

// a day that nobody chose moves on with the days, and the page says of which it is
function age() {
  const today = now(), { day } = document.getElementById("main").dataset;
  document.querySelectorAll("#main input[data-today]").forEach((field) => {
    if (field.value === field.defaultValue) field.value = field.defaultValue = today;
  });
  document.querySelectorAll("#main > .aged").forEach((told) => told.remove());
  if (today === day) return;
  const date = new Date(day).toLocaleDateString(document.documentElement.lang, { timeZone: "UTC", day: "numeric", month: "long", year: "numeric" });
  const told = line(say("aged", { date }));
  told.className = "aged caution";
  document.getElementById("main").prepend(told);
}

function entryOf(form, button) {
  age();
  const given = { id: () => idOf(form), day: (value) => value || now() };
  const fields = [...new FormData(form, button)].map(([name, value]) => [name, given[name] ? given[name](String(value)) : String(value)]);
  const said = button && button.name === "answer" ? `: ${TOLD.answers[button.value] || button.value}` : "";
  return { url: new URL(form.action).pathname, fields, words: form.dataset.words + said, refused: "" };
}

// the form's buttons rest until it is answered, and the one pressed says so; what it gives back frees them
function busy(form, button) {
  const buttons = [...form.querySelectorAll("button")].filter((each) => !each.disabled);
  const words = button && button.textContent, label = button && button.getAttribute("aria-label");
  form.setAttribute("aria-busy", "true");
  buttons.forEach((each) => { each.disabled = true; });
  if (button) { button.textContent = TOLD.sending; button.removeAttribute("aria-label"); }
  return (focus) => {
    form.removeAttribute("aria-busy");
    buttons.forEach((each) => { each.disabled = false; });
    if (button) button.textContent = words;
    if (label) button.setAttribute("aria-label", label);
    if (button && button.id && button.id === focus && button.isConnected && document.activeElement === document.body) button.focus();
  };
}

async function sent(entry, form, focus) {
  const began = performance.now();
  let answer, words;
  try {
    answer = await deliver(entry);
    words = await answer.text();
  } catch {
    keep(entry, form);
    if (inReachSince > began) flush(); // it came back while this one was given up
    return;
  }
  if (unheard(answer) || signedOut) return keep(entry, form);
  if (answer.ok && answer.redirected) drop(field(entry, "instead")); // the line in whose place it comes
  if (put(words, answer.url, answer.ok, focus)) return drop(id(entry));
  if (answer.ok) return keep(entry, form); // whoever said yes was not the garden
  drop(id(entry));
  refuse(say("no", { status: answer.status }));
}

// unheard of the garden nobody can read it back: it is kept as it is understood when it arrives
const unread = (entry) => ({ ...entry, fields: entry.fields.map(([name, value]) => [name, name === "step" && value === "read" ? "later" : value]) });

function keep(entry, form) {
  if (!store([...without(id(entry), field(entry, "instead")), unread(entry)])) return refuse(TOLD.no_room);
  emptied(form, field(entry, "line"));
  tell();
  document.getElementById("main").focus();
}

// What was typed has gone with its entry, and what is typed since or next is another. A line that was read back is gone
// too: its forms go, so that it is not kept a second time as something else.
function emptied(form, sentLine) {
  if (form.querySelector("input[name=line]")) {
    document.querySelectorAll("#main form[data-queue]").forEach((each) => (each.querySelector("input[name=line]") ? each.remove() : emptied(each, each.elements.namedItem("line").value)));
    return;
  }
  const typed = form.querySelector("textarea"), since = typed && typed.value !== sentLine ? typed.value : "";
  form.reset();
  form.querySelectorAll("textarea, [name=instead], [name=corrects]").forEach((each) => { each.value = ""; });
  if (since) typed.value = since;
  if (form.querySelector("input:not([type=hidden]), textarea, select")) ids.delete(form);
}

// the page stays, and with it what was typed
function refuse(words) {
  document.querySelectorAll("#main > .no").forEach((told) => told.remove());
  const told = line(words);
  told.className = "no caution";
  told.setAttribute("role", "alert");
  document.getElementById("main").prepend(told);
}

// without what the page has said by now: opened again, or out of reach, it is the page as it always is
function plain(url) {
  const place = new URL(url);
  ["kept", "undone"].forEach((name) => place.searchParams.delete(name));
  return place.href;
}

// whether the words were a page of the garden
function put(text, url, ok, focus) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const made = page.getElementById("main");
  if (!made) return false;
  document.getElementById("main").replaceWith(document.adoptNode(made));
  document.title = page.title;
  const place = plain(url);
  if (ok && location.href !== place) history.pushState({}, "", place);
  shown = location.pathname + location.search;
  age();
  if (window.htmx) htmx.process(made);
  tell();
  const next = (focus && document.getElementById(focus)) || made.querySelector("[role=alert]") || made;
  if (!next.hasAttribute("tabindex") && !/^(A|BUTTON|INPUT|TEXTAREA|SELECT)$/.test(next.tagName)) next.tabIndex = -1;
  next.focus({ preventScroll: !made.querySelector("[role=alert]") });
  return true;
}

const filled = () => [...document.querySelectorAll("#main input, #main textarea")].some((field) =>
  (field.type === "radio" || field.type === "checkbox" ? field.checked !== field.defaultChecked : field.value !== field.defaultValue));

// asks for the page again, unless somebody is writing on it
function renew() {
  if (document.querySelector("textarea:focus") || filled()) return;
  ask(location.href).then((answer) => answer.text().then((words) => put(words, answer.url, answer.ok, ""))).catch(() => {});
}

// Where the garden was slow the page is as it was last seen; what it is now has come, and is put by.
async function newer({ data }) {
  if (data.newer !== location.pathname || location.search || document.querySelector("textarea:focus, #main form[aria-busy]") || filled()) return;
  const found = await caches.match(data.newer);
  if (found) put(await found.text(), location.href, true, document.activeElement && document.activeElement.id);
}

// a page that comes to sight again may be of another day
function seen() {
  if (document.hidden) return;
  const before = document.querySelector("#main > .aged");
  age();
  if (!before && document.querySelector("#main > .aged") && location.pathname === "/" && !location.search) renew();
}

document.addEventListener("submit", send);
document.addEventListener("submit", (event) => {
  if (event.target.hasAttribute("data-leave") && window.caches) caches.keys().then((names) => names.forEach((name) => caches.delete(name)));
});
window.addEventListener("online", () => { inReachSince = performance.now(); flush(); });
window.addEventListener("storage", tell);
// a page that goes leaves what it was sending to whichever is open next
window.addEventListener("pagehide", () => store(held().map((each) => (onTheWay.has(id(each)) ? { ...each, until: 0 } : each))));
document.addEventListener("visibilitychange", seen);
window.addEventListener("pageshow", seen);
window.addEventListener("popstate", () => { if (location.pathname + location.search !== shown) location.reload(); });
setInterval(flush, AGAIN);
tell();
flush();
if ("serviceWorker" in navigator && window.isSecureContext) {
  navigator.serviceWorker.addEventListener("message", newer);
  navigator.serviceWorker.startMessages();
  navigator.serviceWorker.register("/sw.js").catch(() => {});
}
