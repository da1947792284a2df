// Pages without a 3D view, of commands beside `make`: complete in themselves, accessible, and no wider than a telephone.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { execFileSync } from 'node:child_process';
import { after, before, describe, test } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { broken, browser, open, pictures } from './support.mjs';

const root = path.join(path.dirname(fileURLToPath(import.meta.url)), '../..');
const program = process.env.HUBWRIGHT ?? path.join(root, 'target/debug/hubwright');
const design = (name) => path.join(root, 'designs', `${name}.toml`);
// Readings of a spin at four speeds and of three currents through two leads.
const LOG = `test, rotor_speed [rpm], voltage [V], current [A]
spin,500,5.71,
spin,1000,11.35,
spin,1500,17.06,
spin,2000,22.75,
resistance,,0.37,2
resistance,,0.73,4
resistance,,1.08,6
`;

let running;
let folder;
before(async () => {
  running = await browser();
  folder = mkdtempSync(path.join(pictures, 'pages-'));
});
after(async () => {
  await running?.close();
  rmSync(folder, { recursive: true, force: true });
});

// Each makes its page and says where it is.
const PAGES = {
  compare() {
    const page = path.join(folder, 'compare.html');
    execFileSync(program, ['compare', design('weeder-shoulder'), design('weeder-wrist'), '--page', page]);
    return page;
  },
  trial() {
    const log = path.join(folder, 'bench.csv');
    writeFileSync(log, LOG);
    const out = path.join(folder, 'trial');
    execFileSync(program, ['trial', design('weeder-shoulder'), log, '--out', out]);
    return path.join(out, 'trial.html');
  },
};

for (const [name, make] of Object.entries(PAGES)) {
  describe(name, () => {
    let address;
    before(() => { address = pathToFileURL(make()).href; });

    for (const [look, options] of [
      ['light', { colorScheme: 'light' }],
      ['dark', { colorScheme: 'dark' }],
      ['narrow', { viewport: { width: 360, height: 740 }, colorScheme: 'light' }],
      ['narrow-dark', { viewport: { width: 360, height: 740 }, colorScheme: 'dark' }],
    ]) {
      test(`asks for nothing and is accessible: ${look}`, async () => {
        const { page, wrong, requests } = await open(running, address, options);
        await page.evaluate(() => { for (const one of document.querySelectorAll('details')) one.open = true; });
        assert.deepEqual(await broken(page), []);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        assert.ok(wide <= 0, `${wide} points wider than the window`);
        await page.screenshot({ path: path.join(pictures, `${name}-${look}.png`), fullPage: true });
        assert.deepEqual(wrong, []);
        assert.deepEqual(requests, [address]);
        await page.context().close();
      });
    }
  });
}
