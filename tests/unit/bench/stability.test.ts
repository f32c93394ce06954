import { expect, test } from 'vitest';
import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import type { Element } from '#lib/circuit/netlist.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { after, benchWith, command, pictureOf } from './examples.ts';

const tank: Element[] = [
	{ kind: 'coil', name: 'L', from: 'in', to: 'ground', inductance: 88e-9, seriesResistance: 0 },
	{ kind: 'capacitor', name: 'C', from: 'in', to: 'ground', capacitance: 1e-11, seriesResistance: 0 },
	{ kind: 'resistor', name: 'R', from: 'in', to: 'ground', resistance: 1000 }
];

/** A tuned circuit with a source that gives `siemens` of negative conductance. */
const deviceOf = (siemens: number): CircuitDevice => ({
	kind: 'circuit',
	name: 'Tank',
	origin: 'test',
	circuit: {
		netlist: {
			elements: [
				...tank,
				{
					kind: 'controlled source',
					name: 'G',
					from: 'in',
					to: 'ground',
					control: ['in', 'ground'],
					transconductance: -siemens
				}
			],
			models: {},
			ports: ['in'],
			probes: []
		},
		portNames: ['input']
	},
	limits: { inputPower: null, junctions: [] },
	transmitter: null,
	positions: {},
	ceilingChange: 0.01
});

const few = { start: 169.4e6, stop: 169.65e6, points: 3 };
/** The device at a port that matches, for which the line is 50 Ω. */
function bench(siemens: number) {
	const { port } = benchWith({}).setup;
	const matched = { ...port, sourceMatch: { size: -120, delay: 0 } };
	return benchWith({ parts: [], sweep: few, device: deviceOf(siemens), port: matched });
}

// A parallel resonator grows where the whole conductance across it is negative (its modes are the roots of s²LC + sLG + 1):
// 1 mS of its own and 20 mS of the 50 Ω line against that of the source. With G = −1 mS against √(C/L) = 10.7 mS it swings at
// √(1 − (G/2)²L/C) = 99.9 % of 1/(2π√(LC)) = 169.66 MHz.
test('a device that gives more than the line takes oscillates, and the bench shows no reading', () => {
	const picture = pictureOf(bench(0.022));
	expect(picture.silence).toMatchObject({ kind: 'oscillating' });
	if (picture.silence?.kind !== 'oscillating') return;
	expect(Math.abs(picture.silence.frequency / 169.66e6 - 1)).toBeLessThan(0.02);
	expect(picture.displayed.re.every(Number.isNaN)).toBe(true);
	expect(picture.markers[1].reading.spreadSingle).toBeNull();
});

test('one that gives less reflects more than it gets, and is read', () => {
	const picture = pictureOf(bench(0.01));
	expect(picture.silence).toBeNull();
	// Γ = (20 + 9)/(20 − 9) mS at resonance: the whole conductance is −9 mS
	const size = Math.hypot(picture.truth.re[1], picture.truth.im[1]);
	expect(size).toBeCloseTo(29 / 11, 1);
});

// Without supply nothing in the cascode can give power, so it stays wherever it is driven to; its middle node then floats
// on next to nothing, which once was taken for a state that is not found.
test(
	'a cascode without supply has a state at every frequency and level, and stays in it',
	{ timeout: 60_000 },
	() => {
		const cold = after(
			defaultBench,
			command('choose device', { device: 'cascode' }),
			command('set switch', { switch: 'supply', position: 'off' }),
			command('set sweep', { start: '150 MHz', stop: '152 MHz', points: 101 })
		);
		const picture = pictureOf(cold);
		expect(picture.lost).toBeNull();
		expect(picture.silence).toBeNull();
		for (const { drive, levels } of picture.markers) {
			expect(drive?.followed).toBe(true);
			expect(drive?.levels.length).toBeGreaterThan(25);
			expect(levels.ceiling).not.toBeNull();
			expect(levels.breaking).not.toBeNull();
		}
	}
);
