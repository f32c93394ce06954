import { defaultBench } from '#lib/bench/default-bench.ts';
import type { LevelDiagram } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';

/**
 * A chain worked out by hand, matched throughout: −10 dBm into a 20 dB pad, 0.2 dB of cable and 0.05 dB of adapter; a
 * device with a return loss of 5.19 dB and a ceiling of −35 dBm; a floor of −95 dBm after 16 averages.
 */
export const exampleSetup: Setup = {
	...defaultBench.setup,
	source: { ...defaultBench.setup.source, level: -10 }
};

export const exampleLevels: LevelDiagram = {
	outgoing: [-10, -30, -30.2, -30.25],
	returning: [-55.69, -35.69, -35.49, -35.44],
	ceiling: [-14.75, -34.75, -34.95, -35],
	breaking: null,
	floorSingle: [-83, -63, -62.8, -62.75],
	floor: [-95, -75, -74.8, -74.75],
	returnLossDb: 5.19,
	ceilingMargin: -4.75,
	breakingMargin: null,
	floorMargin: 39.31
};
