// A server of one folder, and a headless Chromium that opens its pages and says what it logs.

import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";

const TYPES = { ".html": "text/html", ".js": "text/javascript", ".mjs": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".json": "application/json", ".wasm": "application/wasm" };

/** Serves a folder on loopback; a policy is sent with each file. Returns { address, close }. */
export async function serve(folder, policy) {
  const server = createServer((request, answer) => {
    const path = normalize(decodeURIComponent(new URL(request.url, "http://x").pathname));
    if (path === "/favicon.ico") return answer.writeHead(204).end();
    let file = join(folder, path);
    try {
      if (statSync(file).isDirectory()) file = join(file, "index.html");
      const type = TYPES[extname(file)] ?? "application/octet-stream";
      const body = readFileSync(file);
      answer.writeHead(200, { "content-type": type.startsWith("text") ? `${type}; charset=utf-8` : type, ...(policy && { "content-security-policy": policy }) });
      answer.end(body);
    } catch {
      answer.writeHead(404).end();
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return { address: `http://127.0.0.1:${server.address().port}`, close: () => server.close() };
}

const pause = (time) => new Promise((done) => setTimeout(done, time));

/** Starts Chromium. */
export async function openBrowser(root) {
  const profile = mkdtempSync(join(tmpdir(), "plyline-ways-"));
  const driver = spawn("chromedriver", ["--port=0"], { stdio: ["ignore", "pipe", "ignore"] });
  const port = await new Promise((done, failed) => {
    let said = "";
    driver.on("error", failed);
    driver.on("exit", () => failed(new Error(`chromedriver has ended: ${said}`)));
    driver.stdout.on("data", (text) => {
      const found = /started successfully on port (\d+)/.exec((said += text));
      if (found) done(found[1]);
    });
  });
  let session = "";
  const ask = async (method, path, body) => {
    const sent = { method, ...(body && { body: JSON.stringify(body), headers: { "content-type": "application/json" } }) };
    const { value } = await (await fetch(`http://127.0.0.1:${port}/session${session}${path}`, sent)).json();
    if (value?.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  };
  const { args } = JSON.parse(readFileSync(join(root, "tests/support/webdriver.json"), "utf8"))["goog:chromeOptions"];
  const options = { args: [...args, `--user-data-dir=${profile}`] };
  const wanted = { "goog:chromeOptions": options, "goog:loggingPrefs": { browser: "ALL" } };
  session = `/${(await ask("POST", "", { capabilities: { alwaysMatch: wanted } })).sessionId}`;
  await ask("POST", "/timeouts", { script: 30_000 });

  const browser = {
    /** Opens a page; what was logged before is forgotten. */
    async open(url) {
      await browser.logged();
      await ask("POST", "/url", { url });
    },
    /** The value of an async function's body. */
    async js(body, ...given) {
      const script = `const done = arguments[arguments.length - 1]; const given = [...arguments].slice(0, -1);
        (async () => { ${body} })().then((value) => done([value]), (error) => done([null, String(error?.stack ?? error)]));`;
      const [value, error] = await ask("POST", "/execute/async", { script, args: given });
      if (error) throw new Error(error);
      return value;
    },
    /** Waits until that is true; false if it is not within so many tenths of a second. */
    async until(expression, patience = 200) {
      for (let tries = 0; tries < patience; tries += 1) {
        if (await browser.js(`return Boolean(${expression})`)) return true;
        await pause(100);
      }
      return false;
    },
    /** Goes into the first frame of the page. */
    async enterFrame() {
      const [frame] = await ask("POST", "/elements", { using: "css selector", value: "iframe" });
      await ask("POST", "/frame", { id: frame });
    },
    /** A picture of the first element of a kind, as PNG, in a window of this size. */
    async picture(selector, width, height) {
      await ask("POST", "/window/rect", { width, height });
      const [element] = await ask("POST", "/elements", { using: "css selector", value: selector });
      return Buffer.from(await ask("GET", `/element/${Object.values(element)[0]}/screenshot`), "base64");
    },
    /** Asks Chromium itself, by its own protocol: to slow its processor or its network down. */
    async cdp(cmd, params = {}) {
      return ask("POST", "/goog/cdp/execute", { cmd, params });
    },
    /** What has been logged since the last question. */
    async logged() {
      return (await ask("POST", "/se/log", { type: "browser" })).map(({ level, message }) => `${level}: ${message}`);
    },
    async close() {
      await ask("DELETE", "").catch(() => {});
      driver.removeAllListeners("exit");
      driver.kill();
      await pause(200);
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
  return browser;
}
