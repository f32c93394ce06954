import { normalPair } from './random.ts';

/**
 * A random walk in time (Brownian motion) that starts at 0 at time 0 and whose variance grows by 1 a second, as a pure
 * function of (seed, stream, time). The value at the far end of its range is drawn first; the middle of any interval,
 * its ends being known, is normal about their mean with a quarter of the interval as its variance (Lévy, *Processus
 * stochastiques et mouvement brownien*, 1948, the construction by middles). Halving down to the finest step reaches
 * any time in 42 draws, however much time was skipped, and nothing that was asked before changes the answer.
 *
 * Only + − × ÷, √ and powers of two are used, so a value is the same to the last bit on any machine.
 */

/** Longest time, s: 136 years. */
export const WALK_RANGE = 2 ** 32;
/** Finest step, s: between its whole multiples the walk is a straight line. */
export const WALK_STEP = 2 ** -10;

/** Halvings from the range down to the step. */
const LEVELS = 42;
const STEPS = WALK_RANGE / WALK_STEP;
/** Deviation of the middle of an interval of each level: half the root of its length in s. */
const DEVIATIONS = Float64Array.from(
	{ length: LEVELS },
	(_, level) => Math.sqrt(WALK_RANGE / 2 ** level) / 2
);
/** Length of an interval of each level, in steps. */
const WIDTHS = Float64Array.from({ length: LEVELS + 1 }, (_, level) => 2 ** (LEVELS - level));

/**
 * Two independent random walks, `re` and `im`, at the time last moved to. It remembers the intervals it went through, so a
 * time near the one before costs a few draws instead of 42; the values are those of `randomWalk` in any order of times.
 * Seed and stream are whole numbers from 0 to 2³² − 1. The stream must be the walk's own: its draws use all counters.
 */
export class RandomWalk {
	re = 0;
	im = 0;
	readonly #seed: number;
	readonly #stream: number;
	/** Step of the time last moved to, and the ends of the intervals that hold it, one of each level. */
	#step = 0;
	#known = 0;
	readonly #leftRe = new Float64Array(LEVELS + 1);
	readonly #leftIm = new Float64Array(LEVELS + 1);
	readonly #rightRe = new Float64Array(LEVELS + 1);
	readonly #rightIm = new Float64Array(LEVELS + 1);

	constructor(seed: number, stream: number) {
		this.#seed = seed;
		this.#stream = stream;
		const [re, im] = normalPair(seed, stream, 0, 0);
		this.#rightRe[0] = re * Math.sqrt(WALK_RANGE);
		this.#rightIm[0] = im * Math.sqrt(WALK_RANGE);
	}

	/** Moves to `time` in s, 0 … `WALK_RANGE`; a time outside gives NaN. */
	moveTo(time: number): void {
		if (!(time >= 0 && time <= WALK_RANGE)) {
			this.re = NaN;
			this.im = NaN;
			return;
		}
		const steps = time / WALK_STEP;
		const step = Math.min(Math.floor(steps), STEPS - 1);
		let level = this.#known;
		while (Math.floor(step / WIDTHS[level]) !== Math.floor(this.#step / WIDTHS[level])) level--;
		for (; level < LEVELS; level++) this.#halve(level, step);
		this.#step = step;
		this.#known = LEVELS;
		const part = steps - step;
		this.re = this.#leftRe[LEVELS] + (this.#rightRe[LEVELS] - this.#leftRe[LEVELS]) * part;
		this.im = this.#leftIm[LEVELS] + (this.#rightIm[LEVELS] - this.#leftIm[LEVELS]) * part;
	}

	/** Draws the middle of the interval of `level` that holds `step`, and goes on to the half that holds it. */
	#halve(level: number, step: number): void {
		const leftRe = this.#leftRe;
		const leftIm = this.#leftIm;
		const rightRe = this.#rightRe;
		const rightIm = this.#rightIm;
		// numbered from the root down, the halves of interval n being 2n and 2n + 1: no two intervals share a draw, and 0 is
		// left for the far end
		const interval = 2 ** level + Math.floor(step / WIDTHS[level]);
		const draws = normalPair(this.#seed, this.#stream, Math.floor(interval / 2 ** 32), interval % 2 ** 32);
		const middleRe = (leftRe[level] + rightRe[level]) / 2 + DEVIATIONS[level] * draws[0];
		const middleIm = (leftIm[level] + rightIm[level]) / 2 + DEVIATIONS[level] * draws[1];
		const next = level + 1;
		const later = Math.floor(step / WIDTHS[next]) % 2 === 1;
		leftRe[next] = later ? middleRe : leftRe[level];
		leftIm[next] = later ? middleIm : leftIm[level];
		rightRe[next] = later ? rightRe[level] : middleRe;
		rightIm[next] = later ? rightIm[level] : middleIm;
	}
}

/**
 * The random walk of (seed, stream) at `time` in s, 0 … `WALK_RANGE`, outside NaN. Between whole multiples of `WALK_STEP`
 * increments are normal with the variance |t2 − t1| and independent over intervals that do not overlap; inside a step the
 * straight line makes their variance smaller, by less than half a step in all.
 */
export function randomWalk(seed: number, stream: number, time: number): number {
	const walk = new RandomWalk(seed, stream);
	walk.moveTo(time);
	return walk.re;
}
