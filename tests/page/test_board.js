// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const { visiting, until, settled, commandLine, sample, pick } = require('./browser.js');

async function onBoard(page) {
	await pick(page, sample('diesel-coach'));
	await until(page, () => page.fileName !== null);
	await page.click('[data-tab="board"]');
	await until(page, () => document.querySelector('.leg .limit-words') !== null);
}

const circuitOf = (page, id) => page.evaluate((load) => page.history.data.loads.find((one) => one.id === load).circuit, id);
const barOf = (page, id) => page.textContent(`[data-circuit="${id}"] .limit-words`);

module.exports = {
	'bars and limits are those of the question about shore power': visiting({}, async (page) => {
		await onBoard(page);
		const said = JSON.parse(commandLine(['shore', sample('diesel-coach'), '--format', 'json'])).findings.shore;
		const budget = said.sets.find((set) => set.kind === 'everything').budgets.find((one) => one.supply === '50A');
		const digits = (value) => String(Number(value.toPrecision(Math.abs(value) >= 100 ? 3 : 2)));
		for (const { circuit, flow } of budget.circuits) {
			const seen = await barOf(page, circuit);
			assert.ok(seen.startsWith(digits(flow.amps_a.likely)), `${circuit}: ${seen}, not ${flow.amps_a.likely}`);
			assert.ok(seen.includes(`of ${digits(flow.limit_a)} A`), seen);
		}
	}),

	'a load is dragged to another circuit, and both bars follow': visiting({ height: 1400 }, async (page) => {
		await onBoard(page);
		const [from, to] = [await barOf(page, 'kitchen'), await barOf(page, 'living')];
		const load = await page.evaluate(() => page.history.data.loads.find((one) => one.circuit === 'kitchen').id);
		const words = await page.evaluate((id) => nameOf(page.history.data.loads.find((one) => one.id === id)), load);
		const grip = page.locator(`.load:has-text("${words}") .grip`).first();
		await grip.scrollIntoViewIfNeeded();
		const start = await grip.boundingBox();
		const end = await page.locator('[data-circuit="living"] .circuit-head').boundingBox();
		await page.mouse.move(start.x + 10, start.y + 10);
		await page.mouse.down();
		await page.mouse.move(end.x + 40, end.y + 10, { steps: 8 });
		await page.mouse.up();
		assert.strictEqual(await circuitOf(page, load), 'living');
		await settled(page);
		await until(page, (before) => document.querySelector('[data-circuit="kitchen"] .limit-words').textContent !== before[0]
			&& document.querySelector('[data-circuit="living"] .limit-words').textContent !== before[1], [from, to]);
		await page.click('#undo');
		assert.strictEqual(await circuitOf(page, load), 'kitchen');
		await until(page, (before) => document.querySelector('[data-circuit="kitchen"] .limit-words').textContent === before, from);
	}),

	'the same by arrow keys, with the focus kept, and by the list': visiting({}, async (page) => {
		await onBoard(page);
		const load = await page.evaluate(() => page.history.data.loads.find((one) => one.circuit === 'kitchen').id);
		const words = await page.evaluate((id) => nameOf(page.history.data.loads.find((one) => one.id === id)), load);
		await page.focus(`.load:has-text("${words}") .grip`);
		await page.keyboard.press('ArrowDown');
		const next = await circuitOf(page, load);
		assert.notStrictEqual(next, 'kitchen');
		assert.match(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), new RegExp(`^Move ${words}`));
		await page.keyboard.press('ArrowUp');
		assert.strictEqual(await circuitOf(page, load), 'kitchen');
		await page.selectOption(`.load:has-text("${words}") .mover`, 'living');
		assert.strictEqual(await circuitOf(page, load), 'living');
	}),

	'a circuit changes its leg, and the legs follow': visiting({}, async (page) => {
		await onBoard(page);
		const before = await page.textContent('.legs');
		await page.selectOption('[data-circuit="fireplace"] .circuit-tools select', 'L2');
		await until(page, (words) => document.querySelector('.legs').textContent !== words, before);
	}),

	'what is switched off counts no more, and ticks can be kept as a set': visiting({}, async (page) => {
		await onBoard(page);
		const before = await page.textContent('.legs');
		await page.uncheck('.load:has-text("Front roof unit") input[type="checkbox"]');
		await until(page, (words) => document.querySelector('.legs').textContent !== words, before);
		const sets = await page.evaluate(() => page.history.data.together.length);
		await page.click('text=Keep what is ticked as a set');
		assert.strictEqual(await page.evaluate(() => page.history.data.together.length), sets + 1);
		await settled(page);
		assert.strictEqual(await page.textContent('#coach-faults'), '');
	}),

	'circuits and loads are added and edited': visiting({}, async (page) => {
		await onBoard(page);
		await page.click('text=Add an AC breaker');
		await page.selectOption('.adders select', 'toaster');
		await page.click('text=Add it');
		const last = await page.evaluate(() => page.history.data.loads.at(-1).id);
		const circuit = await page.evaluate(() => page.history.data.circuits.at(-1).id);
		await page.evaluate(([id, to]) => page.board.move(page.history.data.loads.findIndex((one) => one.id === id), to), [last, circuit]);
		await until(page, (id) => / A/.test(document.querySelector(`[data-circuit="${id}"] .limit-words`)?.textContent || ''), circuit);
		await page.click(`[data-circuit="${circuit}"] .circuit-tools >> text=Edit`);
		await page.fill('.dialog .field.kind-text input >> nth=0', 'Bench');
		await page.keyboard.press('Escape');
		await until(page, () => [...document.querySelectorAll('.circuit h3')].some((head) => head.textContent === 'Bench'));
	}),
};
