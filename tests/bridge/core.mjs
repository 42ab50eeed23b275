// SPDX-License-Identifier: GPL-3.0-or-later
// core.mjs: the module as the page calls it, for tests in Node.
import { readFile } from 'node:fs/promises';

export async function startCore(path) {
	const compiled = await WebAssembly.compile(await readFile(path));
	const imports = {};
	for (const { module, name } of WebAssembly.Module.imports(compiled)) {
		imports[module] = imports[module] || {};
		imports[module][name] = () => 52; // there are no files
	}
	imports.rig.progress = () => 1;
	const { exports } = await WebAssembly.instantiate(compiled, imports);
	exports._initialize();
	const call = (request) => {
		const words = new TextEncoder().encode(typeof request === 'string' ? request : JSON.stringify(request));
		const room = exports.rig_page_alloc(words.length) >>> 0;
		new Uint8Array(exports.memory.buffer).set(words, room);
		const response = exports.rig_page_call(room, words.length) >>> 0;
		exports.rig_page_release(room);
		const all = new Uint8Array(exports.memory.buffer);
		const text = new TextDecoder().decode(all.subarray(response, all.indexOf(0, response)));
		exports.rig_page_release(response);
		return text;
	};
	return { call, imports: WebAssembly.Module.imports(compiled), memory: exports.memory };
}
