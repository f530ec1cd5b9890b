// Loads a page from its file in a headless browser and prints what it does as JSON.
// usage: node look.mjs PAGE [--shots FOLDER | --brief | --load]
// --brief: the colours of dark alone instead of every rule once more; --load: only how it loads.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const [page, option, folder] = process.argv.slice(2);
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const address = pathToFileURL(page).href;
const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  timeout: 120_000,
  protocolTimeout: 600_000,
  args: ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
});

async function open({ width = 1280, scheme = "light", script = true } = {}) {
  const tab = await browser.newPage();
  const seen = { console: [], requests: [], loadMs: 0 };
  tab.on("console", (message) => seen.console.push(`${message.type()}: ${message.text()}`));
  tab.on("pageerror", (error) => seen.console.push(`error: ${error.message}`));
  tab.on("request", (request) => { if (request.url() !== address) seen.requests.push(request.url()); });
  tab.on("dialog", (dialog) => { seen.console.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  await tab.setViewport({ width, height: 900 });
  await tab.setJavaScriptEnabled(script);
  await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await tab.goto(address, { waitUntil: "load", timeout: 120_000 });
  return { tab, seen };
}

const frame = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
// What the lanes show, with the scale above them: frames at one steady distance look the same at many places.
const drawn = () => {
  const lanes = [...document.querySelectorAll("[data-marks]")].map((svg) => [...svg.querySelectorAll("path")].map((path) => path.getAttribute("d")).join("|")).join(";");
  return {
    view: document.getElementById("time-view").value,
    lanes: lanes + (/\d/.test(lanes) ? document.querySelector(".ticks").textContent : ""),
  };
};

async function zooms(tab) {
  const steps = {};
  const note = async (name) => { await tab.evaluate(frame); steps[name] = await tab.evaluate(drawn); };
  // A button that is not there changes nothing, which is what is looked at.
  const press = (button) => tab.click(`[data-do="${button}"]`).catch(() => {});
  await note("start");
  await press("in");
  await note("button in");
  await press("later");
  await note("button later");
  await press("all");
  await note("button all");
  await tab.focus(".lanes");
  await tab.keyboard.press("+");
  await note("key in");
  await tab.keyboard.press("ArrowRight");
  await note("key later");
  await tab.keyboard.press("-");
  await note("key out");
  await tab.keyboard.press("0");
  await note("key all");
  return steps;
}

// What Tab reaches, in order, until it comes round; and what it ought to reach.
async function tabbing(tab) {
  await tab.evaluate(() => { document.activeElement.blur(); scrollTo(0, 0); });
  const expected = await tab.evaluate(() => {
    const all = [...document.querySelectorAll("a[href], button, input, summary, [tabindex='0']")].filter((e) => e.checkVisibility());
    all.forEach((e, i) => { e.dataset.stop = i; });
    return all.length;
  });
  const reached = new Set();
  for (let i = 0; i < expected + 20 && reached.size < expected; i++) {
    await tab.keyboard.press("Tab");
    const stop = await tab.evaluate(() => document.activeElement?.dataset?.stop);
    if (stop !== undefined) reached.add(stop);
  }
  return { expected, reached: reached.size };
}

async function accessibility(tab, rules) {
  await tab.evaluate(() => { for (const part of [...document.querySelectorAll("details")].slice(0, 8)) part.open = true; });
  await tab.evaluate(axeSource);
  return tab.evaluate(async (only) => {
    const result = await axe.run(document, { resultTypes: ["violations"], ...(only && { runOnly: only }) });
    return result.violations.map((v) => `${v.id}: ${v.help} – ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(" ; ")}`);
  }, rules);
}

const visible = () => ({
  tables: [...document.querySelectorAll("table")].filter((t) => t.checkVisibility({ contentVisibilityAuto: true })).length,
  allTables: document.querySelectorAll("table").length,
  openable: [...document.querySelectorAll("details")].length,
  drawings: [...document.querySelectorAll("svg path")].filter((p) => p.getAttribute("d")).length,
  shownTools: [...document.querySelectorAll(".tools")].filter((t) => t.checkVisibility()).length,
});

const report = {};
const plain = await open();
report.console = plain.seen.console;
report.requests = plain.seen.requests;
report.loadMs = await plain.tab.evaluate(() => {
  const [entry] = performance.getEntriesByType("navigation");
  return Math.round(entry.loadEventEnd - entry.startTime);
});
report.title = await plain.tab.title();
report.made = await plain.tab.evaluate(() => ({
  heading: document.querySelector("h1").textContent,
  scripts: document.scripts.length,
  foreign: document.querySelectorAll("img, iframe, object, embed, link, [src], [onerror]").length,
}));
report.elements = await plain.tab.evaluate(() => document.getElementsByTagName("*").length);
report.wider = await plain.tab.evaluate(() => document.documentElement.scrollWidth > innerWidth);
if (option === "--load") {
  await browser.close();
  console.log(JSON.stringify(report));
  process.exit();
}
if (await plain.tab.$("#time")) report.zoom = await zooms(plain.tab);
report.tabbing = await tabbing(plain.tab);
report.axeLight = await accessibility(plain.tab);

const dark = await open({ scheme: "dark" });
report.axeDark = await accessibility(dark.tab, option === "--brief" ? ["color-contrast"] : undefined);
report.schemes = await Promise.all([plain, dark].map(({ tab }) => tab.evaluate(() => getComputedStyle(document.body).backgroundColor)));

const narrow = await open({ width: 390 });
report.widerNarrow = await narrow.tab.evaluate(() => document.documentElement.scrollWidth > innerWidth);
const still = await open({ script: false });
report.still = await still.tab.evaluate(visible);
report.stillConsole = still.seen.console;
await still.tab.emulateMediaType("print");
report.print = await still.tab.evaluate(visible);

if (option === "--shots") {
  for (const [name, settings] of Object.entries({ light: {}, dark: { scheme: "dark" }, narrow: { width: 390 }, "narrow-dark": { width: 390, scheme: "dark" } })) {
    const { tab } = await open(settings);
    await tab.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
  }
  await plain.tab.pdf({ path: join(folder, "print.pdf"), format: "A4" });
}
await browser.close();
console.log(JSON.stringify(report));
