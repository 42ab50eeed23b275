/* SPDX-License-Identifier: GPL-3.0-or-later */
/* unpack.js: the modules that the page carries, each a line of base64 of a gzip file: the first for
 * browsers with vector instructions, the second for all others. */

/* Reads bits of a deflate stream [RFC-1951], the lowest first. */
class Bits {
	constructor(bytes, at) {
		this.bytes = bytes;
		this.at = at;
		this.held = 0;
		this.n = 0;
	}

	take(n) {
		while (this.n < n) {
			this.held |= this.bytes[this.at++] << this.n;
			this.n += 8;
		}
		const value = this.held & ((1 << n) - 1);
		this.held >>>= n;
		this.n -= n;
		return value;
	}

	/* A symbol of a code: counts of codes by length, symbols in the order of their codes. */
	symbol({ counts, symbols }) {
		let code = 0, first = 0, index = 0;
		for (let length = 1; length < 16; length++) {
			code |= this.take(1);
			const count = counts[length];
			if (code - count < first) return symbols[index + code - first];
			index += count;
			first = (first + count) << 1;
			code <<= 1;
		}
		throw new Error('the page is damaged');
	}

	skipToByte() {
		this.held = this.n = 0;
	}
}

function codeOf(lengths) {
	const counts = new Uint16Array(16), next = new Uint16Array(16), symbols = new Uint16Array(lengths.length);
	for (const length of lengths) counts[length]++;
	counts[0] = 0;
	for (let i = 1; i < 15; i++) next[i + 1] = next[i] + counts[i];
	lengths.forEach((length, symbol) => { if (length) symbols[next[length]++] = symbol; });
	return { counts, symbols };
}

/* Lengths and distances: each symbol stands for a first value and so many bits more. */
function ladder(first, n, perStep, most) {
	const base = [], extra = [];
	for (let i = 0, value = first; i < n; i++) {
		extra[i] = Math.max(0, Math.floor(i / perStep) - 1);
		base[i] = value;
		value += 1 << extra[i];
	}
	if (most) {
		base[n - 1] = most;
		extra[n - 1] = 0;
	}
	return { base, extra };
}
const LENGTHS = ladder(3, 29, 4, 258), DISTANCES = ladder(1, 30, 2);
const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

function fixedCodes() {
	const lengths = Array.from({ length: 288 }, (_, i) => (i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8));
	return [codeOf(lengths), codeOf(new Array(30).fill(5))];
}

function writtenCodes(bits) {
	const nLengths = bits.take(5) + 257, nDistances = bits.take(5) + 1, nOrder = bits.take(4) + 4;
	const own = new Array(19).fill(0);
	for (let i = 0; i < nOrder; i++) own[ORDER[i]] = bits.take(3);
	const code = codeOf(own), lengths = [];
	while (lengths.length < nLengths + nDistances) {
		const symbol = bits.symbol(code);
		if (symbol < 16) lengths.push(symbol);
		else {
			const value = symbol === 16 ? lengths[lengths.length - 1] : 0;
			const times = symbol === 16 ? 3 + bits.take(2) : symbol === 17 ? 3 + bits.take(3) : 11 + bits.take(7);
			for (let i = 0; i < times; i++) lengths.push(value);
		}
	}
	return [codeOf(lengths.slice(0, nLengths)), codeOf(lengths.slice(nLengths))];
}

function inflateBlock(bits, out, at, [literals, distances]) {
	for (;;) {
		const symbol = bits.symbol(literals);
		if (symbol === 256) return at;
		if (symbol < 256) {
			out[at++] = symbol;
			continue;
		}
		const length = LENGTHS.base[symbol - 257] + bits.take(LENGTHS.extra[symbol - 257]);
		const far = bits.symbol(distances);
		const distance = DISTANCES.base[far] + bits.take(DISTANCES.extra[far]);
		for (let i = 0; i < length; i++, at++) out[at] = out[at - distance];
	}
}

/* The bytes of a gzip file without a name in its head, as the page's build writes it. */
function ungzip(bytes) {
	const out = new Uint8Array(new DataView(bytes.buffer, bytes.byteOffset).getUint32(bytes.length - 4, true));
	const bits = new Bits(bytes, 10);
	for (let at = 0, last = 0; !last;) {
		last = bits.take(1);
		const kind = bits.take(2);
		if (kind === 0) {
			bits.skipToByte();
			const n = bytes[bits.at] | (bytes[bits.at + 1] << 8);
			out.set(bytes.subarray(bits.at + 4, bits.at + 4 + n), at);
			bits.at += 4 + n;
			at += n;
		} else at = inflateBlock(bits, out, at, kind === 1 ? fixedCodes() : writtenCodes(bits));
	}
	return out;
}

async function unpacked(base64) {
	const raw = atob(base64), bytes = new Uint8Array(raw.length);
	for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
	if (typeof DecompressionStream === 'undefined') return ungzip(bytes);
	const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
	return new Response(stream).arrayBuffer();
}

/* A module whose one function makes a vector and counts bits in it. */
const VECTORS = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0,
	65, 0, 253, 15, 253, 98, 11]);

/* The module that this browser can run, compiled. */
async function compileModule(text) {
	const [vector, plain] = text.trim().split('\n');
	return WebAssembly.compile(await unpacked(WebAssembly.validate(VECTORS) ? vector : plain));
}
