import type { BenchDocument } from './command.ts';
import { deviceCatalogue } from './device-catalogue.ts';
import { EMPTY_HISTORY, withCalibration } from './history.ts';
import { newPart } from './part-catalogue.ts';
import type { Setup } from './setup.ts';

/**
 * The flood-warning mast: a bench-class reflectometer (invented), 20 dB pad, cable, adapter and the receive preamp,
 * with both levels clear of the walls. It comes calibrated behind the cable; the adapter is left to the port extension.
 */
const setup: Setup = {
	name: 'River-gauge mast preamp',
	seed: 1694,
	sweep: { start: 169.4e6, stop: 169.65e6, points: 201 },
	instrument: 'Bench reflectometer',
	source: {
		level: -20,
		lowest: -60,
		highest: 10,
		harmonics: { second: -35, third: -45 },
		error: 0,
		flatness: 0,
		stuck: null
	},
	receiver: {
		floor: -120,
		referenceFloor: null,
		compression: null,
		leakage: null,
		bandwidth: 300,
		traceNoise: { amplitude: 0.004, phase: 0.0005, bandwidth: 1000 }
	},
	port: {
		directivity: { size: -28, delay: 3e-10 },
		sourceMatch: { size: -24, delay: 5e-10 },
		tracking: { size: -0.4, delay: 2e-10 },
		absoluteMaximum: 17
	},
	standards: {
		open: { capacitance: 5e-14 },
		short: { inductance: 1e-10 },
		load: { resistance: 50, inductance: 0 }
	},
	parts: [newPart('pad', []), newPart('cable', []), newPart('adapter', [])],
	device: deviceCatalogue[0].device,
	output: { kind: 'impedance', resistance: 50, reactance: 0 },
	processing: {
		averages: 64,
		calibration: null,
		extension: { delay: 4.1e-11, loss: 0 }
	}
};

const calibrated = withCalibration(EMPTY_HISTORY, setup, 2, 64);

export const defaultBench: BenchDocument = {
	setup: { ...setup, processing: { ...setup.processing, calibration: calibrated.calibration } },
	history: calibrated.history
};
