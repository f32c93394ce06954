import { expect, test } from 'vitest';
import { devicesOf } from '#lib/circuit/device.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { FrontEnd } from '#lib/circuit/front-end.ts';
import { frontEnds } from '#lib/circuit/front-ends/catalogue.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { crossings } from '#lib/circuit/limits.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { allPositions, inPositions } from '#lib/circuit/positions.ts';
import { growingModes } from '#lib/circuit/rest-stability.ts';
import { reflectionEnded, smallSignal } from '#lib/circuit/small-signal.ts';
import type { Scattering } from '#lib/circuit/small-signal.ts';
import { at, complex, magnitude, polar, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';

const named = frontEnds.map((frontEnd) => [frontEnd.name, frontEnd] as const);
const frontEnd = (name: string): FrontEnd => frontEnds.find((candidate) => candidate.name === name)!;

const centre = ({ band }: FrontEnd): number => (band.start + band.stop) / 2;
const scattering = (netlist: Netlist, frequencies: readonly number[]): Scattering =>
	smallSignal(equationsOf(netlist), frequencies);
const decibels = (s: Scattering, i: number, j: number): number =>
	dbFromRatio(magnitude(at(s[i - 1][j - 1], 0)));

test('front ends have names of their own', () => {
	for (const key of ['name', 'label', 'description'] as const)
		expect(new Set(frontEnds.map((each) => each[key])).size).toBe(frontEnds.length);
	for (const { name } of frontEnds) expect(name).toMatch(/^[a-z][a-z ]*$/);
});

test.each(named)('%s says what fits its circuit', (_, { netlist, portNames, limits, transmitter, band }) => {
	expect(portNames).toHaveLength(netlist.ports.length);
	expect(band.start).toBeLessThan(band.stop);
	const devices = devicesOf(netlist);
	expect(limits.junctions.length).toBeGreaterThan(0);
	for (const { element, port } of limits.junctions) {
		const ports = devices.find(({ name }) => name === element)?.law.ports ?? [];
		expect(ports.map(({ name }) => name)).toContain(port);
	}
	if (transmitter) {
		expect(portNames.slice(1)).toContain(transmitter.port);
		const followed = netlist.switches?.find(({ name }) => name === transmitter.switch);
		expect(followed?.positions.slice(1)).toContain(transmitter.position);
	}
});

/** What may be connected: 50 Ω, nothing, a short, reactances. */
const ENDS: readonly Complex[] = [complex(0), complex(1), complex(-1), complex(0, 1), complex(0, -1)];
/** Behind a cable of 5 ns with a little loss, left open; it turns fast with frequency. */
const cable = (frequency: number): Complex => polar(0.9, -2 * Math.PI * frequency * 1e-8);

test.each(named)('%s stays at rest in every position, whatever its output ends in', (_, { netlist }) => {
	for (const positions of allPositions(netlist)) {
		const equations = equationsOf(inPositions(netlist, positions));
		for (const end of ENDS)
			for (const source of [() => complex(0), cable]) {
				// a reactance carries no direct current
				const output = (frequency: number): Complex => (frequency === 0 && end.im !== 0 ? complex(1) : end);
				const ends = (frequency: number): readonly Complex[] =>
					equations.ports.map((__, i) =>
						i === 0 ? source(frequency) : i === 1 ? output(frequency) : complex(0)
					);
				expect(growingModes(equations, { ends })).toBeNull();
			}
	}
});

/** Where a crystal's limit, a current, lies somewhere below; all others state an input power. */
const HIGHEST = 16;

/**
 * The level, dBm, at which |ΔΓ| from small signal reaches 0.01, and the first at which a limit is crossed, in steps of
 * `step` from −70 dBm to there; every one of them converges.
 */
function wallsOf(
	{ netlist, limits }: FrontEnd,
	frequency: number,
	step: number
): { ceiling: number; breaking: number } {
	const equations = equationsOf(netlist);
	const rest = at(smallSignal(equations, [frequency])[0][0], 0);
	const circuit = new DrivenCircuit(equations);
	const count = Math.ceil(((limits.inputPower ?? HIGHEST) + 71) / step) + 1;
	const levels = Array.from({ length: count }, (_, i) => -70 + step * i);
	let before = 0;
	let ceiling = Infinity;
	for (const point of circuit.levels(frequency, levels)) {
		if (!point.converged) throw new Error(`${point.dbm} dBm at ${frequency} Hz: ${point.reason}`);
		const change = magnitude(subtract(point.gamma, rest));
		// a power of the level: a straight line on logarithmic scales
		if (change >= 0.01 && ceiling === Infinity)
			ceiling = point.dbm - (step * Math.log(change / 0.01)) / Math.log(change / before);
		before = change;
		if (crossings(limits, point).length > 0) return { ceiling, breaking: point.dbm };
	}
	return { ceiling, breaking: Infinity };
}

/**
 * At the centre of each band: |Γ|, gain in dB (null for one port), ceiling and breaking level in dBm, each from … to. The
 * circuits are invented, so there is nothing outside to compare with: these are what each is meant to be.
 */
const meant: Readonly<
	Record<
		string,
		Record<'gamma' | 'ceiling' | 'breaking', readonly [number, number]> & {
			gain: null | readonly [number, number];
		}
	>
> = {
	'mast preamp': { gamma: [0.03, 0.15], gain: [18, 20], ceiling: [-33, -29], breaking: [4, 6] },
	cascode: { gamma: [0, 0.1], gain: [21, 23], ceiling: [-28, -24], breaking: [7, 10] },
	'active whip': { gamma: [0.55, 0.75], gain: [8, 12], ceiling: [-12, -7], breaking: [11, 14] },
	'level detector': { gamma: [0.05, 0.2], gain: null, ceiling: [-39, -35], breaking: [4, 7] },
	limiter: { gamma: [0.03, 0.1], gain: [-0.3, 0], ceiling: [-4, 1], breaking: [19, 22] },
	'varactor tag': { gamma: [0.2, 0.4], gain: null, ceiling: [-20, -15], breaking: [9, 12] },
	crystal: { gamma: [0.4, 0.7], gain: null, ceiling: [-24, -16], breaking: [0, 6] }
};

const within = (value: number, [from, to]: readonly [number, number]): void => {
	expect(value).toBeGreaterThanOrEqual(from);
	expect(value).toBeLessThanOrEqual(to);
};

test.each(named)(
	'%s is what it is meant to be',
	(name, each) => {
		const { gamma, gain, ceiling, breaking } = meant[name];
		const s = scattering(each.netlist, [centre(each)]);
		within(magnitude(at(s[0][0], 0)), gamma);
		if (gain === null) expect(s).toHaveLength(1);
		else within(decibels(s, 2, 1), gain);
		const walls = wallsOf(each, centre(each), 2);
		within(walls.ceiling, ceiling);
		within(walls.breaking, breaking);
	},
	20_000
);

test.each(named)(
	'%s converges up to where it breaks, and moves before, at the ends of its band too',
	(_, each) => {
		for (const frequency of [each.band.start, each.band.stop]) {
			const { ceiling, breaking } = wallsOf(each, frequency, 4);
			expect(breaking).toBeLessThan(Infinity);
			expect(ceiling).toBeLessThan(breaking);
		}
	},
	20_000
);

const supplied = named.filter(([, { netlist }]) => netlist.switches?.some(({ name }) => name === 'supply'));

test.each(supplied)('%s is passive and another impedance with its supply off', (_, each) => {
	const off = inPositions(each.netlist, { supply: 'off' });
	const frequencies = Array.from({ length: 61 }, (__, i) => 1e6 * 10 ** (i / 20));
	const s = scattering(off, frequencies);
	frequencies.forEach((__, k) => {
		const out = s.reduce((sum, row) => sum + magnitude(at(row[0], k)) ** 2, 0);
		expect(out).toBeLessThanOrEqual(1 + 1e-9);
	});
	const [on, without] = [each.netlist, off].map((netlist) =>
		at(scattering(netlist, [centre(each)])[0][0], 0)
	);
	expect(magnitude(subtract(on, without))).toBeGreaterThan(0.05);
});

const mast = frontEnd('mast preamp');

test('an output left open is solved driven as it is at rest', () => {
	const equations = equationsOf(mast.netlist);
	const ends = [complex(0), complex(1), complex(0)];
	const [point] = new DrivenCircuit(equations, { around: { ends: () => ends } }).levels(169.5e6, [-90]);
	if (!point.converged) throw new Error(point.reason);
	const rest = at(reflectionEnded(equations, [169.5e6], ends), 0);
	expect(magnitude(subtract(point.gamma, rest))).toBeLessThan(1e-6);
	const [closed] = new DrivenCircuit(equations).levels(169.5e6, [-90]);
	if (!closed.converged) throw new Error(closed.reason);
	expect(magnitude(subtract(point.gamma, closed.gamma))).toBeGreaterThan(0.1);
});

test('in receive the relay of the mast unit changes little of what its preamp presents', () => {
	const frequencies = [169.4e6, 169.525e6, 169.65e6];
	const [unit, bare] = [mast.netlist, mastPreamp].map((netlist) => scattering(netlist, frequencies));
	frequencies.forEach((_, k) => {
		expect(magnitude(subtract(at(unit[0][0], k), at(bare[0][0], k)))).toBeLessThan(0.01);
		expect(Math.abs(dbFromRatio(magnitude(at(unit[1][0], k)) / magnitude(at(bare[1][0], k))))).toBeLessThan(
			0.05
		);
	});
});

test('in transmit the connector is the 50 Ω of the transmitter, and the preamp is out of its way', () => {
	const s = scattering(inPositions(mast.netlist, { path: 'transmit' }), [169.525e6]);
	expect(decibels(s, 1, 1)).toBeLessThan(-40);
	// 50 mΩ in 100 Ω: 20·log10(100/100.05) = −0.0043 dB, and a little that the open contacts take
	expect(decibels(s, 1, 3)).toBeGreaterThan(-0.01);
	// of 40 dBm keyed there less arrives at the output than the preamp's ceiling amplified
	expect(mast.transmitter!.level + decibels(s, 2, 3)).toBeLessThan(-30);
	const keyed = scattering(inPositions(mast.netlist, { path: 'transmitting' }), [169.525e6]);
	expect(keyed).toEqual(s);
});

test('the cascode lets less of its output back than the mast preamp', () => {
	const [stacked, single] = [frontEnd('cascode'), mast].map((each) =>
		scattering(each.netlist, [centre(each)])
	);
	expect(decibels(stacked, 1, 2)).toBeLessThan(decibels(single, 1, 2) - 30);
});

test('the resonance of the varactor tag rises with the drive', () => {
	const tag = frontEnd('varactor tag');
	const frequencies = Array.from({ length: 51 }, (_, i) => 95e6 + i * 0.2e6);
	const circuit = new DrivenCircuit(equationsOf(tag.netlist));
	const [low, high] = [-60, -3].map((dbm) => {
		const points = circuit.sweep(frequencies, dbm);
		const sizes = points.map((point) => (point.converged ? magnitude(point.gamma) : NaN));
		expect(sizes.every(Number.isFinite)).toBe(true);
		return frequencies[sizes.indexOf(Math.min(...sizes))];
	});
	expect(high - low).toBeGreaterThan(0.3e6);
});

test('the limiter passes little more above some 0 dBm', () => {
	const limiter = frontEnd('limiter');
	const points = new DrivenCircuit(equationsOf(limiter.netlist)).levels(433e6, [-20, 18]);
	const [small, large] = points.map((point) => (point.converged ? point.outputDbm[0] : NaN));
	expect(small).toBeCloseTo(-20.05, 1);
	expect(large).toBeLessThan(6);
});

test('the level detector follows a square law at low level', () => {
	// the direct voltage of a detector rises as the power while the drive is small against its thermal voltage: ten times
	// for 10 dB (Pozar, Microwave Engineering, 4th ed., 2012, section 11.1)
	const detector = frontEnd('level detector');
	const points = new DrivenCircuit(equationsOf(detector.netlist)).levels(100e6, [-60, -50]);
	const [low, high] = points.map((point) => (point.converged ? point.probes['detected voltage'] : NaN));
	expect(low).toBeGreaterThan(0);
	expect(high / low).toBeGreaterThan(9.8);
	expect(high / low).toBeLessThan(10);
});
