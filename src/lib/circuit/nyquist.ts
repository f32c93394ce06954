import { magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Place, Places } from './rest-circuit.ts';

/** Follows the angles of two determinants along the frequencies, in steps as small as it takes. */

/** Hz; slower than the largest time constants of a bias circuit. */
const LOWEST = 1e-3;
/** How far the search goes on above the highest frequency, as a factor, while the angle has not come to rest. */
const BEYOND = 30;
const A_DECADE = 20;
/** Radians between two neighbouring places, and change of an end, more than which a place in between is looked at. */
const COARSE = 0.6;
const COARSE_END = 0.8;
/** Share of a frequency within which the ends show how fast they turn, and parts of a step of the grid. */
const BESIDE = 1e-6;
const MOST_PARTS = 4000;
/** A mode this narrow is at the limit of rounding. */
const NARROWEST = 1e-12;
/** Halvings that close in upon the frequency of a mode. */
const CLOSER = 12;
/** Radians off a whole half-turn at which the angle counts as come to rest. */
const AT_REST = 0.3;

const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

/** From one place to the next: how far the determinant of the circuit turned, and its ratio to that of the reference. */
export interface Step {
	readonly from: Place;
	readonly to: Place;
	readonly circuit: number;
	readonly ratio: number;
}

const isFine = (a: Place, b: Place): boolean =>
	(['circuit', 'reference'] as const).every(
		(key) => Math.abs(wrapped(b[key].matched - a[key].matched)) < COARSE
	);

/** True if what the ends did between two places is known: where nothing passive can matter, or is seen to be slow. */
const endsFollowed = (a: Place, b: Place): boolean =>
	(a.tame && b.tame) ||
	(a.ends.every((end, i) => magnitude(subtract(end, b.ends[i])) < COARSE_END) &&
		Math.abs(wrapped(b.circuit.ended - a.circuit.ended)) < COARSE);

/** A turn that no place in between resolves is that of a mode without loss, which stays: it goes forward. */
const forward = (angle: number): number => {
	const turn = wrapped(angle);
	return turn < -Math.PI / 2 ? turn + 2 * Math.PI : turn;
};

function stepOf(from: Place, to: Place): Step {
	const turn = (key: 'circuit' | 'reference', whole: boolean): number => {
		const ended = to[key].ended - from[key].ended;
		return forward(to[key].matched - from[key].matched) + (whole ? ended : wrapped(ended));
	};
	const circuit = turn('circuit', from.tame && to.tame);
	return { from, to, circuit, ratio: circuit - turn('reference', true) };
}

/** Steps from one place to another, as many as it takes to follow the angles. */
function follow(places: Places, from: Place, to: Place, out: Step[]): void {
	if (
		(isFine(from, to) && endsFollowed(from, to)) ||
		to.frequency - from.frequency < NARROWEST * to.frequency
	) {
		out.push(stepOf(from, to));
		return;
	}
	const middle = places((from.frequency + to.frequency) / 2);
	follow(places, from, middle, out);
	follow(places, middle, to, out);
}

/**
 * Steps from one place of the grid to the next: where the ends matter, at first in as many equal parts as the ends turn at
 * its beginning, so that a long cable is not taken for a short one.
 */
function stepsBetween(places: Places, from: Place, to: Place, out: Step[]): void {
	if (from.tame && to.tame) {
		follow(places, from, to, out);
		return;
	}
	const beside = places(from.frequency * (1 + BESIDE));
	const moved = Math.max(...from.ends.map((end, i) => magnitude(subtract(end, beside.ends[i]))));
	const span = to.frequency - from.frequency;
	const turns = (moved * span) / (BESIDE * from.frequency);
	const parts = Math.min(MOST_PARTS, Math.ceil(turns / COARSE_END));
	let last = from;
	for (let k = 1; k <= parts; k++) {
		const next = k === parts ? to : places(from.frequency + (k / parts) * span);
		follow(places, last, next, out);
		last = next;
	}
	if (parts === 0) follow(places, from, to, out);
}

/** Angle of the ratio of the determinants with 50 Ω at every port. */
const matchedAngle = ({ circuit, reference }: Place): number => wrapped(circuit.matched - reference.matched);

/** All steps from the lowest frequency to `highest`, or on to where the angle has come to rest. */
export function stepsUpTo(places: Places, highest: number): readonly Step[] {
	const out: Step[] = [];
	let last = places(LOWEST);
	for (let k = 1; ; k++) {
		const next = places(LOWEST * 10 ** (k / A_DECADE));
		stepsBetween(places, last, next, out);
		last = next;
		const resting = Math.abs(Math.sin(matchedAngle(last))) < AT_REST;
		if (last.frequency >= highest && (resting || last.frequency >= BEYOND * highest)) return out;
	}
}

/** Frequency (Hz) in the middle of the longest turn backward of the circuit's determinant. */
export function turningFrequency(places: Places, all: readonly Step[]): number {
	let [most, total] = [0, 0];
	let [run, longest]: [readonly Step[], readonly Step[]] = [[], []];
	for (const step of all) {
		const goesOn = step.circuit < 0;
		run = goesOn ? [...run, step] : [];
		total = goesOn ? total - step.circuit : 0;
		if (total > most) [most, longest] = [total, run];
	}
	if (longest.length === 0) return all[all.length - 1].to.frequency;
	let left = most / 2;
	const middle = longest.find((step) => (left += step.circuit) <= 0) ?? longest[longest.length - 1];
	left -= middle.circuit;
	let { from, to } = middle;
	for (let k = 0; k < CLOSER; k++) {
		const between = places((from.frequency + to.frequency) / 2);
		const turned = -stepOf(from, between).circuit;
		if (turned < left) {
			left -= turned;
			from = between;
		} else to = between;
	}
	return (from.frequency + to.frequency) / 2;
}

/**
 * Zeros of the determinant that grow, from all the steps, by Nyquist's criterion: half a turn backward of the ratio for
 * each. Above the last place the ends count as 50 Ω, and the ratio as one that comes to rest.
 */
export function growingZeros(all: readonly Step[]): number {
	const last = all[all.length - 1].to;
	const turned = all.reduce((sum, { ratio }) => sum + ratio, 0);
	const ended = last.circuit.ended - last.reference.ended;
	// a ratio that ends below zero belongs to a loop of gain without any delay, which the least capacitance lets grow
	const loop = Math.abs(matchedAngle(last)) > Math.PI / 2 ? 1 : 0;
	return Math.max(0, Math.round((ended - turned) / Math.PI) + loop);
}
