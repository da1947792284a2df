// The build book in a browser: loads from a file, asks for nothing, and everything in its 3D view works, by pointer and by keys.
import assert from 'node:assert/strict';
import { readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { after, before, describe, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { broken, browser, open, output, pictures } from './support.mjs';

const book = path.join(output, 'book.html');
const report = JSON.parse(readFileSync(path.join(output, 'report.json'), 'utf8'));
const address = pathToFileURL(book).href;
let running;
before(async () => { running = await browser(); });
after(async () => { await running?.close(); });

async function opened(options) {
  const found = await open(running, address, options);
  await found.page.waitForFunction(() => window.bookView?.parts().length > 0);
  return found;
}

// Two frames: what was asked for is drawn.
const drawn = (page) => page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
const state = (page) => page.evaluate(() => window.bookView.state());
const frame = (page) => page.locator('#view canvas');
const shot = (page, name) => page.locator('.view').screenshot({ path: path.join(pictures, `${name}.png`) });

// Share of points that differ between two pictures of the view.
async function changed(page, one, other) {
  return page.evaluate(async ([one, other]) => {
    const points = async (address) => {
      const image = new Image();
      image.src = address;
      await image.decode();
      const canvas = new OffscreenCanvas(image.width, image.height);
      const pen = canvas.getContext('2d');
      pen.drawImage(image, 0, 0);
      return pen.getImageData(0, 0, image.width, image.height).data;
    };
    const [a, b] = [await points(one), await points(other)];
    let differ = 0;
    for (let at = 0; at < a.length; at += 4) {
      differ += Math.abs(a[at] - b[at]) + Math.abs(a[at + 1] - b[at + 1]) + Math.abs(a[at + 2] - b[at + 2]) > 24 ? 1 : 0;
    }
    return differ / (a.length / 4);
  }, [one, other]);
}
const picture = (page) => page.evaluate(() => window.bookView.picture());

describe('book', () => {
  test('is small, loads without a complaint, and asks for nothing', async () => {
    assert.ok(statSync(book).size < 6e6);
    const { page, wrong, requests } = await opened();
    await drawn(page);
    assert.deepEqual(wrong, []);
    assert.deepEqual(requests, [address]);
    await page.screenshot({ path: path.join(pictures, 'top.png') });
    await page.context().close();
  });

  test('every link within the page leads somewhere, every picture is there', async () => {
    const { page } = await opened();
    const lost = await page.evaluate(() => [...document.querySelectorAll('a[href^="#"]')]
      .map((link) => link.getAttribute('href')).filter((target) => !document.querySelector(target)));
    assert.deepEqual(lost, []);
    const bad = await page.evaluate(async () => {
      const images = [...document.images];
      await Promise.all(images.map((image) => image.decode().catch(() => {})));
      return images.filter((image) => image.naturalWidth === 0).map((image) => image.alt);
    });
    assert.deepEqual(bad, []);
    await page.context().close();
  });

  test('a click picks a part and tells its name, material and mass', async () => {
    const { page, wrong } = await opened();
    await page.evaluate(() => window.bookView.view('top'));
    await frame(page).scrollIntoViewIfNeeded();
    await drawn(page);
    const { x, y, width, height } = await frame(page).boundingBox();
    // Off the axis, on the plate one sees from the output's side.
    const point = [x + width / 2 + 0.11 * height, y + height / 2 + 0.02 * height];
    await page.mouse.click(...point);
    const { picked } = await state(page);
    const part = report.parts.find((one) => one.name === picked);
    assert.equal(picked, 'output-clamp-ring');
    const told = await page.locator('.picked').textContent();
    assert.ok(told.startsWith('output-clamp-ring: printed, PC, '), told);
    const grams = Number(told.match(/([\d.]+) g/)[1]);
    assert.ok(Math.abs(grams - part.print_mass_g) < 0.051, `${told} against ${part.print_mass_g}`);
    await shot(page, 'picked');
    // Beside everything: none.
    await page.mouse.click(x + 6, y + 6);
    assert.equal((await state(page)).picked, null);
    assert.deepEqual(wrong, []);
    await page.context().close();
  });

  test('pulls apart to the positions the file holds', async () => {
    const { page } = await opened();
    const whole = await picture(page);
    await page.locator('input[name=explode]').fill('100');
    assert.equal((await state(page)).explode, 1);
    await drawn(page);
    assert.ok(await changed(page, whole, await picture(page)) > 0.05);
    await shot(page, 'apart');
    await page.locator('input[name=explode]').fill('0');
    await drawn(page);
    assert.ok(await changed(page, whole, await picture(page)) < 0.001, 'together again as it was');
    await page.context().close();
  });

  test('cuts, with closed faces, at any angle', async () => {
    const { page, wrong } = await opened();
    const whole = await picture(page);
    await page.getByLabel('Cut along the axis').check();
    await drawn(page);
    const cut = await picture(page);
    assert.ok(await changed(page, whole, cut) > 0.05);
    await page.evaluate(() => window.bookView.view('front'));
    await drawn(page);
    await shot(page, 'cut');
    // Straight at the face: one sees the motor's cut inside, not the far wall of the housing.
    const { x, y, width, height } = await frame(page).boundingBox();
    const seen = await page.evaluate(([a, b]) => window.bookView.at(a, b), [x + width / 2, y + height / 2]);
    assert.notEqual(seen?.name, 'vented-base');
    await page.locator('input[name=angle]').fill('90');
    await page.evaluate(() => window.bookView.view('iso'));
    await drawn(page);
    assert.ok(await changed(page, cut, await picture(page)) > 0.02);
    await page.getByLabel('Cut along the axis').uncheck();
    await drawn(page);
    assert.ok(await changed(page, whole, await picture(page)) < 0.001);
    assert.deepEqual(wrong, []);
    await page.context().close();
  });

  test('turns the stage, and stops', async () => {
    const { page } = await opened();
    await page.evaluate(() => {
      for (const name of ['ring-housing', 'output-clamp-ring', 'output-carrier']) window.bookView.hide(name);
      window.bookView.view('top');
    });
    await drawn(page);
    const still = await picture(page);
    await page.getByLabel('Turn the stage').check();
    await page.waitForFunction(() => window.bookView.state().turns > 0.03);
    await page.getByLabel('Turn the stage').uncheck();
    const { turns } = await state(page);
    await drawn(page);
    assert.ok(await changed(page, still, await picture(page)) > 0.005);
    await shot(page, 'turning');
    await page.waitForTimeout(200);
    assert.equal((await state(page)).turns, turns);
    await page.context().close();
  });

  test('hides and shows parts from the list', async () => {
    const { page } = await opened();
    const whole = await picture(page);
    await page.getByText('Parts: show, hide, pick out').click();
    await page.getByLabel('Show ring-housing', { exact: true }).uncheck();
    assert.deepEqual((await state(page)).hidden, ['ring-housing']);
    await drawn(page);
    assert.ok(await changed(page, whole, await picture(page)) > 0.02);
    await shot(page, 'hidden');
    await page.getByRole('button', { name: 'Show all' }).click();
    assert.deepEqual((await state(page)).hidden, []);
    assert.ok(await page.getByLabel('Show ring-housing', { exact: true }).isChecked());
    await page.context().close();
  });

  test('keeps what one looks at when other bodies are loaded', async () => {
    const { page } = await opened();
    await page.evaluate(() => {
      window.bookView.explode(0.5);
      window.bookView.hide('ring-housing');
      window.bookView.pick('planet');
      window.bookView.section(true, 30, 4);
    });
    await frame(page).press('ArrowLeft');
    await drawn(page);
    const before = [await state(page), await picture(page)];
    const bytes = readFileSync(path.join(output, 'assembly.glb')).toString('base64');
    await page.evaluate((text) => {
      window.bookView.load(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer);
    }, bytes);
    await drawn(page);
    assert.deepEqual(await state(page), before[0]);
    // The full file against the book's compact one: the same to a hair.
    assert.ok(await changed(page, before[1], await picture(page)) < 0.01);
    await assert.rejects(page.evaluate(() => window.bookView.load(new ArrayBuffer(8))), /glTF/);
    assert.deepEqual(await state(page), before[0], 'a bad file changes nothing');
    await page.context().close();
  });

  test('works by keys alone', async () => {
    const { page, wrong } = await opened();
    // From the top of the page to the canvas by tabs.
    for (let tabs = 0; tabs < 40; tabs += 1) {
      await page.keyboard.press('Tab');
      if (await page.evaluate(() => document.activeElement.tagName === 'CANVAS')) break;
    }
    assert.ok(await page.evaluate(() => document.activeElement.tagName === 'CANVAS'));
    const first = await picture(page);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('+');
    await drawn(page);
    assert.ok(await changed(page, first, await picture(page)) > 0.02);
    await page.keyboard.press('e');
    assert.equal((await state(page)).explode, 0.25);
    await page.keyboard.press('c');
    assert.equal((await state(page)).section, true);
    await page.keyboard.press('n');
    const { picked } = await state(page);
    assert.ok(picked);
    assert.ok((await page.locator('.picked').textContent()).startsWith(picked));
    await page.keyboard.press('h');
    assert.deepEqual((await state(page)).hidden, [picked]);
    await page.keyboard.press('a');
    assert.deepEqual((await state(page)).hidden, []);
    await page.keyboard.press('Escape');
    assert.equal((await state(page)).picked, null);
    await page.keyboard.press(' ');
    assert.equal((await state(page)).spin, true);
    await page.keyboard.press(' ');
    // And on: the next tab leaves the canvas for the controls.
    await page.keyboard.press('Tab');
    assert.ok(await page.evaluate(() => document.activeElement.closest('#view-controls') !== null));
    assert.deepEqual(wrong, []);
    await page.context().close();
  });

  for (const [name, options] of [
    ['light', { colorScheme: 'light' }],
    ['dark', { colorScheme: 'dark' }],
    ['narrow', { viewport: { width: 360, height: 740 }, colorScheme: 'light' }],
    ['narrow-dark', { viewport: { width: 360, height: 740 }, colorScheme: 'dark' }],
  ]) {
    test(`is accessible: ${name}`, async () => {
      const { page } = await opened(options);
      await page.evaluate(() => { for (const one of document.querySelectorAll('details')) one.open = true; });
      assert.deepEqual(await broken(page), []);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(wide <= 0, `${wide} points wider than the window`);
      await page.evaluate(() => { for (const one of document.querySelectorAll('details')) one.open = false; });
      for (const chapter of ['glance', 'look', 'prints', 'materials', 'assembly', 'drawings', 'gears', 'performance', 'drive', 'checks']) {
        await page.locator(`#${chapter}`).scrollIntoViewIfNeeded();
        await page.evaluate((id) => document.getElementById(id).scrollIntoView(), chapter);
        await page.screenshot({ path: path.join(pictures, `${name}-${chapter}.png`) });
      }
      await page.context().close();
    });
  }

  test('prints', async () => {
    const { page } = await opened();
    const file = path.join(pictures, 'book.pdf');
    await page.pdf({ path: file, format: 'A4', printBackground: true });
    const bytes = readFileSync(file);
    assert.equal(bytes.subarray(0, 5).toString(), '%PDF-');
    const pages = bytes.toString('latin1').match(/\/Type\s*\/Page\b/g).length;
    assert.ok(pages >= 12 && pages <= 60, `${pages} pages`);
    await page.context().close();
  });

  test('says so where there is no WebGL', async () => {
    const context = await running.newContext();
    const page = await context.newPage();
    await page.addInitScript(() => { HTMLCanvasElement.prototype.getContext = () => null; });
    await page.goto(address);
    await page.waitForFunction(() => document.getElementById('view-message')?.textContent.startsWith('No 3D view here'));
    assert.ok(await page.locator('.cover img').isVisible());
    await context.close();
  });
});
