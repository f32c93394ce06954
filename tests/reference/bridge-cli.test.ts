import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { run } from '../../src/cli/run.ts';
import bridge from './data/bridge/bridge.json';

// Independent circuit simulator, provenance beside the data. Here the whole way: file, command, printed answer.

const file = fileURLToPath(new URL('./data/bridge/bridge.json', import.meta.url));

test('correct gives back the simulated reflections, of everything but the standards', async () => {
	const printed: string[] = [];
	const code = await run(['correct', file, '--json'], {
		print: (text) => printed.push(text),
		note: () => {}
	});
	expect(code).toBe(0);
	expect(printed).toHaveLength(1);
	const answer = JSON.parse(printed[0]) as {
		frequencies_hz: number[];
		gamma: Record<string, [number, number][]>;
	};
	expect(Object.keys(answer).sort()).toEqual(['frequencies_hz', 'gamma']);
	expect(answer.frequencies_hz).toEqual(bridge.frequencies_hz);
	const names = Object.keys(bridge.raw).filter((name) => !['open', 'short', 'load'].includes(name));
	expect(Object.keys(answer.gamma).sort()).toEqual(names.sort());
	for (const name of names) {
		const truth = bridge.gamma_true[name as keyof typeof bridge.gamma_true];
		const errors = truth.map(([re, im], i) =>
			Math.hypot(answer.gamma[name][i][0] - re, answer.gamma[name][i][1] - im)
		);
		expect(errors).toHaveLength(bridge.frequencies_hz.length);
		expect(Math.max(...errors)).toBeLessThan(1e-9);
	}
});
