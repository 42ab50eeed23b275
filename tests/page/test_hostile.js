// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const os = require('node:os');
const path = require('node:path');
const { visiting, until, ask, pick, saved } = require('./browser.js');

// Names that people or their enemies might type. The longest text of a rig file is 4,096 bytes.
const NAMES = [
	'<img src=x onerror="window.owned=1">', '"><svg onload=window.owned=1>', '<script>window.owned=1</script>',
	'\' " ` & < > \\ / ${window.owned=1} {{7*7}}', 'javascript:window.owned=1', '</script><script>window.owned=1</script>',
	'\u202Egnirts desrever\u202C', '\u05E7\u05E8\u05D5\u05D5\u05D0\u05DF', '\u0645\u0642\u0637\u0648\u0631\u0629',
	'👩‍👩‍👧‍👦 🚐 \u{1F1EB}\u{1F1EE}', 'a\u0301\u0301\u0301\u0301\u0301', '--><!--', '</style><style>*{display:none}', 'W'.repeat(4000),
];

function fileOf(name, load) {
	const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'rigbudget-page-')), 'hostile.rig.json');
	const words = JSON.stringify(load);
	fs.writeFileSync(file, `{"format": "rigbudget/1", "name": ${JSON.stringify(name)}, "notes": ${words}, "place": {"name": "Flagstaff"}, "shore": {"cord_a": 30},
		"circuits": [{"id": "c", "name": ${words}, "breaker_a": 20}],
		"loads": [{"id": "l", "name": ${words}, "circuit": "c", "running_w": {"likely": 900, "from": "measured", "note": ${words}}}],
		"banks": [{"id": "house", "name": ${words}, "chemistry": "agm", "capacity_ah": 80}],
		"solar": [{"id": "roof", "name": ${words}, "watts_w": 100}],
		"together": [{"name": ${words}, "loads": ["l"]}], "habits": [{"name": ${words}, "use": [{"load": "l", "daily_use_h": 1}]}]}\n`);
	return file;
}

async function untouched(page, wide) {
	assert.strictEqual(await page.evaluate(() => window.owned), undefined);
	assert.strictEqual(await page.evaluate(() => document.querySelectorAll('img,iframe,object,embed,script:not(#script):not(#module)').length), 0);
	const over = await page.evaluate(() => Math.max(...[document.documentElement, ...document.querySelectorAll('.middle,.side,.view,.paper,.bar,.foot')].map((part) => part.scrollWidth - part.clientWidth)));
	assert.ok(over <= 0, `the page is ${over} px wider than ${wide}`);
}

module.exports = {
	'hostile names are shown as text everywhere and come back as they were': visiting({ width: 360, height: 740, phone: true }, async (page) => {
		for (const name of NAMES) {
			const file = fileOf(name, name);
			await pick(page, file);
			await until(page, (words) => page.history.data.name === words, name);
			for (const tab of ['quick', 'board', 'readings', 'everything']) {
				await page.evaluate((words) => { page.showSide('coach'); page.showCoachTab(words); }, tab);
				await untouched(page, `${tab}, ${name.slice(0, 20)}`);
			}
			await page.evaluate(() => page.showSide('answers'));
			for (const question of ['report', 'shore', 'trip', 'shed']) {
				await ask(page, question);
				await untouched(page, `${question}, ${name.slice(0, 20)}`);
			}
			assert.ok((await saved(page)).bytes.equals(fs.readFileSync(file)));
			await page.evaluate(() => page.set(['notes'], 'changed', {}));
			assert.strictEqual(JSON.parse((await saved(page)).bytes).loads[0].name, name);
		}
	}),

	'a name of 10,000 characters is refused where it stands, and the coach is kept': visiting({}, async (page) => {
		const before = await page.evaluate(() => page.history.text);
		await page.fill('.field:has-text("What do you call the coach") input', '🚐'.repeat(10000));
		await until(page, () => /4,?096/.test(document.querySelector('#coach-view .fault:not(:empty)')?.textContent || ''));
		await untouched(page, '10,000 characters');
		await page.keyboard.press('Control+z');
		assert.strictEqual(await page.evaluate(() => page.history.text), before);
		await pick(page, fileOf('🚐'.repeat(10000), 'x'));
		assert.match(await page.textContent('.dialog'), /4,?096/);
		await untouched(page, 'the dialog');
	}),
};
