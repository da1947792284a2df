// From a change of the design's file to its new geometry drawn, in headless Chromium: node live-bench.mjs [changes]
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const ROOT = join(import.meta.dirname, '..', '..');
const PROGRAM = process.env.HUBWRIGHT ?? join(ROOT, 'target', 'release', 'hubwright');
const CHANGES = Number(process.argv[2] ?? 40);
const folder = mkdtempSync(join(tmpdir(), 'live-'));
cpSync(join(ROOT, 'designs'), folder, { recursive: true });
const file = join(folder, 'weeder-shoulder.toml');
const text = readFileSync(file, 'utf8');
const program = spawn(PROGRAM, ['live', file, '--json']);
const address = await new Promise((resolve) => program.stdout.once('data', (data) => resolve(JSON.parse(data).address)));
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'] });
const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
await page.goto(address);
await page.waitForSelector('#now[data-fine="true"]', { timeout: 60_000 });
const times = [];
for (let change = 0; change < CHANGES; change += 1) {
  // Figures and the fine picture of the last change are through: what is measured is one change.
  await page.waitForTimeout(1500);
  const old = await page.locator('#now').getAttribute('data-revision');
  const width = 14 + 0.1 * change;
  const start = Date.now();
  writeFileSync(file, text.replace('"16 mm"', `"${width.toFixed(1)} mm"`));
  await page.waitForFunction((before) => document.getElementById('now').dataset.revision !== before, old, { polling: 5, timeout: 10_000 });
  times.push(Number(await page.locator('#now').getAttribute('data-drawn')) - start);
}
times.sort((a, b) => a - b);
const at = (share) => times[Math.min(times.length - 1, Math.floor(share * times.length))].toFixed(0);
console.log(`${CHANGES} changes of the face width: median ${at(0.5)} ms, 95 of 100 under ${at(0.95)} ms, longest ${at(1)} ms`);
await browser.close();
program.kill();
