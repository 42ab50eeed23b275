// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const { visiting, until, settled, saved } = require('./browser.js');

const NAME = '.field:has-text("What do you call the coach") input';

module.exports = {
	'a draft outlives the page, without names or notes': visiting({}, async (page, visitor) => {
		await page.fill(NAME, 'The Secretives of Somewhere');
		await page.fill('.options .field:has-text("Who looked") input', 'I. Secretives');
		await page.click('label:has(input[name="cord"][value="20"])');
		await until(page, () => localStorage.getItem('rigbudget.draft') !== null && JSON.parse(JSON.parse(localStorage.getItem('rigbudget.draft')).file).shore.cord_a === 20);
		const kept = await page.evaluate(() => JSON.stringify({ ...localStorage }));
		assert.ok(!/Secretives|Somewhere|week without hookups/.test(kept), 'the draft holds names or notes');
		const again = await visitor.open();
		assert.strictEqual(await again.evaluate(() => page.history.data.shore.cord_a), 20);
		assert.match(await again.textContent('#notices'), /draft/);
		await settled(again);
	}),

	'names are kept where the user wants that, and all can be forgotten': visiting({}, async (page, visitor) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=Settings');
		await page.check('.dialog input[type="checkbox"]');
		await page.keyboard.press('Escape');
		await page.fill(NAME, 'Ours');
		await until(page, () => (localStorage.getItem('rigbudget.draft') || '').includes('Ours'));
		const again = await visitor.open();
		assert.strictEqual(await again.evaluate(() => page.history.data.name), 'Ours');
		await again.click('.menu summary');
		await again.click('.menu-items >> text=Settings');
		await again.click('.dialog >> text=Forget the draft');
		assert.strictEqual(await again.evaluate(() => Object.keys(localStorage).length), 0);
	}),

	'a spoiled draft does not keep the page from opening': visiting({ before: () => {
		localStorage.setItem('rigbudget.draft', '{"file": "{\\"format\\": 1, \\"loads\\": 7, \\"shore\\": [], \\"banks\\": {\\"a\\": 1}}", "options": 3}');
		localStorage.setItem('rigbudget.settings', '{"units": 9, "look": []}');
	} }, async (page) => {
		for (const tab of ['board', 'readings', 'everything', 'quick']) await page.click(`[data-tab="${tab}"]`);
		assert.ok((await page.textContent('#coach-view')).length > 100);
	}),

	'without storage everything works, and it says that it keeps nothing': visiting({ before: () => {
		for (const name of ['localStorage', 'sessionStorage', 'indexedDB'])
			Object.defineProperty(window, name, { get: () => { throw new DOMException('storage is off', 'SecurityError'); } });
	} }, async (page) => {
		await settled(page);
		assert.ok((await page.locator('#answer-view .verdict').count()) > 0);
		await page.fill(NAME, 'Kept in a file');
		await until(page, () => /keeps nothing/.test(document.querySelector('#notices').textContent));
		assert.strictEqual(JSON.parse((await saved(page)).bytes).name, 'Kept in a file');
	}),

	'without workers everything works on the page itself': visiting({ before: () => { delete window.Worker; } }, async (page) => {
		await settled(page);
		assert.ok((await page.locator('#answer-view .verdict').count()) > 0);
		await page.fill(NAME, 'Alone');
		await settled(page);
		assert.match(await page.textContent('#answer-view h1'), /Alone/);
	}),

	'two open pages do not mix their coaches': visiting({}, async (page, visitor) => {
		const other = await visitor.open();
		await page.fill(NAME, 'One');
		await other.fill(NAME, 'Two');
		await until(page, () => page.history.data.name === 'One');
		assert.strictEqual(await other.evaluate(() => page.history.data.name), 'Two');
	}),
};
