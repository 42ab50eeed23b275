// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const { visit, visiting, ask, settled, until, sample, pick, picture } = require('./browser.js');

const AXE = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const SIZES = [['phone', { width: 360, height: 740, phone: true }], ['tablet', { width: 820, height: 1100, phone: true }], ['desktop', { width: 1280, height: 900 }]];
const LOOKS = ['light', 'dark'];

async function violations(page, where) {
	await page.evaluate(AXE);
	const found = await page.evaluate((tags) => axe.run(document, { runOnly: tags, resultTypes: ['violations'] }), RULES);
	assert.deepStrictEqual(found.violations.map((one) => `${where}: ${one.id}: ${one.nodes.slice(0, 3).map((node) => node.html).join(' | ')}`), []);
}

// Everything to press or fill is at least 44 px high and wide; links and marks within text aside.
async function targets(page, where) {
	const small = await page.evaluate(() => [...document.querySelectorAll('button,select,summary,input,textarea')].filter((element) => {
		const box = element.getBoundingClientRect();
		if (box.width === 0 || box.height === 0 || element.closest('.sheet') || element.classList.contains('unseen')) return false;
		const within = element.closest('label.tick,.segments label');
		const area = within ? within.getBoundingClientRect() : box;
		return (area.height < 43.5 && element.type !== 'range') || area.width < 43.5;
	}).map((element) => element.outerHTML.slice(0, 120)));
	assert.deepStrictEqual(small, [], where);
}

async function sideways(page, where) {
	const over = await page.evaluate(() => Math.max(...[document.documentElement, ...document.querySelectorAll('.middle,.side,.view,.paper,.bar,.foot')].map((part) => part.scrollWidth - part.clientWidth)));
	assert.ok(over <= 0, `${where} is ${over} px too wide`);
}

async function look(page, where, size) {
	await sideways(page, where);
	await targets(page, where);
	await violations(page, where);
	await picture(page, where.replace(/[^a-z0-9]+/gi, '-'), size === 'phone' ? {} : {});
}

function walk(size, wishes, scheme) {
	return async () => {
		const visitor = await visit({ ...wishes, look: scheme });
		try {
			const { page } = visitor;
			await settled(page);
			await look(page, `${size} ${scheme} first`, size);
			for (const tab of ['quick', 'board', 'readings', 'everything']) {
				await page.evaluate((name) => { page.showSide('coach'); page.showCoachTab(name); }, tab);
				await page.waitForTimeout(250);
				await look(page, `${size} ${scheme} coach ${tab}`, size);
			}
			await page.evaluate(() => page.showSide('answers'));
			for (const question of ['report', 'shore', 'solar', 'trip', 'shed', 'wiring', 'compare']) {
				await ask(page, question);
				await look(page, `${size} ${scheme} answer ${question}`, size);
			}
			await page.evaluate(() => page.chooseStart());
			await look(page, `${size} ${scheme} dialog start`, size);
			await page.keyboard.press('Escape');
			await page.evaluate(() => page.settingsDialog());
			await look(page, `${size} ${scheme} dialog settings`, size);
		} finally {
			await visitor.leave();
		}
	};
}

const tests = {};
for (const [size, wishes] of SIZES)
	for (const scheme of LOOKS) tests[`every part on a ${size}, ${scheme}`] = walk(size, wishes, scheme);

tests['a fault in the form, and a refused file'] = visiting({ width: 360, height: 740, phone: true }, async (page) => {
	await page.evaluate(() => { page.showSide('coach'); page.set(['shore', 'cord_a'], 31, {}); });
	await until(page, () => document.querySelector('#coach-faults').textContent !== '');
	await look(page, 'phone fault', 'phone');
	await page.keyboard.press('Control+z');
	await pick(page, { name: 'x.rig.json', mimeType: 'application/json', buffer: Buffer.from('{"a": 1,,}') });
	await page.waitForSelector('.dialog');
	await look(page, 'phone refused', 'phone');
});

tests['at 320 px and with letters twice as large nothing is cut off'] = visiting({ width: 320, height: 640, phone: true }, async (page) => {
	await settled(page);
	await page.evaluate(() => { document.documentElement.style.fontSize = '200%'; });
	for (const side of ['coach', 'answers']) {
		await page.evaluate((name) => page.showSide(name), side);
		await sideways(page, `twice as large, ${side}`);
	}
	await page.evaluate(() => { document.documentElement.style.fontSize = ''; });
	await page.evaluate(() => { page.showSide('coach'); page.showCoachTab('board'); });
	await sideways(page, '320 px, board');
});

tests['nothing moves when motion is unwanted'] = visiting({ motion: 'reduce' }, async (page) => {
	await pick(page, sample('diesel-coach'));
	await until(page, () => page.fileName !== null);
	await page.click('[data-tab="board"]');
	await until(page, () => document.querySelector('.limit-bar i') !== null);
	assert.strictEqual(await page.evaluate(() => getComputedStyle(document.querySelector('.limit-bar i')).transitionDuration), '0s');
});

module.exports = tests;
