// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';

const assert = require('node:assert');
const { visiting, ask, until, settled, commandLine, sample, pick } = require('./browser.js');

module.exports = {
	'pinned and changed coach stand side by side': visiting({}, async (page) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=What if');
		await until(page, () => /Nothing yet/.test(document.querySelector('#answer-view').textContent));
		await page.click('label:has(input[name="cord"][value="30"])');
		await until(page, () => /50 → 30/.test(document.querySelector('#answer-view').textContent));
		const pairs = await page.locator('.pair[data-same="false"] .two').count();
		assert.ok(pairs >= 1);
		const [pinned, now] = await page.evaluate(() => [page.compare.pinned.text, page.history.text]);
		for (const [text, place] of [[pinned, 0], [now, 1]]) {
			const said = JSON.parse(commandLine(['report', '-', '--format', 'json'], text)).answers.map((answer) => answer.verdict);
			const seen = await page.locator(`.pair .two .beside:nth-child(${place + 1}) .verdict`).allTextContents();
			assert.ok(seen.length > 0 && seen.every((verdict) => said.includes(verdict)), `${seen}`);
		}
		await page.click('text=Go back to the pinned coach');
		await until(page, () => /Nothing yet/.test(document.querySelector('#answer-view').textContent));
	}),

	'the day of shedding can be gone through': visiting({}, async (page) => {
		await pick(page, sample('diesel-coach'));
		await until(page, () => page.fileName !== null);
		await ask(page, 'shed');
		const shown = JSON.parse(commandLine(['shed', sample('diesel-coach'), '--format', 'json'])).findings.shed.shown;
		for (const at of [0, 25200, 64800, 86400]) {
			await page.evaluate((value) => {
				const slider = document.querySelector('.timeline input[type="range"]');
				slider.value = String(value);
				slider.dispatchEvent(new Event('input', { bubbles: true }));
			}, at);
			const running = shown.spans.filter((span) => span.from_s <= at && at < span.to_s && span.state === 'runs').length;
			assert.strictEqual(await page.locator('.states li[data-state="runs"]').count(), running, `at ${at} s`);
			assert.match(await page.getAttribute('.timeline input[type="range"]', 'aria-valuetext'), /\d A/);
		}
	}),

	'the hours of a stay can be gone through, by keys as well': visiting({}, async (page) => {
		await ask(page, 'trip');
		const id = await page.evaluate(() => page.demos[0].id);
		const { trip } = JSON.parse(commandLine(['trip', sample(id), '--format', 'json'])).findings;
		const bank = trip.banks.find((one) => one.id === trip.main_bank);
		await page.focus('.timeline input[type="range"]');
		await page.keyboard.press('Home');
		const first = await page.textContent('.timeline .now');
		await page.keyboard.press('End');
		const last = await page.textContent('.timeline .now');
		const digits = (value) => String(Number(value.toPrecision(Math.abs(value) >= 100 ? 3 : 2)));
		assert.ok(first.includes(`${digits(bank.left_wh[0])} Wh`), first);
		assert.ok(last.includes(`${digits(bank.left_wh[bank.left_wh.length - 1])} Wh`), last);
		assert.match(last, /Day 14/);
	}),

	'a long question can be stopped, and the old answer stays': visiting({}, async (page) => {
		await ask(page, 'trip');
		const verdict = await page.textContent('#answer-view .verdict');
		await page.evaluate(() => page.setOption('trips', 100000));
		await page.click('#answer-state >> text=Stop');
		assert.match(await page.textContent('#answer-state'), /Stopped/);
		assert.strictEqual(await page.textContent('#answer-view .verdict'), verdict);
		await page.evaluate(() => page.setOption('trips', undefined));
		await settled(page);
		assert.strictEqual(await page.textContent('#answer-view .verdict'), verdict);
	}),

	'an upgrade is asked as the command line asks it': visiting({}, async (page) => {
		await pick(page, sample('upgrade-fifth-wheel'));
		await until(page, () => page.fileName !== null);
		await ask(page, 'size');
		await page.evaluate(() => document.querySelectorAll('.options details').forEach((fold) => { fold.open = true; }));
		for (const [words, typed] of [['In which months', 'jun-aug'], ['Stays of 100 that may run out', '10'],
			['Roof, length by width', '33ftx8ft'], ['What stands on it', '6ft,2ft,30inx30in 20ft,2ft,30inx30in'],
			['Price at most', '4000'], ['New panels at most', '6'], ['Options side by side', '1,2']])
			await page.getByLabel(words).fill(typed);
		await page.getByLabel('What stays').selectOption('inverter');
		await settled(page);
		const said = JSON.parse(commandLine(['size', sample('upgrade-fifth-wheel'), '--months', 'jun-aug', '--wanted', '10', '--roof', '33ftx8ft',
			'--obstacle', '6ft,2ft,30inx30in', '--obstacle', '20ft,2ft,30inx30in', '--max-price', '4000', '--max-panels', '6', '--compare', '1,2',
			'--keep', 'inverter', '--format', 'json']));
		await until(page, (verdict) => document.querySelector('#answer-view .verdict').textContent === verdict, said.answers[0].verdict);
		await page.screenshot({ path: `${process.env.RIG_PICTURES}/size-asked.png` });
		await page.getByLabel('In which months').fill('jun-');
		await until(page, () => /not a list of months/.test(document.querySelector('#answer-state').textContent));
	}),

	'the sheet is for whom one says': visiting({}, async (page) => {
		await pick(page, sample('diesel-coach'));
		await until(page, () => page.fileName !== null);
		await ask(page, 'report');
		const first = await page.textContent('#answer-view .verdict');
		await page.getByLabel('For whom').selectOption('owner');
		await settled(page);
		const [answer] = JSON.parse(commandLine(['report', sample('diesel-coach'), '--for', 'owner', '--format', 'json'])).answers;
		await until(page, (verdict) => document.querySelector('#answer-view .verdict').textContent === verdict, answer.verdict);
		assert.notStrictEqual(first, answer.verdict);
	}),

	'a faulty list of parts is told, and can be done without': visiting({}, async (page) => {
		await ask(page, 'size');
		const verdict = await page.textContent('#answer-view .verdict');
		const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('.options button:has-text("Open a file")')]);
		await chooser.setFiles({ name: 'parts.json', mimeType: 'application/json', buffer: Buffer.from('{"panels": 3}') });
		await until(page, () => /no new answer/.test(document.querySelector('#answer-state').textContent));
		assert.strictEqual(await page.textContent('#answer-view .verdict'), verdict);
		await page.click('.options button:has-text("Do without it")');
		await settled(page);
		await until(page, () => document.querySelector('#answer-state').textContent === '');
	}),

	'readings are written down on the spot and judged': visiting({}, async (page) => {
		await page.click('[data-tab="readings"]');
		await page.click('#coach-view >> text=Add a reading');
		const first = '[data-paths="readings[0].on"]';
		await page.check(`${first} label:has-text("Front roof unit") input`);
		await page.fill('[data-paths="readings[0].leg1_a"] input.number >> nth=0', '13.4');
		await page.fill('[data-paths="readings[0].volts_v"] input.number >> nth=0', '117');
		await page.click('text=Show what they tell');
		await settled(page);
		const text = await page.evaluate(() => page.history.text);
		const said = JSON.parse(commandLine(['readings', '-', '--format', 'json'], text));
		assert.deepStrictEqual(await page.locator('#answer-view .verdict').allTextContents(), said.answers.map((answer) => answer.verdict));
	}),

	'what lies behind the figures can be read': visiting({}, async (page) => {
		await page.click('.menu summary');
		await page.click('.menu-items >> text=How is this worked out');
		const dialog = page.locator('.dialog');
		await dialog.locator('summary').first().click();
		assert.ok((await dialog.textContent()).length > 200);
		assert.ok(await dialog.locator('summary').count() >= 10);
	}),

	'what stands behind a figure is one tap away from it': visiting({}, async (page) => {
		await ask(page, 'report');
		const marks = page.locator('#answer-view .why');
		assert.ok(await marks.count() >= 20, `${await marks.count()} explanations`);
		for (const nth of [0, 9, 19]) {
			await marks.nth(nth).click();
			await page.waitForSelector('.dialog .formula');
			assert.match(await page.textContent('.dialog'), /Sources/);
			await page.keyboard.press('Escape');
			await until(page, () => document.querySelector('.dialog') === null);
		}
	}),

	'the keyboard alone reaches every part': visiting({}, async (page) => {
		const reached = new Set();
		for (let i = 0; i < 400; i++) {
			await page.keyboard.press('Tab');
			const where = await page.evaluate(() => {
				const at = document.activeElement;
				const outline = getComputedStyle(at);
				return { words: (at.closest('nav,.tools,#coach-view,#answer-view,.foot')?.id || at.closest('.tools')?.className || at.className || at.tagName),
					seen: at === document.body || outline.outlineStyle !== 'none' || at.matches('.skip') };
			});
			assert.ok(where.seen, `no focus to be seen on ${where.words}`);
			reached.add(where.words);
		}
		for (const part of ['tools', 'coach-tabs', 'coach-view', 'answer-tabs']) assert.ok(reached.has(part), `${part} is not reached, only ${[...reached]}`);
	}),
};
