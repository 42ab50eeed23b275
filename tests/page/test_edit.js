// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const { visiting, ask, until, settled, commandLine, sample, pick, saved } = require('./browser.js');

// A small generator, so that a failing walk can be walked again: x' = 1103515245 x + 12345 mod 2^31.
function randomFrom(seed) {
	let x = seed;
	return (n) => {
		x = (Math.imul(1103515245, x) + 12345) & 0x7fffffff;
		return Math.floor((x / 0x80000000) * n);
	};
}

module.exports = {
	'a tick, a cord and a figure change the finding, and the saved file gives the same on the command line': visiting({}, async (page) => {
		await ask(page, 'shore');
		const before = await page.textContent('#answer-view .verdict');
		await page.click('#coach-tabs [data-tab="quick"]');
		await page.check('.appliance:has-text("Portable heater set to high") input[type="checkbox"]');
		await page.click('label:has(input[name="cord"][value="20"])');
		await page.fill('.field:has-text("Amp-hours on one battery") input.number >> nth=0', '120');
		await settled(page);
		const after = await page.textContent('#answer-view .verdict');
		assert.notStrictEqual(after, before);
		const file = await saved(page);
		const data = JSON.parse(file.bytes);
		assert.strictEqual(data.shore.cord_a, 20);
		assert.ok(data.loads.some((load) => load.profile === 'space_heater_hi'));
		assert.strictEqual(data.banks[0].capacity_ah.likely ?? data.banks[0].capacity_ah, 120);
		const said = JSON.parse(commandLine(['shore', '-', '--format', 'json'], file.bytes));
		assert.strictEqual(after, said.answers[0].verdict);
	}),

	'a first coach is found out from nothing': visiting({}, async (page) => {
		await page.click('#notices >> text=Start with your coach');
		await page.click('.start >> nth=0');
		await until(page, () => page.history.data.loads === undefined);
		await page.fill('.field:has-text("What do you call the coach") input', 'First of ours');
		await page.click('label:has(input[name="cord"][value="30"])');
		await page.fill('.field:has-text("Town nearest") input', 'Flagstaff');
		await page.selectOption('.field:has-text("Month of the stay") select', '5');
		await page.selectOption('fieldset:has-text("House battery") select', 'agm');
		await page.selectOption('fieldset:has-text("Panel on the roof") select >> nth=0', 'house');
		await page.check('.appliance:has-text("13,500 BTU/h") input[type="checkbox"]');
		await page.check('.appliance:has-text("One LED ceiling light") input[type="checkbox"]');
		await page.fill('.appliance:has-text("One LED ceiling light") input.how-many', '6');
		await ask(page, 'report');
		const seen = await page.locator('#answer-view .verdict').allTextContents();
		assert.ok(seen.length >= 4, seen.join('\n'));
		const file = await saved(page);
		const said = JSON.parse(commandLine(['report', '-', '--month', '5', '--format', 'json'], file.bytes));
		assert.deepStrictEqual(seen, said.answers.map((answer) => answer.verdict));
		assert.strictEqual(JSON.parse(file.bytes).loads.find((load) => load.profile === 'led_light').count, 6);
	}),

	'a wrong figure is told at its field, and the last answer stays, marked as older': visiting({}, async (page) => {
		await ask(page, 'shore');
		const verdict = await page.textContent('#answer-view .verdict');
		const field = '.field:has-text("Amp-hours on one battery")';
		await page.fill(`${field} input.number >> nth=0`, 'plenty');
		await until(page, () => document.querySelector('.has-fault .fault')?.textContent !== undefined && document.querySelector('.has-fault .fault').textContent !== '');
		assert.match(await page.textContent(`${field} .fault`), /number from 0\.5 to 5000 Ah/);
		assert.strictEqual(await page.getAttribute(`${field} input.number >> nth=0`, 'aria-invalid'), 'true');
		assert.strictEqual(await page.textContent('#answer-view .verdict'), verdict);
		assert.strictEqual(await page.getAttribute('#answer-view', 'data-older'), 'true');
		assert.match(await page.textContent('#answer-state'), /from before/);
		await page.fill(`${field} input.number >> nth=0`, '80');
		await until(page, () => document.querySelector('.has-fault') === null);
		await until(page, () => document.querySelector('#answer-view').dataset.older === 'false');
	}),

	'a comma is read as a point where it can be one, and says so': visiting({}, async (page) => {
		const input = '.field:has-text("Amp-hours on one battery") input.number >> nth=0';
		await page.fill(input, '92,5');
		assert.match(await page.textContent('.field:has-text("Amp-hours on one battery") .echo'), /92\.5/);
		assert.strictEqual(await page.evaluate(() => page.history.data.banks[0].capacity_ah.likely ?? page.history.data.banks[0].capacity_ah), 92.5);
		await page.fill(input, '1,200');
		assert.match(await page.textContent('.field:has-text("Amp-hours on one battery") .echo'), /1200 or 1\.200/);
	}),

	'a hundred random changes are undone to the very bytes, and done again': visiting({}, async (page) => {
		const seed = 20260412;
		const random = randomFrom(seed);
		console.log(`     the walk starts from ${seed}`);
		await pick(page, sample('diesel-coach'));
		await until(page, () => page.fileName === 'diesel-coach.rig.json');
		const bytes = fs.readFileSync(sample('diesel-coach'), 'utf8');
		for (let i = 0; i < 100; i++) {
			const which = [random(4), random(8), random(1000)];
			await page.evaluate(([kind, at, value]) => {
				const item = at % page.history.data.loads.length;
				page.history.settle();
				if (kind === 0) page.set(['loads', item, 'running_w'], value, {});
				else if (kind === 1) page.set(['name'], `Coach ${value}`, {});
				else if (kind === 2 && page.history.data.loads.length > 12) removeItem({ object: 'load' }, ['loads', item]);
				else if (kind === 2) copyItem({ object: 'load' }, ['loads', item]);
				else page.board.move(item, page.board.circuits[value % page.board.circuits.length].id);
			}, which);
		}
		const changed = await page.evaluate(() => page.history.text);
		const n = await page.evaluate(() => page.history.at);
		for (let i = 0; i < n - 1; i++) await page.keyboard.press('Control+z');
		assert.strictEqual(await page.evaluate(() => page.history.text), bytes);
		for (let i = 0; i < n - 1; i++) await page.keyboard.press('Control+Shift+z');
		assert.strictEqual(await page.evaluate(() => page.history.text), changed);
	}),

	'what is removed is let go of everywhere, and one undo brings all of it back': visiting({}, async (page) => {
		const before = await page.evaluate(() => page.history.text);
		await page.click('[data-tab="board"]');
		await page.click('[aria-label^="Remove Microwave"]');
		await until(page, () => document.querySelector('#coach-faults').textContent === '' && !page.history.text.includes('"microwave"'));
		await settled(page);
		assert.strictEqual(await page.textContent('#coach-faults'), '');
		await page.click('#undo');
		assert.strictEqual(await page.evaluate(() => page.history.text), before);
	}),

	'every part of the full form opens': visiting({}, async (page) => {
		await page.click('[data-tab="everything"]');
		for (let i = 0; i < 60; i++) {
			const closed = page.locator('#coach-view details:not([open]) > summary').first();
			if (await closed.count() === 0) break;
			await closed.click();
		}
		const rows = await page.evaluate(() => [...document.querySelectorAll('#coach-view [data-paths]')].length);
		assert.ok(rows > 200, `${rows} fields`);
		await page.fill('[data-paths="loads[0].running_w"] input.number >> nth=0', '1234');
		assert.strictEqual(await page.evaluate(() => page.history.data.loads[0].running_w), 1234);
		await page.click('[data-paths="loads[0].running_w"] >> text=Doubt');
		await page.fill('[data-paths="loads[0].running_w"] .doubt input >> nth=0', '1100');
		await page.fill('[data-paths="loads[0].running_w"] .doubt input >> nth=1', '1400');
		await settled(page);
		assert.strictEqual(await page.textContent('#coach-faults'), '');
		assert.deepStrictEqual(await page.evaluate(() => page.history.data.loads[0].running_w), { from: 'estimated', likely: 1234, low: 1100, high: 1400 });
	}),
};
