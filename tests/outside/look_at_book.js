// Looks at a page in a browser as a builder would, and prints what it saw as one JSON text.
// node look_at_book.js CHROMIUM PAGE.html OUT_DIR
"use strict";
const crypto = require("crypto");
const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");
const puppeteer = require("puppeteer-core");

const [, , chromium, file, out] = process.argv;
const address = pathToFileURL(path.resolve(file)).href;
const AXE = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
// software that draws WebGL where there is no graphics card
const DRAWN = ["--use-gl=angle", "--use-angle=swiftshader", "--disable-dev-shm-usage"];
// Chromium asks for this where it is run by root
const ROOT = process.getuid() === 0 ? ["--no-sandbox"] : [];

const said = { errors: [], requests: [], axe: {}, widths: {}, turning: {} };

async function opened(browser, { scripts = true, webgl = true, dark = false, width = 1200, touch = false } = {}) {
  const page = await browser.newPage();
  page.on("pageerror", (error) => said.errors.push(String(error)));
  page.on("console", (message) => message.type() === "error" && said.errors.push(message.text()));
  await page.setRequestInterception(true);
  page.on("request", (request) => {
    const own = request.url() === address || request.url().startsWith("data:");
    if (!own) said.requests.push(request.url());
    if (own) request.continue();
    else request.abort();
  });
  await page.setViewport({ width, height: 800, hasTouch: touch, isMobile: touch });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }]);
  await page.setJavaScriptEnabled(scripts);
  if (!webgl) await page.evaluateOnNewDocument("HTMLCanvasElement.prototype.getContext = () => null;");
  await page.goto(address);
  if (scripts) await drawn(page);
  return page;
}

// after two frames everything that was asked for is drawn, however busy the machine is
async function drawn(page) {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

async function checked(page, name) {
  await page.evaluate(AXE);
  const report = await page.evaluate((tags) => window.axe.run(document, { runOnly: tags }), TAGS);
  said.axe[name] = {
    passes: report.passes.length,
    violations: report.violations.map((one) => `${one.id}: ${one.nodes[0].html.slice(0, 200)}`),
  };
  said.widths[name] = await page.evaluate("[document.documentElement.scrollWidth, innerWidth]");
  await pictured(page, name);
}

// all of a page, or its beginning where it is longer than a picture can be
async function pictured(page, name) {
  const height = await page.evaluate("document.documentElement.scrollHeight");
  await page.screenshot({ path: path.join(out, `${name}.png`), fullPage: height < 8000 });
}

async function seen(page) {
  return page.evaluate(() => {
    const shown = (one) => Boolean(one) && one.getClientRects().length > 0;
    const first = (choice) => document.querySelector(`.turning ${choice}`);
    return {
      canvas: shown(first("canvas")),
      still: shown(first(".still svg")),
      controls: shown(first(".controls")),
      other: shown(first("[data-does=still]")),
    };
  });
}

// a name for what the canvas shows, without the ring of the focus around it
async function picture(page) {
  await drawn(page);
  const dots = await page.$eval(".turning canvas", (canvas) => canvas.toDataURL());
  return crypto.createHash("sha256").update(dots).digest("hex");
}

async function turned(browser) {
  const page = await opened(browser);
  const saw = said.turning;
  saw.begin = await seen(page);
  if (!saw.begin.canvas) return page.close();
  const canvas = await page.$(".turning canvas");
  await canvas.scrollIntoView();
  await canvas.screenshot({ path: path.join(out, "first.png") });
  saw.first = await picture(page);
  // to the canvas by the tabulator alone
  saw.tabs = 0;
  while (saw.tabs < 400 && !(await page.evaluate("document.activeElement.tagName === 'CANVAS'"))) {
    await page.keyboard.press("Tab");
    saw.tabs += 1;
  }
  saw.ring = await page.evaluate("getComputedStyle(document.activeElement).outlineStyle");
  saw.keys = {};
  for (const key of ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "+", "-"]) {
    await page.keyboard.press("0");
    await page.keyboard.press(key);
    saw.keys[key] = await picture(page);
  }
  saw.words = await page.$eval(".turning .seen", (one) => one.textContent);
  await page.keyboard.press("0");
  saw.back = await picture(page);
  await page.evaluate("document.activeElement.blur()");
  const box = await canvas.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y + 25, { steps: 4 });
  await page.mouse.up();
  saw.dragged = await picture(page);
  await page.screenshot({ path: path.join(out, "dragged.png") });
  saw.buttons = {};
  for (const name of ["left", "right", "up", "down", "nearer", "farther"]) {
    await page.click(".turning [data-does=first]");
    await page.click(`.turning [data-does=${name}]`);
    saw.buttons[name] = await picture(page);
  }
  await page.click(".turning [data-does=first]");
  await page.select(".turning select", "1");
  saw.chosen = await picture(page);
  await canvas.screenshot({ path: path.join(out, "chosen.png") });
  await page.select(".turning select", "-1");
  saw.all = await picture(page);
  await page.click(".turning [data-does=still]");
  saw.stood = await seen(page);
  await page.click(".turning [data-does=still]");
  saw.again = await seen(page);
  await page.close();
}

async function touched(browser) {
  const page = await opened(browser, { width: 360, touch: true });
  if (await page.evaluate("!document.querySelector('.turning canvas:not([hidden])')")) return page.close();
  const canvas = await page.$(".turning canvas");
  await canvas.scrollIntoView();
  const before = await picture(page);
  const box = await canvas.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.touchscreen.touchStart(x, y);
  await page.touchscreen.touchMove(x + 50, y + 10);
  await page.touchscreen.touchEnd();
  said.turning.touched = [before, await picture(page)];
  await page.close();
}

async function skipped(browser) {
  const page = await opened(browser);
  await page.keyboard.press("Tab");
  said.skip = await page.evaluate("document.activeElement.className");
  await page.keyboard.press("Enter");
  await drawn(page);
  said.main = await page.evaluate("document.activeElement.tagName");
  const label = await page.$(".ticked label");
  if (label) {
    await label.click();
    said.ticked = await page.$eval(".ticked input", (box) => box.checked);
  }
  await page.close();
}

async function main() {
  const browser = await puppeteer.launch({ executablePath: chromium, headless: true, args: [...DRAWN, ...ROOT] });
  try {
    await turned(browser);
    await touched(browser);
    await skipped(browser);
    for (const [name, how] of [["desk", {}], ["phone", { width: 360 }], ["night", { dark: true, width: 900 }]]) {
      const page = await opened(browser, how);
      await checked(page, name);
      if (name === "night") await page.close();
      else {
        for (const format of name === "desk" ? ["A4", "Letter"] : []) {
          await page.pdf({ path: path.join(out, `${format}.pdf`), format });
        }
        await page.close();
      }
    }
    for (const [name, how] of [["scripts", { scripts: false }], ["webgl", { webgl: false }]]) {
      const page = await opened(browser, how);
      said.turning[`without_${name}`] = await seen(page);
      await pictured(page, `without-${name}`);
      await page.close();
    }
    said.version = await browser.version();
  } finally {
    await browser.close();
  }
  console.log(JSON.stringify(said));
}

main().catch((error) => {
  console.error(error);
  process.exit(1);
});
