// A browser on pages of an output folder: Chromium of the system, its own software renderer for WebGL.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const here = path.dirname(fileURLToPath(import.meta.url));
export const output = path.resolve(process.env.OUTPUT ?? path.join(here, '../../target/browser/weeder-shoulder'));
export const pictures = path.join(here, '../../target/browser/pictures');
mkdirSync(pictures, { recursive: true });
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export async function browser() {
  const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find((file) => existsSync(file));
  if (!executablePath) throw new Error('no Chromium: apt-get install chromium');
  return chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
  });
}

// A page with everything that went wrong on it noted, and every request that isn't for a file or its own data.
export async function open(of, address, options = {}) {
  const context = await of.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const wrong = [];
  const requests = [];
  page.on('console', (message) => { if (['error', 'warning'].includes(message.type())) wrong.push(message.text()); });
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('request', (request) => { if (!/^(data|blob):/.test(request.url())) requests.push(request.url()); });
  await page.goto(address);
  return { page, wrong, requests };
}

// Ids of the accessibility rules that are broken, with the places.
export async function broken(page) {
  await page.evaluate(axe);
  const result = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
  return result.violations.map(({ id, nodes }) => `${id}: ${nodes.slice(0, 3).map((node) => node.target.join(' ')).join('; ')}`);
}
