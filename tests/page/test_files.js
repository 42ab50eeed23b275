// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const os = require('node:os');
const path = require('node:path');
const { visiting, until, settled, commandLine, sample, pick, saved } = require('./browser.js');

function folder() {
	return fs.mkdtempSync(path.join(os.tmpdir(), 'rigbudget-page-'));
}

function fileOf(bytes, name = 'given.rig.json') {
	const file = path.join(folder(), name);
	fs.writeFileSync(file, bytes);
	return file;
}

const GOOD = '{"format": "rigbudget/1", "name": "A", "shore": {"cord_a": 30}}';

// What is refused, the words that say why, and the line of the place (null: none is told).
const REFUSED = [
	['{"format": "rigbudget/1",\n "name": "B",,\n "shore": {}}', /./, 2],
	['{"format": "rigbudget/1", "name": "B",\n "shore": {"cord_a": "thirty"}}', /cord_a/, 2],
	['{"format": "rigbudget/1", "name": "B",\n\n "shore": {"cord_a": 30}, "lodas": []}', /lodas/, 3],
	['{"format": "rigbudget/1", "name": "B", "name": "C", "shore": {"cord_a": 30}}', /./, 1],
	['{"format": "rigbudget/9", "name": "B", "shore": {"cord_a": 30}}', /./, 1],
	['{"__proto__": {"polluted": true}, "format": "rigbudget/1", "name": "B", "shore": {"cord_a": 30}}', /__proto__/, 1],
	['[1, 2', /./, 1],
	['', /./, null],
	['<!doctype html><script>window.owned = true</script>', /./, 1],
	[`${'['.repeat(5000)}${']'.repeat(5000)}`, /./, 1],
	[Buffer.from([0x7b, 0xff, 0xfe, 0x00]), /UTF-8/, null],
	[Buffer.alloc(5 * 1024 * 1024, 32), /4 MiB/, null],
];

module.exports = {
	'a file that was opened and not changed is saved with its very bytes': visiting({}, async (page) => {
		const odd = `\uFEFF${GOOD.replace(': 30', ':\t30.0')}\r\n\r\n`;
		for (const file of [sample('week-trailer'), sample('diesel-coach'), sample('upgrade-fifth-wheel'), fileOf(odd, 'odd.rig.json')]) {
			await pick(page, file);
			await until(page, (name) => page.fileName === name, path.basename(file));
			const out = await saved(page);
			assert.strictEqual(out.name, path.basename(file));
			assert.ok(out.bytes.equals(fs.readFileSync(file)), `${file} came back changed`);
		}
	}),

	'a changed file is saved as the command line would write it': visiting({}, async (page) => {
		await pick(page, sample('diesel-coach'));
		await until(page, () => page.fileName === 'diesel-coach.rig.json');
		await page.fill('.field:has-text("What do you call the coach") input', 'Another name');
		const out = await saved(page);
		const text = out.bytes.toString();
		assert.strictEqual(JSON.parse(text).name, 'Another name');
		commandLine(['shore', '-'], text);
		const again = fileOf(text);
		await pick(page, again);
		await until(page, () => page.fileName === 'given.rig.json');
		await page.evaluate(() => { page.set(['name'], 'X', {}); page.set(['name'], 'Another name', {}); });
		assert.strictEqual((await saved(page)).bytes.toString(), text, 'writing it again changes it');
	}),

	'a file with faults is refused with its place, and nothing is lost': visiting({}, async (page) => {
		await page.fill('.field:has-text("What do you call the coach") input', 'Mine');
		const before = await page.evaluate(() => page.history.text);
		for (const [text, words, line] of REFUSED) {
			await pick(page, fileOf(text, 'wrong.rig.json'));
			const told = await page.textContent('.dialog');
			assert.match(told, words);
			assert.match(told, /untouched/);
			if (line !== null) assert.match(told, new RegExp(`Line ${line}, column \\d+`), told);
			assert.strictEqual(await page.evaluate(() => page.history.text), before);
			await page.keyboard.press('Escape');
			await until(page, () => document.querySelector('.dialog') === null);
		}
		assert.strictEqual(await page.evaluate(() => ({}).polluted || window.owned), undefined);
		await settled(page);
	}),

	'a readable file with a wrong value can be mended here': visiting({}, async (page) => {
		await pick(page, fileOf('{"format": "rigbudget/1", "name": "B", "shore": {"cord_a": 30, "cord_length_m": 5000}}'));
		await page.click('.dialog >> text=Open it all the same');
		await until(page, () => /cord_length_m/.test(document.querySelector('#coach-faults').textContent));
		await page.click('#coach-faults >> text=Show it');
		await page.fill('[data-paths~="shore.cord_length_m"] input.number >> nth=0', '9');
		await until(page, () => document.querySelector('#coach-faults').textContent === '');
		assert.strictEqual(JSON.parse((await saved(page)).bytes).shore.cord_length_m, 9);
	}),

	'an unfinished coach can be saved as it stands, and opened again': visiting({}, async (page) => {
		await page.fill('.field:has-text("Amp-hours on one battery") input.number >> nth=0', '12 or so');
		await page.keyboard.press('Control+s');
		const out = await saved(page, () => page.click('#notices >> text=Save it as it stands'));
		assert.match(out.bytes.toString(), /12 or so/);
	}),

	'the sheet that is shared is the command line\'s, byte for byte': visiting({}, async (page) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=Share');
		const out = await saved(page, () => page.click('.dialog button:has-text("The finding sheet")'));
		const id = await page.evaluate(() => page.demos[0].id);
		assert.strictEqual(out.bytes.toString(), commandLine(['report', sample(id), '--format', 'html']));
		assert.match(out.name, /\.html$/);
	}),

	'the device\'s own way of sharing is used where there is one': visiting({ before: () => {
		navigator.canShare = () => true;
		navigator.share = async ({ files }) => { window.shared = files.map((file) => file.name); };
	} }, async (page) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=Share');
		await page.click('.dialog button:has-text("The rig file")');
		await until(page, () => window.shared && window.shared[0].endsWith('.rig.json'));
	}),
};
