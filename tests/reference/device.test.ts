import { expect, test } from 'vitest';
import { execute } from '#lib/bench/command.ts';
import type { BenchDocument } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';

/** A file put on the bench in the way the page and the command line do it. */
function withFile(text: string, name: string): BenchDocument {
	const { data } = readTouchstone(text, name);
	const device = {
		kind: 'tabulated',
		name,
		origin: name,
		data,
		ceiling: null,
		compression: null,
		absoluteMaximum: null
	};
	return execute(defaultBench, { name: 'import device', arguments: { device } }, commands).document;
}

const command = (name: string, given: Readonly<Record<string, unknown>>) => ({ name, arguments: given });

// Pozar, Microwave Engineering, 4th ed., 2012, example 12.1 (memory): Γin 0.365∠−152° for 40 Ω behind this transistor;
// more digits by re-evaluating it. Version 1 of Touchstone has the order S11 S21 S12 S22.
const TRANSISTOR = `! a transistor
# MHz S MA R 50
100 0.38 -158 3.50 80 0.11 54 0.40 -43
300 0.38 -158 3.50 80 0.11 54 0.40 -43
`;

test('a transistor from a file, with 40 Ω on its output, shows Γ = 0.3653∠−152.04°', () => {
	const session = new BenchSession(withFile(TRANSISTOR, 'transistor.s2p'));
	session.run(command('set output', { kind: 'impedance', resistance: '40 ohm', reactance: '0 ohm' }));
	const at = [169.5e6];
	expect(session.read('truth.gamma', at)).toBeCloseTo(0.3653, 4);
	const angle = Math.atan2(
		session.read('truth.gammaImaginary', at) as number,
		session.read('truth.gammaReal', at) as number
	);
	expect((angle * 180) / Math.PI).toBeCloseTo(-152.04, 2);
	// definition: with 50 Ω on the output it is S11
	session.run(command('set output', { kind: 'impedance', resistance: '50 ohm', reactance: '0 ohm' }));
	expect(session.read('truth.gamma', at)).toBeCloseTo(0.38, 12);
});

test('the averaged reading of it comes within its spread of that', () => {
	const session = new BenchSession(withFile(TRANSISTOR, 'transistor.s2p'));
	session.run(command('set output', { kind: 'impedance', resistance: '40 ohm', reactance: '0 ohm' }));
	const { gamma, truth, spreadAverage } = session.picture().markers[1].reading;
	const distance = Math.hypot(gamma.re - truth.re, gamma.im - truth.im);
	// the calibration was averaged as much as the reading, so that its noise is of the same size: twice the spread
	// is left by a sound bench with a probability below 1e-3
	expect(distance).toBeLessThan(2 * (spreadAverage ?? 0));
	expect(spreadAverage).toBeLessThan(0.01);
});

test('a one-port from a file is the device as it is', () => {
	const session = new BenchSession(withFile('# MHz S RI R 50\n100 0.25 -0.5\n300 0.25 -0.5\n', 'mine.s1p'));
	expect(session.read('truth.gammaReal', [169.5e6])).toBeCloseTo(0.25, 12);
	expect(session.read('truth.gammaImaginary', [169.5e6])).toBeCloseTo(-0.5, 12);
	// definition Z = 50(1 + Γ)/(1 − Γ): (1.25 − 0.5j)/(0.75 + 0.5j)·50 = 42.3077 − 61.5385j
	expect(session.read('truth.R', [169.5e6])).toBeCloseTo(42.3077, 4);
	expect(session.read('truth.X', [169.5e6])).toBeCloseTo(-61.5385, 4);
});

/** dB in 1.2 m at 169.525 MHz of the catalogue cable, α = a√f + b·f through 0.125 dB/m at 100 MHz and 0.43 at 1 GHz. */
function cableLoss(): number {
	// in units of 100 MHz: a + b = 0.125, √10·a + 10·b = 0.43
	const b = (0.43 - Math.sqrt(10) * 0.125) / (10 - Math.sqrt(10));
	const a = 0.125 - b;
	return 1.2 * (a * Math.sqrt(1.69525) + b * 1.69525);
}

// Definitions: in a matched chain levels fall by the losses out, by the return loss (Γ = (100 − 50)/(100 + 50) = 1/3,
// 9.5424 dB) at the end, and by the losses back. A source match of −120 dB leaves 1e-5 dB.
test('levels of a matched chain are the level set less the losses on the way', () => {
	const matched = {
		...defaultBench,
		setup: {
			...defaultBench.setup,
			port: { ...defaultBench.setup.port, sourceMatch: { size: -120, delay: 0 } }
		}
	};
	const session = new BenchSession(matched);
	session.run(command('choose device', { device: '100 ohm load' }));
	session.run(command('set level', { level: '-7 dBm' }));
	const { outgoing, returning, returnLossDb } = session.picture().markers[1].levels;
	const losses = [0, 20, 20 + cableLoss(), 20 + cableLoss()];
	expect(returnLossDb).toBeCloseTo(9.5424, 4);
	losses.forEach((loss, plane) => {
		expect(outgoing[plane]).toBeCloseTo(-7 - loss, 4);
		expect(returning[plane]).toBeCloseTo(-7 - losses[3] - 20 * Math.log10(3) - (losses[3] - loss), 4);
	});
});

// Common practice, no source: A dB of pad move the level at the device by A dB and the returning level by 2A dB.
test.each([3, 6, 10, 30])(
	'a pad of %d dB instead of 20 dB moves the levels once and twice',
	(attenuation) => {
		const session = new BenchSession();
		session.run(command('choose device', { device: '25 ohm load' }));
		const before = session.picture().markers[1].levels;
		session.run(command('set part', { part: 'pad', attenuation: `${attenuation} dB` }));
		const now = session.picture().markers[1].levels;
		// re-reflections from a source match of −24 dB change with the pad: at most 0.3 dB here
		expect(Math.abs(now.outgoing[3] - before.outgoing[3] - (20 - attenuation))).toBeLessThan(0.3);
		expect(Math.abs(now.returning[0] - before.returning[0] - 2 * (20 - attenuation))).toBeLessThan(0.3);
	}
);

// Definition of a wall referred to a plane: the ceiling is reached at the device when the level at plane k reaches it.
test('the ceiling of every plane is the level there when the level at the device is the ceiling', () => {
	const session = new BenchSession(
		execute(defaultBench, command('choose device', { device: 'preamp by data sheet' }), commands).document
	);
	const { ceiling, outgoing, ceilingMargin } = session.picture().markers[1].levels;
	if (ceiling === null || ceilingMargin === null) return expect.unreachable();
	expect(ceiling[3]).toBe(-35);
	expect(ceilingMargin).toBeCloseTo(-35 - outgoing[3], 12);
	session.run(command('set level', { level: `${-20 + ceilingMargin} dBm` }));
	const touching = session.picture().markers[1].levels.outgoing;
	expect(touching[3]).toBeCloseTo(-35, 9);
	expect(Math.abs(touching[0] - ceiling[0])).toBeLessThan(0.2);
});
