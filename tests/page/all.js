// SPDX-License-Identifier: GPL-3.0-or-later
// all.js: runs the tests one after another in one browser: a test that fails says what it found, and
// the others go on.
'use strict';

const { closeBrowser } = require('./browser.js');

const FILES = ['open', 'edit', 'files', 'hostile', 'answers', 'board', 'storage', 'print', 'access', 'time'];

async function runFile(name) {
	let failures = 0;
	for (const [words, test] of Object.entries(require(`./test_${name}.js`))) {
		const started = Date.now();
		try {
			await test();
			console.log(`ok   ${name}: ${words} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
		} catch (failure) {
			failures += 1;
			console.log(`FAIL ${name}: ${words}\n${failure.stack}`);
		}
	}
	return failures;
}

async function main() {
	const chosen = process.argv.slice(2);
	let failures = 0;
	for (const name of chosen.length > 0 ? chosen : FILES) failures += await runFile(name);
	await closeBrowser();
	console.log(failures === 0 ? 'all passed' : `${failures} failed`);
	process.exitCode = failures === 0 ? 0 : 1;
}

main();
