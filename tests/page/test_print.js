// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const path = require('node:path');
const { visiting, until, settled, picture } = require('./browser.js');

module.exports = {
	'paper gets the sheet and nothing of the page around it': visiting({}, async (page) => {
		await settled(page);
		const sheet = await page.evaluate(() => document.querySelector('#answer-view .sheet').textContent);
		await page.evaluate(() => { window.print = () => { window.printed = true; }; });
		await page.click('.tools >> text=Print');
		await until(page, () => window.printed);
		await page.emulateMedia({ media: 'print' });
		assert.strictEqual((await page.evaluate(() => document.querySelector('#print .sheet').textContent)), sheet);
		const seen = await page.evaluate(() => [...document.body.children].filter((part) => getComputedStyle(part).display !== 'none' && part.id !== 'print').map((part) => part.className || part.tagName));
		assert.deepStrictEqual(seen, []);
		await picture(page, 'print', { fullPage: true });
		const pdf = await page.pdf({ format: 'Letter', tagged: true, preferCSSPageSize: false });
		fs.writeFileSync(path.join(process.env.RIG_PICTURES, 'print.pdf'), pdf);
		const pages = (pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g) || []).length;
		assert.ok(pages >= 1 && pages <= 8, `${pages} pages`);
		await page.emulateMedia({ media: 'screen' });
		await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
		assert.strictEqual(await page.evaluate(() => document.querySelector('#print').childNodes.length), 0);
	}),

	'printing by the browser\'s own menu gives the sheet as well, and says if it is older': visiting({}, async (page) => {
		await settled(page);
		await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
		assert.ok(await page.evaluate(() => document.querySelector('#print .sheet') !== null));
		await page.evaluate(() => { page.set(['shore', 'cord_a'], 50, {}); window.dispatchEvent(new Event('beforeprint')); });
		assert.match(await page.textContent('#print'), /older than the coach/);
	}),
};
