// SPDX-License-Identifier: GPL-3.0-or-later
// unpack.mjs UNPACK.JS MODULE: what unpack.js undoes is what gzip did, by the browser's own means and
// without them; and the module that it picks runs.
import { readFileSync } from 'node:fs';
import { gzipSync, constants } from 'node:zlib';
import vm from 'node:vm';

const [script, module] = process.argv.slice(2);
const world = vm.createContext({ atob, Blob, Response, DecompressionStream, WebAssembly, Uint8Array, Uint16Array, DataView });
vm.runInContext(`${readFileSync(script, 'utf8')}\nthis.kept = { unpacked, compileModule, ungzip };`, world);
const { unpacked, compileModule, ungzip } = world.kept;

let faults = 0;
const check = (claim, words) => {
	if (claim) return;
	faults++;
	console.error(`unpack: ${words}`);
};
const wasm = readFileSync(module);
let seed = 7;
const noise = Uint8Array.from({ length: 70000 }, () => (seed = (seed * 1103515245 + 12345) & 0x7fffffff) >> 16);
const cases = { module: wasm, noise, nothing: new Uint8Array(0), one: Uint8Array.of(9), same: new Uint8Array(100000) };
const ways = { stored: { level: 0 }, fast: { level: 1 }, best: { level: 9 }, fixed: { strategy: constants.Z_FIXED },
	huffman: { strategy: constants.Z_HUFFMAN_ONLY } };
for (const [name, bytes] of Object.entries(cases))
	for (const [way, options] of Object.entries(ways)) {
		const packed = gzipSync(bytes, options);
		check(Buffer.compare(Buffer.from(ungzip(new Uint8Array(packed))), Buffer.from(bytes)) === 0, `${name}, ${way}`);
	}
const base64 = gzipSync(wasm, { level: 9 }).toString('base64');
check(Buffer.compare(Buffer.from(await unpacked(base64)), wasm) === 0, 'with a stream');
delete world.DecompressionStream;
check(Buffer.compare(Buffer.from(await unpacked(base64)), wasm) === 0, 'without a stream');
const compiled = await compileModule(`${base64}\nAAAA\n`);
check(WebAssembly.Module.exports(compiled).some(({ name }) => name === 'rig_page_call'), 'the module for vectors');
world.WebAssembly = { validate: () => false, compile: (bytes) => WebAssembly.compile(bytes) };
const plain = await compileModule(`AAAA\n${base64}\n`);
check(WebAssembly.Module.exports(plain).some(({ name }) => name === 'rig_page_call'), 'the plain module');
if (faults > 0) process.exit(1);
console.log('unpack: 25 files, 2 ways, 2 modules');
