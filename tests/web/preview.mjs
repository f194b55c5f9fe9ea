// The preview in a real browser: opens the page of `porringer watch`, changes
// recipes on the disk as an editor does, and waits for card and messages to
// follow. Called by .ci/run:
//
//     node tests/web/preview.mjs PROGRAM RECIPES [FOLDER FOR PICTURES]
//
// with playwright-core and axe-core where node finds them (NODE_PATH), and
// Chromium at CHROMIUM, else /usr/bin/chromium. Nothing is timed: whatever does
// not come in two minutes does not come.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const require = createRequire(join(process.env.NODE_PATH ?? process.cwd(), "x.js"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const PATIENCE = 120_000;
const [program, recipes, pictures] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "preview-"));
cpSync(recipes, join(folder, "recipes"), { recursive: true });
const dish = join(folder, "recipes", "egg-sweet-potato-mash.dish");
const text = readFileSync(dish, "utf8");

/// As most editors save: beside it, then renamed over it.
function save(path, text) {
  writeFileSync(`${path}.new`, text);
  renameSync(`${path}.new`, path);
}

const watch = spawn(resolve(program), ["watch", "--port", "0"], { cwd: folder, stdio: ["ignore", "pipe", "inherit"] });
const address = await new Promise((done, fail) => {
  let said = "";
  watch.stdout.on("data", (data) => {
    said += data;
    const found = said.match(/http:\/\/[^ ]+/);
    if (found) done(found[0]);
  });
  watch.on("exit", (code) => fail(new Error(`the program ended with ${code}`)));
});

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
  ],
});

let checks = 0;
async function check(what, work) {
  await work();
  checks += 1;
  console.log(`  ${what}`);
}

try {
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
  page.setDefaultTimeout(PATIENCE);
  const troubles = [];
  const requests = new Set();
  // A card or page that is replaced while it is on its way is asked for again.
  const replaced = (message) => /404/.test(message.text()) && /\/(cards\/|document\?)/.test(message.location().url);
  page.on("console", (message) => message.type() === "error" && !replaced(message) && troubles.push(message.text()));
  page.on("pageerror", (error) => troubles.push(String(error)));
  page.on("request", (request) => requests.add(new URL(request.url()).origin));
  const picture = async (name) => pictures && (await page.screenshot({ path: join(pictures, `${name}.png`) }));
  const state = (words) => page.waitForFunction((words) => document.getElementById("state").textContent.includes(words), words, { timeout: PATIENCE });
  const accessible = async () => {
    await page.evaluate(axe);
    const { violations } = await page.evaluate(() => window.axe.run());
    assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes.map((node) => node.html)]), []);
  };
  // Width of the first picture once it is really drawn.
  const drawn = () =>
    page.waitForFunction(
      () => {
        const images = [...document.querySelectorAll("#pages img")];
        return images.length === 2 && images.every((image) => image.complete && image.naturalWidth > 0) ? images[0].src : null;
      },
      null,
      { timeout: PATIENCE },
    ).then((handle) => handle.jsonValue());

  await page.goto(address);
  await page.click("text=Egg and sweet potato mash");
  await state("The card is as the recipe says.");
  const before = await drawn();
  await check("a card with its two pages is shown", async () => {
    assert.equal(await page.textContent("#summary"), "Egg and sweet potato mash: no errors");
    assert.match(await page.getAttribute("#pages img", "alt"), /Egg and sweet potato mash: page 1 of 2/);
  });
  await check("the page is accessible", accessible);
  await picture("sound");

  await check("a fault is shown beside the last good card", async () => {
    const wrong = text.replace("boil sweet potatoes", "boyl sweet potatoes");
    assert.notEqual(wrong, text);
    save(dish, wrong);
    await state("This is the last good card");
    await page.waitForSelector("article.error");
    assert.match(await page.textContent("#messages"), /`boyl` is no kitchen verb that is known here/);
    assert.match(await page.textContent("#messages mark"), /boyl/);
    assert.equal(await drawn(), before);
    assert.match(await page.title(), /^\(\d+\) /);
  });
  await check("a message's explanation opens by the keyboard and stays open", async () => {
    await page.focus("article summary");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector("article details pre").textContent.startsWith("# "));
  });
  await check("the page with messages is accessible", accessible);
  await picture("faulty");

  await check("the mended card is another picture", async () => {
    save(dish, text.replace(/^dish .*$/m, "dish     Egg mash of the new moon"));
    await state("The card is as the recipe says.");
    await page.waitForFunction((before) => {
      const image = document.querySelector("#pages img");
      return image && image.src !== before && image.complete && image.naturalWidth > 0;
    }, before);
    assert.equal(await page.textContent("#title"), "Egg mash of the new moon");
    assert.equal(await page.locator("article").count(), 0);
  });
  await picture("mended");

  await check("a language is chosen by the keyboard", async () => {
    await page.focus("#languages a:not([aria-current])");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector("#pages img")?.src.includes(".sw."));
    await drawn();
  });
  await check("an author's markup is text", async () => {
    save(dish, text.replace(/^dish .*$/m, "dish     <img src=x onerror=alert(1)> <b>bold</b>"));
    await page.waitForFunction(() => document.getElementById("title").textContent.includes("<b>bold</b>"));
    assert.equal(await page.locator("#title *").count(), 0);
    assert.equal(await page.locator("#list b, #list img").count(), 0);
  });
  await check("a recipe that is removed is gone, and comes back", async () => {
    rmSync(dish);
    await page.waitForFunction(() => document.getElementById("title").textContent === "This recipe is gone");
    writeFileSync(dish, text);
    await page.waitForFunction(() => document.getElementById("title").textContent === "Egg and sweet potato mash");
    await drawn();
  });
  await check("settings with a fault keep what is known", async () => {
    const settings = join(folder, "recipes", "porringer.toml");
    const sound = readFileSync(settings, "utf8");
    save(settings, sound.replace(/^paper/m, "papper"));
    await page.waitForSelector("#settings:not([hidden])");
    assert.match(await page.textContent("#settings"), /no card is made with these settings/);
    await accessible();
    save(settings, sound);
    await page.waitForSelector("#settings[hidden]", { state: "attached" });
    await drawn();
  });
  await check("the list is searched", async () => {
    await page.fill("#find", "avocado");
    assert.equal(await page.locator("#list li:visible").count(), 1);
    await page.fill("#find", "");
  });
  await check("a phone shows it without scrolling sideways", async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
    await accessible();
    await picture("phone");
  });
  await check("nothing was fetched from elsewhere, and nothing went wrong", async () => {
    assert.deepEqual([...requests], [new URL(address).origin]);
    assert.deepEqual(troubles, []);
  });
  await check("another page cannot read it", async () => {
    const other = await browser.newPage();
    await other.goto("data:text/html,<title>other</title>");
    const read = await other.evaluate(async (address) => {
      try {
        return await (await fetch(`${address}overview`)).text();
      } catch (error) {
        return String(error);
      }
    }, address);
    assert.match(read, /TypeError/);
    await other.close();
  });
  await check("the page says so when the program ends", async () => {
    watch.removeAllListeners("exit");
    watch.kill("SIGINT");
    await page.waitForSelector("#link.lost");
  });
  console.log(`${checks} passed, 0 failed`);
} finally {
  watch.removeAllListeners("exit");
  watch.kill("SIGINT");
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
