import type { Reals } from './reals.ts';
import { KEY_PARITY } from './threefry.ts';

/**
 * Standard normal numbers as a pure function of (seed, stream, sweep, point). Nothing is remembered between calls: the
 * same four numbers give the same normals in any order of evaluation and, since only + − × ÷ and √ are used (exactly
 * rounded in every engine, unlike Math.log or Math.sin), to the last bit on any machine.
 *
 * Words come from Threefry4x32-20 with counter (point, sweep, stream, 0) and key (seed, 0, 0, 0); two words make two
 * normals (Box & Muller, Annals of Mathematical Statistics 29, 1958). The largest normal is √(64·ln 2) = 6.66.
 */

/**
 * Polynomials for the logarithm and the half turn: Chebyshev series cut after seven terms.
 * Rows: ln((1+s)/(1−s))/s in s², |s| ≤ 3 − √8 (error times s 1e-16); sin(πv)/v and cos(πv) in v², |v| ≤ ½
 * (errors 8e-14 after multiplying by v, and 8e-13). Highest power first.
 */
const POLYNOMIALS = new Float64Array([
	0.1683837827183967, 0.18121871032106643, 0.222234366456722, 0.28571415989109156, 0.40000000061962143,
	0.6666666666655237, 2.0000000000000004, 0.00044749509187930214, -0.00736400772768444, 0.08214479530514418,
	-0.599264434017997, 2.5501640359115667, -5.167712779988062, 3.1415926535896355, 0.0018400056465585723,
	-0.025776328586332792, 0.23532544000813965, -1.3352623157050731, 4.058712107563433, -4.934802200250407,
	0.9999999999992499
]);
const LN_2 = 0.6931471805599453;
const HALF_LN_2 = 0.34657359027997264;
const ROOT_2 = 1.4142135623730951;
const STEP = 4.656612873077393e-10; // 2^−31

/** Points worked on at once: the words of a block stay in the fastest cache. */
const BLOCK = 256;
const words = [0, 1, 2, 3].map(() => new Int32Array(BLOCK));

/**
 * The name of a stream as a number: the 32-bit FNV-1a hash (Fowler, Noll & Vo, 1991) of the name's UTF-16 units,
 * low byte first, a zero high byte left out, so that it is the usual hash for plain ASCII names. 0 … 2³² − 1.
 */
export function streamOf(name: string): number {
	let hash = 0x811c9dc5;
	for (let i = 0; i < name.length; i++) {
		const unit = name.charCodeAt(i);
		hash = Math.imul(hash ^ (unit & 0xff), 0x01000193);
		if (unit > 0xff) hash = Math.imul(hash ^ (unit >>> 8), 0x01000193);
	}
	return hash >>> 0;
}

/**
 * Four independent standard normals for each of `count` points from `firstPoint` on, written to elements 0 … count − 1
 * of the four arrays. Point, sweep, stream and seed are integers from 0 to 2³² − 1 (larger ones wrap round).
 */
export function fillNormals(
	out0: Reals,
	out1: Reals,
	out2: Reals,
	out3: Reals,
	firstPoint: number,
	count: number,
	sweep: number,
	stream: number,
	seed: number
): void {
	// The | 0 here and below tells the engine that these are 32-bit integers; without it the loops run at half the speed.
	firstPoint = firstPoint | 0;
	count = count | 0;
	sweep = sweep | 0;
	stream = stream | 0;
	seed = seed | 0;
	for (let start = 0; start < count; start = (start + BLOCK) | 0) {
		const length = Math.min(BLOCK, count - start) | 0;
		fillWords(words[0], words[1], words[2], words[3], (firstPoint + start) | 0, length, sweep, stream, seed);
		fillPairs(words[0], words[1], out0, out1, start, length);
		fillPairs(words[2], words[3], out2, out3, start, length);
	}
}

const single = [0, 1, 2, 3].map(() => new Float64Array(1));

/** The first two of the four normals of one point, for single draws: `fillNormals` gives the same two. */
export function normalPair(
	seed: number,
	stream: number,
	sweep: number,
	point: number
): readonly [number, number] {
	fillNormals(single[0], single[1], single[2], single[3], point, 1, sweep, stream, seed);
	return [single[0][0], single[1][0]];
}

