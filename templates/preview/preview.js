// The preview follows the program: it asks for news, and waits for them there.
// Whatever an author wrote is set as text, never as markup.
"use strict";

const at = (id) => document.getElementById(id);
const pause = (time) => new Promise((done) => setTimeout(done, time));

let number = null; // of the overview that is shown
let overview = null;
let showing = null; // the document that is shown
const open = new Set(); // explanations that the reader has opened

function make(name, text, attributes = {}) {
  const element = document.createElement(name);
  if (text !== undefined && text !== null) element.textContent = text;
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function say(element, text) {
  // A screen reader tells what changes, so the same is not set twice.
  if (element.textContent !== text) element.textContent = text;
}

/// Draws again only what became other, so that focus and place stay.
function redraw(element, elements, key) {
  if (element.dataset.key === key) return;
  element.dataset.key = key;
  element.replaceChildren(...elements());
}

const counted = (count, word) => `${count} ${word}${count === 1 ? "" : "s"}`;

function words(errors, warnings) {
  const parts = [];
  if (errors > 0) parts.push(counted(errors, "error"));
  if (warnings > 0) parts.push(counted(warnings, "warning"));
  return parts.length > 0 ? parts.join(", ") : "no errors";
}

/// The document and language that the address names.
function choice() {
  const values = new URLSearchParams(location.hash.slice(1));
  return { file: values.get("file"), tag: values.get("language") };
}

function address(file, tag) {
  const values = new URLSearchParams({ file });
  if (tag) values.set("language", tag);
  return `#${values}`;
}

const cardOf = (view) => view.cards.find((card) => card.tag === choice().tag) ?? view.cards[0];

function list() {
  const wanted = at("find").value.trim().toLocaleLowerCase();
  const { file: chosen, tag } = choice();
  const known = new Map([...at("list").children].map((entry) => [entry.dataset.file, entry]));
  let shown = 0;
  let before = null;
  for (const line of overview.documents) {
    let entry = known.get(line.file);
    known.delete(line.file);
    if (!entry) {
      entry = make("li");
      entry.dataset.file = line.file;
      const link = make("a");
      link.append(make("span", null, { dir: "auto" }), make("span"));
      entry.append(link);
    }
    const link = entry.firstElementChild;
    const [name, mark] = link.children;
    link.href = address(line.file, tag);
    if (line.file === chosen) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
    name.lang = line.lang;
    say(name, line.title);
    const state = line.waiting && line.errors === 0 ? "being set" : words(line.errors, line.warnings);
    say(mark, line.kind === "dish" ? state : `${line.kind}, ${state}`);
    mark.className = `mark ${line.errors > 0 ? "error" : line.warnings > 0 ? "warning" : ""}`;
    const found = `${line.title} ${line.file}`.toLocaleLowerCase().includes(wanted);
    entry.hidden = !found;
    shown += found ? 1 : 0;
    // Moved only where it stands elsewhere, so that the focus stays.
    const place = before ? before.nextElementSibling : at("list").firstElementChild;
    if (place !== entry) at("list").insertBefore(entry, place);
    before = entry;
  }
  for (const entry of known.values()) entry.remove();
  at("none").hidden = shown > 0;
}

function article(message) {
  const box = make("article", null, { class: message.severity });
  box.append(make("h3", `${message.severity}: ${message.message}`, { dir: "auto" }));
  box.append(make("p", `${message.file}, line ${message.line}, column ${message.column}`, { class: "place" }));
  const { before, marked, after } = message.excerpt;
  if (before + marked + after !== "") {
    const line = make("pre", null, { dir: "auto" });
    line.append(before, make("mark", marked), after);
    box.append(line);
  }
  for (const other of message.related) {
    box.append(make("p", `line ${other.line}: ${other.text}`, { class: "place", dir: "auto" }));
  }
  if (message.help) box.append(make("p", message.help, { dir: "auto" }));
  const more = make("details");
  const text = make("pre");
  more.append(make("summary", `Why: ${message.code}`), text);
  const key = `${message.code} ${message.message}`;
  more.addEventListener("toggle", async () => {
    if (!more.open) return void open.delete(key);
    open.add(key);
    if (text.textContent !== "") return;
    const answer = await fetch(`explain?code=${encodeURIComponent(message.code)}`);
    text.textContent = answer.ok ? await answer.text() : "There is no page on it.";
  });
  more.open = open.has(key);
  box.append(more);
  return box;
}

function languages(view, card) {
  at("languages").hidden = view.cards.length < 2;
  const entries = () =>
    view.cards.map((one) => {
      const entry = make("li");
      const link = make("a", one.tag, { href: address(view.file, one.tag) });
      if (one === card) link.setAttribute("aria-current", "true");
      entry.append(link);
      return entry;
    });
  redraw(at("languages"), entries, JSON.stringify([view.file, view.cards.map((one) => one.tag), card?.tag]));
}

/// What is to be known of the card shown, and whether something is wrong.
function standing(view, card) {
  if (view.kind === "booklet" && !card) {
    return [`A booklet is checked here and not shown: its pages are the cards in this list, and \`porringer build ${view.file}\` binds them.`, false];
  }
  if (!card) return ["There is no card until the errors are mended.", true];
  const last = card.shown !== null;
  if (view.broken) return [last ? "This is the last good card; the recipe has errors now." : "There is no card until the errors are mended.", true];
  if (card.state === "fault") return [`The card cannot be set: ${card.said}`, true];
  if (card.state === "too-long") return [last ? "This is the last good card; the new one does not fit." : "The card does not fit on its paper.", true];
  if (card.state === "waiting") return [last ? "The card is being set anew." : "The card is being set.", false];
  return ["The card is as the recipe says.", false];
}

function pages(view, card) {
  const [said, bad] = standing(view, card);
  say(at("state"), said);
  at("state").className = bad ? "error" : "";
  const box = at("pages");
  box.className = card && !card.current ? "earlier" : "";
  if (!card || card.shown === null) return redraw(box, () => [], "");
  const name = encodeURIComponent(card.name);
  const draw = () => {
    const print = make("p");
    const link = { href: `cards/${name}.pdf`, target: "_blank", rel: "noopener" };
    print.append(make("a", `PDF to print, or to be read aloud (${card.tag})`, link));
    const all = [print];
    for (let page = 1; page <= card.sheets; page += 1) {
      const alt = `${view.title}: page ${page} of ${card.sheets} (${card.tag})`;
      all.push(make("img", null, { src: `cards/${card.shown}/${name}.${page}.svg`, alt }));
    }
    return all;
  };
  redraw(box, draw, `${card.shown} ${card.name}`);
}

function draw(view) {
  const card = cardOf(view);
  at("title").lang = view.lang;
  say(at("title"), view.title);
  say(at("file"), view.file);
  document.title = `${view.errors > 0 ? `(${view.errors}) ` : ""}${view.title} · Preview`;
  languages(view, card);
  pages(view, card);
  const messages = [...view.messages, ...view.cards.filter((one) => one.message).map((one) => one.message)];
  say(at("summary"), `${view.title}: ${words(view.errors, view.warnings)}`);
  redraw(at("messages"), () => messages.map(article), JSON.stringify(messages));
}

async function chosen() {
  const { file } = choice();
  if (!overview.documents.some((line) => line.file === file)) {
    showing = null;
    const first = overview.documents[0];
    if (!file && first) {
      history.replaceState(null, "", address(first.file));
      list();
      return chosen();
    }
    say(at("title"), file ? "This recipe is gone" : "No recipe chosen");
    say(at("file"), file ?? "");
    for (const id of ["languages", "pages", "messages"]) redraw(at(id), () => [], "");
    say(at("state"), "");
    say(at("summary"), file ? `${file} is gone` : "");
    return;
  }
  const answer = await fetch(`document?file=${encodeURIComponent(file)}`);
  if (!answer.ok) return;
  const view = await answer.json();
  if (choice().file !== view.file) return;
  showing = view;
  draw(view);
}

async function show() {
  say(at("programme"), overview.programme ? `Preview: ${overview.programme}` : "Preview");
  at("settings").hidden = !overview.trouble && overview.general.length === 0;
  say(at("trouble"), overview.trouble ?? "");
  redraw(at("general"), () => overview.general.map(article), JSON.stringify(overview.general));
  list();
  await chosen();
}

function linked(yes) {
  at("link").className = yes ? "" : "lost";
  say(at("link"), yes ? "Follows your files as you save them." : "The program has ended; this page waits for it.");
}

async function follow() {
  for (;;) {
    try {
      const answer = await fetch(number === null ? "overview" : `overview?since=${encodeURIComponent(number)}`);
      if (answer.status === 200) {
        overview = await answer.json();
        linked(true);
        await show();
        number = overview.number;
      } else if (answer.status !== 204) {
        throw new Error(`${answer.status}`);
      }
    } catch {
      linked(false);
      await pause(1000);
    }
  }
}

addEventListener("hashchange", async () => {
  if (!overview) return;
  list();
  if (showing && showing.file === choice().file) draw(showing);
  else await chosen().catch(() => linked(false));
});
at("find").addEventListener("input", () => overview && list());
at("skip").addEventListener("click", (event) => {
  // The address says which recipe is shown, so it stays.
  event.preventDefault();
  at("card").focus();
});
follow();
