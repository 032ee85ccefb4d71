// What every browser test needs: the program serving a fresh store, a browser, and rows of TAP.
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const axeSource = readFileSync(new URL('./node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');
const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync'];

export const screens = { landscape: { width: 1280, height: 800 }, portrait: { width: 800, height: 1280 },
  phone: { width: 390, height: 844 } };

let count = 0, failures = 0;
export function check(name, good, seen = '') {
  count += 1;
  if (!good) failures += 1;
  console.log(`${good ? 'ok' : 'not ok'} ${count} - ${name}` + (good ? '' : `\n# saw ${JSON.stringify(seen)}`));
}

export function end() {
  console.log(`1..${count}`);
  process.exit(failures ? 1 : 0);
}

// Starts `wharve serve` on a free port with more words; { address, folder, stop }.
export async function serve(wharve, root, ...words) {
  const folder = mkdtempSync(join(tmpdir(), 'wharve-pages-'));
  const server = spawn(wharve, ['serve', '--listen', '127.0.0.1:0', '--machines', join(root, 'machines'), '--store', join(folder, 'workshop.db'),
    ...words.map(word => word.replace('FOLDER', folder))], { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = await new Promise((found, lost) => {
    let said = '';
    server.stdout.on('data', data => {
      said += data;
      const match = said.match(/(https?:\/\/[^\s/]+)\//);
      if (match) found(match[1]);
    });
    server.on('exit', code => lost(new Error(`wharve serve ended with ${code}`)));
  });
  const stop = () => new Promise(done => {
    server.removeAllListeners('exit');
    server.on('exit', () => { rmSync(folder, { recursive: true, force: true }); done(); });
    server.kill('SIGTERM');
  });
  process.on('exit', () => server.kill('SIGKILL')); // also where a test breaks off
  return { address, folder, stop, server };
}

export function browser() {
  return chromium.launch({ executablePath: '/usr/bin/chromium', args: flags });
}

// What axe finds on a page, in words; an empty list is good. The pages' own policy keeps foreign scripts out, so that
// the context of the page has to be made with bypassCSP.
// The screen is made as high as the page, so that the row of words at its foot covers nothing.
export async function faults(page) {
  const screen = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: screen.width, height: Math.max(height, screen.height) });
  await page.evaluate(axeSource);
  const found = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a',
    'wcag21aa', 'wcag22aa', 'best-practice'] }));
  await page.setViewportSize(screen);
  return found.violations.map(fault => `${fault.id}: ${fault.nodes.map(node => node.target.join(' ')).join('; ')}`);
}

// Things to touch that are less than 48 pixels high, save words inside a sentence; what lies outside of the page.
export function small(page) {
  return page.evaluate(() => {
    const wrong = [];
    for (const node of document.querySelectorAll('button, .deed, .words a, input, select, textarea, summary, label.box')) {
      const box = node.getBoundingClientRect();
      if (box.width === 0 || node.type === 'hidden' || node.closest('label.box') !== null && node.tagName === 'INPUT') continue;
      if (box.height < 47.5) wrong.push(`${node.tagName} "${node.textContent.trim().slice(0, 30)}" ${box.height}`);
    }
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (wide > 0) wrong.push(`the page is ${wide} pixels too wide`);
    return wrong;
  });
}
