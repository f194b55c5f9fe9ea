// Opens every page of a folder in a browser without a head, on a phone's width
// and on a desk's, as a file, and says what is wrong with it.
//
//   node pages.mjs FOLDER [SHOTS]
//
// Wants playwright-core and axe-core in NODE_PATH's folder, and a Chromium
// (CHROMIUM names another). With SHOTS, a folder, each page is kept there as a
// picture of each width, and as PDF.

import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const modules = createRequire(join(resolve(process.env.NODE_PATH ?? "."), "x.js"));
const { chromium } = modules("playwright-core");
const axe = readFileSync(modules.resolve("axe-core/axe.min.js"), "utf8");

const [folder, shots] = process.argv.slice(2);
const names = readdirSync(folder).filter((name) => name.endsWith(".html")).sort();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--no-first-run",
  ],
});
const faults = [];
let seen = 0;
let links = 0;
for (const [width, height] of [[360, 740], [1200, 900]]) {
  const context = await browser.newContext({ viewport: { width, height } });
  const left = [...names];
  const look = async () => {
    for (let name = left.shift(); name !== undefined; name = left.shift()) await one(context, width, name);
  };
  await Promise.all([look(), look(), look()]);
  await context.close();
}

async function one(context, width, name) {
  const page = await context.newPage();
  const fault = (text) => faults.push(`${name} at ${width}: ${text}`);
  const own = pathToFileURL(resolve(folder, name)).href;
  page.on("console", (message) => fault(`the console says ${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => fault(`a script fails: ${error.message}`));
  page.on("request", (request) => {
    if (request.url() !== own && !request.url().startsWith("data:")) fault(`it asks for ${request.url()}`);
  });
  await page.goto(own, { waitUntil: "load" });
  const wide = await page.evaluate(() => {
    const seen = document.documentElement.clientWidth;
    const over = [...document.querySelectorAll("body *")].filter((one) => {
      const box = one.getBoundingClientRect();
      return box.width > 0 && (box.right > seen + 0.5 || box.left < -0.5);
    });
    const named = (one) => `${one.tagName} ${one.className.baseVal ?? one.className} ${one.textContent.slice(0, 40)}`;
    return { scroll: document.documentElement.scrollWidth - seen, over: over.slice(0, 3).map(named) };
  });
  if (wide.scroll > 0 || wide.over.length > 0) fault(`it is ${wide.scroll} px too wide: ${wide.over.join("; ")}`);
  const broken = await page.evaluate(() =>
    [...document.images].filter((image) => !image.complete || image.naturalWidth === 0).map((image) => image.alt),
  );
  for (const alt of broken) fault(`a picture does not show: ${alt}`);
  const targets = await page.evaluate(() =>
    [...document.querySelectorAll("a[href], link[rel=alternate]")].map((one) => one.href),
  );
  for (const target of targets) {
    links += 1;
    const there = names.some((other) => pathToFileURL(resolve(folder, other)).href === target);
    if (!there) fault(`it leads to ${target}, which is not there`);
  }
  const drawn = await page.evaluate(() =>
    [...document.querySelectorAll("use")]
      .map((one) => one.getAttribute("href"))
      .filter((href) => !document.querySelector(href)),
  );
  for (const href of drawn) fault(`the drawing ${href} is not there`);
  const twice = await page.evaluate(() => {
    const ids = [...document.querySelectorAll("[id]")].map((one) => one.id);
    return ids.filter((id, at) => ids.indexOf(id) !== at);
  });
  for (const id of twice) fault(`the id ${id} is there twice`);
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
  for (const one of found.violations) {
    fault(`${one.id}: ${one.help}: ${one.nodes.map((node) => node.html.slice(0, 120)).join(" | ")}`);
  }
  if (shots) {
    await page.screenshot({ path: join(shots, `${name}.${width}.png`), fullPage: true });
    if (width === 1200) await page.pdf({ path: join(shots, `${name}.pdf`), format: "A4", preferCSSPageSize: false });
  }
  seen += 1;
  await page.close();
}

await browser.close();
for (const fault of faults.sort()) console.log(fault);
console.log(`${seen} pages seen, ${links} links followed, ${faults.length} faults`);
process.exit(faults.length === 0 && seen > 0 ? 0 : 1);
