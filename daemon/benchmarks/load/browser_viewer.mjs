// One real browser that looks at the viewer for some seconds, for load measurements.
//   node browser_viewer.mjs URL SECONDS
import { createRequire } from "node:module";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const require = createRequire(new URL("../../../viewer-web/package.json", import.meta.url));
const { chromium } = require("playwright-core");
const [url, seconds] = process.argv.slice(2);
const profile = mkdtempSync(join(tmpdir(), "heldmark-browser-"));
const context = await chromium.launchPersistentContext(profile, {
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
  viewport: { width: 1280, height: 800 },
});
const page = await context.newPage();
await page.goto(url);
await page.waitForTimeout(1000 * Number(seconds));
await context.close();
rmSync(profile, { recursive: true, force: true });
