// The live page in Chromium: what it shows, what it writes, what it says against a wrong value.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const ROOT = join(import.meta.dirname, '..', '..');
const PROGRAM = process.env.HUBWRIGHT ?? join(ROOT, 'target', 'debug', 'hubwright');
const PICTURES = join(ROOT, 'target', 'live-pictures');
const AXE = readFileSync(join(import.meta.dirname, 'node_modules', 'axe-core', 'axe.min.js'), 'utf8');
let program, address, file, browser, page;
const errors = [];

before(async () => {
  mkdirSync(PICTURES, { recursive: true });
  const folder = mkdtempSync(join(tmpdir(), 'live-'));
  cpSync(join(ROOT, 'designs'), folder, { recursive: true });
  file = join(folder, 'weeder-shoulder.toml');
  program = spawn(PROGRAM, ['live', file, '--json']);
  address = await new Promise((resolve) => program.stdout.once('data', (data) => resolve(JSON.parse(data).address)));
  browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'] });
  page = await browser.newPage({ viewport: { width: 1360, height: 900 } });
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => { if (message.type() === 'error') errors.push(message.text()); });
  await page.goto(address);
  await page.waitForSelector('#now canvas');
  await page.waitForSelector('#checks tbody tr');
  await page.waitForSelector('#now[data-fine="true"]');
});

after(async () => {
  await browser?.close();
  program?.kill();
});

const drawn = () => page.locator('#now').getAttribute('data-revision');
const written = () => readFileSync(file, 'utf8');

test('the page loads without a word in the console', async () => {
  assert.deepEqual(errors, []);
  await page.screenshot({ path: join(PICTURES, 'wide.png'), fullPage: true });
});

test('a part is picked and told, and the parts come apart', async () => {
  const box = await page.locator('#now canvas').boundingBox();
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  assert.match(await page.locator('.picked').textContent(), /\d g/);
  await page.locator('input[name="explode"]').fill('100');
  await page.screenshot({ path: join(PICTURES, 'apart.png') });
  await page.locator('input[name="explode"]').fill('0');
});

test('a slider changes the picture and the file, and undo takes it back', async () => {
  const before = written();
  const revision = await drawn();
  await page.locator('input[type="range"][data-key="gearset.face_width"]').focus();
  await page.keyboard.press('ArrowRight');
  await page.waitForFunction((old) => document.getElementById('now').dataset.revision !== old, revision);
  await page.waitForFunction(() => document.getElementById('status').textContent.includes('written'));
  assert.equal(written(), before.replace('face_width    = "16 mm"', 'face_width    = "16.5 mm"'));
  await page.locator('#undo').click();
  await page.waitForFunction(() => document.getElementById('status').textContent.startsWith('Undone'));
  assert.equal(written(), before);
});

test('a wrong value is told at its field and is not written', async () => {
  const before = written();
  await page.getByLabel('Normal module', { exact: true }).fill('0.8 kg');
  await page.keyboard.press('Enter');
  await page.waitForSelector('input[name="gearset.normal_module"][aria-invalid="true"]');
  const said = await page.locator('#field-gearset-normal_module-wrong').textContent();
  assert.match(said, /line \d+/);
  assert.match(said, /length/);
  assert.equal(written(), before);
  await page.screenshot({ path: join(PICTURES, 'wrong.png') });
  await page.getByLabel('Normal module', { exact: true }).press('Escape');
});

test('a file broken by an editor is told with its line, and the picture stays', async () => {
  const before = written();
  writeFileSync(file, before.replace('planets       = 3', 'planets       = "three"'));
  await page.waitForSelector('#faults:not([hidden])');
  const line = before.split('\n').findIndex((one) => one.startsWith('planets ')) + 1;
  assert.match(await page.locator('#fault-list').textContent(), new RegExp(`gearset\\.planets.*line ${line}\\)`));
  assert.equal(await page.locator('#now').getAttribute('data-broken'), 'true');
  writeFileSync(file, before);
  await page.waitForSelector('#now[data-broken="false"]');
});

test('two versions stand side by side with their differences', async () => {
  await page.waitForFunction(() => !document.getElementById('figures-say').textContent.includes('earlier'));
  await page.locator('#keep').click();
  await page.waitForSelector('#kept canvas');
  await page.getByLabel('Face width', { exact: true }).fill('18 mm');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /\+\d/.test(document.getElementById('glance').textContent));
  await page.screenshot({ path: join(PICTURES, 'beside.png'), fullPage: true });
  await page.locator('#keep').click();
  await page.locator('#undo').click();
});

for (const width of [1360, 360]) {
  test(`nothing stands in the way of anybody at ${width} px`, async () => {
    await page.setViewportSize({ width, height: 800 });
    await page.evaluate(AXE);
    const found = await page.evaluate(() => axe.run());
    assert.deepEqual(found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target).join(' ')}`), []);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), 'the page is wider than the screen');
    await page.screenshot({ path: join(PICTURES, `at-${width}.png`), fullPage: true });
  });
}
