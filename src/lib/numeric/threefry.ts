/**
 * Threefry4x32 with 20 rounds (Salmon, Moraes, Dror & Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11, 2011):
 * a counter-based generator made of additions, rotations and exclusive-ors, so every word is a pure function of
 * counter and key and can be drawn again on its own, in any order, on any machine.
 */

/** Rotations of the two halves in round r modulo 8 (the paper, table 2). */
const ROTATIONS = [
	[10, 26],
	[11, 21],
	[13, 27],
	[23, 5],
	[6, 20],
	[17, 11],
	[25, 10],
	[18, 20]
] as const;

/** The constant that completes the key schedule (the paper, section 3.3, after the Skein hash). */
export const KEY_PARITY = 0x1bd11bda;

const rotate = (word: number, bits: number): number => (word << bits) | (word >>> (32 - bits));

/**
 * Encrypts a counter of four 32-bit words with a key of four words into `out` (four words; may be the counter itself).
 * This is the general, readable form, checked against the published vectors; loops use `fillNormals` of `random.ts`.
 */
export function threefry(counter: Uint32Array, key: Uint32Array, out: Uint32Array): void {
	const schedule = [key[0], key[1], key[2], key[3], KEY_PARITY ^ key[0] ^ key[1] ^ key[2] ^ key[3]];
	let a = (counter[0] + schedule[0]) | 0;
	let b = (counter[1] + schedule[1]) | 0;
	let c = (counter[2] + schedule[2]) | 0;
	let d = (counter[3] + schedule[3]) | 0;
	for (let round = 0; round < 20; round++) {
		const [first, second] = ROTATIONS[round % 8];
		if (round % 2 === 0) {
			a = (a + b) | 0;
			b = rotate(b, first) ^ a;
			c = (c + d) | 0;
			d = rotate(d, second) ^ c;
		} else {
			a = (a + d) | 0;
			d = rotate(d, first) ^ a;
			c = (c + b) | 0;
			b = rotate(b, second) ^ c;
		}
		if (round % 4 === 3) {
			const turn = (round + 1) / 4;
			a = (a + schedule[turn % 5]) | 0;
			b = (b + schedule[(turn + 1) % 5]) | 0;
			c = (c + schedule[(turn + 2) % 5]) | 0;
			d = (d + schedule[(turn + 3) % 5] + turn) | 0;
		}
	}
	out[0] = a;
	out[1] = b;
	out[2] = c;
	out[3] = d;
}
