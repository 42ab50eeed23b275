// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const fs = require('node:fs');
const { visiting, ask, until, settled, commandLine, sample, pick } = require('./browser.js');

const SAMPLES = ['week-trailer', 'diesel-coach', 'upgrade-fifth-wheel'];

// Words as they are read: markup apart, blanks as one.
function words(text) {
	return text.replace(/\s+/g, ' ').trim();
}

async function shownWords(page) {
	return words(await page.evaluate(() => document.querySelector('#answer-view .sheet').textContent));
}

// The sheet in a page of the command line's, read by the same browser.
async function writtenWords(page, html) {
	return words(await page.evaluate((text) => {
		const parsed = new DOMParser().parseFromString(coreMarkup.createHTML(text), 'text/html');
		return parsed.body.textContent;
	}, html));
}

// Two long texts: the first place where they part.
function sameWords(mine, said, where) {
	let at = 0;
	while (at < mine.length && mine[at] === said[at]) at += 1;
	const from = Math.max(0, at - 40);
	assert.strictEqual(mine.slice(from, at + 80), said.slice(from, at + 80), where);
}

module.exports = {
	'a page of one file, whose rules forbid everything else': async () => {
		const text = fs.readFileSync(process.env.RIG_PAGE, 'utf8');
		assert.match(text, /<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'sha256-[^']+' 'wasm-unsafe-eval'; worker-src blob:;/);
		assert.ok(!/(src|href)\s*=\s*["']?(https?:)?\/\//i.test(text), 'the page names another place');
		assert.ok(text.length < 2.5e6, `the page has ${text.length} bytes`);
	},

	'a visitor sees a finding of the demo': visiting({}, async (page) => {
		await settled(page);
		const seen = await page.locator('#answer-view .verdict').allTextContents();
		assert.ok(seen.length >= 4, `${seen.length} answers`);
		assert.match(await page.textContent('#notices'), /demo/i);
	}),

	'each answer to each demo coach is the one of the command line, to the last digit': visiting({}, async (page) => {
		for (const name of SAMPLES) {
			await pick(page, sample(name));
			await until(page, (file) => page.fileName === file, `${name}.rig.json`);
			for (const question of ['report', 'shore', 'solar', 'trip', 'shed']) {
				await ask(page, question);
				const said = JSON.parse(commandLine([question, sample(name), '--format', 'json']));
				const seen = await page.locator('#answer-view .verdict').allTextContents();
				assert.deepStrictEqual(seen.map(words), said.answers.map((answer) => words(answer.verdict)), `${name}, ${question}`);
				sameWords(await shownWords(page), await writtenWords(page, commandLine([question, sample(name), '--format', 'html'])), `${name}, ${question}`);
			}
		}
	}),

	'the figures behind an answer are those of the command line': visiting({}, async (page) => {
		for (const name of SAMPLES) {
			const text = fs.readFileSync(sample(name), 'utf8');
			for (const question of ['shore', 'solar', 'trip']) {
				const response = await page.evaluate(([file, asked]) => page.quick.ask({ do: 'answer', question: asked, file, options: {}, units: 'us', as: ['data'] }), [text, question]);
				const said = JSON.parse(commandLine([question, sample(name), '--format', 'json'])).findings;
				compareData(response.data, said, `${name} ${question}`);
			}
		}
	}),

	'units can be changed, and the sheet is then the command line\'s in those units': visiting({}, async (page) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=Settings');
		await page.selectOption('.dialog select >> nth=0', 'si');
		await page.click('.dialog >> text=Close');
		await ask(page, 'solar');
		const name = await page.evaluate(() => page.demos[0].id);
		sameWords(await shownWords(page), await writtenWords(page, commandLine(['solar', sample(name), '--units', 'si', '--format', 'html'])), 'solar in SI');
	}),
};

// The same words, numbers apart by the last bits that two C libraries may differ in: 1e-9 of a figure.
function compareData(mine, said, where) {
	if (typeof said === 'number') {
		assert.ok(Math.abs(mine - said) <= 1e-9 * Math.max(1, Math.abs(said)), `${where}: ${mine}, not ${said}`);
	} else if (said !== null && typeof said === 'object') {
		assert.deepStrictEqual(Object.keys(mine), Object.keys(said), where);
		for (const key of Object.keys(said)) compareData(mine[key], said[key], `${where}.${key}`);
	} else assert.strictEqual(mine, said, where);
}
