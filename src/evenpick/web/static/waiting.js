// Entries that can't be sent wait on this device and go once the garden answers again, each under the id it was
// given here, so that one sent twice is one. A line that is not clear when it arrives waits on, with its question.
// Without this script every form still works as a plain form.
"use strict";
const STORE = "evenpick.waiting";
const PATIENCE = 8000; // ms until a request counts as not answered
const AGAIN = 15000;
const SENDING = 4 * PATIENCE; // until what is being sent is taken to have been left behind: twice, and a token between

// what the script says, in the page's language, its places filled
const TOLD = JSON.parse((document.getElementById("queue") || { dataset: { told: "{}" } }).dataset.told);
const say = (name, places) => Object.entries(places).reduce((text, [place, value]) => text.replaceAll(`{${place}}`, () => value), TOLD[name]);

// All that this device holds: what waits, and what is being sent, which is no other page's to send until its time is
// up. So nothing is lost with a page that is closed, or a phone that goes dead, before the garden has answered.
function held() {
  try {
    return JSON.parse(localStorage.getItem(STORE) || "[]");
  } catch {
    return []; // a browser that keeps nothing for anybody
  }
}
// whether this device had room
function store(entries) {
  try {
    localStorage.setItem(STORE, JSON.stringify(entries));
    return true;
  } catch {
    return false;
  }
}
const waiting = () => held().filter((entry) => !(entry.until > Date.now()));
const without = (...ids) => held().filter((each) => !ids.includes(id(each)));
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
const withToken = (entry, token) => ({ ...entry, fields: entry.fields.map(([name, value]) => [name, name === "token" ? token : value]) });
// nobody has signed in, too many tried to, or the garden itself failed: nothing was said of the entry
const unheard = (answer) => answer.status === 401 || answer.status === 429 || answer.status >= 500;

let signedOut = false;
async function freshToken() {
  const answer = await ask("/token", { headers: { Accept: "application/json" } });
  signedOut = answer.status === 401;
  return answer.ok ? (await answer.json()).token : "";
}

async function deliver(entry) {
  const answer = await post(entry);
  signedOut = answer.status === 401;
  if (answer.status !== 403) return answer;
  const token = await freshToken(); // the page may be older than the session
  return token ? post(withToken(entry, token)) : answer;
}

function tell() {
  const entries = waiting();
  const place = document.getElementById("queue");
  if (!place) return;
  const open = entries.filter((entry) => !stays(entry)), asked = entries.filter((entry) => entry.asks);
  place.hidden = entries.length === 0;
  place.replaceChildren();
  if (open.length) place.append(line(say(open.length === 1 ? "one" : "many", { n: open.length, entries: open.map((entry) => entry.words).join("; ") })));
  if (open.length && signedOut) place.append(link("/enter", TOLD.enter));
  if (open.length) place.append(shut(open.map((entry) => told(entry, entry.words + text(entry)))));
  if (asked.length) place.append(line(say(asked.length === 1 ? "asks_one" : "asks_many", { n: asked.length })));
  asked.forEach((entry) => place.append(told(entry, say("asks", { entry: entry.words + text(entry), why: entry.asks }), [TOLD.answer, answer])));
  entries.filter((entry) => entry.refused).forEach((entry) => place.append(told(entry, say("refused", { entry: entry.words + text(entry), why: entry.refused }), ...(field(entry, "line") ? [] : [[TOLD.again, answer]]))));
  for (const entry of open) {
    const job = field(entry, "job");
    const shown = job && document.querySelector(`[data-job="${CSS.escape(job)}"]`);
    if (!shown || shown.classList.contains("waits")) continue;
    shown.classList.add("waits");
    shown.append(line(say("waits", { entry: entry.words })));
  }
}
// what waits for its writer, not for the garden
const stays = (entry) => entry.refused || entry.asks;
const field = (entry, wanted) => (entry.fields.find(([name]) => name === wanted) || ["", ""])[1];
const drop = (identity) => { store(without(identity)); tell(); };
const mark = (entry, more) => store(held().map((each) => (id(each) === id(entry) ? { ...each, ...more } : each)));

// what waits, with what may be done to it: a line can be changed where one is written
function told(entry, words, ...more) {
  const made = line(`${words} `);
  if (field(entry, "line") && document.getElementById("line")) more.push([TOLD.change, change]);
  more.push([TOLD.forget, () => drop(id(entry))]);
  made.append(...more.map(([name, press]) => button(name, `${name}: ${entry.words}${text(entry)}`, () => press(entry))));
  return made;
}

// It stays where it is until the changed one is kept, but goes no more by itself.
function change(entry) {
  mark(entry, { asks: TOLD.changing, refused: "" });
  const typed = document.getElementById("line");
  typed.value = field(entry, "line");
  typed.form.elements.namedItem("day").value = field(entry, "day");
  typed.form.elements.namedItem("instead").value = id(entry);
  typed.form.elements.namedItem("corrects").value = field(entry, "corrects");
  tell();
  typed.focus();
}

// The garden reads it back, or shows what was answered meanwhile, as it would have where it was written; where
// nothing stands against it any more it is taken.
async function answer(entry) {
  const fields = entry.fields.map(([name, value]) => [name, name === "step" ? "read" : value]).filter(([name]) => name !== "instead");
  try {
    const found = await deliver({ ...entry, fields: [...fields, ["instead", id(entry)]] });
    const words = await found.text();
    if (found.ok && found.redirected) drop(id(entry));
    put(words, found.url, found.ok, "");
  } catch {
    tell(); // still out of reach
  }
}
const id = (entry) => field(entry, "id");
const text = (entry) => (field(entry, "line") ? ` “${field(entry, "line")}”` : "");
function line(words) {
  const made = document.createElement("span");
  made.style.display = "block";
  made.textContent = words;
  return made;
}

function button(words, spoken, press) {
  const made = document.createElement("button");
  made.textContent = words;
  made.setAttribute("aria-label", spoken);
  made.addEventListener("click", press);
  return made;
}

let opened = false;
function shut(parts) {
  const made = document.createElement("details"), head = document.createElement("summary");
  head.textContent = TOLD.show;
  made.open = opened;
  made.addEventListener("toggle", () => { opened = made.open; });
  made.append(head, ...parts);
  return made;
}

function link(address, words) {
  const made = document.createElement("a");
  made.href = address;
  made.textContent = words;
  return made;
}
let sending = false;
async function flush() {
  if (sending || waiting().every(stays)) return;
  sending = true;
  let sent = 0;
  try {
    const token = await freshToken();
    if (!token) return;
    for (const entry of waiting().filter((each) => !stays(each))) {
      if (!waiting().some((each) => id(each) === id(entry) && !stays(each))) continue; // changed or dropped meanwhile
      const answer = await post(withToken(entry, token));
      if (answer.status >= 500) continue; // it waits, and holds up no other
      if (unheard(answer)) return;
      if (answer.ok) {
        store(without(id(entry)));
        sent += 1;
      } else {
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        const asks = page.querySelector("[data-asks]"), why = page.querySelector("[role=alert] li, [role=alert]");
        mark(entry, asks ? { asks: asks.textContent.trim() } : { refused: why ? why.textContent.trim() : say("no", { status: answer.status }) });
      }
    }
  } catch {
    return; // still out of reach: what waits goes on waiting
  } finally {
    sending = false;
    tell();
    if (sent && ["/", "/diary", "/water"].includes(location.pathname)) renew();
  }
}
