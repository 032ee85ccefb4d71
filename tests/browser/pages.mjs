// Every page that needs no job: seen by axe on three screens, light and dark; by keyboard; without script.
// pages.mjs WHARVE ROOT [FOLDER FOR PICTURES]
import { join } from 'node:path';
import { browser, check, end, faults, screens, serve, small } from './house.mjs';

const [wharve, root, pictures] = process.argv.slice(2);
const house = await serve(wharve, root);
const chromium = await browser();

const paths = { machines: '/', machine: '/machines/juice-clarifier', part: '/machines/juice-clarifier/parts/neck-bearing',
  start: '/machines/juice-clarifier/start?foot-bearing=renew&fitters=2', rules: '/work-it-out',
  rule: '/work-it-out/bearing.mounting-temperature?interference=21+um&diameter=30+mm', refused: '/work-it-out/belt.wrap?large=170+mm',
  balance: '/machines/dryer-fan/balance/fan-wheel', forbidden: '/machines/juice-clarifier/balance/bowl-body',
  wrong: '/nowhere', signIn: '/sign-in', gauges: '/gauges', due: '/due', jobs: '/bench' };

for (const [screen, viewport] of Object.entries(screens)) {
  for (const colorScheme of screen === 'portrait' ? ['light', 'dark'] : ['light']) {
    const context = await chromium.newContext({ viewport, colorScheme, bypassCSP: true });
    const page = await context.newPage();
    for (const [name, path] of Object.entries(paths)) {
      await page.goto(house.address + path);
      const found = await faults(page);
      check(`${name}, ${screen}, ${colorScheme}: axe finds nothing`, found.length === 0, found);
      const wrong = await small(page);
      check(`${name}, ${screen}, ${colorScheme}: large enough to touch, nothing beside the page`, wrong.length === 0, wrong);
      if (pictures) await page.screenshot({ path: join(pictures, `${name}-${screen}-${colorScheme}.png`) });
    }
    await context.close();
  }
}

const plain = await chromium.newContext({ javaScriptEnabled: false, viewport: screens.portrait });
const page = await plain.newPage();
const said = [];
page.on('console', message => said.push(message.text()));
await page.goto(house.address + '/work-it-out/bearing.mounting-temperature');
for (const word of ['21 um', 'Enter']) await page.keyboard.press('Tab');
await page.fill('[name=interference]', '21 um');
await page.fill('[name=diameter]', '30 mm');
await page.keyboard.press('Enter');
await page.waitForSelector('.answer');
check('a rule is worked out by keyboard, without script', (await page.textContent('.answer')).includes('°C'));
check('the policy of the pages stops nothing of their own', said.length === 0, said);

await page.goto(house.address + '/machines/dryer-fan/parts/fan-wheel');
await page.click('text=Trim balance');
const sheet = { masses: '5 g; 10 g; 15 g; 20 g', repeats: '0.1 mm/s', 'phase-repeats': '3 deg', 'reads-1': '5.2 mm/s at 63 deg',
  'fitted-2': '5 g in hole 7', 'reads-2': '3.4 mm/s at 52 deg' };
for (const [name, text] of Object.entries(sheet)) await page.fill(`[name=${name}]`, text);
await page.keyboard.press('Enter');
await page.waitForSelector('.says');
check('a trial mass that is not said to be fastened is refused, without script',
  (await page.textContent('.answer')).includes('how the mass is fastened'), await page.textContent('.answer'));
await page.fill('[name=fastened-2]', 'M6 screw, locked nut');
await page.keyboard.press('Enter');
await page.waitForSelector('.answer svg');
check('a trim balance is worked out by keyboard, without script', (await page.textContent('.says')).includes('fit 5 g in hole 3'),
  await page.textContent('.answer'));
const wide = await chromium.newContext({ viewport: screens.phone, bypassCSP: true }), trim = await wide.newPage();
await trim.goto(house.address + '/machines/dryer-fan/balance/fan-wheel');
for (const [name, text] of Object.entries({ ...sheet, 'fastened-2': 'M6 screw' })) await trim.fill(`[name=${name}]`, text);
await trim.click('text=Where do masses go?');
await trim.waitForSelector('.answer svg');
check('trim balance, worked out: axe finds nothing', (await faults(trim)).length === 0, await faults(trim));
check('trim balance, worked out: large enough to touch, nothing beside the page', (await small(trim)).length === 0, await small(trim));

await page.goto(house.address + '/sign-in?back=/machines/juice-clarifier/start?foot-bearing=renew');
await page.fill('#name', 'Ada');
await page.keyboard.press('Enter');
await page.waitForSelector('h1:has-text("Start a job")');
await page.goto(house.address + '/machines/juice-clarifier/start?foot-bearing=renew');
await page.focus('#brought');
await page.keyboard.type('noise from below');
await page.keyboard.press('Enter');
await page.waitForURL('**/jobs/1');
await page.focus('[name=value]');
await page.keyboard.type('even, no leak');
await page.keyboard.press('Tab');
await page.keyboard.press('Space');
await page.keyboard.press('Enter');
await page.waitForSelector('.where:has-text("step 2 of")');
await page.goto(house.address + '/jobs/1/readings');
check('a reading is entered by keyboard, without script', (await page.textContent('.verdict')).includes('within'),
  await page.textContent('main'));
await chromium.close();
await house.stop();
end();
