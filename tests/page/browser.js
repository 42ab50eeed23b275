// SPDX-License-Identifier: GPL-3.0-or-later
// browser.js: the page in a browser, with everything that must not happen written down: requests that
// leave, errors, scripts of others.
'use strict';

const { execFileSync } = require('node:child_process');
const fs = require('node:fs');
const path = require('node:path');
const { pathToFileURL } = require('node:url');
const { chromium } = require('playwright-core');

const SAMPLES = path.join(__dirname, '../../samples');
const PAGE_URL = pathToFileURL(process.env.RIG_PAGE).href;

let browser = null;

async function theBrowser() {
	browser = browser || await chromium.launch({ executablePath: process.env.CHROMIUM, args: ['--no-sandbox', '--disable-gpu',
		'--disable-quic', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'] });
	return browser;
}

async function closeBrowser() {
	if (browser) await browser.close();
}

// The page as a new visitor has it. before: a function to run in it before its own script.
async function visit({ width = 1280, height = 900, look = 'light', phone = false, before = null, motion = 'no-preference' } = {}) {
	const context = await (await theBrowser()).newContext({ viewport: { width, height }, colorScheme: look, isMobile: phone, hasTouch: phone,
		acceptDownloads: true, offline: true, reducedMotion: motion });
	const visitor = { context, wrong: [] };
	context.on('request', (request) => {
		if (!/^(file|blob|data):/.test(request.url())) visitor.wrong.push(`a request left: ${request.url()}`);
	});
	visitor.open = async () => {
		const page = await context.newPage();
		page.setDefaultTimeout(15000);
		page.on('pageerror', (failure) => visitor.wrong.push(`an error: ${failure.stack}`));
		page.on('console', (message) => { if (message.type() === 'error') visitor.wrong.push(`said: ${message.text()}`); });
		page.on('dialog', (dialog) => {
			if (dialog.type() !== 'beforeunload') visitor.wrong.push(`a dialog: ${dialog.message()}`);
			dialog.accept();
		});
		if (before) await page.addInitScript(before);
		await page.goto(PAGE_URL);
		await page.waitForSelector('html[data-ready]');
		return page;
	};
	visitor.page = await visitor.open();
	visitor.leave = async () => {
		await context.close();
		if (visitor.wrong.length > 0) throw new Error(visitor.wrong.join('\n'));
	};
	return visitor;
}

// Runs a test with a visitor, who leaves also when the test fails.
function visiting(wishes, test) {
	return async () => {
		const visitor = await visit(wishes);
		try {
			await test(visitor.page, visitor);
		} catch (failure) {
			await visitor.leave().catch((wrong) => { failure.stack += `\n${wrong.message}`; });
			throw failure;
		}
		await visitor.leave();
	};
}

// Waits until f says something true in the page; the page's own rules forbid the usual way.
async function until(page, f, argument) {
	const patience = Date.now() + 15000;
	for (;;) {
		const said = await page.evaluate(f, argument);
		if (said) return said;
		if (Date.now() > patience) throw new Error(`waited in vain for ${f}`);
		await page.waitForTimeout(20);
	}
}

// Until what is shown answers the coach as it stands.
async function settled(page) {
	await until(page, () => page.answers.current === 'compare' || !page.answers.isOlder(page.answers.current));
	await until(page, () => !page.answers.verdictTurn || !page.answers.verdictTurn.busy);
}

async function ask(page, question) {
	await page.click(`[data-question="${question}"]`);
	await settled(page);
}

// What the command line answers.
function commandLine(words, input) {
	return execFileSync(process.env.RIG_PROGRAM, words, { input, encoding: 'utf8', maxBuffer: 1 << 26, stdio: ['pipe', 'pipe', 'pipe'] });
}

function sample(name) {
	return path.join(SAMPLES, `${name}.rig.json`);
}

// Gives a file to the page as its user picks one.
async function pick(page, file) {
	await page.click('.menu summary');
	const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('.menu-items >> text=Open a rig file')]);
	await chooser.setFiles(file);
}

async function saved(page, press = () => page.keyboard.press('Control+s')) {
	const [download] = await Promise.all([page.waitForEvent('download'), press()]);
	return { name: download.suggestedFilename(), bytes: fs.readFileSync(await download.path()) };
}

function picture(page, name, wishes) {
	return page.screenshot({ path: path.join(process.env.RIG_PICTURES, `${name}.png`), ...wishes });
}

module.exports = { visit, visiting, until, settled, ask, commandLine, sample, pick, saved, picture, closeBrowser, PAGE_URL };
