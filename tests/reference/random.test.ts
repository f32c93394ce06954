import { expect, test } from 'vitest';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import { threefry } from '#lib/numeric/threefry.ts';

const hex = (text: string): Uint32Array =>
	Uint32Array.from(text.split(' ').map((word) => parseInt(word, 16)));

// Known-answer vectors of Threefry4x32, 20 rounds: Salmon, Moraes, Dror & Shaw, SC11, 2011, file kat_vectors
// published with the paper.
test.each([
	[
		'00000000 00000000 00000000 00000000',
		'00000000 00000000 00000000 00000000',
		'9c6ca96a e17eae66 fc10ecd4 5256a7d8'
	],
	[
		'ffffffff ffffffff ffffffff ffffffff',
		'ffffffff ffffffff ffffffff ffffffff',
		'2a881696 57012287 f6c7446e a16a6732'
	],
	[
		'243f6a88 85a308d3 13198a2e 03707344',
		'a4093822 299f31d0 082efa98 ec4e6c89',
		'59cd1dbb b8879579 86b5d00c ac8b6d84'
	]
])('Threefry of counter %s and key %s', (counter, key, answer) => {
	const out = new Uint32Array(4);
	threefry(hex(counter), hex(key), out);
	expect(out).toEqual(hex(answer));
});

test('normals are Box and Muller of the Threefry words, to 1e-12', () => {
	// Box & Muller 1958 with the logarithm, sine and cosine of the engine; 100 000 points of a random stream.
	const count = 100_000;
	const [stream, seed, sweep, firstPoint] = [0xfedcba98, 0x89abcdef, 0xffffffff, 0xfffffff0];
	const out = [0, 1, 2, 3].map(() => new Float64Array(count));
	fillNormals(out[0], out[1], out[2], out[3], firstPoint, count, sweep, stream, seed);
	const word = new Uint32Array(4);
	const key = Uint32Array.of(seed, 0, 0, 0);
	let worst = 0;
	for (let i = 0; i < count; i++) {
		threefry(Uint32Array.of(firstPoint + i, sweep, stream, 0), key, word);
		for (const pair of [0, 2]) {
			const radius = Math.sqrt(-2 * Math.log(((word[pair] | 1) >>> 0) / 2 ** 32));
			const angle = Math.PI * (((word[pair + 1] | 0) >> 1) + 0.5) * 2 ** -31;
			const side = word[pair + 1] & 1 ? -1 : 1;
			const errors = [
				side * radius * Math.cos(angle) - out[pair][i],
				radius * Math.sin(angle) - out[pair + 1][i]
			];
			for (const error of errors) worst = Math.max(worst, Math.abs(error) / (1 + radius));
		}
	}
	expect(worst).toBeLessThan(1e-12);
});

// Fowler, Noll & Vo: 32-bit FNV-1a test values published by the authors (memory).
test.each([
	['', 0x811c9dc5],
	['a', 0xe40c292c],
	['foobar', 0xbf9cf968]
])('the stream named "%s" is its FNV-1a hash', (name, hash) => {
	expect(streamOf(name)).toBe(hash);
});