/** `threefry` of `threefry.ts` for one key and a row of counters, written out in full: twenty times as fast. */
function fillWords(
	word0: Int32Array,
	word1: Int32Array,
	word2: Int32Array,
	word3: Int32Array,
	firstPoint: number,
	length: number,
	sweep: number,
	stream: number,
	seed: number
): void {
	firstPoint = firstPoint | 0;
	length = length | 0;
	sweep = sweep | 0;
	stream = stream | 0;
	seed = seed | 0;
	const parity = KEY_PARITY ^ seed;
	for (let i = 0; i < length; i = (i + 1) | 0) {
		let a = (firstPoint + i + seed) | 0;
		let b = sweep;
		let c = stream;
		let d = 0;
		// prettier-ignore
		{
			a = (a + b) | 0; b = ((b << 10) | (b >>> 22)) ^ a; c = (c + d) | 0; d = ((d << 26) | (d >>> 6)) ^ c;
			a = (a + d) | 0; d = ((d << 11) | (d >>> 21)) ^ a; c = (c + b) | 0; b = ((b << 21) | (b >>> 11)) ^ c;
			a = (a + b) | 0; b = ((b << 13) | (b >>> 19)) ^ a; c = (c + d) | 0; d = ((d << 27) | (d >>> 5)) ^ c;
			a = (a + d) | 0; d = ((d << 23) | (d >>> 9)) ^ a; c = (c + b) | 0; b = ((b << 5) | (b >>> 27)) ^ c;
			d = (d + parity + 1) | 0;

			a = (a + b) | 0; b = ((b << 6) | (b >>> 26)) ^ a; c = (c + d) | 0; d = ((d << 20) | (d >>> 12)) ^ c;
			a = (a + d) | 0; d = ((d << 17) | (d >>> 15)) ^ a; c = (c + b) | 0; b = ((b << 11) | (b >>> 21)) ^ c;
			a = (a + b) | 0; b = ((b << 25) | (b >>> 7)) ^ a; c = (c + d) | 0; d = ((d << 10) | (d >>> 22)) ^ c;
			a = (a + d) | 0; d = ((d << 18) | (d >>> 14)) ^ a; c = (c + b) | 0; b = ((b << 20) | (b >>> 12)) ^ c;
			c = (c + parity) | 0; d = (d + seed + 2) | 0;

			a = (a + b) | 0; b = ((b << 10) | (b >>> 22)) ^ a; c = (c + d) | 0; d = ((d << 26) | (d >>> 6)) ^ c;
			a = (a + d) | 0; d = ((d << 11) | (d >>> 21)) ^ a; c = (c + b) | 0; b = ((b << 21) | (b >>> 11)) ^ c;
			a = (a + b) | 0; b = ((b << 13) | (b >>> 19)) ^ a; c = (c + d) | 0; d = ((d << 27) | (d >>> 5)) ^ c;
			a = (a + d) | 0; d = ((d << 23) | (d >>> 9)) ^ a; c = (c + b) | 0; b = ((b << 5) | (b >>> 27)) ^ c;
			b = (b + parity) | 0; c = (c + seed) | 0; d = (d + 3) | 0;

			a = (a + b) | 0; b = ((b << 6) | (b >>> 26)) ^ a; c = (c + d) | 0; d = ((d << 20) | (d >>> 12)) ^ c;
			a = (a + d) | 0; d = ((d << 17) | (d >>> 15)) ^ a; c = (c + b) | 0; b = ((b << 11) | (b >>> 21)) ^ c;
			a = (a + b) | 0; b = ((b << 25) | (b >>> 7)) ^ a; c = (c + d) | 0; d = ((d << 10) | (d >>> 22)) ^ c;
			a = (a + d) | 0; d = ((d << 18) | (d >>> 14)) ^ a; c = (c + b) | 0; b = ((b << 20) | (b >>> 12)) ^ c;
			a = (a + parity) | 0; b = (b + seed) | 0; d = (d + 4) | 0;

			a = (a + b) | 0; b = ((b << 10) | (b >>> 22)) ^ a; c = (c + d) | 0; d = ((d << 26) | (d >>> 6)) ^ c;
			a = (a + d) | 0; d = ((d << 11) | (d >>> 21)) ^ a; c = (c + b) | 0; b = ((b << 21) | (b >>> 11)) ^ c;
			a = (a + b) | 0; b = ((b << 13) | (b >>> 19)) ^ a; c = (c + d) | 0; d = ((d << 27) | (d >>> 5)) ^ c;
			a = (a + d) | 0; d = ((d << 23) | (d >>> 9)) ^ a; c = (c + b) | 0; b = ((b << 5) | (b >>> 27)) ^ c;
		}
		word0[i] = (a + seed) | 0;
		word1[i] = b;
		word2[i] = c;
		word3[i] = (d + 5) | 0;
	}
}

/**
 * Two words to two normals. The first word, its last bit set, gives u in (0, 1) and the radius √(−2·ln u); the second
 * gives the angle πv, |v| < ½, of the right half plane, its last bit the other half.
 */
function fillPairs(
	radiusWords: Int32Array,
	angleWords: Int32Array,
	cosines: Reals,
	sines: Reals,
	start: number,
	length: number
): void {
	start = start | 0;
	length = length | 0;
	const p = POLYNOMIALS;
	const [l6, l5, l4, l3, l2, l1, l0] = [p[0], p[1], p[2], p[3], p[4], p[5], p[6]];
	const [s6, s5, s4, s3, s2, s1, s0] = [p[7], p[8], p[9], p[10], p[11], p[12], p[13]];
	const [c6, c5, c4, c3, c2, c1, c0] = [p[14], p[15], p[16], p[17], p[18], p[19], p[20]];
	for (let i = 0; i < length; i = (i + 1) | 0) {
		const odd = radiusWords[i] | 1;
		const zeros = Math.clz32(odd);
		// u = m·2^e with m in [1, 2); ln u = ln(m/√2) + (e + ½)·ln 2
		const m = ((odd << zeros) >>> 0) * STEP;
		const s = (m - ROOT_2) / (m + ROOT_2);
		const t = s * s;
		const logarithm = ((((((l6 * t + l5) * t + l4) * t + l3) * t + l2) * t + l1) * t + l0) * s;
		const radius = Math.sqrt(-2 * (logarithm + ((-1 - zeros) * LN_2 + HALF_LN_2)));
		const angle = angleWords[i];
		const v = ((angle >> 1) + 0.5) * STEP;
		const h = v * v;
		const sine = ((((((s6 * h + s5) * h + s4) * h + s3) * h + s2) * h + s1) * h + s0) * v;
		const cosine = (((((c6 * h + c5) * h + c4) * h + c3) * h + c2) * h + c1) * h + c0;
		const j = (start + i) | 0;
		cosines[j] = radius * cosine * (1 - 2 * (angle & 1));
		sines[j] = radius * sine;
	}
}
